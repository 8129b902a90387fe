/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outside of a picture file: its kind, its size and where its EXIF data lie, found by
 * walking segments, chunks or boxes. Nothing is decoded, every length is checked, and the work
 * is bounded by the size of the file. Private to the photo layer. */
#pragma once

#include <gio/gio.h>

typedef enum
{
  WS_CONTAINER_JPEG,   /* ISO/IEC 10918-1 */
  WS_CONTAINER_PNG,    /* PNG 3rd edition, eXIf */
  WS_CONTAINER_WEBP,   /* RIFF, RFC 9649 */
  WS_CONTAINER_TIFF,   /* TIFF 6.0, no BigTIFF */
  WS_CONTAINER_HEIF,   /* ISO/IEC 23008-12: HEIC and AVIF */
  WS_CONTAINER_PIXELS, /* red, green, blue in 8 bits without gaps: an old camera's preview in a raw file */
} WsContainerKind;

#define WS_CONTAINER_MAX_EXIF 6

typedef struct
{
  const guint8 *data;  /* starts with the TIFF header; borrowed from the file's bytes, or from @joined */
  gsize size;
  gboolean gps;        /* its first directory is that of the position */
} WsExifSpan;

typedef struct
{
  WsContainerKind kind;
  const char *media_type;
  int width, height;           /* px: of the stored picture; of HEIF after its own turning and cropping */
  guint primaries;             /* of HEIF: colour primaries of ITU-T H.273 where they are told; 0 not */
  gboolean interlaced;         /* of PNG: the rows do not come in order */
  WsExifSpan exif[WS_CONTAINER_MAX_EXIF];
  guint n_exif;
  GBytes *joined;              /* (nullable): EXIF data that lay in pieces */

  /* Of a camera raw file; everything above is then told of its preview. */
  gboolean is_raw;
  GBytes *preview;             /* what is to be decoded instead of the file */
  int raw_width, raw_height;   /* px, as stored */
  int orientation;             /* EXIF 1-8, of the raw picture; 0 not told */
  gboolean upright;            /* the preview is turned already */
} WsContainer;

/* Fills @container, which is to be cleared afterwards. @name is for messages. Errors:
 * WS_ERROR_UNREADABLE (no picture of a kind we read, or damaged before its size is told). A
 * TIFF file's size stands in its IFD and is left 0 here; its one EXIF span is the whole file. */
gboolean ws_container_scan (WsContainer *container, GBytes *bytes, const char *name, GError **error);
void ws_container_clear (WsContainer *container);

/* The HEIF part, in ws-container-heif.c. FALSE if damaged. */
gboolean ws_container_scan_heif (WsContainer *container, const guint8 *data, gsize size);
void ws_container_add_exif (WsContainer *container, const guint8 *data, gsize size);

/* Maps a regular file of at most WS_PHOTO_MAX_BYTES, for a quick look. Blocks. Errors name the
 * file: WS_ERROR_NOT_FOUND, _TOO_LARGE, _UNREADABLE (a folder, a pipe, empty), _FAILED. */
GBytes *ws_container_map (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same read into memory, and when it was last modified (nullable): for work that takes
 * longer, in which a mapped file could be cut short under us, which kills the program. */
GBytes *ws_container_load (const char *path, gint64 *modified_us, GError **error) G_GNUC_WARN_UNUSED_RESULT;

static inline guint32
ws_be16 (const guint8 *p)
{
  return (guint32) p[0] << 8 | p[1];
}

static inline guint32
ws_be32 (const guint8 *p)
{
  return ws_be16 (p) << 16 | ws_be16 (p + 2);
}

static inline guint32
ws_le24 (const guint8 *p)
{
  return p[0] | (guint32) p[1] << 8 | (guint32) p[2] << 16;
}

static inline guint32
ws_le32 (const guint8 *p)
{
  return ws_le24 (p) | (guint32) p[3] << 24;
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WsContainer, ws_container_clear)
