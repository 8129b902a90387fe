/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which pixels are asked for when: the thumbnail at once, the level that fits, the full size when zoomed beyond it;
 * then the neighbours. */
#include "ws-photo-view-private.h"

#include <math.h>

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-photo-facts.h"

/* Levels are read in a few sizes only, so that resizing a window does not read the file again and again: halves of halves
 * of the photo, which a JPEG gives for little more than the unpacking of its codes, but none smaller than this. */
#define LEAST_EDGE 960
/* …and of a photo whose size is not known, these. */
static const int edges[] = { 1024, 2048, 4096 };
/* While somebody zooms on, levels in between are not read. */
#define SETTLE_MS 80
/* A preview seen for less needs no words. */
#define NOTICE_MS 300

typedef struct
{
  GWeakRef view;       /* the widget may be gone when the answer comes */
  gboolean thumbnail;
} Request;

static Request *
request_new (WsPhotoView *self, gboolean thumbnail)
{
  Request *request = g_new0 (Request, 1);

  g_weak_ref_init (&request->view, self);
  request->thumbnail = thumbnail;
  return request;
}

static void
request_free (Request *request)
{
  g_weak_ref_clear (&request->view);
  g_free (request);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Request, request_free)

/* What to ask the decoder for; 0: all. */
static int
edge_for (double needed, int full)
{
  for (int shrink = 8; full > 0 && shrink > 1; shrink /= 2)
    {
      int edge = (full + shrink - 1) / shrink;

      if (edge >= LEAST_EDGE && needed <= edge)
        return edge;
    }
  for (guint i = 0; full <= 0 && i < G_N_ELEMENTS (edges); i++)
    if (needed <= edges[i])
      return edges[i];
  return 0;
}

/* Device px that the longer edge needs at the present zoom; of a photo of unknown size, what the view can show. */
static double
needed_px (WsPhotoView *self)
{
  const WsPhotoViewport *port = &self->port;

  if (!self->load.dimensions_known)
    return MAX (port->view_width, port->view_height) * port->scale;
  return ceil (MAX (port->photo_width, port->photo_height) * port->zoom * port->scale - 1);
}

static void
stop_source (guint *source)
{
  if (*source != 0)
    g_source_remove (*source);
  *source = 0;
}

static void
cancel (GCancellable **cancellable)
{
  if (*cancellable != NULL)
    g_cancellable_cancel (*cancellable);
  g_clear_object (cancellable);
}

void
ws_photo_view_load_neighbours (WsPhotoView *self)
{
  double view = MAX (self->port.view_width, self->port.view_height) * self->port.scale;

  if (ws_photo_tiles_get_levels (self->tiles) == NULL || self->load.only_thumbnail)
    return;
  cancel (&self->load.expected);
  self->load.expected = g_cancellable_new ();
  /* Most photos of a find have the size of this one. The newest request is served first, so the next photo is asked for
   * last. */
  for (int i = 2; i >= 0; i -= 2)
    if (self->load.neighbours[i] != NULL && self->load.neighbours[i + 1] != NULL)
      ws_picture_loader_load_async (self->loader, self->load.neighbours[i], self->load.neighbours[i + 1],
                                    edge_for (view, MAX (self->port.photo_width, self->port.photo_height)), WS_PICTURE_EXPECTED, self->load.expected, NULL, NULL);
}

static void
show_levels (WsPhotoView *self, WsPictureLevels *levels, gboolean thumbnail)
{
  WsPhotoViewport *port = &self->port;

  ws_photo_tiles_set_levels (self->tiles, levels);
  self->load.only_thumbnail = thumbnail;
  if (thumbnail ? !self->load.dimensions_known && port->photo_width == 0
                : port->photo_width != levels->full_width || port->photo_height != levels->full_height)
    ws_photo_viewport_set_photo (port, levels->full_width, levels->full_height);
  if (!thumbnail)
    {
      self->load.dimensions_known = TRUE;
      stop_source (&self->load.notice);
      self->load.say_preview = FALSE;
    }
  ws_photo_view_update_edges (self);
  ws_photo_view_update_words (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static void
level_failed (WsPhotoView *self, const GError *error)
{
  g_free (self->load.problem);
  if (g_error_matches (error, WS_ERROR, WS_ERROR_UNREADABLE))
    self->load.problem = g_strdup_printf (_("This photo cannot be read; the file may be damaged. %s"), error->message);
  else
    self->load.problem = g_strdup_printf (_("This photo cannot be read. %s"), error->message);
  stop_source (&self->load.notice);
  ws_photo_view_update_words (self);
}

static void
level_loaded (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Request) request = data;
  g_autoptr (WsPhotoView) self = g_weak_ref_get (&request->view);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPictureLevels) levels = ws_picture_loader_load_finish (WS_PICTURE_LOADER (source), result, &error);

  if (self == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (request->thumbnail)
    {
      /* A thumbnail may be deleted at any time: that is no problem of the photo. */
      if (levels != NULL && ws_photo_tiles_get_levels (self->tiles) == NULL)
        show_levels (self, levels, TRUE);
      return;
    }
  self->load.asked_edge = -1;
  if (levels == NULL)
    {
      level_failed (self, error);
      return;
    }
  g_clear_pointer (&self->load.problem, g_free);
  show_levels (self, levels, FALSE);
  ws_photo_view_load_level (self);
  if (self->load.asked_edge < 0)
    ws_photo_view_load_neighbours (self);
}

/* Asks for @edge px, unless @needed are there. */
static void
ask_for (WsPhotoView *self, double needed, int edge)
{
  g_autoptr (WsPictureLevels) there = ws_picture_loader_peek (self->loader, self->load.digest, MAX ((int) needed, 1));

  if (there != NULL)
    {
      self->load.asked_edge = -1;
      show_levels (self, there, FALSE);
      ws_photo_view_load_neighbours (self);
      return;
    }
  self->load.asked_edge = edge;
  ws_picture_loader_load_async (self->loader, self->load.path, self->load.digest, edge, WS_PICTURE_SHOWN,
                                self->load.cancellable, level_loaded, request_new (self, FALSE));
}

/* TRUE if what is there has enough px. */
static gboolean
fine_enough (WsPhotoView *self, double needed)
{
  WsPictureLevels *levels = ws_photo_tiles_get_levels (self->tiles);

  return levels != NULL && !self->load.only_thumbnail && ws_picture_levels_serve (levels, MAX ((int) needed, 1));
}

void
ws_photo_view_load_level (WsPhotoView *self)
{
  double needed = needed_px (self);
  int full = self->load.dimensions_known ? MAX (self->port.photo_width, self->port.photo_height) : 0;
  int edge = edge_for (needed, full);

  stop_source (&self->load.later);
  if (self->load.path == NULL || self->load.problem != NULL || self->port.view_width <= 0 ||
      fine_enough (self, needed))
    return;
  /* A level on its way, even of another size, is good for a first look; when it is there, this is called again. */
  if (self->load.asked_edge < 0)
    ask_for (self, needed, edge);
}

static gboolean
ask_later (gpointer data)
{
  WsPhotoView *self = data;

  self->load.later = 0;
  ws_photo_view_load_level (self);
  ws_photo_view_update_edges (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  /* A fitted photo has another zoom in a window of another size; it cannot be said while that is laid out. */
  g_object_notify_by_pspec (G_OBJECT (self), ws_photo_view_props[PROP_ZOOM]);
  return G_SOURCE_REMOVE;
}

void
ws_photo_view_load_level_later (WsPhotoView *self)
{
  stop_source (&self->load.later);
  if (self->load.path != NULL)
    self->load.later = g_timeout_add (SETTLE_MS, ask_later, self);
}

static gboolean
preview_seen_long (gpointer data)
{
  WsPhotoView *self = data;

  self->load.notice = 0;
  self->load.say_preview = TRUE;
  ws_photo_view_update_words (self);
  return G_SOURCE_REMOVE;
}

void
ws_photo_view_load_start (WsPhotoView *self)
{
  g_autofree char *thumbnail_digest = NULL;
  g_autoptr (WsPictureLevels) there = NULL;

  if (self->load.path == NULL)
    return;
  self->load.notice = g_timeout_add (NOTICE_MS, preview_seen_long, self);
  ws_photo_view_load_level (self);
  if (self->load.thumbnail == NULL || ws_photo_tiles_get_levels (self->tiles) != NULL)
    return;
  thumbnail_digest = ws_picture_loader_dup_thumbnail_digest (self->load.digest);
  there = ws_picture_loader_peek (self->loader, thumbnail_digest, 0);
  if (there != NULL)
    {
      show_levels (self, there, TRUE);
      return;
    }
  ws_picture_loader_load_async (self->loader, self->load.thumbnail, thumbnail_digest, 0, WS_PICTURE_SHOWN,
                                self->load.cancellable, level_loaded, request_new (self, TRUE));
}

char *
ws_photo_view_load_dup_status (WsPhotoView *self)
{
  gboolean something = ws_photo_tiles_get_levels (self->tiles) != NULL;

  if (self->load.path == NULL)
    return g_strdup (_("No photo here yet"));
  if (self->load.problem != NULL)
    return something ? g_strdup_printf (_("%s Only a small preview is shown."), self->load.problem)
                     : g_strdup (self->load.problem);
  if (!something)
    return g_strdup (self->load.say_preview ? _("The photo is being read…") : "");
  if (!self->load.only_thumbnail && ws_photo_tiles_get_levels (self->tiles)->raw_preview)
    return g_strdup (ws_photo_origin_text (WS_MEDIA_TYPE_RAW));
  return g_strdup (self->load.say_preview ? _("Small preview; the photo itself is being read") : "");
}

void
ws_photo_view_load_init (WsPhotoView *self)
{
  self->load.asked_edge = -1;
  self->load.cancellable = g_cancellable_new ();
}

void
ws_photo_view_load_clear (WsPhotoView *self)
{
  Loading *load = &self->load;

  cancel (&load->cancellable);
  cancel (&load->expected);
  stop_source (&load->later);
  stop_source (&load->notice);
  g_clear_pointer (&load->path, g_free);
  g_clear_pointer (&load->digest, g_free);
  g_clear_pointer (&load->thumbnail, g_free);
  g_clear_pointer (&load->problem, g_free);
  for (int i = 0; i < 4; i++)
    g_clear_pointer (&load->neighbours[i], g_free);
  load->dimensions_known = load->only_thumbnail = load->say_preview = FALSE;
}
