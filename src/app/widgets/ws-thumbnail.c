/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-thumbnail.h"

/* The edge of the thumbnails that the import makes, px. */
#define THUMBNAIL_EDGE 512

struct _WsThumbnail
{
  GtkWidget parent_instance;

  WsPictureLoader *loader;
  GCancellable *cancellable;   /* of the load under way */
  char *original, *digest;
  char *description;           /* (nullable): what the pointer is told */
  GdkTexture *texture;         /* (nullable) */
  double proportion;           /* width / height */
  int size;
};

G_DEFINE_FINAL_TYPE (WsThumbnail, ws_thumbnail, GTK_TYPE_WIDGET)

static void load (WsThumbnail *self, const char *path, const char *digest);

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  WsThumbnail *self = WS_THUMBNAIL (widget);
  double edge = orientation == GTK_ORIENTATION_HORIZONTAL ? MIN (1, self->proportion)
                                                          : MIN (1, 1 / self->proportion);

  *minimum = *natural = MAX (8, (int) (self->size * edge + 0.5));
}

static void
snapshot (GtkWidget *widget, GtkSnapshot *snapshot_)
{
  WsThumbnail *self = WS_THUMBNAIL (widget);
  float room_w = gtk_widget_get_width (widget), room_h = gtk_widget_get_height (widget);
  float w = MIN (room_w, room_h * (float) self->proportion), h = w / (float) self->proportion;

  if (self->texture != NULL && w >= 1 && h >= 1)
    gtk_snapshot_append_texture (snapshot_, self->texture,
                                 &GRAPHENE_RECT_INIT ((room_w - w) / 2, (room_h - h) / 2, w, h));
}

/* The smallest level that is not blurred at the size of the print, also on a fine screen. */
static GdkTexture *
make_texture (WsThumbnail *self, const WsPictureLevels *levels)
{
  const WsPicture *picture = g_ptr_array_index (levels->pictures, 0);
  int wanted = self->size * gtk_widget_get_scale_factor (GTK_WIDGET (self));

  for (guint i = 1; i < levels->pictures->len; i++)
    {
      const WsPicture *smaller = g_ptr_array_index (levels->pictures, i);

      if (MAX (smaller->width, smaller->height) >= wanted)
        picture = smaller;
    }
  return gdk_memory_texture_new (picture->width, picture->height, GDK_MEMORY_R8G8B8, picture->pixels,
                                 3 * (gsize) picture->width);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsThumbnail) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (WsPictureLevels) levels = ws_picture_loader_load_finish (WS_PICTURE_LOADER (source), result, &error);
  g_autofree char *original = NULL;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (levels != NULL)
    {
      self->texture = make_texture (self, levels);
      gtk_widget_queue_draw (GTK_WIDGET (self));
    }
  else if ((original = g_steal_pointer (&self->original)) != NULL)
    load (self, original, self->digest);
}

static void
load (WsThumbnail *self, const char *path, const char *digest)
{
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  ws_picture_loader_load_async (self->loader, path, digest, THUMBNAIL_EDGE, WS_PICTURE_SHOWN,
                                self->cancellable, loaded_cb, g_object_ref (self));
}

static void
forget (WsThumbnail *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->texture);
  g_clear_pointer (&self->original, g_free);
  g_clear_pointer (&self->digest, g_free);
  g_clear_pointer (&self->description, g_free);
}

/* Asked for, not set with each photo: setting is slow, and lists set hundreds that nobody points at. */
static gboolean
query_tooltip (GtkWidget *widget, int x, int y, gboolean by_keys, GtkTooltip *tooltip)
{
  WsThumbnail *self = WS_THUMBNAIL (widget);

  gtk_tooltip_set_text (tooltip, self->description);
  return self->description != NULL;
}

static void
ws_thumbnail_dispose (GObject *object)
{
  WsThumbnail *self = WS_THUMBNAIL (object);

  forget (self);
  g_clear_object (&self->loader);
  G_OBJECT_CLASS (ws_thumbnail_parent_class)->dispose (object);
}

static void
ws_thumbnail_class_init (WsThumbnailClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_thumbnail_dispose;
  widget_class->measure = measure;
  widget_class->snapshot = snapshot;
  widget_class->query_tooltip = query_tooltip;
  gtk_widget_class_set_css_name (widget_class, "thumbnail");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
ws_thumbnail_init (WsThumbnail *self)
{
  self->proportion = 1;
  self->size = 96;
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
}

GtkWidget *
ws_thumbnail_new (WsPictureLoader *loader, int size)
{
  WsThumbnail *self = g_object_new (WS_TYPE_THUMBNAIL, NULL);

  self->loader = g_object_ref (loader);
  self->size = size;
  return GTK_WIDGET (self);
}

void
ws_thumbnail_set_photo (WsThumbnail *self, const char *path, const char *original, const char *digest,
                        int full_width, int full_height, const char *description)
{
  g_autofree char *thumbnail_digest = NULL;

  g_return_if_fail (WS_IS_THUMBNAIL (self));
  if (path != NULL && g_strcmp0 (digest, self->digest) == 0)
    return;
  forget (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
  if (path == NULL)
    return;
  self->digest = g_strdup (digest);
  self->original = g_strdup (original);
  self->proportion = full_width > 0 && full_height > 0 ? (double) full_width / full_height : 1;
  self->description = g_strdup (description);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, description, -1);
  thumbnail_digest = ws_picture_loader_dup_thumbnail_digest (digest);
  load (self, path, thumbnail_digest);
}
