/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-requests-page.h"

#include "ws-request-row.h"

struct _WsRequestsPage
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkStack *pages;      /* "empty", "list" */
  GtkListBox *list;

  WsSession *session;
  char *shown;          /* what the list was made of */
};

enum { CORRECT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsRequestsPage, ws_requests_page, GTK_TYPE_WIDGET)

static void
correct_cb (WsRequestsPage *self, WsRequestRow *row)
{
  g_signal_emit (self, signals[CORRECT], 0, ws_request_row_get_find_id (row), ws_request_row_get_request_id (row));
}

/* Requests never change but for being sent, and may be corrected while their find is there. */
static char *
dup_key (WsRequestsPage *self, GPtrArray *requests)
{
  GString *key = g_string_new (NULL);

  for (guint i = 0; i < requests->len; i++)
    {
      const WsSentRequest *sent = g_ptr_array_index (requests, i);

      g_string_append_printf (key, "%s %" G_GINT64_FORMAT " %d\n", sent->id, sent->sent_us,
                              ws_session_get_item (self->session, sent->find_id) != NULL);
    }
  return g_string_free (key, FALSE);
}

static void
session_changed_cb (WsRequestsPage *self)
{
  GPtrArray *requests = ws_session_get_requests (self->session);
  g_autofree char *key = requests != NULL ? dup_key (self, requests) : NULL;
  GtkWidget *child;

  if (key == NULL || g_strcmp0 (key, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_steal_pointer (&key);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  for (guint i = 0; i < requests->len; i++)
    {
      GtkWidget *row = ws_request_row_new (self->session, g_ptr_array_index (requests, i));

      g_signal_connect_object (row, "correct", G_CALLBACK (correct_cb), self, G_CONNECT_SWAPPED);
      gtk_list_box_append (self->list, row);
    }
  gtk_stack_set_visible_child_name (self->pages, requests->len > 0 ? "list" : "empty");
}

static void
ws_requests_page_dispose (GObject *object)
{
  WsRequestsPage *self = WS_REQUESTS_PAGE (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->shown, g_free);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_requests_page_parent_class)->dispose (object);
}

static void
ws_requests_page_class_init (WsRequestsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_requests_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-requests-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WsRequestsPage, box);
  gtk_widget_class_bind_template_child (widget_class, WsRequestsPage, pages);
  gtk_widget_class_bind_template_child (widget_class, WsRequestsPage, list);
  signals[CORRECT] = g_signal_new ("correct", WS_TYPE_REQUESTS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
}

static void
ws_requests_page_init (WsRequestsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
ws_requests_page_new (WsSession *session)
{
  WsRequestsPage *self = g_object_new (WS_TYPE_REQUESTS_PAGE, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  session_changed_cb (self);
  return GTK_WIDGET (self);
}
