/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-import-page.h"

#include "ws-import-group-row.h"
#include "ws-intl.h"
#include "ws-wrap-box.h"

/* Milliseconds between two looks at the progress. */
#define LOOK_EVERY 100

struct _WsImportPage
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkStack *pages;               /* "reading", "preview", "nothing" */
  GtkLabel *reading_what, *outcome, *nothing;
  GtkProgressBar *bar;
  GtkSpinButton *gap, *distance;
  GtkBox *groups, *passed_list;
  GtkExpander *passed;
  GtkButton *make, *leave, *back;

  WsSession *session;
  GCancellable *cancellable;     /* while reading */
  WsProgressBoard *progress;
  guint look_source;
  GPtrArray *waiting;            /* of char **: paths to read afterwards */
  GHashTable *only;              /* ids of the photos that came in; NULL: all loose ones */
  guint n_known, n_passed;
  GPtrArray *old_finds, *shown_groups;   /* of the preview that is seen */
  guint serial;                  /* of the last wish for a preview */
  gboolean made;                 /* finds were made and are not loaded yet */
};

enum { FINISHED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsImportPage, ws_import_page, GTK_TYPE_WIDGET)

static void read_next (WsImportPage *self);

/* --- The preview ----------------------------------------------------------------------------------- */

static void
clear_box (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}

/* "12 finds, 3 photos stay loose" */
static void
say_outcome (WsImportPage *self, guint n_groups, guint n_loose)
{
  g_autofree char *finds = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u find", "%u finds", n_groups), n_groups);
  g_autofree char *loose = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u photo unsorted", "%u photos unsorted",
                                                         n_loose), n_loose);
  g_autofree char *both = n_loose > 0 ? g_strdup_printf ("%s, %s", finds, loose) : g_strdup (finds);
  g_autofree char *make = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "_Make %u find", "_Make %u finds", n_groups),
                                           n_groups);

  gtk_label_set_text (self->outcome, both);
  gtk_button_set_label (self->make, make);
  gtk_widget_set_sensitive (GTK_WIDGET (self->make), n_groups > 0);
}

static void
show_preview (WsImportPage *self, WsImportPreview *preview)
{
  GPtrArray *groups = preview->grouping->groups, *unsorted = preview->grouping->unsorted;
  gboolean was_shown = g_strcmp0 (gtk_stack_get_visible_child_name (self->pages), "preview") == 0;

  g_clear_pointer (&self->shown_groups, g_ptr_array_unref);
  g_clear_pointer (&self->old_finds, g_ptr_array_unref);
  self->shown_groups = g_ptr_array_ref (groups);
  self->old_finds = g_ptr_array_ref (preview->old_finds);
  clear_box (self->groups);
  for (guint i = 0; i < groups->len; i++)
    gtk_box_append (self->groups, ws_import_group_row_new (self->session, i + 1, g_ptr_array_index (groups, i),
                                                           g_ptr_array_index (preview->old_finds, i)));
  if (unsorted->len > 0)
    gtk_box_append (self->groups, ws_import_group_row_new (self->session, 0, unsorted, NULL));
  say_outcome (self, groups->len, unsorted->len);
  gtk_stack_set_visible_child_name (self->pages, "preview");
  if (!was_shown)
    gtk_widget_grab_focus (GTK_WIDGET (groups->len > 0 ? self->make : self->leave));
}

static void
show_nothing (WsImportPage *self)
{
  g_autofree char *text = NULL;

  if (self->n_known > 0)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "This photo is in a find already.",
                                         "All %u photos are in finds already.", self->n_known), self->n_known);
  else
    text = g_strdup (_("There are no photos here that could be read."));
  gtk_label_set_text (self->nothing, text);
  gtk_stack_set_visible_child_name (self->pages, "nothing");
  gtk_widget_grab_focus (GTK_WIDGET (self->back));
}

static void
grouped_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsImportPage *self = owner;
  WsImportPreview *preview = result;

  if (GPOINTER_TO_UINT (done_data) != self->serial || self->cancellable != NULL)
    return;
  if (error != NULL)
    {
      ws_session_report (self->session, error);
      g_signal_emit (self, signals[FINISHED], 0);
    }
  else if (preview->grouping->groups->len + preview->grouping->unsorted->len == 0)
    show_nothing (self);
  else
    show_preview (self, preview);
}

static void
regroup (WsImportPage *self)
{
  WsImportWish *wish = g_new0 (WsImportWish, 1);

  wish->only = self->only != NULL ? g_hash_table_ref (self->only) : NULL;
  wish->rule.gap_seconds = gtk_spin_button_get_value (self->gap) * 60;
  wish->rule.distance_m = gtk_spin_button_get_value (self->distance);
  ws_task_run (ws_session_get_desk (self->session), ws_import_work_group, wish, (GDestroyNotify) ws_import_wish_free,
               NULL, self, grouped_cb, GUINT_TO_POINTER (++self->serial), (GDestroyNotify) ws_import_preview_free);
}

static void
thresholds_cb (WsImportPage *self)
{
  if (self->session != NULL && g_strcmp0 (gtk_stack_get_visible_child_name (self->pages), "preview") == 0)
    regroup (self);
}

/* --- Reading ------------------------------------------------------------------------------------------ */

static gboolean
look_cb (gpointer data)
{
  WsImportPage *self = data;
  guint done, total;
  g_autofree char *what = ws_progress_board_look (self->progress, &done, &total);
  g_autofree char *name = g_path_get_basename (what);
  g_autofree char *text = total == 0 ? g_strdup (_("Looking for photos…"))
                                     : g_strdup_printf (_("%u of %u: %s"), done, total, name);

  gtk_label_set_text (self->reading_what, text);
  if (total > 0)
    gtk_progress_bar_set_fraction (self->bar, (double) done / total);
  else
    gtk_progress_bar_pulse (self->bar);
  return G_SOURCE_CONTINUE;
}

static void
add_passed_over (WsImportPage *self, GPtrArray *passed_over)
{
  g_autofree char *title = NULL;

  for (guint i = 0; i < passed_over->len; i++)
    {
      const WsPassedOver *passed = g_ptr_array_index (passed_over, i);
      g_autofree char *text = g_strdup_printf ("%s: %s", passed->path, passed->why);
      GtkWidget *label = gtk_label_new (text);

      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
      gtk_label_set_selectable (GTK_LABEL (label), TRUE);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_widget_add_css_class (label, "details");
      gtk_box_append (self->passed_list, label);
    }
  self->n_passed += passed_over->len;
  title = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u file was passed over", "%u files were passed over",
                                        self->n_passed), self->n_passed);
  gtk_expander_set_label (self->passed, title);
  gtk_widget_set_visible (GTK_WIDGET (self->passed), self->n_passed > 0);
}

static void
take_result (WsImportPage *self, const WsImportResult *result)
{
  if (self->only == NULL)
    self->only = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < result->added->len; i++)
    g_hash_table_add (self->only, g_strdup (((WsPhoto *) g_ptr_array_index (result->added, i))->id));
  for (guint i = 0; i < result->known->len; i++)
    g_hash_table_add (self->only, g_strdup (((WsPhoto *) g_ptr_array_index (result->known, i))->id));
  self->n_known += result->known->len;
  add_passed_over (self, result->passed_over);
  if (result->cancelled)
    ws_session_say (self->session, _("Reading was stopped. What was read until then is in the library."));
}

static void
read_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsImportPage *self = owner;

  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->progress, ws_progress_board_unref);
  ws_session_reload (self->session);
  if (error != NULL)
    ws_session_report (self->session, error);
  else
    take_result (self, result);
  if (self->waiting->len > 0)
    read_next (self);
  else if (self->only != NULL)
    regroup (self);
  else
    g_signal_emit (self, signals[FINISHED], 0);
}

static void
read_next (WsImportPage *self)
{
  WsImportReading *reading = g_new0 (WsImportReading, 1);

  reading->paths = g_ptr_array_steal_index (self->waiting, 0);
  self->progress = ws_progress_board_new ();
  reading->progress = ws_progress_board_ref (self->progress);
  self->cancellable = g_cancellable_new ();
  gtk_stack_set_visible_child_name (self->pages, "reading");
  look_cb (self);
  self->look_source = g_timeout_add (LOOK_EVERY, look_cb, self);
  ws_task_run (ws_session_get_desk (self->session), ws_import_work_read, reading,
               (GDestroyNotify) ws_import_reading_free, self->cancellable, self, read_cb, NULL,
               (GDestroyNotify) ws_import_result_free);
}

/* Forgets what an earlier import left on the page. */
static void
begin (WsImportPage *self)
{
  g_clear_pointer (&self->only, g_hash_table_unref);
  self->n_known = self->n_passed = 0;
  clear_box (self->passed_list);
  gtk_widget_set_visible (GTK_WIDGET (self->passed), FALSE);
  gtk_spin_button_set_value (self->gap, WS_GROUPING_GAP / 60);
  gtk_spin_button_set_value (self->distance, WS_GROUPING_DISTANCE);
}

/* --- Making finds ------------------------------------------------------------------------------------- */

static void
made_cb (gpointer owner, gpointer result, GError *error, gpointer done_data)
{
  WsImportPage *self = owner;
  g_autofree char *text = NULL;

  gtk_widget_set_sensitive (GTK_WIDGET (self->make), TRUE);
  if (error != NULL || result == NULL)
    return;
  text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u find was made.", "%u finds were made.", *(guint *) result),
                          *(guint *) result);
  ws_session_say (self->session, text);
  /* The page stays until the new finds are loaded, so that nobody sees the book without them. */
  self->made = TRUE;
}

static void
session_changed_cb (WsImportPage *self)
{
  if (!self->made)
    return;
  self->made = FALSE;
  g_signal_emit (self, signals[FINISHED], 0);
}

static void
make_cb (WsImportPage *self)
{
  WsImportMaking *making = g_new0 (WsImportMaking, 1);
  GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (self->groups));

  making->groups = g_ptr_array_ref (self->shown_groups);
  making->old_finds = g_ptr_array_ref (self->old_finds);
  making->fates = g_new0 (WsImportFate, MAX (1, self->shown_groups->len));
  for (guint i = 0; i < self->shown_groups->len; i++, row = gtk_widget_get_next_sibling (row))
    making->fates[i] = ws_import_group_row_get_fate (WS_IMPORT_GROUP_ROW (row));
  gtk_widget_set_sensitive (GTK_WIDGET (self->make), FALSE);
  ws_session_edit (self->session, NULL, ws_import_work_make, making, (GDestroyNotify) ws_import_making_free,
                   self, made_cb, NULL, g_free);
}

static void
leave_cb (WsImportPage *self)
{
  g_signal_emit (self, signals[FINISHED], 0);
}

/* --- The widget ----------------------------------------------------------------------------------------- */

static void
ws_import_page_dispose (GObject *object)
{
  WsImportPage *self = WS_IMPORT_PAGE (object);

  g_clear_handle_id (&self->look_source, g_source_remove);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->progress, ws_progress_board_unref);
  g_clear_pointer (&self->waiting, g_ptr_array_unref);
  g_clear_pointer (&self->only, g_hash_table_unref);
  g_clear_pointer (&self->shown_groups, g_ptr_array_unref);
  g_clear_pointer (&self->old_finds, g_ptr_array_unref);
  g_clear_object (&self->session);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_import_page_parent_class)->dispose (object);
}

static void
ws_import_page_class_init (WsImportPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_import_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  g_type_ensure (WS_TYPE_WRAP_BOX);
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-import-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, box);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, pages);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, reading_what);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, bar);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, outcome);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, nothing);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, gap);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, distance);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, groups);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, passed);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, passed_list);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, make);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, leave);
  gtk_widget_class_bind_template_child (widget_class, WsImportPage, back);
  gtk_widget_class_bind_template_callback (widget_class, thresholds_cb);
  gtk_widget_class_bind_template_callback (widget_class, make_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
  gtk_widget_class_bind_template_callback (widget_class, ws_import_page_stop);
  signals[FINISHED] = g_signal_new ("finished", WS_TYPE_IMPORT_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                    G_TYPE_NONE, 0);
}

static void
ws_import_page_init (WsImportPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->waiting = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
}

GtkWidget *
ws_import_page_new (WsSession *session)
{
  WsImportPage *self = g_object_new (WS_TYPE_IMPORT_PAGE, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
ws_import_page_read (WsImportPage *self, const char *const *paths)
{
  g_return_if_fail (WS_IS_IMPORT_PAGE (self));
  g_ptr_array_add (self->waiting, g_strdupv ((char **) paths));
  if (self->cancellable != NULL)
    return;
  if (g_strcmp0 (gtk_stack_get_visible_child_name (self->pages), "preview") != 0)
    begin (self);
  read_next (self);
}

void
ws_import_page_sort_loose (WsImportPage *self)
{
  g_return_if_fail (WS_IS_IMPORT_PAGE (self));
  begin (self);
  regroup (self);
}

gboolean
ws_import_page_is_reading (WsImportPage *self)
{
  g_return_val_if_fail (WS_IS_IMPORT_PAGE (self), FALSE);
  return self->cancellable != NULL;
}

void
ws_import_page_stop (WsImportPage *self)
{
  g_return_if_fail (WS_IS_IMPORT_PAGE (self));
  g_ptr_array_set_size (self->waiting, 0);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
}
