/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-regions.h"

#include <exempi/xmp.h>
#include <exempi/xmpconsts.h>
#include <math.h>
#include <string.h>

#define IPTC "http://iptc.org/std/Iptc4xmpExt/2008-02-29/"
#define ROLE "http://cv.iptc.org/newscodes/imageregionrole/areaOfInterest"
/* Begins the APP1 segment that holds XMP (XMP specification, part 3). */
#define SIGNATURE "http://ns.adobe.com/xap/1.0/"
#define MAX_SEGMENT 65533
/* What a segment has room for at most: a corner takes about 65 bytes, a region without corners about 550. */
#define MOST_CORNERS 960
#define MOST_REGIONS 120

/* Corners of an oval: the polygon is nowhere further from it than 1 - cos (pi / 64), 0.12 % of the radius. */
#define OVAL_CORNERS 64

/* --- Polygons ----------------------------------------------------------------------------------------- */

static double
triangle (const WsPoint *a, const WsPoint *b, const WsPoint *c)
{
  return fabs ((b->x - a->x) * (c->y - a->y) - (c->x - a->x) * (b->y - a->y));
}

/* Takes away the corner that changes the area least, again and again (Visvalingam and Whyatt 1993). */
static void
thin_out (GArray *points, guint most)
{
  while (points->len > MAX (most, 3))
    {
      guint least = 0, n = points->len;
      double area = INFINITY;

      for (guint i = 0; i < n; i++)
        {
          double here = triangle (&g_array_index (points, WsPoint, (i + n - 1) % n), &g_array_index (points, WsPoint, i),
                                  &g_array_index (points, WsPoint, (i + 1) % n));

          if (here < area)
            {
              area = here;
              least = i;
            }
        }
      g_array_remove_index (points, least);
    }
}

GArray *
ws_regions_polygon (const WsShape *shape, guint most)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (WsPoint));
  const WsRect *bounds = &shape->bounds;
  guint corners = MIN (most, OVAL_CORNERS) & ~3u;

  if (shape->kind == WS_SHAPE_OUTLINE)
    {
      g_array_append_vals (points, shape->points, shape->n_points);
      thin_out (points, most);
      return points;
    }
  for (guint i = 0; shape->kind == WS_SHAPE_OVAL && i < corners; i++)
    {
      double angle = 2 * G_PI * i / corners;
      WsPoint point = { bounds->x + bounds->width / 2 * (1 + cos (angle)),
                        bounds->y + bounds->height / 2 * (1 + sin (angle)) };

      g_array_append_val (points, point);
    }
  for (guint i = 0; shape->kind == WS_SHAPE_BOX && i < 4; i++)
    {
      WsPoint point = { bounds->x + (i == 1 || i == 2 ? bounds->width : 0), bounds->y + (i > 1 ? bounds->height : 0) };

      g_array_append_val (points, point);
    }
  return points;
}

/* --- XMP ------------------------------------------------------------------------------------------------ */

static void
set_text (XmpPtr xmp, const char *text, const char *format, ...) G_GNUC_PRINTF (3, 4);

static void
set_text (XmpPtr xmp, const char *text, const char *format, ...)
{
  g_autofree char *path = NULL;
  va_list args;

  va_start (args, format);
  path = g_strdup_vprintf (format, args);
  va_end (args);
  xmp_set_property (xmp, IPTC, path, text, 0);
}

/* Six decimals give back every pixel of pictures of 65,000 px. */
static void
set_fraction (XmpPtr xmp, double fraction, const char *parent, const char *name)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (text, sizeof text, "%.6f", CLAMP (fraction, 0, 1));
  set_text (xmp, text, "%s/Iptc4xmpExt:%s", parent, name);
}

static void
set_words (XmpPtr xmp, const char *words, const char *language, const char *format, ...) G_GNUC_PRINTF (4, 5);

static void
set_words (XmpPtr xmp, const char *words, const char *language, const char *format, ...)
{
  g_autofree char *path = NULL, *valid = g_utf8_make_valid (words, -1);
  va_list args;

  va_start (args, format);
  path = g_strdup_vprintf (format, args);
  va_end (args);
  xmp_set_localized_text (xmp, IPTC, path, "", language, valid, 0);
}

/* An entity: a name and an identifier, as the only member of the bag @name. */
static void
add_entity (XmpPtr xmp, guint region, const char *name, const char *words, const char *iri, const char *language)
{
  g_autofree char *bag = g_strdup_printf ("ImageRegion[%u]/Iptc4xmpExt:%s", region, name);
  g_autofree char *identifiers = g_strconcat (bag, "[1]/xmp:Identifier", NULL);

  xmp_append_array_item (xmp, IPTC, bag, XMP_PROP_VALUE_IS_ARRAY, NULL, XMP_PROP_VALUE_IS_STRUCT);
  if (words != NULL)
    set_words (xmp, words, language, "%s[1]/Iptc4xmpExt:Name", bag);
  xmp_append_array_item (xmp, IPTC, identifiers, XMP_PROP_VALUE_IS_ARRAY, iri, 0);
}

static void
add_polygon (XmpPtr xmp, const char *boundary, const WsShape *shape, guint most)
{
  g_autoptr (GArray) points = ws_regions_polygon (shape, most);
  g_autofree char *vertices = g_strconcat (boundary, "/Iptc4xmpExt:rbVertices", NULL);

  set_text (xmp, "polygon", "%s/Iptc4xmpExt:rbShape", boundary);
  for (guint i = 0; i < points->len; i++)
    {
      g_autofree char *vertex = g_strdup_printf ("%s[%u]", vertices, i + 1);
      const WsPoint *point = &g_array_index (points, WsPoint, i);

      xmp_append_array_item (xmp, IPTC, vertices, XMP_PROP_VALUE_IS_ARRAY | XMP_PROP_ARRAY_IS_ORDERED, NULL,
                             XMP_PROP_VALUE_IS_STRUCT);
      set_fraction (xmp, point->x, vertex, "rbX");
      set_fraction (xmp, point->y, vertex, "rbY");
    }
}

/* @corners: the most that a polygon may have; below 4 everything is a rectangle. */
static void
add_boundary (XmpPtr xmp, guint region, const WsShape *shape, guint corners, int width, int height)
{
  g_autofree char *boundary = g_strdup_printf ("ImageRegion[%u]/Iptc4xmpExt:RegionBoundary", region);
  const WsRect *bounds = &shape->bounds;
  gboolean round = shape->kind == WS_SHAPE_OVAL && fabs (bounds->width * width - bounds->height * height) < 1;

  set_text (xmp, "relative", "%s/Iptc4xmpExt:rbUnit", boundary);
  if (shape->kind != WS_SHAPE_BOX && !round && corners >= 4)
    {
      add_polygon (xmp, boundary, shape, corners);
      return;
    }
  set_text (xmp, round ? "circle" : "rectangle", "%s/Iptc4xmpExt:rbShape", boundary);
  set_fraction (xmp, bounds->x + (round ? bounds->width / 2 : 0), boundary, "rbX");
  set_fraction (xmp, bounds->y + (round ? bounds->height / 2 : 0), boundary, "rbY");
  if (round)
    {
      set_fraction (xmp, bounds->width / 2, boundary, "rbRx");
      return;
    }
  set_fraction (xmp, bounds->width, boundary, "rbW");
  set_fraction (xmp, bounds->height, boundary, "rbH");
}

static XmpPtr
make_xmp (const WsRegion *regions, guint n_regions, guint corners, const char *language, int width, int height)
{
  XmpPtr xmp = xmp_new_empty ();

  for (guint i = 0; i < n_regions; i++)
    {
      const WsRegion *region = &regions[i];

      xmp_append_array_item (xmp, IPTC, "ImageRegion", XMP_PROP_VALUE_IS_ARRAY, NULL, XMP_PROP_VALUE_IS_STRUCT);
      add_boundary (xmp, i + 1, region->shape, corners, width, height);
      set_text (xmp, region->id, "ImageRegion[%u]/Iptc4xmpExt:rId", i + 1);
      set_words (xmp, region->name, language, "ImageRegion[%u]/Iptc4xmpExt:Name", i + 1);
      if (region->kind != NULL)
        add_entity (xmp, i + 1, "rCtype", region->kind_name, region->kind, language);
      add_entity (xmp, i + 1, "rRole", NULL, ROLE, language);
    }
  return xmp;
}

/* NULL when it does not fit into one segment. */
static GBytes *
make_segment (const WsRegion *regions, guint n_regions, guint corners, const char *language, int width, int height)
{
  XmpPtr xmp = make_xmp (regions, n_regions, corners, language, width, height);
  XmpStringPtr text = xmp_string_new ();
  GByteArray *segment = g_byte_array_new ();

  g_byte_array_append (segment, (const guint8 *) SIGNATURE, sizeof SIGNATURE);
  if (xmp_serialize (xmp, text, XMP_SERIAL_USECOMPACTFORMAT | XMP_SERIAL_READONLYPACKET | XMP_SERIAL_OMITALLFORMATTING, 0))
    g_byte_array_append (segment, (const guint8 *) xmp_string_cstr (text), (guint) strlen (xmp_string_cstr (text)));
  xmp_string_free (text);
  xmp_free (xmp);
  if (segment->len > sizeof SIGNATURE && segment->len <= MAX_SEGMENT)
    return g_byte_array_free_to_bytes (segment);
  g_byte_array_unref (segment);
  return NULL;
}

GBytes *
ws_regions_to_xmp (const WsRegion *regions, guint n_regions, const char *language, int width, int height)
{
  static gsize begun;
  static GMutex mutex;
  /* The library promises nothing about threads. */
  G_GNUC_UNUSED g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&mutex);
  GBytes *segment = NULL;

  if (g_once_init_enter (&begun))
    g_once_init_leave (&begun, xmp_init () ? 1 : 2);
  if (begun != 1)
    return NULL;
  n_regions = MIN (n_regions, MOST_REGIONS);
  for (guint corners = MOST_CORNERS / MAX (n_regions, 1); segment == NULL && n_regions > 0 && corners > 0; corners /= 2)
    segment = make_segment (regions, n_regions, corners, language, width, height);
  while (segment == NULL && n_regions > 0)
    {
      n_regions -= n_regions / 8 + 1;
      if (n_regions > 0)
        segment = make_segment (regions, n_regions, 0, language, width, height);
    }
  return segment;
}
