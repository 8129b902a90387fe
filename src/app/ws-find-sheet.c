/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-find-sheet.h"

#include "ws-figure-leaf.h"
#include "ws-intl.h"
#include "ws-names-leaf.h"
#include "ws-notes-leaf.h"
#include "ws-open-leaf.h"
#include "ws-photo-leaf.h"
#include "ws-place-leaf.h"
#include "ws-plate-leaf.h"
#include "ws-thumb-index.h"
#include "ws-two-pane.h"
#include "ws-view-keys.h"
#include "ws-words.h"

struct _WsFindSheet
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkLabel *title, *warning, *caution;
  GtkRevealer *warning_revealer;
  GtkToggleButton *turn_button, *plate_button;
  GtkBox *book;

  GtkWidget *pane;          /* WsTwoPane */
  GtkWidget *tabs;          /* WsThumbIndex */
  GtkWidget *leaves;        /* GtkStack */
  GtkWidget *right;         /* GtkStack: the photo, or the plate */
  GtkWidget *figure, *notes, *open, *place, *names, *photo, *plate;

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  char *armed;              /* view that dragging on the photo marks; NULL: none */
};

G_DEFINE_FINAL_TYPE (WsFindSheet, ws_find_sheet, GTK_TYPE_WIDGET)

/* --- Arming --------------------------------------------------------------------------------------------------- */

static void
arm (WsFindSheet *self, const char *view)
{
  g_autofree char *armed = g_strdup (view);

  g_free (self->armed);
  self->armed = g_steal_pointer (&armed);
  ws_figure_leaf_set_armed (WS_FIGURE_LEAF (self->figure), self->armed);
  ws_photo_leaf_set_armed (WS_PHOTO_LEAF (self->photo), self->armed);
  if (self->armed == NULL)
    return;
  gtk_toggle_button_set_active (self->plate_button, FALSE);
  /* In a narrow window the photo is where marking goes on. */
  ws_two_pane_show_content (WS_TWO_PANE (self->pane));
  ws_photo_leaf_focus_photo (WS_PHOTO_LEAF (self->photo));
}

/* A view that is shown goes to its best mark; choosing it again, or one that is lacking, arms it. */
static void
view_chosen_cb (WsFigureLeaf *leaf, const char *view, WsFindSheet *self)
{
  const WsEvidence *evidence = self->item != NULL ? ws_find_item_get_evidence (self->item) : NULL;
  const WsEvidenceLine *line = evidence != NULL ? ws_evidence_get_line (evidence, view) : NULL;

  if (line == NULL)
    return;
  if (line->state == WS_EVIDENCE_SHOWN && line->marks->len > 0 && g_strcmp0 (self->armed, view) != 0)
    {
      arm (self, NULL);
      gtk_toggle_button_set_active (self->plate_button, FALSE);
      ws_photo_leaf_show_mark (WS_PHOTO_LEAF (self->photo), ((const WsMark *) g_ptr_array_index (line->marks, 0))->id);
      ws_two_pane_show_content (WS_TWO_PANE (self->pane));
      return;
    }
  arm (self, view);
}

/* An empty frame of the plate is where something is missing. */
static void
frame_chosen_cb (WsPlateLeaf *leaf, const char *view, WsFindSheet *self)
{
  arm (self, view);
}

static void
disarm_requested_cb (WsPhotoLeaf *leaf, WsFindSheet *self)
{
  arm (self, NULL);
}

/* --- Keys -------------------------------------------------------------------------------------------------------- */

static gboolean
somebody_types (WsFindSheet *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && (GTK_IS_EDITABLE (focus) || GTK_IS_TEXT_VIEW (focus) || GTK_IS_TEXT (focus) ||
                           gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) != NULL);
}

static gboolean
take_letter (WsFindSheet *self, guint keyval)
{
  const char *id = ws_view_of_key (gdk_keyval_to_lower (keyval));
  const WsView *view = id != NULL ? ws_knowledge_find_view (ws_session_get_knowledge (self->session), id) : NULL;

  if (view == NULL)
    return FALSE;
  if (view->is_base)
    arm (self, id);
  else
    ws_photo_leaf_label (WS_PHOTO_LEAF (self->photo), id);
  return TRUE;
}

static gboolean
is_ours (WsFindSheet *self, GdkModifierType state)
{
  return self->item != NULL && !somebody_types (self) &&
         (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) == 0;
}

/* Before the photo sees it: there digits zoom, but an open question comes first. */
static gboolean
key_captured_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, WsFindSheet *self)
{
  WsPhotoLeaf *photo = WS_PHOTO_LEAF (self->photo);

  if (!is_ours (self, state))
    return FALSE;
  if (keyval == GDK_KEY_Page_Down || keyval == GDK_KEY_Page_Up)
    return ws_photo_leaf_step (photo, keyval == GDK_KEY_Page_Down ? 1 : -1);
  return ws_photo_leaf_take_key (photo, keyval) || take_letter (self, keyval);
}

/* After the photo: there Escape first gives up what was begun. */
static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, WsFindSheet *self)
{
  if (keyval != GDK_KEY_Escape || self->armed == NULL || !is_ours (self, state))
    return FALSE;
  arm (self, NULL);
  return TRUE;
}

/* --- Filling ------------------------------------------------------------------------------------------------------ */

static void
item_changed_cb (WsFindItem *item, WsFindSheet *self)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  g_autofree char *title = NULL, *warning = NULL;

  if (self->item == NULL)
    {
      gtk_label_set_label (self->title, _("This find is no longer there"));
      gtk_revealer_set_reveal_child (self->warning_revealer, FALSE);
      return;
    }
  title = ws_words_find_title (ws_find_item_get_find (self->item));
  warning = ws_evidence_dup_base_warning (ws_find_item_get_evidence (self->item), desk->knowledge, desk->language);
  gtk_label_set_label (self->title, title);
  if (warning != NULL)
    gtk_label_set_label (self->warning, warning);
  gtk_revealer_set_reveal_child (self->warning_revealer, warning != NULL);
}

static void
set_item (WsFindSheet *self, WsFindItem *item)
{
  if (self->item == item && item != NULL)
    return;
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  arm (self, NULL);
  ws_figure_leaf_set_item (WS_FIGURE_LEAF (self->figure), item);
  ws_notes_leaf_set_item (WS_NOTES_LEAF (self->notes), item);
  ws_open_leaf_set_item (WS_OPEN_LEAF (self->open), item);
  ws_place_leaf_set_item (WS_PLACE_LEAF (self->place), item);
  ws_names_leaf_set_item (WS_NAMES_LEAF (self->names), item);
  ws_photo_leaf_set_item (WS_PHOTO_LEAF (self->photo), item);
  ws_plate_leaf_set_item (WS_PLATE_LEAF (self->plate), item);
  item_changed_cb (item, self);
}

/* The find may be gone (undone, merged, removed by another program). */
static void
session_changed_cb (WsSession *session, WsFindSheet *self)
{
  const char *id = ws_find_sheet_get_find_id (self);

  ws_two_pane_set_mirrored (WS_TWO_PANE (self->pane),
                            g_str_equal (ws_session_get_setting (session, WS_SETTING_MIRRORED), "yes"));
  if (id != NULL && ws_session_get_item (session, id) == NULL)
    set_item (self, NULL);
}

void
ws_find_sheet_show (WsFindSheet *self, const char *find_id)
{
  set_item (self, ws_session_get_item (self->session, find_id));
  ws_two_pane_show_start (WS_TWO_PANE (self->pane));
}

const char *
ws_find_sheet_get_find_id (WsFindSheet *self)
{
  return self->item != NULL ? ws_find_item_get_id (self->item) : NULL;
}

/* --- Turning leaves -------------------------------------------------------------------------------------------------- */

static void
tab_changed_cb (WsThumbIndex *tabs, GParamSpec *pspec, WsFindSheet *self)
{
  const char *current = ws_thumb_index_get_current (tabs);

  if (current != NULL)
    gtk_stack_set_visible_child_name (GTK_STACK (self->leaves), current);
}

static void
folded_cb (WsTwoPane *pane, GParamSpec *pspec, WsFindSheet *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self->turn_button), ws_two_pane_get_folded (pane));
  gtk_toggle_button_set_active (self->turn_button, ws_two_pane_get_content_shown (pane));
}

static void
turn_toggled_cb (GtkToggleButton *button, WsFindSheet *self)
{
  if (gtk_toggle_button_get_active (button))
    ws_two_pane_show_content (WS_TWO_PANE (self->pane));
  else
    ws_two_pane_show_start (WS_TWO_PANE (self->pane));
}

/* The right leaf is the photo or the plate; in a narrow window it is turned to. */
static void
plate_toggled_cb (GtkToggleButton *button, WsFindSheet *self)
{
  gboolean plate = gtk_toggle_button_get_active (button);

  gtk_stack_set_visible_child (GTK_STACK (self->right), plate ? self->plate : self->photo);
  if (plate)
    ws_two_pane_show_content (WS_TWO_PANE (self->pane));
}

/* --- The object ------------------------------------------------------------------------------------------------------ */

static void
ws_find_sheet_dispose (GObject *object)
{
  WsFindSheet *self = WS_FIND_SHEET (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  gtk_widget_dispose_template (GTK_WIDGET (self), WS_TYPE_FIND_SHEET);
  g_clear_object (&self->session);
  g_clear_pointer (&self->armed, g_free);
  G_OBJECT_CLASS (ws_find_sheet_parent_class)->dispose (object);
}

static void
ws_find_sheet_class_init (WsFindSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_find_sheet_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "find-sheet");
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-find-sheet.ui");
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, box);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, title);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, warning);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, warning_revealer);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, turn_button);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, plate_button);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, caution);
  gtk_widget_class_bind_template_child (widget_class, WsFindSheet, book);
  gtk_widget_class_bind_template_callback (widget_class, turn_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, plate_toggled_cb);
}

static void
ws_find_sheet_init (WsFindSheet *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
make_left_leaf (WsFindSheet *self, GtkWidget *leaf)
{
  self->tabs = ws_thumb_index_new ();
  self->leaves = gtk_stack_new ();
  gtk_widget_set_hexpand (self->leaves, TRUE);
  gtk_widget_add_css_class (self->leaves, "leaf");
  gtk_stack_add_named (GTK_STACK (self->leaves), self->figure, "figure");
  gtk_stack_add_named (GTK_STACK (self->leaves), self->notes, "notes");
  gtk_stack_add_named (GTK_STACK (self->leaves), self->open, "open");
  gtk_stack_add_named (GTK_STACK (self->leaves), self->place, "place");
  gtk_stack_add_named (GTK_STACK (self->leaves), self->names, "names");
  ws_thumb_index_add_place (WS_THUMB_INDEX (self->tabs), "figure", _("Figure"));
  ws_thumb_index_add_place (WS_THUMB_INDEX (self->tabs), "notes", _("Notes"));
  ws_thumb_index_add_place (WS_THUMB_INDEX (self->tabs), "open", _("Still open"));
  ws_thumb_index_add_place (WS_THUMB_INDEX (self->tabs), "place", _("Place"));
  ws_thumb_index_add_place (WS_THUMB_INDEX (self->tabs), "names", _("Names"));
  ws_thumb_index_set_mirrored (WS_THUMB_INDEX (self->tabs), TRUE);
  g_signal_connect_object (self->tabs, "notify::current", G_CALLBACK (tab_changed_cb), self, 0);
  gtk_box_append (GTK_BOX (leaf), self->tabs);
  gtk_box_append (GTK_BOX (leaf), self->leaves);
}

GtkWidget *
ws_find_sheet_new (WsSession *session)
{
  WsFindSheet *self = g_object_new (WS_TYPE_FIND_SHEET, NULL);
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkEventController *keys = gtk_event_controller_key_new (), *captured = gtk_event_controller_key_new ();

  self->session = g_object_ref (session);
  self->figure = ws_figure_leaf_new (session);
  self->notes = ws_notes_leaf_new (session);
  self->open = ws_open_leaf_new (session);
  self->place = ws_place_leaf_new (session);
  self->names = ws_names_leaf_new (session);
  self->photo = ws_photo_leaf_new (session);
  self->plate = ws_plate_leaf_new (session);
  self->right = gtk_stack_new ();
  gtk_stack_add_named (GTK_STACK (self->right), self->photo, "photo");
  gtk_stack_add_named (GTK_STACK (self->right), self->plate, "plate");
  make_left_leaf (self, left);
  self->pane = ws_two_pane_new ();
  gtk_widget_set_vexpand (self->pane, TRUE);
  gtk_widget_set_hexpand (self->pane, TRUE);
  gtk_widget_set_hexpand (left, TRUE);
  gtk_widget_set_hexpand (self->right, TRUE);
  ws_two_pane_set_start (WS_TWO_PANE (self->pane), left);
  ws_two_pane_set_content (WS_TWO_PANE (self->pane), self->right);
  gtk_box_append (self->book, self->pane);
  gtk_label_set_label (self->caution, ws_session_text (session, "caution", "photos_never"));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_event_controller_set_propagation_phase (captured, GTK_PHASE_CAPTURE);
  g_signal_connect (captured, "key-pressed", G_CALLBACK (key_captured_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), captured);
  g_signal_connect_object (self->figure, "view-chosen", G_CALLBACK (view_chosen_cb), self, 0);
  g_signal_connect_object (self->plate, "view-chosen", G_CALLBACK (frame_chosen_cb), self, 0);
  g_signal_connect_object (self->photo, "disarm-requested", G_CALLBACK (disarm_requested_cb), self, 0);
  g_signal_connect_object (self->pane, "notify::folded", G_CALLBACK (folded_cb), self, 0);
  g_signal_connect_object (self->pane, "notify::content-shown", G_CALLBACK (folded_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, 0);
  folded_cb (WS_TWO_PANE (self->pane), NULL, self);
  return GTK_WIDGET (self);
}
