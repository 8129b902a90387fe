/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-file.h"

#include <cairo-pdf.h>

#include "ws-blocking.h"
#include "ws-error.h"
#include "ws-intl.h"
#include "ws-told-copy.h"

/* --- Crops --------------------------------------------------------------------------------------- */

cairo_surface_t *
ws_plate_crop_load (const WsRequest *request, const WsMark *mark, GHashTable *photo_paths, int edge,
                    GCancellable *cancellable, GError **error)
{
  const WsPhoto *photo = ws_find_get_photo (request->find, mark->photo_id);
  WsCopyOptions options = { .max_edge = edge, .crop = &mark->shape->bounds };

  ws_blocking ("cutting out a part");
  if (photo == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("A mark of find %s is on a photo that is not there"),
                   request->find->number);
      return NULL;
    }
  return ws_told_copy_load (request->find, photo, photo_paths, options, cancellable, error);
}

static gboolean
load_crops (WsPlate *plate, const WsRequest *request, GHashTable *photo_paths, GCancellable *cancellable, GError **error)
{
  for (guint i = 0; i < ws_plate_get_n_parts (plate); i++)
    {
      const WsMark *mark = ws_plate_get_mark (plate, i);
      cairo_surface_t *crop;

      if (mark == NULL)
        continue;
      crop = ws_plate_crop_load (request, mark, photo_paths, ws_plate_get_crop_edge (plate, i, WS_PLATE_PRINT_DPI), cancellable,
                                 error);
      if (crop == NULL)
        return FALSE;
      ws_plate_set_crop (plate, i, crop);
      cairo_surface_destroy (crop);
    }
  return TRUE;
}

/* --- Files ------------------------------------------------------------------------------------------- */

static cairo_status_t
append_cb (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static void
draw (const WsPlate *plate, cairo_surface_t *surface, double scale)
{
  WsPlateInk ink = WS_PLATE_INK_PRINT;
  cairo_t *cr = cairo_create (surface);

  cairo_scale (cr, scale, scale);
  ws_plate_draw (plate, cr, &ink);
  cairo_destroy (cr);
}

/* Left alone, cairo would tell the minute and the time zone of this computer. */
static void
tell_facts (cairo_surface_t *pdf, const WsRequest *request, const WsKnowledge *knowledge)
{
  g_autoptr (GDateTime) made = g_date_time_new_from_unix_utc (request->made_us / G_USEC_PER_SEC);
  g_autofree char *day = made != NULL ? g_date_time_format (made, "%Y-%m-%dT00:00:00Z") : NULL, *title = NULL;
  g_autofree char *number = g_utf8_make_valid (request->find->number, -1);

  title = g_strdup_printf ("%s %s", ws_knowledge_text (knowledge, request->language, "page", "number"), number);
  cairo_pdf_surface_set_metadata (pdf, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata (pdf, CAIRO_PDF_METADATA_CREATOR, "Wholestem " WS_VERSION);
  cairo_pdf_surface_set_metadata (pdf, CAIRO_PDF_METADATA_CREATE_DATE, day != NULL ? day : "1970-01-01T00:00:00Z");
}

static GBytes *
write_file (const WsPlate *plate, const WsRequest *request, const WsKnowledge *knowledge, const WsPlateSheet *sheet,
            WsPlateFormat format, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  double scale = format == WS_PLATE_PNG ? WS_PLATE_PRINT_DPI / 72.0 : 1;
  cairo_surface_t *surface;
  cairo_status_t status;

  if (format == WS_PLATE_PNG)
    {
      cairo_t *cr;

      surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) (sheet->width * scale), (int) (sheet->height * scale));
      cr = cairo_create (surface);
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_paint (cr);
      cairo_destroy (cr);
    }
  else
    {
      surface = cairo_pdf_surface_create_for_stream (append_cb, bytes, sheet->width, sheet->height);
      cairo_pdf_surface_restrict_to_version (surface, CAIRO_PDF_VERSION_1_5);
      tell_facts (surface, request, knowledge);
    }
  draw (plate, surface, scale);
  if (format == WS_PLATE_PNG)
    status = cairo_surface_write_to_png_stream (surface, append_cb, bytes);
  else
    {
      cairo_surface_finish (surface);
      status = cairo_surface_status (surface);
    }
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED, _("The plate of find %s could not be drawn: %s"), request->find->number,
                   cairo_status_to_string (status));
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

GBytes *
ws_plate_file_make (const WsRequest *request, GHashTable *photo_paths, const WsKnowledge *knowledge, const WsPlateWish *wish,
                    WsPlateFormat format, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsPlate) plate = ws_plate_new (request, knowledge, wish->figure, wish->choices);
  WsPlateSheet sheet = ws_plate_sheet_of_paper (wish->paper, wish->sideways);

  ws_blocking ("making a plate");
  if (!ws_plate_lay_out (plate, &sheet))
    {
      g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
                   _("The plate of find %s does not fit on one page; shorten its texts or print it the other way round"),
                   request->find->number);
      return NULL;
    }
  if (!load_crops (plate, request, photo_paths, cancellable, error))
    return NULL;
  return write_file (plate, request, knowledge, &sheet, format, error);
}
