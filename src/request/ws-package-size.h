/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How small pictures are made so that a package stays below a limit. The steps take from photos without marks first,
 * then from the copies of marked ones, whose parts are cut out at full size beside them, and from the close-ups last. */
#pragma once

#include "ws-request.h"

/* Longest edge in px, 0 as it is; JPEG quality where it is encoded, 0 the usual one. */
typedef struct { int edge, quality; } WsPictureSize;

typedef struct
{
  WsPictureSize marked, plain;   /* the copy of a photo with marks, and of one without */
  WsPictureSize page;            /* the photo on the page */
  WsPictureSize closeup;         /* a marked part on the page */
} WsSizeStep;

/* Step 0 reduces nothing. */
#define WS_SIZE_N_STEPS 13
const WsSizeStep *ws_size_get_step (guint step);

/* TRUE if a mark of the find shows a part of the photo. */
gboolean ws_size_is_marked (const WsFind *find, const char *photo_id);

/* A guess in bytes of what the pictures take at a step, for choosing where to begin. @file_sizes: photo id to size of the original
 * (GUINT_TO_POINTER of KiB). */
double ws_size_guess (const WsFind *find, GHashTable *file_sizes, guint step);

/* The largest file that a mail box which takes mails of @mail_bytes takes: base64 makes three bytes four and breaks the
 * line after 76 letters (RFC 2045, 6.8), 57 bytes as 78; 64 KiB are left for the text and the headers. */
#define WS_SIZE_OF_MAIL(mail_bytes) (((mail_bytes) - (64 << 10)) / 78 * 57)
/* What most mail boxes take: 20 MB (common practice, no source). */
#define WS_SIZE_WITHIN_MAIL WS_SIZE_OF_MAIL (G_GUINT64_CONSTANT (20000000))

/* Reads "none" (0), "mail", or a number of megabytes (1,000,000 bytes) as the largest file. */
gboolean ws_size_parse (const char *text, guint64 *limit);
