/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tells what the thread that draws does to the files of a folder, and what it decodes or hashes, whoever does it for it: our
 * own code, GTK, libvips, SQLite. For that this file defines functions of the C library, of libjpeg and of libgcrypt under
 * their own names and hands on to the real ones; link it into the test itself, with export_dynamic. */
#pragma once

#include <glib.h>

/* From now on the calling thread is watched: paths in @folder, and all decoding and hashing. */
void thread_guard_watch (const char *folder);
/* What was done since, "open FOLDER/photos/a.jpg; decode; ", each kind once; "" nothing. (transfer full) */
char *thread_guard_end (void) G_GNUC_WARN_UNUSED_RESULT;
/* How often other threads did such things since: that something was watched at all. */
guint thread_guard_count_elsewhere (void);
/* What happens meanwhile is the test's own doing. */
void thread_guard_pause (gboolean pause);
