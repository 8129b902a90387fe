/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-exif.h"

#include <libexif/exif-utils.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Types of TIFF 6.0, and UTF-8 of Exif 3.0. */
#define TYPE_UTF8 129
/* No text that is shown is longer, and no number of ours has more parts. */
#define MAX_VALUE_BYTES 4096

#define TAG_EXIF_POINTER 0x8769
#define TAG_GPS_POINTER 0x8825
#define TAG_INTEROPERABILITY_POINTER 0xa005
/* In a directory that is in order there are a few dozen; more than this is not read. */
#define MAX_ENTRIES 1024

typedef struct
{
  const guint8 *data;
  gsize size;
  ExifByteOrder order;
  WsExif *exif;
  guint32 exif_at, gps_at, interoperability_at; /* offsets of the other directories, 0 when not there */
} Walk;

static const guint16 main_tags[] = {
  0x0100, 0x0101, 0x010e, 0x010f, 0x0110, 0x0112, 0x829a, 0x829d, 0x8827, 0x9003, 0x9011, 0x9286, 0x9291,
  0x920a, 0xa001, 0xa405, 0
};
static const guint16 interoperability_tags[] = { 0x0001, 0 };
static const guint16 gps_tags[] = {
  0x01, 0x02, 0x03, 0x04, 0x05, 0x06, 0x07, 0x09, 0x10, 0x11, 0x1d, 0x1f, 0
};

static gboolean
is_wanted (ExifIfd ifd, guint tag)
{
  const guint16 *tags = ifd == EXIF_IFD_GPS ? gps_tags :
                        ifd == EXIF_IFD_INTEROPERABILITY ? interoperability_tags : main_tags;

  for (; *tags != 0; tags++)
    if (*tags == tag)
      return TRUE;
  return FALSE;
}

static guint
type_size (guint type)
{
  static const guint8 sizes[] = { 0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4 };

  return type == TYPE_UTF8 ? 1 : type < G_N_ELEMENTS (sizes) ? sizes[type] : 0;
}

static void
add_entry (WsExif *exif, ExifIfd ifd, guint tag, guint type, const guint8 *value, gsize count)
{
  ExifEntry *entry;
  gsize size = count * type_size (type);

  if (exif_content_get_entry (exif->data->ifd[ifd], (ExifTag) tag) != NULL)
    return;
  entry = exif_entry_new ();
  entry->tag = (ExifTag) tag;
  entry->format = type == TYPE_UTF8 ? EXIF_FORMAT_ASCII : type == 13 ? EXIF_FORMAT_LONG : (ExifFormat) type;
  entry->components = count;
  /* libexif frees this with free(). */
  entry->data = malloc (size + 1);
  if (entry->data != NULL)
    {
      memcpy (entry->data, value, size);
      entry->size = (unsigned int) size;
      exif_content_add_entry (exif->data->ifd[ifd], entry);
    }
  exif_entry_unref (entry);
}

/* The value of the entry at @at: inside it when it has up to four bytes, else at an offset. */
static const guint8 *
entry_value (Walk *walk, gsize at, guint64 bytes)
{
  guint32 offset;

  if (bytes <= 4)
    return walk->data + at + 8;
  offset = exif_get_long (walk->data + at + 8, walk->order);
  if (offset > walk->size || bytes > walk->size - offset)
    return NULL;
  return walk->data + offset;
}

static void
read_entry (Walk *walk, gsize at, ExifIfd ifd)
{
  guint tag = exif_get_short (walk->data + at, walk->order);
  guint type = exif_get_short (walk->data + at + 2, walk->order);
  guint64 count = exif_get_long (walk->data + at + 4, walk->order);
  guint64 bytes = count * type_size (type);
  const guint8 *value;

  if (ifd != EXIF_IFD_GPS &&
      (tag == TAG_EXIF_POINTER || tag == TAG_GPS_POINTER || tag == TAG_INTEROPERABILITY_POINTER))
    {
      guint32 *pointer = tag == TAG_EXIF_POINTER ? &walk->exif_at :
                         tag == TAG_GPS_POINTER ? &walk->gps_at : &walk->interoperability_at;

      if (*pointer == 0 && type_size (type) == 4 && count > 0)
        *pointer = exif_get_long (walk->data + at + 8, walk->order);
      return;
    }
  if (!is_wanted (ifd, tag) || count == 0)
    return;
  value = bytes > 0 ? entry_value (walk, at, bytes) : NULL;
  if (value == NULL)
    {
      walk->exif->damaged = TRUE;
      return;
    }
  add_entry (walk->exif, ifd, tag, type, value, MIN (count, MAX_VALUE_BYTES / type_size (type)));
}

static void
read_directory (Walk *walk, guint32 offset, ExifIfd ifd)
{
  guint n;

  if (offset == 0)
    return;
  if (offset > walk->size - 2)
    {
      walk->exif->damaged = TRUE;
      return;
    }
  n = exif_get_short (walk->data + offset, walk->order);
  for (guint i = 0; i < n; i++)
    {
      gsize at = (gsize) offset + 2 + (gsize) i * 12;

      if (i == MAX_ENTRIES || at > walk->size || walk->size - at < 12)
        {
          walk->exif->damaged = TRUE;
          break;
        }
      read_entry (walk, at, ifd);
    }
}

static void
read_span (WsExif *exif, const WsExifSpan *span)
{
  Walk walk = { .data = span->data, .size = span->size, .exif = exif };

  /* Some camera raw files are TIFF but for the second two bytes. */
  if (memcmp (span->data, "II*\0", 4) == 0 || memcmp (span->data, "IIU\0", 4) == 0 ||
      memcmp (span->data, "IIRO", 4) == 0 || memcmp (span->data, "IIRS", 4) == 0)
    walk.order = EXIF_BYTE_ORDER_INTEL;
  else if (memcmp (span->data, "MM\0*", 4) == 0 || memcmp (span->data, "MMOR", 4) == 0)
    walk.order = EXIF_BYTE_ORDER_MOTOROLA;
  else
    {
      exif->damaged = TRUE;
      return;
    }
  /* Also turns round what an earlier span gave. */
  exif_data_set_byte_order (exif->data, walk.order);
  read_directory (&walk, exif_get_long (span->data + 4, walk.order), span->gps ? EXIF_IFD_GPS : EXIF_IFD_0);
  /* Each directory is read once, whatever it points to: no loop can arise. */
  read_directory (&walk, walk.exif_at, EXIF_IFD_EXIF);
  read_directory (&walk, walk.gps_at, EXIF_IFD_GPS);
  read_directory (&walk, walk.interoperability_at, EXIF_IFD_INTEROPERABILITY);
}

void
ws_exif_read (WsExif *exif, const WsContainer *container)
{
  exif->data = exif_data_new ();
  exif->damaged = FALSE;
  /* Types that the standard does not name are read too, so nothing is to be "fixed". */
  exif_data_unset_option (exif->data, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_unset_option (exif->data, EXIF_DATA_OPTION_IGNORE_UNKNOWN_TAGS);
  for (guint i = 0; i < container->n_exif; i++)
    read_span (exif, &container->exif[i]);
}

void
ws_exif_clear (WsExif *exif)
{
  g_clear_pointer (&exif->data, exif_data_unref);
}

ExifEntry *
ws_exif_find (const WsExif *exif, ExifIfd ifd, guint tag)
{
  ExifEntry *entry = exif_content_get_entry (exif->data->ifd[ifd], (ExifTag) tag);

  if (entry == NULL && ifd == EXIF_IFD_EXIF)
    entry = exif_content_get_entry (exif->data->ifd[EXIF_IFD_0], (ExifTag) tag);
  return entry;
}

static double
read_float (const guint8 *data, ExifByteOrder order)
{
  guint32 bits = exif_get_long (data, order);
  float value;

  memcpy (&value, &bits, sizeof value);
  return (double) value;
}

static double
read_double (const guint8 *data, ExifByteOrder order)
{
  guint64 first = exif_get_long (data, order), second = exif_get_long (data + 4, order);
  guint64 bits = order == EXIF_BYTE_ORDER_INTEL ? second << 32 | first : first << 32 | second;
  double value;

  memcpy (&value, &bits, sizeof value);
  return value;
}

static double
read_ascii (ExifEntry *entry)
{
  g_autofree char *text = ws_exif_text (entry);
  char *end;
  double value = g_ascii_strtod (text, &end);

  return end == text || *end != '\0' ? NAN : value;
}

gboolean
ws_exif_number (const WsExif *exif, ExifEntry *entry, guint i, double *value)
{
  ExifByteOrder order = exif_data_get_byte_order (exif->data);
  const guint8 *at;

  *value = NAN;
  if (entry == NULL || i >= entry->components)
    return FALSE;
  at = entry->data + (gsize) i * type_size (entry->format);
  switch (entry->format)
    {
    case EXIF_FORMAT_BYTE:
    case EXIF_FORMAT_UNDEFINED:
      *value = *at;
      break;
    case EXIF_FORMAT_SBYTE:
      *value = (gint8) *at;
      break;
    case EXIF_FORMAT_ASCII:
      *value = i == 0 ? read_ascii (entry) : NAN;
      break;
    case EXIF_FORMAT_SHORT:
      *value = exif_get_short (at, order);
      break;
    case EXIF_FORMAT_SSHORT:
      *value = exif_get_sshort (at, order);
      break;
    case EXIF_FORMAT_LONG:
      *value = exif_get_long (at, order);
      break;
    case EXIF_FORMAT_SLONG:
      *value = exif_get_slong (at, order);
      break;
    case EXIF_FORMAT_RATIONAL:
      {
        ExifRational r = exif_get_rational (at, order);

        *value = r.denominator != 0 ? (double) r.numerator / r.denominator : NAN;
        break;
      }
    case EXIF_FORMAT_SRATIONAL:
      {
        ExifSRational r = exif_get_srational (at, order);

        *value = r.denominator != 0 ? (double) r.numerator / r.denominator : NAN;
        break;
      }
    case EXIF_FORMAT_FLOAT:
      *value = read_float (at, order);
      break;
    case EXIF_FORMAT_DOUBLE:
      *value = read_double (at, order);
      break;
    default:
      break;
    }
  return isfinite (*value);
}

char *
ws_exif_text (ExifEntry *entry)
{
  gsize length = entry != NULL ? strnlen ((const char *) entry->data, entry->size) : 0;
  g_autofree char *text = NULL;

  if (entry == NULL || type_size (entry->format) != 1)
    return g_strdup ("");
  text = g_strndup ((const char *) entry->data, length);
  if (!g_utf8_validate (text, -1, NULL))
    {
      char *converted = g_convert (text, -1, "UTF-8", "ISO-8859-1", NULL, NULL, NULL);

      g_free (text);
      text = converted != NULL ? converted : g_strdup ("");
    }
  for (char *c = text; *c != '\0'; c++)
    if (g_ascii_iscntrl (*c))
      *c = ' ';
  g_strchomp (text);
  return g_steal_pointer (&text);
}

int
ws_exif_orientation (const WsExif *exif, gboolean *present)
{
  ExifEntry *entry = exif_content_get_entry (exif->data->ifd[EXIF_IFD_0], EXIF_TAG_ORIENTATION);
  double value;

  *present = entry != NULL;
  if (!ws_exif_number (exif, entry, 0, &value) || value < 1 || value > 8 || value != floor (value))
    return 0;
  return (int) value;
}
