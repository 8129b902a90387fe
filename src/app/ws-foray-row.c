/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-foray-row.h"

#include "ws-intl.h"
#include "ws-record.h"
#include "ws-words.h"

struct _WsForayRow
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkLabel *date, *where;
  GtkMenuButton *pen;
  GtkPopover *popover;
  GtkEditable *place_entry, *people_entry;

  WsSession *session;
  WsFindsLine *line;
};

G_DEFINE_FINAL_TYPE (WsForayRow, ws_foray_row, GTK_TYPE_WIDGET)

static void
fill (WsForayRow *self)
{
  const WsForay *foray = ws_finds_line_get_foray (self->line);
  g_autofree char *date = foray != NULL ? ws_words_date (foray->date) : g_strdup (_("No foray"));
  g_autofree char *where = ws_words_place_people (foray);

  gtk_label_set_text (self->date, date);
  gtk_label_set_text (self->where, where);
  gtk_widget_set_visible (GTK_WIDGET (self->where), *where != '\0');
  gtk_widget_set_visible (GTK_WIDGET (self->pen), foray != NULL);
}

/* --- Writing place and people ------------------------------------------------------------ */

typedef struct { char *foray_id; char *key; char *value; } Entry;

static void
entry_free (gpointer data)
{
  Entry *entry = data;

  g_free (entry->foray_id);
  g_free (entry->key);
  g_free (entry->value);
  g_free (entry);
}

static gpointer
store_entry (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  Entry *entry = data;

  ws_record_set_foray (desk, entry->foray_id, entry->key, entry->value, error);
  return NULL;
}

static void
store (WsForayRow *self, const WsForay *foray, const char *key, const char *before, GtkEditable *from)
{
  g_autofree char *value = g_strstrip (g_strdup (gtk_editable_get_text (from)));
  Entry *entry;

  if (g_str_equal (before, value))
    return;
  entry = g_new0 (Entry, 1);
  entry->foray_id = g_strdup (foray->id);
  entry->key = g_strdup (key);
  entry->value = g_steal_pointer (&value);
  ws_session_edit (self->session, NULL, store_entry, entry, entry_free, NULL, NULL, NULL, NULL);
}

static void
opened_cb (WsForayRow *self)
{
  const WsForay *foray = self->line != NULL ? ws_finds_line_get_foray (self->line) : NULL;

  if (foray == NULL)
    return;
  gtk_editable_set_text (self->place_entry, foray->place);
  gtk_editable_set_text (self->people_entry, foray->people);
}

/* However the popover is left, what was written is kept; undo takes it back. */
static void
closed_cb (WsForayRow *self)
{
  const WsForay *foray = self->line != NULL ? ws_finds_line_get_foray (self->line) : NULL;

  if (foray == NULL)
    return;
  store (self, foray, "place", foray->place, self->place_entry);
  store (self, foray, "people", foray->people, self->people_entry);
}

static void
entered_cb (WsForayRow *self)
{
  gtk_popover_popdown (self->popover);
}

static void
ws_foray_row_dispose (GObject *object)
{
  WsForayRow *self = WS_FORAY_ROW (object);

  ws_foray_row_set_line (self, NULL);
  g_clear_object (&self->session);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_foray_row_parent_class)->dispose (object);
}

static void
ws_foray_row_class_init (WsForayRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_foray_row_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-foray-row.ui");
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, box);
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, date);
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, where);
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, pen);
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, popover);
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, place_entry);
  gtk_widget_class_bind_template_child (widget_class, WsForayRow, people_entry);
  gtk_widget_class_bind_template_callback (widget_class, opened_cb);
  gtk_widget_class_bind_template_callback (widget_class, closed_cb);
  gtk_widget_class_bind_template_callback (widget_class, entered_cb);
}

static void
ws_foray_row_init (WsForayRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
ws_foray_row_new (WsSession *session)
{
  WsForayRow *self = g_object_new (WS_TYPE_FORAY_ROW, NULL);

  self->session = g_object_ref (session);
  return GTK_WIDGET (self);
}

void
ws_foray_row_set_line (WsForayRow *self, WsFindsLine *line)
{
  g_return_if_fail (WS_IS_FORAY_ROW (self));
  if (self->line == line)
    return;
  if (self->line != NULL)
    g_signal_handlers_disconnect_by_data (self->line, self);
  g_set_object (&self->line, line);
  if (line == NULL)
    return;
  g_signal_connect_object (line, "changed", G_CALLBACK (fill), self, G_CONNECT_SWAPPED);
  fill (self);
}

char *
ws_foray_row_dup_description (WsForayRow *self)
{
  gboolean where = gtk_widget_get_visible (GTK_WIDGET (self->where));

  return g_strconcat (gtk_label_get_text (self->date), where ? ", " : "", where ? gtk_label_get_text (self->where) : "", NULL);
}
