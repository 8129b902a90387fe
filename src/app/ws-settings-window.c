/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-settings-window.h"

#include "ws-intl.h"

struct _WsSettingsWindow
{
  AdwWindow parent_instance;

  GtkLabel *intro, *knowledge;
  GtkEditable *number, *name;
  GtkCheckButton *colours;
  GtkWidget *save, *skip;

  WsSession *session;
};

G_DEFINE_FINAL_TYPE (WsSettingsWindow, ws_settings_window, ADW_TYPE_WINDOW)

static void
save_cb (WsSettingsWindow *self)
{
  g_autofree char *number = g_strstrip (g_strdup (gtk_editable_get_text (self->number)));
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (self->name)));

  ws_session_set_setting (self->session, WS_SETTING_POISON_NUMBER, number);
  ws_session_set_setting (self->session, WS_SETTING_MY_NAME, name);
  ws_session_set_setting (self->session, WS_SETTING_COLOURS_UNSURE, gtk_check_button_get_active (self->colours) ? "yes" : "");
  gtk_window_close (GTK_WINDOW (self));
}

static void
skip_cb (WsSettingsWindow *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

/* Asked once, whatever the answer. */
static gboolean
ws_settings_window_close_request (GtkWindow *window)
{
  ws_session_set_setting (WS_SETTINGS_WINDOW (window)->session, WS_SETTING_FIRST_ASKED, "yes");
  return GTK_WINDOW_CLASS (ws_settings_window_parent_class)->close_request (window);
}

static void
ws_settings_window_dispose (GObject *object)
{
  g_clear_object (&WS_SETTINGS_WINDOW (object)->session);
  G_OBJECT_CLASS (ws_settings_window_parent_class)->dispose (object);
}

static void
ws_settings_window_class_init (WsSettingsWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_settings_window_dispose;
  GTK_WINDOW_CLASS (class)->close_request = ws_settings_window_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-settings-window.ui");
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, intro);
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, knowledge);
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, number);
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, name);
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, colours);
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, save);
  gtk_widget_class_bind_template_child (widget_class, WsSettingsWindow, skip);
  gtk_widget_class_bind_template_callback (widget_class, save_cb);
  gtk_widget_class_bind_template_callback (widget_class, skip_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
ws_settings_window_init (WsSettingsWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_window_set_default_widget (GTK_WINDOW (self), self->save);
}

/* Whose knowledge judges the evidence: a user's edited copy is named. */
static void
say_knowledge (WsSettingsWindow *self)
{
  WsDesk *desk = ws_session_get_desk (self->session);
  g_autofree char *text = NULL;

  if (desk->knowledge_from != NULL)
    text = g_strdup_printf (_("Finds are judged by the edited tables in %s."), desk->knowledge_from);
  else if (desk->knowledge_trouble != NULL)
    text = g_strdup_printf (_("The edited tables are not used: %s. Finds are judged by the built-in ones."),
                            desk->knowledge_trouble);
  gtk_label_set_text (self->knowledge, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (self->knowledge), text != NULL);
}

GtkWidget *
ws_settings_window_new (WsSession *session, gboolean first)
{
  WsSettingsWindow *self = g_object_new (WS_TYPE_SETTINGS_WINDOW, NULL);

  self->session = g_object_ref (session);
  gtk_window_set_title (GTK_WINDOW (self), first ? _("Before the first foray") : _("Settings"));
  gtk_widget_set_visible (GTK_WIDGET (self->intro), first);
  gtk_button_set_label (GTK_BUTTON (self->skip), first ? _("_Not now") : _("_Cancel"));
  gtk_editable_set_text (self->number, ws_session_get_setting (session, WS_SETTING_POISON_NUMBER));
  gtk_editable_set_text (self->name, ws_session_get_setting (session, WS_SETTING_MY_NAME));
  gtk_check_button_set_active (self->colours,
                               g_str_equal (ws_session_get_setting (session, WS_SETTING_COLOURS_UNSURE), "yes"));
  say_knowledge (self);
  gtk_window_set_focus (GTK_WINDOW (self), GTK_WIDGET (self->number));
  return GTK_WIDGET (self);
}
