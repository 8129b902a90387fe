/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The marks of the photo, and one real button for each: GTK 4.8 tells a screen reader of widgets only. The buttons
 * are never drawn and let the pointer through. */
#include "ws-photo-view-private.h"

#include "ws-intl.h"

WsPhotoViewMark *
ws_photo_view_mark_new (const char *id, const WsShape *shape, const char *letter, const char *caption,
                        WsPhotoViewMarkState state, gboolean armed)
{
  WsPhotoViewMark *mark = g_new0 (WsPhotoViewMark, 1);

  mark->id = g_strdup (id);
  mark->shape = ws_shape_copy (shape);
  mark->letter = g_strdup (letter);
  mark->caption = g_strdup (caption);
  mark->state = state;
  mark->armed = armed;
  return mark;
}

void
ws_photo_view_mark_free (WsPhotoViewMark *mark)
{
  if (mark == NULL)
    return;
  g_free (mark->id);
  ws_shape_free (mark->shape);
  g_free (mark->letter);
  g_free (mark->caption);
  g_free (mark);
}

static WsPhotoViewMark *
nth_mark (WsPhotoView *self, guint i)
{
  return g_ptr_array_index (self->marks, i);
}

WsPhotoViewMark *
ws_photo_view_find_mark (WsPhotoView *self, const char *id)
{
  if (id == NULL)
    return NULL;
  for (guint i = 0; i < self->marks->len; i++)
    if (g_str_equal (nth_mark (self, i)->id, id))
      return nth_mark (self, i);
  return NULL;
}

const WsShape *
ws_photo_view_mark_shape (WsPhotoView *self, const WsPhotoViewMark *mark)
{
  return g_strcmp0 (self->edit_id, mark->id) == 0 ? self->edit : mark->shape;
}

WsRect
ws_photo_view_mark_bounds (WsPhotoView *self, const WsPhotoViewMark *mark)
{
  return ws_photo_view_mark_shape (self, mark)->bounds;
}

static int
compare_area (gconstpointer a, gconstpointer b)
{
  const WsRect *first = &(*(WsPhotoViewMark *const *) a)->shape->bounds;
  const WsRect *second = &(*(WsPhotoViewMark *const *) b)->shape->bounds;
  double difference = first->width * first->height - second->width * second->height;

  return difference < 0 ? -1 : difference > 0;
}

WsPhotoViewMark *
ws_photo_view_mark_at (WsPhotoView *self, double x, double y, const char *after)
{
  WsPoint point = ws_photo_viewport_to_photo (&self->port, x, y);
  g_autoptr (GPtrArray) hits = g_ptr_array_new ();

  for (guint i = 0; i < self->marks->len; i++)
    {
      WsPhotoViewMark *mark = nth_mark (self, i);

      if (ws_shape_contains (ws_photo_view_mark_shape (self, mark), point.x, point.y))
        g_ptr_array_add (hits, mark);
    }
  if (hits->len == 0)
    return NULL;
  g_ptr_array_sort (hits, compare_area);
  for (guint i = 0; after != NULL && i < hits->len; i++)
    if (g_str_equal (((WsPhotoViewMark *) g_ptr_array_index (hits, i))->id, after))
      return g_ptr_array_index (hits, (i + 1) % hits->len);
  return g_ptr_array_index (hits, 0);
}

/* --- Buttons ------------------------------------------------------------------------------- */

static void
button_clicked (GtkButton *button, WsPhotoView *self)
{
  ws_photo_view_select_by_hand (self, g_object_get_data (G_OBJECT (button), "mark"));
}

static GtkWidget *
button_new (WsPhotoView *self, const char *id)
{
  GtkWidget *button = gtk_button_new ();

  g_object_set_data_full (G_OBJECT (button), "mark", g_strdup (id), g_free);
  gtk_widget_set_can_target (button, FALSE);
  gtk_widget_add_css_class (button, "mark");
  g_signal_connect (button, "clicked", G_CALLBACK (button_clicked), self);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  return button;
}

static void
describe_button (GtkWidget *button, const WsPhotoViewMark *mark)
{
  g_autofree char *label = NULL;

  if (mark->letter[0] == '\0')
    label = g_strdup (mark->caption);
  else
    /* Translators: the letter of a mark and what it shows: "A: Stem base, dug out whole and cleaned". */
    label = g_strdup_printf (_("%s: %s"), mark->letter, mark->caption);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

void
ws_photo_view_update_buttons (WsPhotoView *self)
{
  gboolean had_focus = gtk_widget_get_focus_child (GTK_WIDGET (self)) != NULL;
  GHashTable *old = self->buttons;
  GHashTableIter iter;
  gpointer button;

  self->buttons = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < self->marks->len; i++)
    {
      WsPhotoViewMark *mark = nth_mark (self, i);

      button = g_hash_table_lookup (old, mark->id);
      if (button == NULL)
        button = button_new (self, mark->id);
      g_hash_table_remove (old, mark->id);
      gtk_widget_insert_before (button, GTK_WIDGET (self), NULL);
      describe_button (button, mark);
      g_hash_table_insert (self->buttons, g_strdup (mark->id), button);
    }
  g_hash_table_iter_init (&iter, old);
  while (g_hash_table_iter_next (&iter, NULL, &button))
    gtk_widget_unparent (button);
  g_hash_table_unref (old);
  if (had_focus && gtk_widget_get_focus_child (GTK_WIDGET (self)) == NULL)
    gtk_widget_grab_focus (GTK_WIDGET (self));
}

void
ws_photo_view_allocate_buttons (WsPhotoView *self)
{
  for (guint i = 0; i < self->marks->len; i++)
    {
      WsPhotoViewMark *mark = nth_mark (self, i);
      GtkWidget *button = g_hash_table_lookup (self->buttons, mark->id);
      WsRect bounds = ws_photo_view_mark_bounds (self, mark);
      WsRect place = ws_photo_viewport_rect_to_view (&self->port, &bounds);
      int x0 = CLAMP (place.x, 0, self->port.view_width), x1 = CLAMP (place.x + place.width, 0, self->port.view_width);
      int y0 = CLAMP (place.y, 0, self->port.view_height);
      int y1 = CLAMP (place.y + place.height, 0, self->port.view_height);
      GtkRequisition least;

      gtk_widget_get_preferred_size (button, &least, NULL);
      gtk_widget_size_allocate (button, &(GtkAllocation) { x0, y0, MAX (x1 - x0, least.width),
                                                           MAX (y1 - y0, least.height) }, -1);
    }
}

/* --- Selecting ------------------------------------------------------------------------------- */

void
ws_photo_view_select_by_hand (WsPhotoView *self, const char *id)
{
  g_autofree char *wanted = g_strdup (id);
  GtkWidget *button;

  if (g_strcmp0 (self->selected, wanted) == 0)
    return;
  ws_photo_view_select (self, wanted);
  button = wanted != NULL ? g_hash_table_lookup (self->buttons, wanted) : NULL;
  gtk_widget_grab_focus (button != NULL ? button : GTK_WIDGET (self));
  g_signal_emit (self, ws_photo_view_signals[MARK_SELECTED], 0, self->selected);
}

gboolean
ws_photo_view_step_marks (WsPhotoView *self, int direction)
{
  int n = self->marks->len, at = direction > 0 ? -1 : n;

  for (int i = 0; i < n && self->selected != NULL; i++)
    if (g_str_equal (nth_mark (self, i)->id, self->selected))
      at = i;
  at += direction;
  if (at < 0 || at >= n)
    return FALSE;
  ws_photo_view_select_by_hand (self, nth_mark (self, at)->id);
  ws_photo_viewport_reveal (&self->port, &nth_mark (self, at)->shape->bounds);
  ws_photo_view_moved (self);
  return TRUE;
}
