/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Translation macros for a library: the domain is named, since the program
 * that links us may have another default. */
#pragma once

#include "config.h"

#include <glib.h>
#include <glib/gi18n-lib.h>

/* Binds the message domain to where this build or installation keeps it.
 * WS_LOCALEDIR_OVERRIDE in the environment serves an uninstalled build. */
void ws_intl_init (void);
