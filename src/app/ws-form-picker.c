/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-form-picker.h"

#include "ws-desktop-color.h"
#include "ws-intl.h"

struct _WsFormPicker
{
  GtkWidget parent_instance;

  GtkWidget *button;      /* GtkMenuButton */
  GtkWidget *label;
  GtkWidget *flow;        /* GtkFlowBox in the popover, filled when first opened */
  WsSession *session;
};

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsFormPicker, ws_form_picker, GTK_TYPE_WIDGET)

static void
activated_cb (GtkFlowBox *flow, GtkFlowBoxChild *child, WsFormPicker *self)
{
  GPtrArray *forms = ws_knowledge_get_growth_forms (ws_session_get_knowledge (self->session));
  const WsGrowthForm *form = g_ptr_array_index (forms, gtk_flow_box_child_get_index (child));

  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->button));
  g_signal_emit (self, signals[CHOSEN], 0, form->id);
}

static void
draw_figure (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer figure)
{
  WsFigureLook look = { .base = "" };
  GdkRGBA ink;

  ws_desktop_get_color (GTK_WIDGET (area), &ink);
  look.ink[0] = ink.red;
  look.ink[1] = ink.green;
  look.ink[2] = ink.blue;
  /* The paper only fills what lies in front: the opposite of the ink does. */
  for (guint i = 0; i < 3; i++)
    look.paper[i] = ink.red + ink.green + ink.blue > 1.5 ? 0.12 : 0.98;
  ws_figure_draw (figure, cr, 0, 0, width, height, &look);
}

static GtkWidget *
form_child (WsFormPicker *self, const WsGrowthForm *form)
{
  GtkWidget *child = gtk_flow_box_child_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *image = gtk_drawing_area_new ();
  WsFigure *figure = ws_session_get_figure (self->session, form->id);
  GtkWidget *label = gtk_label_new (ws_session_text (self->session, "growth_form", form->id));

  if (figure != NULL)
    gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (image), draw_figure, ws_figure_ref (figure),
                                    (GDestroyNotify) ws_figure_unref);
  gtk_widget_set_size_request (image, 64, 72);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 14);
  gtk_box_append (GTK_BOX (box), image);
  gtk_box_append (GTK_BOX (box), label);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  ws_session_text (self->session, "growth_form", form->id), -1);
  return child;
}

/* The drawings are made when somebody wants to see them. */
static void
fill_cb (GtkWidget *popover, WsFormPicker *self)
{
  GPtrArray *forms = ws_knowledge_get_growth_forms (ws_session_get_knowledge (self->session));

  if (gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (self->flow), 0) != NULL)
    return;
  for (guint i = 0; i < forms->len; i++)
    gtk_flow_box_append (GTK_FLOW_BOX (self->flow), form_child (self, g_ptr_array_index (forms, i)));
}

static void
ws_form_picker_dispose (GObject *object)
{
  WsFormPicker *self = WS_FORM_PICKER (object);

  g_clear_pointer (&self->button, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_form_picker_parent_class)->dispose (object);
}

static void
ws_form_picker_class_init (WsFormPickerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_form_picker_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
make_popover (WsFormPicker *self)
{
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->flow = gtk_flow_box_new ();
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (self->flow), 2);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (self->flow), 4);
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (self->flow), GTK_SELECTION_NONE);
  g_signal_connect (self->flow, "child-activated", G_CALLBACK (activated_cb), self);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->flow);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller), 520);
  gtk_popover_set_child (GTK_POPOVER (popover), scroller);
  g_signal_connect (popover, "show", G_CALLBACK (fill_cb), self);
  return popover;
}

static void
ws_form_picker_init (WsFormPicker *self)
{
  self->button = gtk_menu_button_new ();
  self->label = gtk_label_new (NULL);
  gtk_label_set_ellipsize (GTK_LABEL (self->label), PANGO_ELLIPSIZE_END);
  gtk_menu_button_set_child (GTK_MENU_BUTTON (self->button), self->label);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), make_popover (self));
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
}

GtkWidget *
ws_form_picker_new (WsSession *session)
{
  WsFormPicker *self = g_object_new (WS_TYPE_FORM_PICKER, NULL);

  self->session = g_object_ref (session);
  ws_form_picker_set_form (self, "", FALSE);
  return GTK_WIDGET (self);
}

void
ws_form_picker_set_form (WsFormPicker *self, const char *growth_form, gboolean sure)
{
  g_autofree char *text = growth_form[0] == '\0'
    ? g_strdup (_("Growth form not noted: choose a drawing"))
    : g_strdup_printf (sure ? _("%s") : _("%s (unsure)"), ws_session_text (self->session, "growth_form", growth_form));

  gtk_label_set_label (GTK_LABEL (self->label), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

void
ws_form_picker_open (WsFormPicker *self)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (self->button));
}
