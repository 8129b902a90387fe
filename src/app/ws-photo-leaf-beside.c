/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos laid beside each other on the leaf. One of them is in hand: what the leaf says, marks and labels is about that
 * one. They move and zoom together, each as it was laid to the others. */
#include "ws-photo-leaf-private.h"

#include "ws-intl.h"

/* --- Which photos lie there -------------------------------------------------------------------------- */

gboolean
ws_photo_leaf_is_laid (WsPhotoLeaf *self, guint i)
{
  return i == self->hand || self->prints[i].photo_id != NULL;
}

static guint
count_laid (WsPhotoLeaf *self)
{
  guint n = 0;

  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    n += ws_photo_leaf_is_laid (self, i);
  return n;
}

static int
print_of (WsPhotoLeaf *self, const char *photo_id)
{
  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    if (photo_id != NULL && g_strcmp0 (self->prints[i].photo_id, photo_id) == 0)
      return (int) i;
  return -1;
}

/* --- Moving and zooming together ----------------------------------------------------------------------- */

static void
follow (WsPhotoLeaf *self, WsPrint *print, const WsPrint *leader)
{
  WsPhotoViewApart apart = { print->apart.zoom / leader->apart.zoom, print->apart.x - leader->apart.x,
                             print->apart.y - leader->apart.y };

  self->following = TRUE;
  ws_photo_view_follow_apart (WS_PHOTO_VIEW (print->view), WS_PHOTO_VIEW (leader->view), &apart);
  self->following = FALSE;
}

static void
view_changed_cb (WsPhotoView *view, WsPhotoLeaf *self)
{
  const WsPrint *leader = NULL;

  if (self->following || !self->together)
    return;
  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    if (self->prints[i].view == GTK_WIDGET (view))
      leader = &self->prints[i];
  for (guint i = 0; leader != NULL && i < WS_SPREAD_MOST; i++)
    if (&self->prints[i] != leader && self->prints[i].photo_id != NULL)
      follow (self, &self->prints[i], leader);
}

/* From now on they keep to each other as they lie. */
static void
note_apart (WsPhotoLeaf *self)
{
  const WsPrint *hand = &self->prints[self->hand];

  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    if (self->prints[i].photo_id != NULL)
      self->prints[i].apart = ws_photo_view_get_apart (WS_PHOTO_VIEW (self->prints[i].view), WS_PHOTO_VIEW (hand->view));
}

/* --- A print -------------------------------------------------------------------------------------------- */

static void
pressed_cb (GtkGestureClick *gesture, int n, double x, double y, WsPhotoLeaf *self)
{
  GtkWidget *frame = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture));

  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    if (self->prints[i].frame == frame)
      ws_photo_leaf_take_in_hand (self, WS_PHOTO_VIEW (self->prints[i].view));
}

static void
focused_cb (GtkEventControllerFocus *controller, WsPhotoLeaf *self)
{
  GtkWidget *view = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));

  ws_photo_leaf_take_in_hand (self, WS_PHOTO_VIEW (view));
}

/* The press is seen before the photo sees it, so that a drag on another print already marks that one. */
static void
add_controllers (WsPhotoLeaf *self, WsPrint *print)
{
  GtkGesture *press = gtk_gesture_click_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (press), GDK_BUTTON_PRIMARY);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (press), GTK_PHASE_CAPTURE);
  g_signal_connect_object (press, "pressed", G_CALLBACK (pressed_cb), self, 0);
  gtk_widget_add_controller (print->frame, GTK_EVENT_CONTROLLER (press));
  g_signal_connect_object (focus, "enter", G_CALLBACK (focused_cb), self, 0);
  gtk_widget_add_controller (print->view, focus);
}

static void
make_print (WsPhotoLeaf *self, WsPrint *print)
{
  print->frame = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  print->view = ws_photo_view_new (ws_session_get_pictures (self->session));
  print->slip = GTK_LABEL (gtk_label_new (NULL));
  print->apart = (WsPhotoViewApart) { 1, 0, 0 };
  gtk_widget_set_vexpand (print->view, TRUE);
  gtk_widget_set_hexpand (print->view, TRUE);
  gtk_label_set_ellipsize (print->slip, PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (GTK_WIDGET (print->slip), "ws-slip");
  gtk_widget_add_css_class (print->frame, "ws-laid");
  gtk_box_append (GTK_BOX (print->frame), print->view);
  gtk_box_append (GTK_BOX (print->frame), GTK_WIDGET (print->slip));
  add_controllers (self, print);
  g_signal_connect_object (print->view, "view-changed", G_CALLBACK (view_changed_cb), self, 0);
  ws_photo_leaf_connect_view (self, print->view);
  ws_spread_append (WS_SPREAD (self->spread), print->frame);
}

/* What each print says of itself. The one in hand is told by words, by a pointing hand and by the corners that hold it. */
static void
fill_slips (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  gboolean several = count_laid (self) > 1;

  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    {
      WsPrint *print = &self->prints[i];
      const WsPhoto *photo = find != NULL && print->photo_id != NULL ? ws_find_get_photo (find, print->photo_id) : NULL;
      g_autofree char *name = photo != NULL ? g_path_get_basename (photo->path) : NULL;
      g_autofree char *number = photo != NULL ? g_strdup_printf (_("%d of %u"), ws_photo_leaf_place_of (find, photo->id) + 1,
                                                                 find->photos->len) : NULL;
      g_autofree char *text = NULL;

      if (print->frame == NULL)
        continue;
      gtk_widget_set_visible (print->frame, ws_photo_leaf_is_laid (self, i));
      gtk_widget_set_visible (GTK_WIDGET (print->slip), several && photo != NULL);
      gtk_widget_remove_css_class (print->frame, "in-hand");
      gtk_widget_remove_css_class (print->frame, "several");
      if (several)
        gtk_widget_add_css_class (print->frame, "several");
      if (several && i == self->hand)
        gtk_widget_add_css_class (print->frame, "in-hand");
      if (photo == NULL)
        continue;
      /* Translators: the photo that marks are made on, of several that lie beside each other. */
      text = several && i == self->hand ? g_strdup_printf (_("☞ In hand · %s · %s"), number, name)
                                        : g_strdup_printf ("%s · %s", number, name);
      gtk_label_set_label (print->slip, text);
      gtk_accessible_update_property (GTK_ACCESSIBLE (print->view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      several ? text : _("Photo"), -1);
    }
}

/* Lying and upright photos lie well in other ways; the one in hand decides when they are laid, not whenever another comes
 * into the hand, for then they would jump. */
static void
fill_proportion (WsPhotoLeaf *self)
{
  const WsPhoto *photo = ws_photo_leaf_get_photo (self);

  if (photo != NULL && photo->width > 0 && photo->height > 0)
    ws_spread_set_proportion (WS_SPREAD (self->spread), (double) photo->width / photo->height);
}

/* The photos that the next key would bring into the hand. */
static void
expect_neighbours (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  int place = find != NULL ? ws_photo_leaf_place_of (find, self->photo_id) : -1;
  const WsPhoto *next = place >= 0 ? ws_photo_leaf_photo_at (find, place + 1) : NULL;
  const WsPhoto *previous = place >= 0 ? ws_photo_leaf_photo_at (find, place - 1) : NULL;

  ws_photo_view_set_neighbours (WS_PHOTO_VIEW (self->view), next != NULL ? next->path : NULL,
                                next != NULL ? next->digest : NULL, previous != NULL ? previous->path : NULL,
                                previous != NULL ? previous->digest : NULL);
}

/* The same photo again changes nothing, unless it could not be read or lies elsewhere now. */
static void
show (WsPhotoLeaf *self, WsPrint *print, const WsPhoto *photo)
{
  g_autofree char *thumbnail = NULL;

  self->following = TRUE;
  if (photo != NULL)
    {
      thumbnail = ws_library_dup_thumbnail_path (ws_session_get_desk (self->session)->library, photo->digest);
      ws_photo_view_set_photo (WS_PHOTO_VIEW (print->view), photo->path, photo->digest, thumbnail, photo->width, photo->height);
    }
  else
    ws_photo_view_set_photo (WS_PHOTO_VIEW (print->view), NULL, NULL, NULL, 0, 0);
  self->following = FALSE;
}

/* Lays the photo there; NULL takes away what lies there. */
static void
lay (WsPhotoLeaf *self, guint i, const char *photo_id)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsPhoto *photo = find != NULL && photo_id != NULL ? ws_find_get_photo (find, photo_id) : NULL;
  WsPrint *print = &self->prints[i];
  g_autofree char *id = photo != NULL ? g_strdup (photo->id) : NULL;

  if (print->frame == NULL)
    make_print (self, print);
  g_free (print->photo_id);
  print->photo_id = g_steal_pointer (&id);
  if (i == self->hand)
    self->photo_id = print->photo_id;
  show (self, print, photo);
  /* It shows the part that the others show. */
  for (guint k = 0; photo != NULL && self->together && k < WS_SPREAD_MOST; k++)
    if (k != i && self->prints[k].photo_id != NULL)
      {
        follow (self, print, &self->prints[k]);
        break;
      }
}

/* --- The hand ---------------------------------------------------------------------------------------------- */

static gboolean
has_focus (GtkWidget *widget)
{
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && (focus == widget || gtk_widget_is_ancestor (focus, widget));
}

static void
take (WsPhotoLeaf *self, guint i)
{
  WsPhotoView *old = WS_PHOTO_VIEW (self->view), *view = WS_PHOTO_VIEW (self->prints[i].view);
  gboolean focused = has_focus (GTK_WIDGET (old));
  g_autofree char *armed = g_strdup (ws_photo_view_get_armed (old));
  gboolean cover = ws_photo_view_get_cover (old);

  if (i == self->hand)
    return;
  self->hand = i;
  self->view = self->prints[i].view;
  self->photo_id = self->prints[i].photo_id;
  ws_photo_view_select (old, NULL);
  ws_photo_view_set_armed (old, NULL);
  ws_photo_view_set_cover (old, FALSE);
  ws_photo_view_set_tool (view, ws_photo_view_get_tool (old));
  ws_photo_view_set_armed (view, armed);
  ws_photo_view_set_cover (view, cover);
  if (focused)
    gtk_widget_grab_focus (self->view);
  fill_slips (self);
  expect_neighbours (self);
  ws_photo_leaf_fill (self);
  ws_photo_leaf_point_roll (self);
}

void
ws_photo_leaf_take_in_hand (WsPhotoLeaf *self, WsPhotoView *view)
{
  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    if (self->prints[i].view == GTK_WIDGET (view) && ws_photo_leaf_is_laid (self, i))
      take (self, i);
}

void
ws_photo_leaf_put_in_hand (WsPhotoLeaf *self, const char *photo_id)
{
  int lies_at = print_of (self, photo_id);

  if (lies_at >= 0)
    {
      take (self, (guint) lies_at);
      return;
    }
  lay (self, self->hand, photo_id);
  fill_slips (self);
  expect_neighbours (self);
  ws_photo_leaf_fill (self);
  ws_photo_leaf_point_roll (self);
}

/* --- How many ----------------------------------------------------------------------------------------------- */

/* The photo to lay next: the first after the one in hand that does not lie there yet, else the last before it. */
static const WsPhoto *
next_to_lay (WsPhotoLeaf *self, const WsFind *find)
{
  int place = ws_photo_leaf_place_of (find, self->photo_id);

  for (int i = place + 1; i < (int) find->photos->len; i++)
    if (print_of (self, ws_photo_leaf_photo_at (find, i)->id) < 0)
      return ws_photo_leaf_photo_at (find, i);
  for (int i = place - 1; i >= 0; i--)
    if (print_of (self, ws_photo_leaf_photo_at (find, i)->id) < 0)
      return ws_photo_leaf_photo_at (find, i);
  return NULL;
}

static void
lay_the_others (WsPhotoLeaf *self, const WsFind *find)
{
  guint n = 1;

  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    {
      const WsPhoto *photo;

      if (i == self->hand)
        continue;
      if (n < self->n_wanted && self->prints[i].photo_id == NULL && (photo = next_to_lay (self, find)) != NULL)
        lay (self, i, photo->id);
      else if (n >= self->n_wanted && self->prints[i].photo_id != NULL)
        lay (self, i, NULL);
      n += self->prints[i].photo_id != NULL;
    }
}

void
ws_photo_leaf_take_all_away (WsPhotoLeaf *self)
{
  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    if (self->prints[i].photo_id != NULL)
      {
        self->prints[i].apart = (WsPhotoViewApart) { 1, 0, 0 };
        lay (self, i, NULL);
      }
}

/* What is gone is taken away; what stays is shown as it is now. */
static void
take_away (WsPhotoLeaf *self, const WsFind *find)
{
  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    {
      WsPrint *print = &self->prints[i];
      const WsPhoto *photo = find != NULL && print->photo_id != NULL ? ws_find_get_photo (find, print->photo_id) : NULL;

      if (photo != NULL)
        show (self, print, photo);
      else if (print->photo_id != NULL)
        lay (self, i, NULL);
    }
}

/* Something is in hand where there is anything to hold. */
static void
fill_hand (WsPhotoLeaf *self, const WsFind *find)
{
  const WsPhoto *first = self->photo_id == NULL ? next_to_lay (self, find) : NULL;

  if (first != NULL)
    lay (self, self->hand, first->id);
  for (guint i = 0; self->photo_id == NULL && i < WS_SPREAD_MOST; i++)
    if (self->prints[i].photo_id != NULL)
      take (self, i);
}

static void
enable (WsPhotoLeaf *self, const char *name, gboolean enabled)
{
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self->beside), name)), enabled);
}

void
ws_photo_leaf_arrange (WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  gboolean choice = find != NULL && find->photos->len > 1;

  take_away (self, find);
  if (find != NULL)
    {
      fill_hand (self, find);
      lay_the_others (self, find);
    }
  enable (self, "count", choice);
  enable (self, "next", count_laid (self) > 1);
  enable (self, "together", count_laid (self) > 1);
  gtk_widget_set_sensitive (GTK_WIDGET (self->beside_button), choice);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->beside_button),
                               choice ? _("Lay two or four photos beside each other (Ctrl+2, Ctrl+4; one again: Ctrl+1)")
                                      : _("A find of one photo has none to lay beside it"));
  fill_proportion (self);
  fill_slips (self);
  expect_neighbours (self);
}

/* --- Commands ----------------------------------------------------------------------------------------------- */

static void
count_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  WsPhotoLeaf *self = data;
  int n = g_variant_get_int32 (value);

  if (n != 1 && n != 2 && n != WS_SPREAD_MOST)
    return;
  g_simple_action_set_state (action, value);
  self->n_wanted = (guint) n;
  ws_photo_leaf_arrange (self);
  ws_photo_leaf_fill (self);
  ws_photo_leaf_point_roll (self);
}

static void
together_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  WsPhotoLeaf *self = data;

  g_simple_action_set_state (action, value);
  self->together = g_variant_get_boolean (value);
  if (self->together)
    note_apart (self);
}

static void
next_cb (GSimpleAction *action, GVariant *unused, gpointer data)
{
  WsPhotoLeaf *self = data;

  for (guint k = 1; k < WS_SPREAD_MOST; k++)
    {
      guint i = (self->hand + k) % WS_SPREAD_MOST;

      if (!ws_photo_leaf_is_laid (self, i))
        continue;
      take (self, i);
      gtk_widget_grab_focus (self->view);
      return;
    }
}

static void
add_key (GtkEventController *controller, const char *keys, const char *action, GVariant *argument)
{
  GtkShortcut *shortcut = gtk_shortcut_new (gtk_shortcut_trigger_parse_string (keys), gtk_named_action_new (action));

  if (argument != NULL)
    gtk_shortcut_set_arguments (shortcut, argument);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (controller), shortcut);
}

/* Wherever in the window the focus is: the keys are named on the leaf. */
static void
add_keys (WsPhotoLeaf *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_set_scope (GTK_SHORTCUT_CONTROLLER (keys), GTK_SHORTCUT_SCOPE_GLOBAL);
  add_key (keys, "<Control>1|<Control>KP_1", "beside.count", g_variant_new_int32 (1));
  add_key (keys, "<Control>2|<Control>KP_2", "beside.count", g_variant_new_int32 (2));
  add_key (keys, "<Control>4|<Control>KP_4", "beside.count", g_variant_new_int32 (WS_SPREAD_MOST));
  add_key (keys, "<Control>j", "beside.together", NULL);
  add_key (keys, "F6", "beside.next", NULL);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/* --- Beginning and end --------------------------------------------------------------------------------------- */

void
ws_photo_leaf_init_beside (WsPhotoLeaf *self)
{
  const GActionEntry entries[] = {
    { "count", NULL, "i", "1", count_cb },
    { "together", NULL, NULL, "true", together_cb },
    { "next", next_cb },
  };

  self->n_wanted = 1;
  self->together = TRUE;
  self->spread = ws_spread_new ();
  gtk_widget_set_hexpand (self->spread, TRUE);
  gtk_widget_set_vexpand (self->spread, TRUE);
  gtk_box_append (self->view_place, self->spread);
  make_print (self, &self->prints[0]);
  self->view = self->prints[0].view;
  self->beside = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->beside), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "beside", G_ACTION_GROUP (self->beside));
  add_keys (self);
}

void
ws_photo_leaf_clear_beside (WsPhotoLeaf *self)
{
  g_clear_object (&self->beside);
  for (guint i = 0; i < WS_SPREAD_MOST; i++)
    g_clear_pointer (&self->prints[i].photo_id, g_free);
  self->photo_id = NULL;
}
