/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-crops.h"

#include <gtk/gtk.h>

/* The crops are cut from a picture of this size: enough for a print 96 px wide of a small base. */
#define SOURCE_EDGE 1600
#define CROP_EDGE 192
#define CROPS_PER_VIEW 3

struct _WsFigureCrops
{
  GObject parent_instance;

  WsSession *session;
  WsFindItem *item;
  GHashTable *crops;       /* key of a mark's region -> GdkTexture */
  GHashTable *asked;       /* keys that are being cut out, or could not be */
  GCancellable *cancellable;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFigureCrops, ws_figure_crops, G_TYPE_OBJECT)

/* A region of a content: moved marks are cut again, the rest is kept. */
static char *
key_of (const WsPhoto *photo, const WsMark *mark)
{
  g_autofree char *shape = ws_shape_to_text (mark->shape);

  return g_strconcat (photo->digest, " ", shape, NULL);
}

static void
tell_view (WsFigureCrops *self, const WsEvidenceLine *line)
{
  const WsFind *find = ws_find_item_get_find (self->item);
  g_autoptr (GPtrArray) paintables = g_ptr_array_new ();

  for (guint i = 0; i < line->marks->len && paintables->len < CROPS_PER_VIEW; i++)
    {
      const WsMark *mark = g_ptr_array_index (line->marks, i);
      const WsPhoto *photo = ws_find_get_photo (find, mark->photo_id);
      g_autofree char *key = photo != NULL ? key_of (photo, mark) : NULL;
      GdkTexture *texture = key != NULL ? g_hash_table_lookup (self->crops, key) : NULL;

      if (texture != NULL)
        g_ptr_array_add (paintables, texture);
    }
  g_signal_emit (self, signals[CHANGED], 0, line->view->id, paintables);
}

/* Tells the views that a mark serves, after it was cut out. */
static void
tell_views_of (WsFigureCrops *self, const char *mark_id)
{
  const WsEvidence *evidence = self->item != NULL ? ws_find_item_get_evidence (self->item) : NULL;

  for (guint i = 0; evidence != NULL && i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      for (guint m = 0; m < line->marks->len; m++)
        if (g_str_equal (((const WsMark *) g_ptr_array_index (line->marks, m))->id, mark_id))
          {
            tell_view (self, line);
            break;
          }
    }
}

/* A texture of the region, from the smallest level that still has CROP_EDGE px of it. */
static GdkTexture *
cut_out (const WsPictureLevels *levels, const WsRect *rect)
{
  const WsPicture *picture = g_ptr_array_index (levels->pictures, 0);
  g_autoptr (GBytes) pixels = NULL;
  int x, y, w, h;

  for (guint i = 1; i < levels->pictures->len; i++)
    {
      const WsPicture *smaller = g_ptr_array_index (levels->pictures, i);

      if (MAX (rect->width * smaller->width, rect->height * smaller->height) >= CROP_EDGE)
        picture = smaller;
    }
  ws_rect_to_pixels (rect, picture->width, picture->height, &x, &y, &w, &h);
  pixels = g_bytes_new_from_bytes (picture->pixels, ((gsize) y * (gsize) picture->width + (gsize) x) * 3,
                                   ((gsize) (h - 1) * (gsize) picture->width + (gsize) w) * 3);
  return gdk_memory_texture_new (w, h, GDK_MEMORY_R8G8B8, pixels, (gsize) picture->width * 3);
}

typedef struct
{
  WsFigureCrops *self;
  char *key;
  char *mark_id;
  WsRect bounds;
} Wish;

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Wish *wish = data;
  g_autoptr (WsPictureLevels) levels = ws_picture_loader_load_finish (WS_PICTURE_LOADER (source), result, NULL);

  if (levels != NULL)
    {
      g_hash_table_insert (wish->self->crops, g_strdup (wish->key), cut_out (levels, &wish->bounds));
      tell_views_of (wish->self, wish->mark_id);
    }
  g_object_unref (wish->self);
  g_free (wish->key);
  g_free (wish->mark_id);
  g_free (wish);
}

static void
ask_for (WsFigureCrops *self, const WsFind *find, const WsMark *mark)
{
  const WsPhoto *photo = ws_find_get_photo (find, mark->photo_id);
  g_autofree char *key = photo != NULL ? key_of (photo, mark) : NULL;
  Wish *wish;

  if (key == NULL || g_hash_table_contains (self->crops, key) || !g_hash_table_add (self->asked, g_strdup (key)))
    return;
  wish = g_new0 (Wish, 1);
  wish->self = g_object_ref (self);
  wish->key = g_strdup (key);
  wish->mark_id = g_strdup (mark->id);
  wish->bounds = mark->shape->bounds;
  ws_picture_loader_load_async (ws_session_get_pictures (self->session), photo->path, photo->digest, SOURCE_EDGE,
                                WS_PICTURE_EXPECTED, self->cancellable, loaded_cb, wish);
}

void
ws_figure_crops_set_item (WsFigureCrops *self, WsFindItem *item)
{
  const WsEvidence *evidence;

  if (self->item != item)
    {
      /* Another find: what nobody waits for any more is not cut out. */
      g_cancellable_cancel (self->cancellable);
      g_clear_object (&self->cancellable);
      self->cancellable = g_cancellable_new ();
      g_hash_table_remove_all (self->asked);
      g_hash_table_remove_all (self->crops);
      g_set_object (&self->item, item);
    }
  evidence = item != NULL ? ws_find_item_get_evidence (item) : NULL;
  for (guint i = 0; evidence != NULL && i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      for (guint m = 0; m < MIN (line->marks->len, CROPS_PER_VIEW); m++)
        ask_for (self, ws_find_item_get_find (item), g_ptr_array_index (line->marks, m));
      tell_view (self, line);
    }
}

static void
ws_figure_crops_dispose (GObject *object)
{
  WsFigureCrops *self = WS_FIGURE_CROPS (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->item);
  g_clear_object (&self->session);
  g_clear_pointer (&self->crops, g_hash_table_unref);
  g_clear_pointer (&self->asked, g_hash_table_unref);
  G_OBJECT_CLASS (ws_figure_crops_parent_class)->dispose (object);
}

static void
ws_figure_crops_class_init (WsFigureCropsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_figure_crops_dispose;
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_PTR_ARRAY);
}

static void
ws_figure_crops_init (WsFigureCrops *self)
{
  self->crops = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->asked = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->cancellable = g_cancellable_new ();
}

WsFigureCrops *
ws_figure_crops_new (WsSession *session)
{
  WsFigureCrops *self = g_object_new (WS_TYPE_FIGURE_CROPS, NULL);

  self->session = g_object_ref (session);
  return self;
}
