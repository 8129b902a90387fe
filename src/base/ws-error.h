/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one error domain of the house. A code says what the caller may do about
 * it; the message says what happened, to which file, and what to do next. */
#pragma once

#include <glib.h>

#define WS_ERROR (ws_error_quark ())
GQuark ws_error_quark (void);

typedef enum
{
  WS_ERROR_FAILED,        /* the system refused: disk full, permission, ... */
  WS_ERROR_NOT_FOUND,     /* the file or the record is not there */
  WS_ERROR_UNREADABLE,    /* there, but damaged or not of the kind */
  WS_ERROR_TOO_LARGE,     /* a limit set before reading was exceeded; the message names it */
  WS_ERROR_NEWER_FORMAT,  /* written by a newer program */
  WS_ERROR_INVALID,       /* a value breaks a rule: a mark outside the photo, ... */
  WS_ERROR_CONFLICT,      /* something changed meanwhile; nothing was written */
  WS_ERROR_REFUSED,       /* the answer is no: the base is missing and no reason was given */
  WS_ERROR_USAGE,         /* the caller's words are off */
} WsError;
