/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The roll: a small print of each photo of the find; and the labels of the photo as a whole. */
#include "ws-photo-leaf-private.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-thumbnail.h"
#include "ws-view-keys.h"

#define PRINT_SIZE 84

/* The letters of the marks on a photo: "A C". */
static char *
letters_on (const WsFind *find, const char *photo_id)
{
  GString *letters = g_string_new (NULL);

  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);
      g_autofree char *letter = NULL;

      if (!g_str_equal (mark->photo_id, photo_id))
        continue;
      letter = ws_find_dup_mark_letter (find, mark);
      g_string_append_printf (letters, "%s%s", letters->len > 0 ? " " : "", letter);
    }
  return g_string_free (letters, FALSE);
}

static void
print_clicked_cb (GtkButton *button, WsPhotoLeaf *self)
{
  ws_photo_leaf_go_to (self, gtk_widget_get_name (GTK_WIDGET (button)));
}

static GtkWidget *
make_print (WsPhotoLeaf *self, const WsFind *find, const WsFindPhoto *link)
{
  const WsPhoto *photo = link->photo;
  g_autofree char *path = ws_library_dup_thumbnail_path (ws_session_get_desk (self->session)->library, photo->digest);
  g_autofree char *name = g_path_get_basename (photo->path);
  g_autofree char *letters = letters_on (find, photo->id);
  g_autofree char *description = letters[0] != '\0' ? g_strdup_printf (_("%s, marks %s"), name, letters) : g_strdup (name);
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *print = ws_thumbnail_new (ws_session_get_pictures (self->session), PRINT_SIZE);
  GtkWidget *label = gtk_label_new (letters);

  ws_thumbnail_set_photo (WS_THUMBNAIL (print), path, photo->path, photo->digest, photo->width, photo->height, description);
  gtk_widget_set_size_request (print, PRINT_SIZE, PRINT_SIZE * 3 / 4);
  gtk_widget_add_css_class (label, "ws-letters");
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 10);
  gtk_box_append (GTK_BOX (box), print);
  gtk_box_append (GTK_BOX (box), label);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "ws-print");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_name (button, photo->id);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, description, -1);
  g_signal_connect (button, "clicked", G_CALLBACK (print_clicked_cb), self);
  return button;
}

void
ws_photo_leaf_point_roll (WsPhotoLeaf *self)
{
  GtkWidget *child;

  for (child = gtk_widget_get_first_child (GTK_WIDGET (self->roll)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      gboolean shown = g_strcmp0 (gtk_widget_get_name (child), self->photo_id) == 0;
      graphene_rect_t bounds;

      if (shown)
        gtk_widget_add_css_class (child, "shown");
      else
        gtk_widget_remove_css_class (child, "shown");
      gtk_accessible_update_state (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_STATE_PRESSED,
                                   shown ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
      if (shown && gtk_widget_compute_bounds (child, GTK_WIDGET (self->roll), &bounds))
        gtk_adjustment_clamp_page (gtk_scrolled_window_get_hadjustment (self->roll_scroller), bounds.origin.x,
                                   bounds.origin.x + bounds.size.width);
    }
}

/* All that the roll shows, as text. */
static char *
roll_stamp (const WsFind *find)
{
  GString *stamp = g_string_new (NULL);

  for (guint i = 0; find != NULL && i < find->photos->len; i++)
    {
      const char *id = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo->id;
      g_autofree char *letters = letters_on (find, id);

      g_string_append_printf (stamp, "%s:%s\n", id, letters);
    }
  return g_string_free (stamp, FALSE);
}

void
ws_photo_leaf_fill_roll (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  g_autofree char *stamp = roll_stamp (find);
  GtkWidget *child;

  /* Prints that stay keep their focus and their pictures. */
  if (g_strcmp0 (stamp, self->roll_stamp) == 0)
    return;
  g_free (self->roll_stamp);
  self->roll_stamp = g_steal_pointer (&stamp);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->roll))) != NULL)
    gtk_box_remove (self->roll, child);
  for (guint i = 0; find != NULL && i < find->photos->len; i++)
    gtk_box_append (self->roll, make_print (self, find, g_ptr_array_index (find->photos, i)));
  ws_photo_leaf_point_roll (self);
}

/* --- What the photo as a whole shows --------------------------------------------------------------- */

gboolean
ws_photo_leaf_is_labelled (const WsFind *find, const char *photo_id, const char *view)
{
  for (guint i = 0; i < find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (find->marks, i);

      if (mark->whole_photo && g_str_equal (mark->photo_id, photo_id) && ws_mark_serves (mark, view))
        return TRUE;
    }
  return FALSE;
}

static void
label_toggled_cb (GtkCheckButton *check, WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);

  if (!self->filling && find != NULL && self->photo_id != NULL)
    ws_edit_label_photo (self->session, find->id, self->photo_id, gtk_widget_get_name (GTK_WIDGET (check)));
}

static void
make_label_checks (WsPhotoLeaf *self)
{
  GPtrArray *views = ws_knowledge_get_views (ws_session_get_knowledge (self->session));

  for (guint i = 0; i < views->len; i++)
    {
      const WsView *view = g_ptr_array_index (views, i);
      g_autofree char *text = g_strdup_printf ("%s  (%c)", ws_session_text (self->session, "view", view->id),
                                               g_ascii_toupper (ws_view_key (view->id)));
      GtkWidget *check;

      /* A photo as a whole never shows the base: that takes a mark of its own. */
      if (view->is_base)
        continue;
      check = gtk_check_button_new_with_label (text);
      gtk_widget_set_name (check, view->id);
      g_signal_connect (check, "toggled", G_CALLBACK (label_toggled_cb), self);
      gtk_box_append (GTK_BOX (self->labels_box), check);
    }
}

void
ws_photo_leaf_fill_labels (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  g_autoptr (GString) text = g_string_new (NULL);
  GtkWidget *check;

  if (gtk_widget_get_first_child (self->labels_box) == NULL)
    make_label_checks (self);
  self->filling = TRUE;
  for (check = gtk_widget_get_first_child (self->labels_box); check != NULL; check = gtk_widget_get_next_sibling (check))
    {
      const char *view = gtk_widget_get_name (check);
      gboolean labelled = find != NULL && self->photo_id != NULL && ws_photo_leaf_is_labelled (find, self->photo_id, view);

      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), labelled);
      if (labelled)
        g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", ws_session_text (self->session, "view", view));
    }
  self->filling = FALSE;
  gtk_label_set_label (self->labels_text, text->len > 0 ? text->str : _("What does this photo show?"));
  gtk_widget_set_sensitive (GTK_WIDGET (self->labels_button), self->photo_id != NULL);
}
