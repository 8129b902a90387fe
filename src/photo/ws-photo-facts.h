/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a photo file says of itself: picture size, EXIF time, zone, position, camera.
 * A value that cannot be trusted is unknown with a warning, never a guess. */
#pragma once

#include <gio/gio.h>

#include "ws-moment.h"
#include "ws-position.h"

/* What the numbers of a picture mean where no ICC profile says it. */
typedef enum
{
  WS_COLOURS_SRGB,
  WS_COLOURS_ADOBE_RGB,    /* interoperability index R03: the optional colour space of DCF 2.0 (CIPA DC-009), which cameras
                              write without a profile */
  WS_COLOURS_P3,           /* HEIF with colour primaries 12 (ITU-T H.273) in its nclx box */
  WS_N_COLOURS,
} WsColours;

typedef struct
{
  char *media_type;        /* "image/jpeg", …; WS_MEDIA_TYPE_RAW */
  int width, height;       /* upright, px */
  int orientation;         /* EXIF 1-8; 0 when absent or not valid */
  gboolean turn;           /* the pixels must be turned by @orientation to be upright (never HEIC) */
  WsMoment taken;          /* DateTimeOriginal only */
  WsPosition position;     /* altitude signed; error_m from GPSHPositioningError as shown */
  double direction;        /* degrees, NAN unknown */
  char direction_reference;/* 'T', 'M' or 0 */
  char *gps_utc;           /* "2025-10-04T12:03:20Z"; NULL unknown */
  char *make, *model;      /* NULL unknown */
  double focal_length;     /* mm; NAN unknown, likewise below */
  double focal_length_35;  /* mm */
  double iso;
  double exposure_time;    /* s */
  double f_number;
  gboolean likely_screenshot;
  WsColours colours;
  gboolean raw_preview;    /* the picture is the preview inside a camera raw file; all sizes are its own */
  GPtrArray *warnings;     /* of char*, translated sentences */
} WsPhotoFacts;

/* Of every camera raw file, as shared-mime-info calls their common type. A raw file is shown by the preview that the
 * camera put into it. */
#define WS_MEDIA_TYPE_RAW "image/x-dcraw"

/* Where a picture comes from, for a label wherever it is shown, or NULL for an ordinary photo: "Preview inside a camera
 * raw file". @media_type as the facts and the library tell it. Static, translated. */
const char *ws_photo_origin_text (const char *media_type);

/* Reads the facts of a file's bytes. @name is for messages. NULL with WS_ERROR_UNREADABLE (not
 * a picture of a kind we read), WS_ERROR_TOO_LARGE. Never decodes the picture. */
WsPhotoFacts *ws_photo_facts_read (GBytes *bytes, const char *name, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same from a path, reading only as much as needed. Blocks. */
WsPhotoFacts *ws_photo_facts_read_file (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_facts_free (WsPhotoFacts *facts);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoFacts, ws_photo_facts_free)
