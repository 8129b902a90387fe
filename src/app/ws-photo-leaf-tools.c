/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What marks are drawn with, and what is said of the selected one: its remark, and its copy on the next photo. */
#include "ws-photo-leaf-private.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-text-field.h"
#include "ws-wrap-box.h"

/* --- Tools --------------------------------------------------------------------------------------------- */

/* In the order of WsPhotoViewTool. The letters are those of ws-photo-view-keys.c. */
static const struct { const char *icon, *name, *tooltip; } tools[WS_PHOTO_VIEW_N_TOOLS] = {
  { "ws-box-symbolic", N_("Mark with a box"), N_("Mark with a box (X)") },
  { "ws-oval-symbolic", N_("Mark with an oval"), N_("Mark with an oval (O)") },
  { "ws-outline-symbolic", N_("Mark with an outline"), N_("Mark with an outline: click point after point, or draw (L)") },
  { "ws-edge-symbolic", N_("Mark along the edge"), N_("Mark along the edge: the line between clicks follows it (F)") },
};

void
ws_photo_leaf_fill_tools (WsPhotoLeaf *self)
{
  WsPhotoViewTool tool = ws_photo_view_get_tool (WS_PHOTO_VIEW (self->view));

  self->filling = TRUE;
  if (self->tool_buttons[tool] != NULL)
    gtk_toggle_button_set_active (self->tool_buttons[tool], TRUE);
  self->filling = FALSE;
}

static void
tool_toggled_cb (GtkToggleButton *button, WsPhotoLeaf *self)
{
  if (self->filling || !gtk_toggle_button_get_active (button))
    return;
  for (guint i = 0; i < WS_PHOTO_VIEW_N_TOOLS; i++)
    if (self->tool_buttons[i] == button)
      ws_photo_view_set_tool (WS_PHOTO_VIEW (self->view), i);
  /* The photo is where it is used. */
  ws_photo_leaf_focus_photo (self);
}

static void
view_tool_cb (GtkWidget *view, GParamSpec *pspec, WsPhotoLeaf *self)
{
  if (view == self->view)
    ws_photo_leaf_fill_tools (self);
}

static void
tool_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsPhotoLeaf *self = WS_PHOTO_LEAF (widget);
  int tool = g_variant_get_int32 (parameter);

  if (tool >= 0 && tool < WS_PHOTO_VIEW_N_TOOLS)
    ws_photo_view_set_tool (WS_PHOTO_VIEW (self->view), tool);
}

static GtkToggleButton *
make_button (WsPhotoLeaf *self, guint i)
{
  GtkWidget *button = gtk_toggle_button_new ();

  gtk_button_set_icon_name (GTK_BUTTON (button), tools[i].icon);
  gtk_widget_set_tooltip_text (button, _(tools[i].tooltip));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, _(tools[i].name), -1);
  gtk_widget_add_css_class (button, "flat");
  gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), self->tool_buttons[0]);
  g_signal_connect_object (button, "toggled", G_CALLBACK (tool_toggled_cb), self, 0);
  gtk_box_append (self->tools, button);
  return GTK_TOGGLE_BUTTON (button);
}

/* --- The same mark on the next photo -------------------------------------------------------------------- */

static void
copied_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  if (result != NULL)
    ws_photo_leaf_show_mark (owner, result);
}

static const WsPhoto *
next_photo (WsPhotoLeaf *self, const WsFind *find)
{
  return ws_photo_leaf_photo_at (find, ws_photo_leaf_place_of (find, self->photo_id) + 1);
}

static void
copy_on_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  WsPhotoLeaf *self = WS_PHOTO_LEAF (widget);
  const WsMark *mark = ws_photo_leaf_get_selected (self);
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsPhoto *photo = mark != NULL ? next_photo (self, find) : NULL;

  if (photo != NULL)
    ws_edit_copy_mark (self->session, find->id, mark->id, photo->id, self, copied_cb);
}

/* --- The remark ---------------------------------------------------------------------------------------------- */

static void
forget_remarked (WsPhotoLeaf *self)
{
  g_clear_pointer (&self->remarked, ws_mark_unref);
  g_clear_pointer (&self->remarked_find, g_free);
}

/* The field may be left because another mark was selected: the words belong to the one it was shown for. */
static void
remark_edited_cb (WsTextField *field, const char *text, WsPhotoLeaf *self)
{
  const WsFind *find = ws_photo_leaf_get_find (self);
  const WsMark *mark = self->remarked;
  g_autoptr (WsMark) changed = NULL;

  if (mark == NULL)
    return;
  if (find != NULL && ws_find_get_mark (find, mark->id) != NULL)
    mark = ws_find_get_mark (find, mark->id);
  changed = ws_mark_copy (mark);
  ws_set_string (&changed->remark, text);
  ws_edit_change_mark (self->session, self->remarked_find, changed);
}

void
ws_photo_leaf_fill_remark (WsPhotoLeaf *self, const WsMark *mark)
{
  const WsFind *find = ws_photo_leaf_get_find (self);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "mark.copy-on", mark != NULL && next_photo (self, find) != NULL);
  if (self->remark == NULL)
    return;
  if (self->remarked != NULL && (mark == NULL || !g_str_equal (self->remarked->id, mark->id)))
    ws_text_field_flush (WS_TEXT_FIELD (self->remark));
  forget_remarked (self);
  if (mark == NULL)
    return;
  self->remarked = ws_mark_ref (mark);
  self->remarked_find = g_strdup (find->id);
  ws_text_field_set_text (WS_TEXT_FIELD (self->remark), mark->remark);
}

/* --- All of it --------------------------------------------------------------------------------------------------- */

void
ws_photo_leaf_connect_tools (WsPhotoLeaf *self, GtkWidget *view)
{
  g_signal_connect_object (view, "notify::tool", G_CALLBACK (view_tool_cb), self, 0);
}

void
ws_photo_leaf_init_tools (WsPhotoLeaf *self)
{
  for (guint i = 0; i < WS_PHOTO_VIEW_N_TOOLS; i++)
    self->tool_buttons[i] = make_button (self, i);
  self->remark = ws_text_field_new (_("Remark on this mark"), FALSE);
  g_signal_connect_object (self->remark, "edited", G_CALLBACK (remark_edited_cb), self, 0);
  ws_wrap_box_append (WS_WRAP_BOX (self->mark_fields), self->remark);
  ws_photo_leaf_fill_tools (self);
}

void
ws_photo_leaf_clear_tools (WsPhotoLeaf *self)
{
  if (self->remark != NULL)
    ws_text_field_flush (WS_TEXT_FIELD (self->remark));
  self->remark = NULL;
  forget_remarked (self);
}

void
ws_photo_leaf_install_tools (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "mark.tool", "i", tool_action);
  gtk_widget_class_install_action (klass, "mark.copy-on", NULL, copy_on_action);
  gtk_widget_class_add_binding_action (klass, GDK_KEY_d, GDK_CONTROL_MASK, "mark.copy-on", NULL);
}
