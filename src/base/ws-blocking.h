/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps slow work off the thread that draws. The window names its thread once;
 * every function that reads files, decodes, hashes or waits for the database
 * says so on entry, and a call on the wrong thread is a critical warning, which
 * the tests make fatal. Command-line programs name no thread. */
#pragma once

#include <glib.h>

/* The calling thread is the one that must never wait. */
void ws_blocking_forbid_here (void);
/* Called on entry of a function that may block; @what names the work. */
void ws_blocking (const char *what);

/* The calling thread gives way to all others of the machine from now on, so that the one that draws never waits for a
 * processor because of it. On Linux this is of the thread alone (setpriority(2), notes). */
void ws_blocking_give_way (void);
