/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-go-back-page.h"

#include <adwaita.h>

#include "ws-desktop.h"
#include "ws-go-back-work.h"
#include "ws-intl.h"
#include "ws-print.h"
#include "ws-words.h"
#include "ws-wrap-box.h"

struct _WsGoBackPage
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *intro, *touch, *keep;
  GtkWidget *buttons;
  GtkListBox *list;

  WsSession *session;
  gint64 told_now_us;       /* 0: the computer's clock */
};

enum { OPEN_FIND, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsGoBackPage, ws_go_back_page, GTK_TYPE_WIDGET)

static gint64
now (WsGoBackPage *self)
{
  return self->told_now_us != 0 ? self->told_now_us : ws_go_back_now ();
}

static GtkWidget *
make_label (const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), 18);
  if (class != NULL)
    gtk_widget_add_css_class (label, class);
  return label;
}

/* --- The list ------------------------------------------------------------------------------------------------- */

static char *
place_text (const WsGoBackFind *entry)
{
  g_autofree char *date = ws_moment_date (&entry->evidence->find->when);
  g_autofree char *day = ws_words_date (date != NULL ? date : "");
  g_autofree char *where = ws_words_place_people (entry->foray);
  g_autofree char *details = ws_words_find_details (entry->evidence->find);

  return where[0] != '\0' ? g_strjoin (" · ", day, where, details, NULL) : g_strjoin (" · ", day, details, NULL);
}

static GtkWidget *
make_row (WsGoBackPage *self, const WsGoBackFind *entry)
{
  const WsDesk *desk = ws_session_get_desk (self->session);
  const WsFind *find = entry->evidence->find;
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *said = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *title = ws_words_find_title (find), *place = place_text (entry);
  g_autoptr (GPtrArray) lines = ws_go_back_dup_lines (entry, now (self), desk->knowledge, desk->language);
  g_autoptr (GString) spoken = g_string_new (title);

  gtk_widget_add_css_class (box, "go-back");
  if (find->photos->len > 0)
    {
      GtkWidget *print = ws_print_new (self->session, ((const WsFindPhoto *) g_ptr_array_index (find->photos, 0))->photo, 56);

      gtk_widget_set_valign (print, GTK_ALIGN_START);
      gtk_box_append (GTK_BOX (box), print);
    }
  gtk_box_append (GTK_BOX (said), make_label (title, "number"));
  gtk_box_append (GTK_BOX (said), make_label (place, "details"));
  for (guint i = 0; i < lines->len; i++)
    {
      gtk_box_append (GTK_BOX (said), make_label (g_ptr_array_index (lines, i), i == 0 ? "lacking" : NULL));
      g_string_append_printf (spoken, "; %s", (const char *) g_ptr_array_index (lines, i));
    }
  gtk_widget_set_hexpand (said, TRUE);
  gtk_box_append (GTK_BOX (box), said);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_widget_set_name (row, find->id);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken->str, -1);
  return row;
}

static void
fill (WsGoBackPage *self)
{
  const WsDesk *desk = ws_session_get_desk (self->session);
  GListModel *items = ws_session_get_finds (self->session);
  g_autoptr (GPtrArray) finds = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_unref);
  g_autoptr (GPtrArray) forays = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_foray_unref);
  g_autoptr (GPtrArray) list = NULL;
  const char *touch = "";
  GtkWidget *child;

  for (guint i = 0; i < g_list_model_get_n_items (items); i++)
    {
      g_autoptr (WsFindItem) item = g_list_model_get_item (items, i);
      const WsForay *foray = ws_find_item_get_foray (item);

      g_ptr_array_add (finds, ws_find_ref (ws_find_item_get_find (item)));
      if (foray != NULL)
        g_ptr_array_add (forays, ws_foray_ref (foray));
    }
  list = ws_go_back_list (finds, forays, desk->knowledge, desk->language, now (self));
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  for (guint i = 0; i < list->len; i++)
    {
      const WsGoBackFind *entry = g_ptr_array_index (list, i);
      const char *warning = ws_go_back_get_touch_warning (entry->evidence, desk->knowledge, desk->language);

      touch = warning[0] != '\0' ? warning : touch;
      gtk_list_box_append (self->list, make_row (self, entry));
    }
  gtk_label_set_text (GTK_LABEL (self->touch), touch);
  gtk_widget_set_visible (self->touch, touch[0] != '\0');
  gtk_label_set_text (GTK_LABEL (self->intro), ws_session_text (self->session, "go_back", list->len > 0 ? "intro" : "none"));
  gtk_widget_set_visible (self->keep, list->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->list), list->len > 0);
  gtk_widget_set_sensitive (self->buttons, list->len > 0);
}

void
ws_go_back_page_refresh (WsGoBackPage *self)
{
  g_return_if_fail (WS_IS_GO_BACK_PAGE (self));
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    fill (self);   /* else when it is next seen */
}

void
ws_go_back_page_set_now (WsGoBackPage *self, gint64 now_us)
{
  g_return_if_fail (WS_IS_GO_BACK_PAGE (self));
  self->told_now_us = now_us;
  ws_go_back_page_refresh (self);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, WsGoBackPage *self)
{
  g_signal_emit (self, signals[OPEN_FIND], 0, gtk_widget_get_name (GTK_WIDGET (row)));
}

/* --- Paper and pocket ---------------------------------------------------------------------------------------- */

static GtkWindow *
window_of (WsGoBackPage *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

static void
sheet_made_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsGoBackPage *self = owner;
  WsDesktopPages pages = { ws_text_sheet_paginate, ws_text_sheet_draw, NULL, (GDestroyNotify) ws_text_sheet_free };

  if (error != NULL)
    {
      ws_session_report (self->session, error);
      return;
    }
  pages.data = ws_task_steal ();
  ws_desktop_print (window_of (self), ws_session_text (self->session, "go_back", "title"), &pages, NULL, ws_session_failed,
                    g_object_ref (self->session));
}

static void
print_cb (WsGoBackPage *self)
{
  ws_task_run (ws_session_get_desk (self->session), ws_go_back_make_sheet, ws_go_back_wish_new (now (self), NULL),
               (GDestroyNotify) ws_go_back_wish_free, NULL, self, sheet_made_cb, NULL, (GDestroyNotify) ws_text_sheet_free);
}

static void
saved_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsGoBackPage *self = owner;
  g_autofree char *text = NULL;

  if (error != NULL)
    {
      ws_session_report (self->session, error);
      return;
    }
  text = g_strdup_printf (_("The page lies at %s. It tells the places exactly: send it to your own phone only."), (const char *) result);
  ws_session_say (self->session, text);
}

static void
path_chosen_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (WsGoBackPage) self = user_data;
  g_autoptr (GFile) file = ws_desktop_save_file_finish (result, NULL);

  if (file != NULL && g_file_peek_path (file) != NULL && self->session != NULL)
    ws_task_run (ws_session_get_desk (self->session), ws_go_back_save_page,
                 ws_go_back_wish_new (now (self), g_file_peek_path (file)), (GDestroyNotify) ws_go_back_wish_free, NULL, self,
                 saved_cb, NULL, g_free);
}

static void
pocket_cb (WsGoBackPage *self)
{
  ws_desktop_save_file_async (window_of (self), _("Where the page for the phone is to lie"), _("To go back for.html"),
                              path_chosen_cb, g_object_ref (self));
}

/* --- The widget -------------------------------------------------------------------------------------------------- */

static void
ws_go_back_page_map (GtkWidget *widget)
{
  fill (WS_GO_BACK_PAGE (widget));
  GTK_WIDGET_CLASS (ws_go_back_page_parent_class)->map (widget);
}

static void
ws_go_back_page_dispose (GObject *object)
{
  WsGoBackPage *self = WS_GO_BACK_PAGE (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_go_back_page_parent_class)->dispose (object);
}

static void
ws_go_back_page_class_init (WsGoBackPageClass *class)
{
  G_OBJECT_CLASS (class)->dispose = ws_go_back_page_dispose;
  GTK_WIDGET_CLASS (class)->map = ws_go_back_page_map;
  signals[OPEN_FIND] = g_signal_new ("open-find", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                     G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
add_button (WsGoBackPage *self, const char *label, const char *tip, GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_set_tooltip_text (button, tip);
  g_signal_connect_object (button, "clicked", clicked, self, G_CONNECT_SWAPPED);
  ws_wrap_box_append (WS_WRAP_BOX (self->buttons), button);
}

static void
ws_go_back_page_init (WsGoBackPage *self)
{
  GtkWidget *clamp = adw_clamp_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_add_css_class (box, "column");
  adw_clamp_set_maximum_size (ADW_CLAMP (clamp), 880);
  adw_clamp_set_child (ADW_CLAMP (clamp), box);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), clamp);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
  self->intro = make_label ("", NULL);
  self->touch = make_label ("", "ws-open-two");
  self->keep = make_label ("", "ws-remark");
  self->buttons = ws_wrap_box_new ();
  self->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_list_box_set_selection_mode (self->list, GTK_SELECTION_NONE);
  gtk_widget_add_css_class (GTK_WIDGET (self->list), "ruled");
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (row_activated_cb), self, 0);
  gtk_box_append (GTK_BOX (box), self->intro);
  gtk_box_append (GTK_BOX (box), self->touch);
  gtk_box_append (GTK_BOX (box), self->buttons);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->list));
  gtk_box_append (GTK_BOX (box), self->keep);
}

GtkWidget *
ws_go_back_page_new (WsSession *session)
{
  WsGoBackPage *self = g_object_new (WS_TYPE_GO_BACK_PAGE, NULL);

  self->session = g_object_ref (session);
  add_button (self, _("_Print…"), _("The list on paper"), G_CALLBACK (print_cb));
  add_button (self, _("For the p_ocket…"), _("One page for the phone that needs no network"), G_CALLBACK (pocket_cb));
  gtk_label_set_text (GTK_LABEL (self->keep), ws_session_text (session, "go_back", "keep"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  ws_session_text (session, "go_back", "title"), -1);
  g_signal_connect_object (session, "changed", G_CALLBACK (ws_go_back_page_refresh), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
