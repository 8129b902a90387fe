/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-request-row.h"

#include "ws-desktop.h"
#include "ws-intl.h"
#include "ws-words.h"
#include "ws-wrap-box.h"

struct _WsRequestRow
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkLabel *number, *to, *question, *made;
  GtkButton *sent, *correct;

  WsSession *session;
  char *request_id, *find_id, *package;
  gboolean is_sent;
};

enum { CORRECT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsRequestRow, ws_request_row, GTK_TYPE_WIDGET)

/* --- Sent or not ------------------------------------------------------------------------------------ */

typedef struct { char *id; gint64 sent_us; } Sending;

static void
sending_free (gpointer data)
{
  Sending *sending = data;

  g_free (sending->id);
  g_free (sending);
}

static gpointer
store_sent (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Sending *sending = data;

  ws_library_set_request_sent (desk->library, sending->id, sending->sent_us, error);
  return NULL;
}

void
ws_request_set_sent (WsSession *session, const char *request_id, gboolean sent)
{
  Sending *sending = g_new0 (Sending, 1);

  sending->id = g_strdup (request_id);
  sending->sent_us = sent ? g_get_real_time () : 0;
  ws_session_edit (session, NULL, store_sent, sending, sending_free, NULL, NULL, NULL, NULL);
}

static void
sent_cb (WsRequestRow *self)
{
  ws_request_set_sent (self->session, self->request_id, !self->is_sent);
}

static void
folder_cb (WsRequestRow *self)
{
  ws_desktop_open_folder_of (self->package, ws_session_failed, g_object_ref (self->session));
}

static void
correct_cb (WsRequestRow *self)
{
  g_signal_emit (self, signals[CORRECT], 0);
}

/* --- The widget -------------------------------------------------------------------------------------- */

static void
ws_request_row_dispose (GObject *object)
{
  WsRequestRow *self = WS_REQUEST_ROW (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->request_id, g_free);
  g_clear_pointer (&self->find_id, g_free);
  g_clear_pointer (&self->package, g_free);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_request_row_parent_class)->dispose (object);
}

static void
ws_request_row_class_init (WsRequestRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_request_row_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-request-row.ui");
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, box);
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, number);
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, to);
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, question);
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, made);
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, sent);
  gtk_widget_class_bind_template_child (widget_class, WsRequestRow, correct);
  gtk_widget_class_bind_template_callback (widget_class, sent_cb);
  gtk_widget_class_bind_template_callback (widget_class, folder_cb);
  gtk_widget_class_bind_template_callback (widget_class, correct_cb);
  signals[CORRECT] = g_signal_new ("correct", WS_TYPE_REQUEST_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
}

static void
ws_request_row_init (WsRequestRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static char *
describe_state (const WsSentRequest *sent)
{
  g_autofree char *made = ws_words_when (sent->made_us);
  g_autofree char *sent_when = sent->sent_us != 0 ? ws_words_when (sent->sent_us) : NULL;
  g_autofree char *text = sent_when != NULL ? g_strdup_printf (_("Made %s, sent %s"), made, sent_when)
                                            : g_strdup_printf (_("Made %s, not said to be sent"), made);

  if (sent->replaces != NULL)
    return g_strdup_printf (_("%s; it replaces an earlier one"), text);
  return g_steal_pointer (&text);
}

GtkWidget *
ws_request_row_new (WsSession *session, const WsSentRequest *sent)
{
  WsRequestRow *self = g_object_new (WS_TYPE_REQUEST_ROW, NULL);
  g_autofree char *state = describe_state (sent);
  g_autofree char *to = *sent->to != '\0' ? g_strdup_printf (_("To %s"), sent->to) : g_strdup (_("To nobody named"));

  self->session = g_object_ref (session);
  self->request_id = g_strdup (sent->id);
  self->find_id = g_strdup (sent->find_id);
  self->package = g_build_filename (ws_library_get_folder (ws_session_get_desk (session)->library), "sent",
                                    sent->package, NULL);
  self->is_sent = sent->sent_us != 0;
  gtk_label_set_text (self->number, sent->number);
  gtk_label_set_text (self->to, to);
  gtk_label_set_text (self->question, sent->question);
  gtk_widget_set_visible (GTK_WIDGET (self->question), *sent->question != '\0');
  gtk_label_set_text (self->made, state);
  gtk_button_set_label (self->sent, self->is_sent ? _("It was _not sent") : _("It was _sent"));
  gtk_widget_set_visible (GTK_WIDGET (self->correct), ws_session_get_item (session, sent->find_id) != NULL);
  return GTK_WIDGET (self);
}

const char *
ws_request_row_get_find_id (WsRequestRow *self)
{
  g_return_val_if_fail (WS_IS_REQUEST_ROW (self), NULL);
  return self->find_id;
}

const char *
ws_request_row_get_request_id (WsRequestRow *self)
{
  g_return_val_if_fail (WS_IS_REQUEST_ROW (self), NULL);
  return self->request_id;
}
