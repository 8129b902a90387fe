/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Boxes of HEIF (ISO/IEC 14496-12 and 23008-12): the primary item's size after its own
 * transformations, and the item of type Exif. */
#include "ws-container.h"

#include <string.h>

/* More items than the tiles of any photo. */
#define MAX_ITEMS 65536
/* EXIF in a JPEG is at most 64 KB; here nothing but sense says so. */
#define MAX_JOINED (1024 * 1024)

typedef struct
{
  const guint8 *at, *end;
  gboolean bad;              /* something was asked for beyond the end */
} Reader;

typedef struct
{
  guint32 type;
  Reader body;
} Box;

typedef struct
{
  WsContainer *container;
  const guint8 *file;
  gsize file_size;
  guint32 primary, exif;     /* item ids */
  gboolean has_primary, has_exif;
  Reader iloc, ipma, ipco, idat;
} Heif;

#define FOURCC(a, b, c, d) ((guint32) (a) << 24 | (guint32) (b) << 16 | (guint32) (c) << 8 | (guint32) (d))

/* A number of @n bytes (0, 1, 2, 4 or 8). */
static guint64
take (Reader *reader, guint n)
{
  guint64 value = 0;

  if (reader->bad || (gsize) (reader->end - reader->at) < n)
    {
      reader->bad = TRUE;
      return 0;
    }
  while (n-- > 0)
    value = value << 8 | *reader->at++;
  return value;
}

static gboolean
take_box (Reader *reader, Box *box)
{
  const guint8 *start = reader->at;
  guint64 size, left = (guint64) (reader->end - reader->at);

  if (left < 8)
    return FALSE;
  size = take (reader, 4);
  box->type = (guint32) take (reader, 4);
  if (size == 1)
    size = take (reader, 8);
  else if (size == 0)
    size = left;
  if (reader->bad || size < (guint64) (reader->at - start) || size > left)
    return FALSE;
  box->body = (Reader) { reader->at, start + size, FALSE };
  reader->at = start + size;
  return TRUE;
}

static void
read_brands (Heif *heif, Reader body)
{
  guint32 major = (guint32) take (&body, 4);
  gboolean known = FALSE, av1 = FALSE, hevc = FALSE;

  for (guint32 brand = major; !body.bad; brand = (guint32) take (&body, 4))
    {
      av1 |= brand == FOURCC ('a', 'v', 'i', 'f') || brand == FOURCC ('a', 'v', 'i', 's');
      hevc |= brand == FOURCC ('h', 'e', 'i', 'c') || brand == FOURCC ('h', 'e', 'i', 'x') ||
              brand == FOURCC ('h', 'e', 'i', 'm') || brand == FOURCC ('h', 'e', 'i', 's') ||
              brand == FOURCC ('h', 'e', 'v', 'c') || brand == FOURCC ('h', 'e', 'v', 'x');
      known |= brand == FOURCC ('m', 'i', 'f', '1') || brand == FOURCC ('m', 's', 'f', '1');
    }
  if (av1 && major != FOURCC ('h', 'e', 'i', 'c'))
    heif->container->media_type = "image/avif";
  else if (hevc)
    heif->container->media_type = "image/heic";
  else if (known)
    heif->container->media_type = "image/heif";
}

static void
read_primary (Heif *heif, Reader body)
{
  guint32 version = (guint32) take (&body, 4) >> 24;

  heif->primary = (guint32) take (&body, version == 0 ? 2 : 4);
  heif->has_primary = !body.bad;
}

static void
read_items (Heif *heif, Reader body)
{
  guint32 version = (guint32) take (&body, 4) >> 24;
  Box entry;

  (void) take (&body, version == 0 ? 2 : 4);
  for (guint n = 0; n < MAX_ITEMS && !body.bad && take_box (&body, &entry); n++)
    {
      guint32 kind, id;

      if (entry.type != FOURCC ('i', 'n', 'f', 'e'))
        continue;
      version = (guint32) take (&entry.body, 4) >> 24;
      if (version < 2)
        continue;
      id = (guint32) take (&entry.body, version == 2 ? 2 : 4);
      (void) take (&entry.body, 2);
      kind = (guint32) take (&entry.body, 4);
      if (kind == FOURCC ('E', 'x', 'i', 'f') && !entry.body.bad && !heif->has_exif)
        {
          heif->exif = id;
          heif->has_exif = TRUE;
        }
    }
}

static void
read_properties (Heif *heif, Reader body)
{
  Box box;

  while (take_box (&body, &box))
    if (box.type == FOURCC ('i', 'p', 'c', 'o'))
      heif->ipco = box.body;
    else if (box.type == FOURCC ('i', 'p', 'm', 'a') && heif->ipma.at == NULL)
      heif->ipma = box.body;
}

static void
read_meta (Heif *heif, Reader body)
{
  Box box;

  (void) take (&body, 4);
  while (take_box (&body, &box))
    if (box.type == FOURCC ('p', 'i', 't', 'm'))
      read_primary (heif, box.body);
    else if (box.type == FOURCC ('i', 'i', 'n', 'f'))
      read_items (heif, box.body);
    else if (box.type == FOURCC ('i', 'l', 'o', 'c'))
      heif->iloc = box.body;
    else if (box.type == FOURCC ('i', 'd', 'a', 't'))
      heif->idat = box.body;
    else if (box.type == FOURCC ('i', 'p', 'r', 'p'))
      read_properties (heif, box.body);
}

/* clap: clean aperture as four fractions; its width and height replace the item's. */
static gboolean
apply_crop (WsContainer *container, Reader body)
{
  guint64 wn = take (&body, 4), wd = take (&body, 4), hn = take (&body, 4), hd = take (&body, 4);
  guint64 width, height;

  if (body.bad || wd == 0 || hd == 0)
    return FALSE;
  width = (wn + wd / 2) / wd;
  height = (hn + hd / 2) / hd;
  if (width == 0 || height == 0 || width > (guint64) container->width || height > (guint64) container->height)
    return FALSE;
  container->width = (int) width;
  container->height = (int) height;
  return TRUE;
}

/* The property with number @index from 1. */
static gboolean
apply_property (Heif *heif, guint index)
{
  WsContainer *container = heif->container;
  Reader list = heif->ipco;
  Box box = { 0, list };

  for (guint i = 0; i < index; i++)
    if (list.at == NULL || !take_box (&list, &box))
      return FALSE;
  if (box.type == FOURCC ('i', 's', 'p', 'e'))
    {
      guint64 version = take (&box.body, 4), width = take (&box.body, 4), height = take (&box.body, 4);

      container->width = (int) MIN (width, G_MAXINT32);
      container->height = (int) MIN (height, G_MAXINT32);
      return !box.body.bad && version == 0;
    }
  if (box.type == FOURCC ('c', 'o', 'l', 'r') && take (&box.body, 4) == FOURCC ('n', 'c', 'l', 'x'))
    container->primaries = (guint) take (&box.body, 2);
  if (box.type == FOURCC ('c', 'l', 'a', 'p'))
    return apply_crop (container, box.body);
  if (box.type == FOURCC ('i', 'r', 'o', 't') && (take (&box.body, 1) & 1) != 0)
    {
      int width = container->width;

      container->width = container->height;
      container->height = width;
    }
  return TRUE;
}

static gboolean
read_size (Heif *heif)
{
  Reader body = heif->ipma;
  guint32 full, count;

  if (body.at == NULL || !heif->has_primary)
    return FALSE;
  full = (guint32) take (&body, 4);
  count = (guint32) take (&body, 4);
  for (guint32 i = 0; i < count && i < MAX_ITEMS && !body.bad; i++)
    {
      guint32 id = (guint32) take (&body, (full >> 24) < 1 ? 2 : 4);
      guint n = (guint) take (&body, 1);

      for (guint k = 0; k < n && !body.bad; k++)
        {
          guint index = (guint) ((full & 1) != 0 ? take (&body, 2) & 0x7fff : take (&body, 1) & 0x7f);

          if (id == heif->primary && index > 0 && !body.bad && !apply_property (heif, index))
            return FALSE;
        }
      if (id == heif->primary)
        break;
    }
  return heif->container->width > 0 && heif->container->height > 0;
}

/* One extent of the Exif item; appended to @joined. */
static gboolean
add_extent (Heif *heif, guint method, guint64 offset, guint64 length, GByteArray *joined)
{
  const guint8 *from = method == 1 ? heif->idat.at : heif->file;
  gsize size = method == 1 ? (gsize) (heif->idat.end - heif->idat.at) : heif->file_size;

  if (method > 1 || from == NULL || offset > size)
    return FALSE;
  if (length == 0)
    length = size - offset;
  if (length > size - offset || length > MAX_JOINED - joined->len)
    return FALSE;
  g_byte_array_append (joined, from + offset, (guint) length);
  return TRUE;
}

/* The entry of one item in iloc; its extents are joined if it is the Exif item. */
static gboolean
read_location (Heif *heif, Reader *body, guint version, const guint *sizes, GByteArray *joined, gboolean *found)
{
  guint32 id = (guint32) take (body, version < 2 ? 2 : 4);
  guint method = version > 0 ? (guint) take (body, 2) & 15 : 0;
  guint64 base;
  guint n;

  (void) take (body, 2);
  base = take (body, sizes[2]);
  n = (guint) take (body, 2);
  *found = heif->has_exif && id == heif->exif;
  for (guint i = 0; i < n && !body->bad; i++)
    {
      guint64 offset, length;

      (void) take (body, sizes[3]);
      offset = take (body, sizes[0]);
      length = take (body, sizes[1]);
      if (*found && (body->bad || offset > G_MAXUINT64 - base ||
                     !add_extent (heif, method, base + offset, length, joined)))
        return FALSE;
    }
  return !body->bad;
}

static gboolean
is_field_size (guint size)
{
  return size == 0 || size == 4 || size == 8;
}

static void
read_exif (Heif *heif)
{
  g_autoptr (GByteArray) joined = g_byte_array_new ();
  Reader body = heif->iloc;
  guint version, sizes[4];   /* bytes of offset, length, base offset, index */
  guint32 count, skip;
  gboolean found = FALSE;

  if (body.at == NULL)
    return;
  version = (guint) take (&body, 4) >> 24;
  for (guint i = 0; i < 4; i += 2)
    {
      guint pair = (guint) take (&body, 1);

      sizes[i] = pair >> 4;
      sizes[i + 1] = pair & 15;
    }
  if (version == 0)
    sizes[3] = 0;
  if (version > 2 || !is_field_size (sizes[0]) || !is_field_size (sizes[1]) ||
      !is_field_size (sizes[2]) || !is_field_size (sizes[3]))
    return;
  count = (guint32) take (&body, version < 2 ? 2 : 4);
  for (guint32 i = 0; i < count && i < MAX_ITEMS && !found; i++)
    if (!read_location (heif, &body, version, sizes, joined, &found))
      return;
  /* The item begins with the distance to the TIFF header. */
  if (!found || joined->len < 12)
    return;
  skip = ws_be32 (joined->data);
  if (skip > joined->len - 12)
    skip = 0;
  heif->container->joined = g_byte_array_free_to_bytes (g_steal_pointer (&joined));
  ws_container_add_exif (heif->container,
                         (const guint8 *) g_bytes_get_data (heif->container->joined, NULL) + 4 + skip,
                         g_bytes_get_size (heif->container->joined) - 4 - skip);
}

gboolean
ws_container_scan_heif (WsContainer *container, const guint8 *data, gsize size)
{
  Heif heif = { .container = container, .file = data, .file_size = size };
  Reader file = { data, data + size, FALSE };
  Box box;

  while (take_box (&file, &box))
    if (box.type == FOURCC ('f', 't', 'y', 'p'))
      read_brands (&heif, box.body);
    else if (box.type == FOURCC ('m', 'e', 't', 'a'))
      {
        read_meta (&heif, box.body);
        break;
      }
  if (container->media_type == NULL || !read_size (&heif))
    return FALSE;
  read_exif (&heif);
  return TRUE;
}
