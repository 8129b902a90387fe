/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-import-group-row.h"

#include "ws-intl.h"
#include "ws-print.h"
#include "ws-words.h"

#define PRINT_SIZE 56
#define PRINTS 8

struct _WsImportGroupRow
{
  GtkBox parent_instance;

  GtkDropDown *fate;   /* (nullable) */
};

G_DEFINE_FINAL_TYPE (WsImportGroupRow, ws_import_group_row, GTK_TYPE_BOX)

static void
ws_import_group_row_class_init (WsImportGroupRowClass *class)
{
}

static void
ws_import_group_row_init (WsImportGroupRow *self)
{
  gtk_widget_add_css_class (GTK_WIDGET (self), "find-row");
}

/* "Saturday, 4 October 2025, 14:03–14:09 · 5 photos" */
static char *
describe (GPtrArray *photos)
{
  const WsPhoto *first = g_ptr_array_index (photos, 0), *last = g_ptr_array_index (photos, photos->len - 1);
  g_autofree char *date = ws_moment_date (&first->taken);
  g_autofree char *words = date != NULL ? ws_words_date (date) : NULL;
  g_autofree char *from = ws_moment_clock (&first->taken), *to = ws_moment_clock (&last->taken);
  g_autofree char *count = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u photo", "%u photos", photos->len),
                                            photos->len);

  if (words == NULL || from == NULL || to == NULL)
    return g_steal_pointer (&count);
  if (g_str_equal (from, to))
    return g_strdup_printf ("%s, %s · %s", words, from, count);
  return g_strdup_printf ("%s, %s–%s · %s", words, from, to, count);
}

static GtkWidget *
make_prints (WsSession *session, GPtrArray *photos)
{
  GtkWidget *prints = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *window = gtk_scrolled_window_new ();

  for (guint i = 0; i < MIN (photos->len, PRINTS); i++)
    gtk_box_append (GTK_BOX (prints), ws_print_new (session, g_ptr_array_index (photos, i), PRINT_SIZE));
  if (photos->len > PRINTS)
    {
      g_autofree char *more = g_strdup_printf (_("and %u more"), photos->len - PRINTS);
      GtkWidget *label = gtk_label_new (more);

      gtk_widget_add_css_class (label, "details");
      gtk_box_append (GTK_BOX (prints), label);
    }
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (window), GTK_POLICY_EXTERNAL, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (window), prints);
  return window;
}

static void
add_question (WsImportGroupRow *self, GtkBox *said, const WsFind *old_find)
{
  g_autofree char *title = ws_words_find_title (old_find);
  g_autofree char *same = g_strdup_printf (_("The same specimen as %s, seen again"), title);
  g_autofree char *another = g_strdup_printf (_("Another specimen of %s"), title);
  g_autofree char *question = g_strdup_printf (_("Near %s. What is this?"), title);
  GtkWidget *label = gtk_label_new (question);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  self->fate = GTK_DROP_DOWN (gtk_drop_down_new_from_strings ((const char *[]) { _("A new find"), same, another,
                                                                                  NULL }));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->fate), GTK_ACCESSIBLE_PROPERTY_LABEL, question, -1);
  gtk_widget_set_halign (GTK_WIDGET (self->fate), GTK_ALIGN_START);
  gtk_box_append (said, label);
  gtk_box_append (said, GTK_WIDGET (self->fate));
}

GtkWidget *
ws_import_group_row_new (WsSession *session, guint number, GPtrArray *photos, const WsFind *old_find)
{
  WsImportGroupRow *self = g_object_new (WS_TYPE_IMPORT_GROUP_ROW, NULL);
  GtkWidget *margin = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *said = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  g_autofree char *digits = number > 0 ? g_strdup_printf ("%u", number) : g_strdup ("–");
  g_autofree char *text = describe (photos);
  g_autofree char *loose = g_strdup_printf (_("Stay loose, without a time: %s"), text);
  GtkWidget *label = gtk_label_new (number > 0 ? text : loose);
  GtkWidget *number_label = gtk_label_new (digits);

  gtk_label_set_width_chars (GTK_LABEL (number_label), 6);
  gtk_label_set_xalign (GTK_LABEL (number_label), 1);
  gtk_widget_set_valign (number_label, GTK_ALIGN_START);
  gtk_widget_add_css_class (number_label, "number");
  gtk_widget_add_css_class (margin, "margin");
  gtk_box_append (GTK_BOX (margin), number_label);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (said, "said");
  gtk_widget_set_hexpand (said, TRUE);
  gtk_box_append (GTK_BOX (said), label);
  gtk_box_append (GTK_BOX (said), make_prints (session, photos));
  if (old_find != NULL)
    add_question (self, GTK_BOX (said), old_find);
  gtk_box_append (GTK_BOX (self), margin);
  gtk_box_append (GTK_BOX (self), said);
  return GTK_WIDGET (self);
}

WsImportFate
ws_import_group_row_get_fate (WsImportGroupRow *self)
{
  g_return_val_if_fail (WS_IS_IMPORT_GROUP_ROW (self), WS_IMPORT_NEW_FIND);
  return self->fate != NULL ? (WsImportFate) gtk_drop_down_get_selected (self->fate) : WS_IMPORT_NEW_FIND;
}
