/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-photo-facts.h"

#include "ws-error.h"
#include "ws-exif.h"
#include "ws-gps.h"
#include "ws-intl.h"
#include "ws-picture-private.h"
#include "ws-screenshot.h"

#include <math.h>
#include <string.h>

void
ws_photo_facts_warn (WsPhotoFacts *facts, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (facts->warnings, g_strdup_vprintf (format, args));
  va_end (args);
}

static char *
read_name (const WsExif *exif, guint tag)
{
  g_autofree char *text = ws_exif_text (ws_exif_find (exif, EXIF_IFD_0, tag));

  return *text != '\0' ? g_steal_pointer (&text) : NULL;
}

/* A number that cannot be below 0. A 0 is told as the file has it, with a warning: cameras
 * write it where they do not know. */
static double
read_amount (WsPhotoFacts *facts, const WsExif *exif, guint tag, const char *what)
{
  ExifEntry *entry = ws_exif_find (exif, EXIF_IFD_EXIF, tag);
  double value;

  if (entry == NULL)
    return NAN;
  if (!ws_exif_number (exif, entry, 0, &value) || value < 0)
    {
      ws_photo_facts_warn (facts, _("The photo gives no usable %s"), what);
      return NAN;
    }
  if (value == 0)
    ws_photo_facts_warn (facts, _("The photo gives 0 as %s, so the camera did not know it"), what);
  return value;
}

static void
read_camera (WsPhotoFacts *facts, const WsExif *exif)
{
  facts->make = read_name (exif, EXIF_TAG_MAKE);
  facts->model = read_name (exif, EXIF_TAG_MODEL);
  facts->focal_length = read_amount (facts, exif, EXIF_TAG_FOCAL_LENGTH, _("focal length"));
  facts->focal_length_35 = read_amount (facts, exif, EXIF_TAG_FOCAL_LENGTH_IN_35MM_FILM,
                                        _("focal length for 35 mm film"));
  facts->iso = read_amount (facts, exif, EXIF_TAG_ISO_SPEED_RATINGS, _("ISO speed"));
  facts->exposure_time = read_amount (facts, exif, EXIF_TAG_EXPOSURE_TIME, _("exposure time"));
  facts->f_number = read_amount (facts, exif, EXIF_TAG_FNUMBER, _("f-number"));
}

/* SubSecTimeOriginal: the digits after the point, as given. "" when there are none. */
static char *
read_decimals (WsPhotoFacts *facts, const WsExif *exif)
{
  g_autofree char *text = ws_exif_text (ws_exif_find (exif, EXIF_IFD_EXIF, EXIF_TAG_SUB_SEC_TIME_ORIGINAL));

  if (strspn (text, "0123456789") == strlen (text))
    return g_steal_pointer (&text);
  if (strspn (text, " :") != strlen (text))
    ws_photo_facts_warn (facts, _("The photo gives “%s” as fraction of the second, which is not a number"), text);
  return g_strdup ("");
}

static void
read_time (WsPhotoFacts *facts, const WsExif *exif)
{
  ExifEntry *entry = ws_exif_find (exif, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL);
  g_autofree char *text = ws_exif_text (entry);
  g_autofree char *decimals = NULL, *whole = NULL;

  if (entry == NULL)
    return;
  decimals = read_decimals (facts, exif);
  whole = *decimals != '\0' && strchr (text, '.') == NULL ? g_strconcat (text, ".", decimals, NULL) : g_strdup (text);
  if (ws_moment_set_local (&facts->taken, whole))
    return;
  if (strspn (text, " :0") == strlen (text))
    ws_photo_facts_warn (facts, _("The photo has an empty time: the clock of the camera was not set"));
  else
    ws_photo_facts_warn (facts, _("The photo gives “%s” as its time, which is not a possible time"), text);
}

static void
read_offset (WsPhotoFacts *facts, const WsExif *exif)
{
  g_autofree char *text = ws_exif_text (ws_exif_find (exif, EXIF_IFD_EXIF, EXIF_TAG_OFFSET_TIME_ORIGINAL));
  int minutes;

  if (!ws_moment_is_known (&facts->taken))
    return;
  if (ws_offset_parse (text, &minutes))
    {
      facts->taken.offset_minutes = (gint16) minutes;
      facts->taken.offset_source = WS_OFFSET_EXIF;
    }
  else if (strspn (text, " :") != strlen (text))
    ws_photo_facts_warn (facts, _("The photo gives “%s” as its time zone, which is not a possible offset"), text);
}

static void
read_orientation (WsPhotoFacts *facts, const WsContainer *container, const WsExif *exif)
{
  gboolean present;

  if (container->is_raw)
    {
      facts->orientation = container->orientation;
      facts->turn = !container->upright && facts->orientation > 1;
      return;
    }
  facts->orientation = ws_exif_orientation (exif, &present);
  if (present && facts->orientation == 0)
    ws_photo_facts_warn (facts, _("The photo gives an orientation that does not exist, so it is shown as stored"));
  /* HEIF turns itself by a box of its own; its EXIF orientation is a copy that must not count
   * twice (ISO/IEC 23008-12, 6.5.10). */
  facts->turn = container->kind != WS_CONTAINER_HEIF && facts->orientation > 1;
}

/* Stored size, from the container or, for TIFF, from its directory. */
static gboolean
read_size (WsPhotoFacts *facts, const WsContainer *container, const WsExif *exif)
{
  double width = container->width, height = container->height;

  if (container->kind == WS_CONTAINER_TIFF &&
      (!ws_exif_number (exif, ws_exif_find (exif, EXIF_IFD_0, EXIF_TAG_IMAGE_WIDTH), 0, &width) ||
       !ws_exif_number (exif, ws_exif_find (exif, EXIF_IFD_0, EXIF_TAG_IMAGE_LENGTH), 0, &height)))
    return FALSE;
  if (!(width >= 1 && width <= G_MAXINT32 && height >= 1 && height <= G_MAXINT32))
    return FALSE;
  facts->width = (int) (facts->turn && facts->orientation >= 5 ? height : width);
  facts->height = (int) (facts->turn && facts->orientation >= 5 ? width : height);
  return TRUE;
}

const char *
ws_photo_origin_text (const char *media_type)
{
  return g_strcmp0 (media_type, WS_MEDIA_TYPE_RAW) == 0 ? _("Preview inside a camera raw file") : NULL;
}

/* A preview may be as good as a JPEG of the camera, or a stamp; nine tenths allow for the margins of a sensor. */
static void
read_raw (WsPhotoFacts *facts, const WsContainer *container)
{
  int raw_edge = MAX (container->raw_width, container->raw_height);

  facts->raw_preview = container->is_raw;
  if (!container->is_raw)
    return;
  ws_photo_facts_warn (facts, _("Shown is the preview that was put into this camera raw file, not the raw picture itself"));
  if (MAX (container->width, container->height) < 0.9 * raw_edge)
    ws_photo_facts_warn (facts, _("The preview inside this raw file has only %d × %d of %d × %d pixels; export a JPEG at "
                                  "full size and add that"), container->width, container->height,
                         container->raw_width, container->raw_height);
}

static void
read_colours (WsPhotoFacts *facts, const WsContainer *container, const WsExif *exif)
{
  ExifEntry *entry = exif_content_get_entry (exif->data->ifd[EXIF_IFD_INTEROPERABILITY],
                                             EXIF_TAG_INTEROPERABILITY_INDEX);
  g_autofree char *index = ws_exif_text (entry);
  double space = 0;

  if (container->primaries == 12)
    facts->colours = WS_COLOURS_P3;
  /* Where EXIF says sRGB as well, somebody has converted the picture and left the rest. */
  else if (container->kind == WS_CONTAINER_JPEG && g_str_equal (index, "R03") &&
           !(ws_exif_number (exif, ws_exif_find (exif, EXIF_IFD_EXIF, EXIF_TAG_COLOR_SPACE), 0, &space) && space == 1))
    facts->colours = WS_COLOURS_ADOBE_RGB;
}

static WsPhotoFacts *
new_facts (const WsContainer *container)
{
  WsPhotoFacts *facts = g_new0 (WsPhotoFacts, 1);

  facts->media_type = g_strdup (container->media_type);
  facts->taken = (WsMoment) WS_MOMENT_INIT;
  facts->position = ws_position_none ();
  facts->direction = NAN;
  facts->warnings = g_ptr_array_new_with_free_func (g_free);
  return facts;
}

WsPhotoFacts *
ws_photo_facts_from_container (const WsContainer *container, const char *name, GError **error)
{
  g_auto (WsExif) exif = { 0 };
  g_autoptr (WsPhotoFacts) facts = NULL;

  ws_exif_read (&exif, container);
  facts = new_facts (container);
  read_orientation (facts, container, &exif);
  if (!read_size (facts, container, &exif))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                   _("“%s” does not tell the size of its picture; copy it again from where it came"), name);
      return NULL;
    }
  read_raw (facts, container);
  read_colours (facts, container, &exif);
  if (exif.damaged)
    ws_photo_facts_warn (facts, _("The camera’s data in the photo are damaged; some of them may be missing"));
  read_camera (facts, &exif);
  read_time (facts, &exif);
  read_offset (facts, &exif);
  ws_gps_read (facts, &exif);
  facts->likely_screenshot = ws_screenshot_is_likely (facts, &exif);
  return g_steal_pointer (&facts);
}

WsPhotoFacts *
ws_photo_facts_read (GBytes *bytes, const char *name, GError **error)
{
  g_auto (WsContainer) container = { 0 };

  return ws_container_scan (&container, bytes, name, error) ? ws_photo_facts_from_container (&container, name, error)
                                                            : NULL;
}

WsPhotoFacts *
ws_photo_facts_read_file (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = ws_container_map (path, error);

  return bytes != NULL ? ws_photo_facts_read (bytes, path, error) : NULL;
}

void
ws_photo_facts_free (WsPhotoFacts *facts)
{
  if (facts == NULL)
    return;
  g_free (facts->media_type);
  g_free (facts->gps_utc);
  g_free (facts->make);
  g_free (facts->model);
  g_ptr_array_unref (facts->warnings);
  g_free (facts);
}
