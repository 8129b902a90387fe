/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-last-look.h"

#include "ws-intl.h"
#include "ws-photo-view.h"
#include "ws-print.h"
#include "ws-record.h"

#define PRINT_SIZE 72

struct _WsLastLook
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkBox *place;              /* of the view */
  GtkLabel *what;
  GtkListView *roll;

  WsPhotoView *view;
  WsSession *session;
  WsFindItem *item;
  GListStore *photos;         /* WsPhotoItem */
  GtkSingleSelection *selection;
};

G_DEFINE_FINAL_TYPE (WsLastLook, ws_last_look, GTK_TYPE_WIDGET)

static const WsPhoto *
get_photo (WsLastLook *self)
{
  WsPhotoItem *item = gtk_single_selection_get_selected_item (self->selection);

  return item != NULL ? ws_photo_item_get_photo (item) : NULL;
}

/* --- Covers -------------------------------------------------------------------------------------- */

typedef struct { char *photo_id, *cover_id; WsShape *shape; } Covering;

static void
covering_free (gpointer data)
{
  Covering *covering = data;

  g_free (covering->photo_id);
  g_free (covering->cover_id);
  g_clear_pointer (&covering->shape, ws_shape_free);
  g_free (covering);
}

/* The new place is covered before the old one is bared, so that a failure between leaves more covered, not less. */
static gpointer
do_cover (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Covering *covering = data;
  g_autofree char *id = NULL;

  if (covering->shape != NULL && (id = ws_record_cover (desk, covering->photo_id, covering->shape, error)) == NULL)
    return NULL;
  if (covering->cover_id != NULL)
    ws_record_uncover (desk, covering->cover_id, error);
  return NULL;
}

static void
cover (WsLastLook *self, const char *old_id, const WsShape *shape)
{
  const WsPhoto *photo = get_photo (self);
  Covering *covering;

  if (photo == NULL)
    return;
  covering = g_new0 (Covering, 1);
  covering->photo_id = g_strdup (photo->id);
  covering->cover_id = g_strdup (old_id);
  covering->shape = shape != NULL ? ws_shape_copy (shape) : NULL;
  ws_session_edit (self->session, ws_find_item_get_id (self->item), do_cover, covering, covering_free,
                   NULL, NULL, NULL, NULL);
}

static void
drawn_cb (WsLastLook *self, gpointer shape)
{
  cover (self, NULL, shape);
}

static void
changed_cb (WsLastLook *self, const char *id, gpointer shape)
{
  cover (self, id, shape);
}

static void
delete_cb (WsLastLook *self, const char *id)
{
  cover (self, id, NULL);
}

/* --- The photo shown --------------------------------------------------------------------------------- */

static void
show_covers (WsLastLook *self, const WsPhoto *photo)
{
  const WsFind *find = ws_find_item_get_find (self->item);
  g_autoptr (GPtrArray) marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_view_mark_free);
  guint at = gtk_single_selection_get_selected (self->selection) + 1;
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->photos));
  g_autofree char *covered = NULL;
  g_autofree char *text = NULL;

  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *one = g_ptr_array_index (find->covers, i);

      if (g_str_equal (one->photo_id, photo->id))
        g_ptr_array_add (marks, ws_photo_view_mark_new (one->id, one->shape, "", _("Covered"),
                                                        WS_PHOTO_VIEW_MARK_COVER, FALSE));
    }
  covered = marks->len == 0 ? g_strdup (_("nothing covered"))
                            : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u region covered", "%u regions covered",
                                                            marks->len), marks->len);
  /* Translators: photo 2 of 7, and how many of its regions are covered. */
  text = g_strdup_printf (_("Photo %u of %u, %s"), at, n, covered);
  gtk_label_set_text (self->what, text);
  ws_photo_view_set_marks (self->view, marks);
}

static void
show (WsLastLook *self)
{
  const WsPhoto *photo = get_photo (self);
  g_autofree char *thumbnail = NULL;

  if (photo == NULL)
    {
      gtk_label_set_text (self->what, _("This find has no photos: the request goes without."));
      return;
    }
  thumbnail = ws_library_dup_thumbnail_path (ws_session_get_desk (self->session)->library, photo->digest);
  ws_photo_view_set_photo (self->view, photo->path, photo->digest, thumbnail, photo->width, photo->height);
  ws_photo_view_set_cover (self->view, TRUE);
  show_covers (self, photo);
}

static void
ws_last_look_dispose (GObject *object)
{
  WsLastLook *self = WS_LAST_LOOK (object);

  if (self->item != NULL)
    g_signal_handlers_disconnect_by_data (self->item, self);
  g_clear_object (&self->item);
  g_clear_object (&self->session);
  g_clear_object (&self->selection);
  g_clear_object (&self->photos);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_last_look_parent_class)->dispose (object);
}

static void
ws_last_look_class_init (WsLastLookClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_last_look_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-last-look.ui");
  gtk_widget_class_bind_template_child (widget_class, WsLastLook, box);
  gtk_widget_class_bind_template_child (widget_class, WsLastLook, place);
  gtk_widget_class_bind_template_child (widget_class, WsLastLook, what);
  gtk_widget_class_bind_template_child (widget_class, WsLastLook, roll);
}

static void
ws_last_look_init (WsLastLook *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->photos = g_list_store_new (WS_TYPE_PHOTO_ITEM);
  self->selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (self->photos)));
}

static void
fill (WsLastLook *self)
{
  const WsFind *find = ws_find_item_get_find (self->item);
  g_autoptr (GPtrArray) photos = g_ptr_array_new ();

  for (guint i = 0; i < find->photos->len; i++)
    {
      WsPhoto *photo = ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;

      if (!photo->set_aside)
        g_ptr_array_add (photos, photo);
    }
  ws_photo_items_set (self->photos, photos);
  show (self);
}

void
ws_last_look_set_find (WsLastLook *self, WsSession *session, WsFindItem *item)
{
  g_autoptr (GtkListItemFactory) factory = NULL;

  g_return_if_fail (WS_IS_LAST_LOOK (self) && self->session == NULL);
  self->session = g_object_ref (session);
  self->item = g_object_ref (item);
  self->view = WS_PHOTO_VIEW (ws_photo_view_new (ws_session_get_pictures (session)));
  gtk_widget_set_vexpand (GTK_WIDGET (self->view), TRUE);
  gtk_box_append (self->place, GTK_WIDGET (self->view));
  g_signal_connect_object (self->view, "cover-drawn", G_CALLBACK (drawn_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->view, "mark-changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->view, "mark-delete", G_CALLBACK (delete_cb), self, G_CONNECT_SWAPPED);
  factory = ws_print_factory_new (session, PRINT_SIZE);
  gtk_list_view_set_factory (self->roll, factory);
  gtk_list_view_set_model (self->roll, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (show), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (item, "changed", G_CALLBACK (fill), self, G_CONNECT_SWAPPED);
  fill (self);
}
