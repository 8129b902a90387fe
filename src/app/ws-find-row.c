/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-find-row.h"

#include <string.h>

#include "ws-intl.h"
#include "ws-print.h"
#include "ws-small-figure.h"
#include "ws-words.h"

/* The one print that is pasted in at the end of a line, where there is room for it; px. */
#define PRINT_SIZE 64
#define PRINT_FROM_WIDTH 520

struct _WsFindRow
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkWidget *print;
  GtkLabel *number;
  WsSmallFigure *figure;
  GtkLabel *name, *details, *lacking, *excuse;

  WsSession *session;
  WsFindItem *item;
};

enum { OPEN, TAKE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFindRow, ws_find_row, GTK_TYPE_WIDGET)

static void
set_text (GtkLabel *label, const char *text)
{
  gtk_label_set_text (label, text);
  gtk_widget_set_visible (GTK_WIDGET (label), *text != '\0');
}

/* The base stands first in the words of what is missing; it is set in bold, as far as the first stop. */
static void
set_lacking (WsFindRow *self, const char *text, gboolean base_missing)
{
  PangoAttrList *attributes = NULL;
  const char *stop = strstr (text, " · ");

  if (base_missing)
    {
      PangoAttribute *bold = pango_attr_weight_new (PANGO_WEIGHT_BOLD);

      bold->end_index = stop != NULL ? (guint) (stop - text) : G_MAXUINT;
      attributes = pango_attr_list_new ();
      pango_attr_list_insert (attributes, bold);
    }
  set_text (self->lacking, text);
  gtk_label_set_attributes (self->lacking, attributes);
  g_clear_pointer (&attributes, pango_attr_list_unref);
}

/* Why something cannot be had, as the finder gave it; the base first. */
static char *
dup_excuse (WsFindRow *self)
{
  const WsEvidence *evidence = ws_find_item_get_evidence (self->item);

  for (guint i = 0; i < evidence->lines->len; i++)
    {
      const WsEvidenceLine *line = g_ptr_array_index (evidence->lines, i);

      if (line->state != WS_EVIDENCE_SHOWN && line->excuse != NULL && *line->excuse != '\0')
        /* Translators: the name of a view, then the reason the finder gave. */
        return g_strdup_printf (_("%s cannot be had: %s"), ws_session_text (self->session, "view", line->view->id),
                                line->excuse);
    }
  return g_strdup ("");
}

/* The photo by which the find is known again: in place, else from above, else the first. */
static const WsPhoto *
choose_photo (const WsFind *find)
{
  static const char *const views[] = { "v_insitu", "v_top" };
  const WsPhoto *photo = NULL;

  for (gsize v = 0; v < G_N_ELEMENTS (views); v++)
    for (guint i = 0; photo == NULL && i < find->marks->len; i++)
      if (ws_mark_serves (g_ptr_array_index (find->marks, i), views[v]))
        photo = ws_find_get_photo (find, ((WsMark *) g_ptr_array_index (find->marks, i))->photo_id);
  for (guint i = 0; (photo == NULL || photo->set_aside) && i < find->photos->len; i++)
    photo = ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;
  return photo;
}

static void
show_print (WsFindRow *self, const WsFind *find)
{
  const WsPhoto *photo = choose_photo (find);

  gtk_widget_set_visible (self->print, photo != NULL);
  if (photo != NULL)
    ws_print_show (WS_THUMBNAIL (self->print), self->session, photo);
}

static void
fill (WsFindRow *self)
{
  const WsFind *find = ws_find_item_get_find (self->item);
  const WsEvidence *evidence = ws_find_item_get_evidence (self->item);
  WsDesk *desk = ws_session_get_desk (self->session);
  gboolean named = *find->field_name != '\0';
  g_autofree char *details = ws_words_find_details (find);
  g_autofree char *lacking = ws_evidence_dup_summary (evidence, desk->knowledge, desk->language);
  g_autofree char *excuse = dup_excuse (self);

  gtk_label_set_text (self->number, find->number);
  gtk_label_set_text (self->name, named ? find->field_name : _("no field name yet"));
  gtk_widget_set_css_classes (GTK_WIDGET (self->name),
                              (const char *[]) { "field-name", named ? NULL : "unsaid", NULL });
  set_text (self->details, details);
  /* A line that lacks nothing must not read as a verdict. */
  set_lacking (self, lacking[0] != '\0' ? lacking : ws_session_text (self->session, "caution", "figure_ink"),
               evidence->base_shown == 0);
  set_text (self->excuse, excuse);
  ws_small_figure_show (self->figure, self->session, self->item);
  show_print (self, find);
}

/* --- Room: the print only where the words do not need it ----------------------------------------- */

static int
print_width (WsFindRow *self, int width)
{
  return self->print != NULL && gtk_widget_get_visible (self->print) && width >= PRINT_FROM_WIDTH ? PRINT_SIZE + 16 : 0;
}

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  WsFindRow *self = WS_FIND_ROW (widget);

  if (orientation == GTK_ORIENTATION_VERTICAL && for_size > 0)
    for_size -= print_width (self, for_size);
  gtk_widget_measure (self->box, orientation, for_size, minimum, natural, NULL, NULL);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  WsFindRow *self = WS_FIND_ROW (widget);
  int print = print_width (self, width);
  gboolean from_right = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;

  gtk_widget_size_allocate (self->box, &(GtkAllocation) { from_right ? print : 0, 0, width - print, height }, -1);
  if (self->print == NULL)
    return;
  gtk_widget_set_child_visible (self->print, print > 0);
  if (print > 0)
    gtk_widget_size_allocate (self->print,
                              &(GtkAllocation) { from_right ? 8 : width - print + 8, 0, print - 16, height }, -1);
}

static GtkSizeRequestMode
get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
clicked_cb (WsFindRow *self, int n_press, double x, double y, GtkGesture *gesture)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (self->item == NULL || (state & gtk_accelerator_get_default_mod_mask ()) != 0)
    return;
  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
  g_signal_emit (self, signals[gtk_widget_get_parent (GTK_WIDGET (self->number))
                               == gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture)) ? TAKE : OPEN], 0);
}

static void
add_click (WsFindRow *self, GtkWidget *widget)
{
  GtkGesture *click = gtk_gesture_click_new ();

  g_signal_connect_object (click, "released", G_CALLBACK (clicked_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
}

static void
ws_find_row_dispose (GObject *object)
{
  WsFindRow *self = WS_FIND_ROW (object);

  ws_find_row_set_item (self, NULL);
  g_clear_object (&self->session);
  g_clear_pointer (&self->print, gtk_widget_unparent);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (ws_find_row_parent_class)->dispose (object);
}

static void
ws_find_row_class_init (WsFindRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ws_find_row_dispose;
  g_type_ensure (WS_TYPE_SMALL_FIGURE);
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
  widget_class->get_request_mode = get_request_mode;
  gtk_widget_class_set_template_from_resource (widget_class, "/page/wholestem/ui/ws-find-row.ui");
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, box);
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, number);
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, figure);
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, name);
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, details);
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, lacking);
  gtk_widget_class_bind_template_child (widget_class, WsFindRow, excuse);
  signals[OPEN] = g_signal_new ("open", WS_TYPE_FIND_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TAKE] = g_signal_new ("take", WS_TYPE_FIND_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
ws_find_row_init (WsFindRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  add_click (self, self->box);
  add_click (self, gtk_widget_get_parent (GTK_WIDGET (self->number)));
}

GtkWidget *
ws_find_row_new (WsSession *session)
{
  WsFindRow *self = g_object_new (WS_TYPE_FIND_ROW, NULL);

  self->session = g_object_ref (session);
  self->print = ws_print_new (session, NULL, PRINT_SIZE);
  gtk_widget_set_parent (self->print, GTK_WIDGET (self));
  add_click (self, self->print);
  return GTK_WIDGET (self);
}

void
ws_find_row_set_item (WsFindRow *self, WsFindItem *item)
{
  g_return_if_fail (WS_IS_FIND_ROW (self));
  if (self->item == item)
    return;
  if (self->item != NULL)
    g_signal_handlers_disconnect_by_data (self->item, self);
  g_set_object (&self->item, item);
  if (item == NULL)
    return;
  g_signal_connect_object (item, "changed", G_CALLBACK (fill), self, G_CONNECT_SWAPPED);
  fill (self);
}

WsFindItem *
ws_find_row_get_item (WsFindRow *self)
{
  g_return_val_if_fail (WS_IS_FIND_ROW (self), NULL);
  return self->item;
}

char *
ws_find_row_dup_description (WsFindRow *self)
{
  GtkLabel *const labels[] = { self->number, self->name, self->details, self->lacking, self->excuse };
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (labels); i++)
    if (gtk_widget_get_visible (GTK_WIDGET (labels[i])))
      g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", gtk_label_get_text (labels[i]));
  return g_string_free (text, FALSE);
}
