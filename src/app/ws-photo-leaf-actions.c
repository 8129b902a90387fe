/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on the shown photo: its place among the finds. */
#include "ws-photo-leaf-private.h"

#include "ws-edits.h"
#include "ws-find-chooser.h"
#include "ws-intl.h"

static void
next_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_photo_leaf_step (WS_PHOTO_LEAF (widget), 1);
}

static void
previous_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_photo_leaf_step (WS_PHOTO_LEAF (widget), -1);
}

static void
edit_shown (WsPhotoLeaf *self, WsPhotoEdit edit, const char *other)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const char *ids[] = { self->photo_id, NULL };

  if (find != NULL && self->photo_id != NULL)
    ws_edit_photos (self->session, find->id, ids, edit, other);
}

static void
split_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  edit_shown (WS_PHOTO_LEAF (widget), WS_PHOTO_SPLIT, NULL);
}

/* This photo and all after it. */
static void
split_from_here_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsPhotoLeaf *self = WS_PHOTO_LEAF (widget);
  const WsFind *find = ws_photo_leaf_get_find (self);
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  gboolean from_here = FALSE;

  for (guint i = 0; find != NULL && i < find->photos->len; i++)
    {
      const char *id = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo->id;

      from_here = from_here || g_strcmp0 (id, self->photo_id) == 0;
      if (from_here)
        g_ptr_array_add (ids, g_strdup (id));
    }
  if (ids->len == 0)
    return;
  g_ptr_array_add (ids, NULL);
  ws_edit_photos (self->session, find->id, (const char *const *) ids->pdata, WS_PHOTO_SPLIT, NULL);
}

static void
take_out_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  edit_shown (WS_PHOTO_LEAF (widget), WS_PHOTO_TAKE_OUT, NULL);
}

static void
set_aside_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  edit_shown (WS_PHOTO_LEAF (widget), WS_PHOTO_SET_ASIDE, NULL);
}

static void
moved_cb (WsPhotoLeaf *self, const char *find_id, const char *visit)
{
  edit_shown (self, WS_PHOTO_MOVE, find_id);
}

static void
shared_cb (WsPhotoLeaf *self, const char *find_id, const char *visit)
{
  edit_shown (self, WS_PHOTO_SHARE, find_id);
}

static void
choose_find (WsPhotoLeaf *self, const char *title, GCallback chosen)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  WsFindChooser *chooser;

  if (self->photo_id == NULL || !GTK_IS_WINDOW (root))
    return;
  chooser = ws_find_chooser_new (self->session, title, FALSE);
  g_signal_connect_object (chooser, "chosen", chosen, self, G_CONNECT_SWAPPED);
  gtk_window_set_transient_for (GTK_WINDOW (chooser), GTK_WINDOW (root));
  gtk_window_present (GTK_WINDOW (chooser));
}

static void
move_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  choose_find (WS_PHOTO_LEAF (widget), _("Move this photo to"), G_CALLBACK (moved_cb));
}

static void
share_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  choose_find (WS_PHOTO_LEAF (widget), _("This photo also belongs to"), G_CALLBACK (shared_cb));
}

static void
remove_mark_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  ws_photo_leaf_remove_selected (WS_PHOTO_LEAF (widget));
}

void
ws_photo_leaf_install_actions (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "photo.next", NULL, next_action);
  gtk_widget_class_install_action (klass, "photo.previous", NULL, previous_action);
  gtk_widget_class_install_action (klass, "photo.split", NULL, split_action);
  gtk_widget_class_install_action (klass, "photo.split-from-here", NULL, split_from_here_action);
  gtk_widget_class_install_action (klass, "photo.take-out", NULL, take_out_action);
  gtk_widget_class_install_action (klass, "photo.set-aside", NULL, set_aside_action);
  gtk_widget_class_install_action (klass, "photo.move", NULL, move_action);
  gtk_widget_class_install_action (klass, "photo.share", NULL, share_action);
  gtk_widget_class_install_action (klass, "mark.remove", NULL, remove_mark_action);
}
