/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-jpeg-stream.h"

#include "ws-container.h"

#include <string.h>

typedef struct
{
  const guint8 *data;
  gsize size, at;
  GBytes *exif, *xmp;
  GByteArray *out;
  gboolean has_jfif, has_frame, has_scan, has_metadata, ended;
} Stream;

static void
put (Stream *stream, const void *data, gsize size)
{
  g_byte_array_append (stream->out, data, (guint) size);
}

/* The body as an APP1 segment, where there is one. */
static void
put_app1 (Stream *stream, GBytes *body)
{
  gsize size = body != NULL ? g_bytes_get_size (body) : 0;
  guint8 head[4] = { 0xff, 0xe1, (guint8) ((size + 2) >> 8), (guint8) (size + 2) };

  if (body == NULL)
    return;
  put (stream, head, sizeof head);
  put (stream, g_bytes_get_data (body, NULL), size);
}

/* Once, at the first place where they may stand: after JFIF, before all else. */
static void
put_metadata (Stream *stream)
{
  if (stream->has_metadata)
    return;
  stream->has_metadata = TRUE;
  put_app1 (stream, stream->exif);
  put_app1 (stream, stream->xmp);
}

/* The data of a scan run to the next marker that is no restart; a stuffed 0xff is followed by 0. */
static void
put_scan_data (Stream *stream)
{
  gsize start = stream->at;

  while (stream->at < stream->size)
    {
      const guint8 *mark = memchr (stream->data + stream->at, 0xff, stream->size - stream->at);
      gsize next;

      stream->at = mark != NULL ? (gsize) (mark - stream->data) : stream->size;
      next = stream->at + 1;
      if (next >= stream->size)
        {
          stream->at = stream->size;
          break;
        }
      if (stream->data[next] != 0x00 && !(stream->data[next] >= 0xd0 && stream->data[next] <= 0xd7))
        break;
      stream->at = next + 1;
    }
  put (stream, stream->data + start, stream->at - start);
}

static gboolean
take_frame (Stream *stream, const guint8 *body, gsize length)
{
  guint components;

  if (stream->has_frame || length < 6)
    return FALSE;
  components = body[5];
  stream->has_frame = TRUE;
  return body[0] == 8 && (components == 1 || components == 3) && length == 6 + components * 3;
}

/* One segment with its body of @length bytes. FALSE if the stream cannot be kept. */
static gboolean
take_segment (Stream *stream, guint8 marker, const guint8 *body, gsize length)
{
  static const guint8 jfif[] = { 0xff, 0xe0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0 };
  guint8 adobe[] = { 0xff, 0xee, 0, 14, 'A', 'd', 'o', 'b', 'e', 0, 100, 0, 0, 0, 0, 0 };

  if (marker == 0xe0 && length >= 14 && memcmp (body, "JFIF", 5) == 0 && !stream->has_jfif && !stream->has_scan)
    {
      stream->has_jfif = TRUE;
      put (stream, jfif, sizeof jfif);
    }
  if (marker == 0xe0)
    return TRUE;
  put_metadata (stream);
  if (marker == 0xee && length >= 12 && memcmp (body, "Adobe", 5) == 0)
    {
      adobe[15] = body[11];
      put (stream, adobe, sizeof adobe);
    }
  if (marker >= 0xe1 || marker == 0xfe)
    return TRUE;
  /* Frame: baseline, extended and progressive Huffman; arithmetic and lossless are rare and
   * browsers do not show them. */
  if (marker >= 0xc0 && marker <= 0xc2 && !take_frame (stream, body, length))
    return FALSE;
  if (marker != 0xc0 && marker != 0xc1 && marker != 0xc2 && marker != 0xc4 && marker != 0xda && marker != 0xdb &&
      marker != 0xdd)
    return FALSE;
  put (stream, body - 4, length + 4);
  if (marker == 0xda)
    {
      stream->has_scan = TRUE;
      put_scan_data (stream);
    }
  return TRUE;
}

/* The next marker and what belongs to it. FALSE at a fault. */
static gboolean
step (Stream *stream)
{
  guint8 marker;
  gsize length;

  if (stream->size - stream->at < 2 || stream->data[stream->at] != 0xff)
    return FALSE;
  marker = stream->data[stream->at + 1];
  if (marker == 0xff)
    {
      stream->at++;
      return TRUE;
    }
  if (marker == 0xd9)
    {
      put (stream, "\xff\xd9", 2);
      stream->ended = TRUE;
      return TRUE;
    }
  if (stream->size - stream->at < 4)
    return FALSE;
  length = ws_be16 (stream->data + stream->at + 2);
  if (length < 2 || length > stream->size - stream->at - 2)
    return FALSE;
  stream->at += 2 + length;
  return take_segment (stream, marker, stream->data + stream->at - length + 2, length - 2);
}

GBytes *
ws_jpeg_stream_rebuild (GBytes *jpeg, GBytes *exif, GBytes *xmp)
{
  Stream stream = { .exif = exif, .xmp = xmp };
  GBytes *result;

  stream.data = g_bytes_get_data (jpeg, &stream.size);
  if (stream.size < 4 || stream.size > G_MAXUINT / 2 || memcmp (stream.data, "\xff\xd8", 2) != 0 ||
      (exif != NULL && g_bytes_get_size (exif) > 65533) || (xmp != NULL && g_bytes_get_size (xmp) > 65533))
    return NULL;
  stream.out = g_byte_array_sized_new ((guint) stream.size);
  put (&stream, "\xff\xd8", 2);
  stream.at = 2;
  while (!stream.ended && step (&stream))
    continue;
  result = g_byte_array_free_to_bytes (stream.out);
  if (!stream.ended || !stream.has_frame || !stream.has_scan)
    g_clear_pointer (&result, g_bytes_unref);
  return result;
}
