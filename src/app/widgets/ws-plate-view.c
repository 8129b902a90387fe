/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-view.h"

#include "ws-desktop-color.h"

/* A plate for reading is as tall as a sheet of paper would be; a wide one lies on its side. */
#define UPRIGHT 1.3
#define SIDEWAYS 0.66
#define SIDEWAYS_FROM 1050     /* px */
#define NARROW 480             /* px: less margin, larger text */

struct _WsPlateView
{
  GtkWidget parent_instance;

  WsPlate *plate;
  GPtrArray *buttons;          /* GtkButton, one for each part; children of ours */
  int laid_out;                /* width for which the plate is laid out; 0: none */
  char *swap_hint, *mark_hint;
};

enum { PART_ACTIVATED, OTHER_ASKED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsPlateView, ws_plate_view, GTK_TYPE_WIDGET)

/* --- Layout --------------------------------------------------------------------------------------- */

/* Pixels of the style's text. */
static double
text_size (GtkWidget *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  const PangoFontDescription *font = pango_context_get_font_description (context);
  double size = (double) pango_font_description_get_size (font) / PANGO_SCALE;
  double dpi = pango_cairo_context_get_resolution (context);

  if (pango_font_description_get_size_is_absolute (font))
    return size;
  return size * (dpi > 0 ? dpi : 96) / 72;
}

static void
lay_out (WsPlateView *self, int width)
{
  gboolean narrow = width < NARROW;
  WsPlateSheet sheet = { .width = width, .may_grow = TRUE, .em = (narrow ? 0.92 : 0.84) * text_size (GTK_WIDGET (self)) };

  if (self->plate == NULL || width == self->laid_out)
    return;
  sheet.height = width * (width >= SIDEWAYS_FROM ? SIDEWAYS : narrow ? 1 : UPRIGHT);
  sheet.margin = narrow ? 12 : 24;
  self->laid_out = ws_plate_lay_out (self->plate, &sheet) ? width : 0;
}

static GtkSizeRequestMode
ws_plate_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
ws_plate_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  WsPlateView *self = WS_PLATE_VIEW (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = 240;
      *natural = 620;
      return;
    }
  *minimum = *natural = 0;
  if (self->plate == NULL)
    return;
  lay_out (self, MAX (for_size, 240));
  if (self->laid_out > 0)
    *minimum = *natural = (int) ws_plate_get_height (self->plate) + 1;
}

static void
ws_plate_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  WsPlateView *self = WS_PLATE_VIEW (widget);

  lay_out (self, MAX (width, 240));
  for (guint i = 0; i < self->buttons->len; i++)
    {
      WsPlateBox box = ws_plate_get_box (self->plate, i);
      GtkAllocation place = { (int) box.x, (int) box.y, MAX ((int) box.width + 1, 1), MAX ((int) box.height + 1, 1) };

      gtk_widget_size_allocate (g_ptr_array_index (self->buttons, i), &place, -1);
    }
}

static void
set_colour (double to[3], const GdkRGBA *from)
{
  to[0] = from->red;
  to[1] = from->green;
  to[2] = from->blue;
}

static void
ws_plate_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  WsPlateView *self = WS_PLATE_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  GdkRGBA ink, paper = { 1, 1, 1, 1 };
  WsPlateInk colours;
  cairo_t *cr;

  if (self->plate != NULL && self->laid_out > 0 && width > 0 && height > 0)
    {
      ws_desktop_get_color (widget, &ink);
      ws_desktop_lookup_color (widget, "window_bg_color", &paper);
      set_colour (colours.ink, &ink);
      set_colour (colours.paper, &paper);
      cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
      ws_plate_draw (self->plate, cr, &colours);
      cairo_destroy (cr);
    }
  /* Focus rings. */
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_widget_snapshot_child (widget, g_ptr_array_index (self->buttons, i), snapshot);
}

/* --- Parts ------------------------------------------------------------------------------------------- */

static guint
index_of (WsPlateView *self, gpointer button)
{
  guint index = 0;

  (void) g_ptr_array_find (self->buttons, button, &index);
  return index;
}

static void
clicked_cb (GtkButton *button, WsPlateView *self)
{
  g_signal_emit (self, signals[PART_ACTIVATED], 0, index_of (self, button));
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, WsPlateView *self)
{
  GtkWidget *button = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));
  guint part = index_of (self, button);

  if ((keyval != GDK_KEY_Left && keyval != GDK_KEY_Right) || ws_plate_get_n_marks (self->plate, part) < 2)
    return FALSE;
  g_signal_emit (self, signals[OTHER_ASKED], 0, part, keyval == GDK_KEY_Right ? 1 : -1);
  return TRUE;
}

static void
name_button (WsPlateView *self, GtkWidget *button, guint part)
{
  g_autofree char *label = ws_plate_dup_label (self->plate, part), *tip = NULL;
  const char *hint = ws_plate_get_mark (self->plate, part) == NULL ? self->mark_hint
                     : ws_plate_get_n_marks (self->plate, part) > 1 ? self->swap_hint : NULL;

  tip = hint != NULL ? g_strdup_printf ("%s. %s", label, hint) : g_strdup (label);
  gtk_widget_set_tooltip_text (button, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  if (hint != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, hint, -1);
}

static void
add_button (WsPlateView *self, guint part)
{
  GtkWidget *button = gtk_button_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_add_css_class (button, "plate-part");
  gtk_widget_set_focus_on_click (button, FALSE);
  gtk_widget_set_cursor_from_name (button, "pointer");
  g_signal_connect (button, "clicked", G_CALLBACK (clicked_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (button, keys);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  g_ptr_array_add (self->buttons, button);
  name_button (self, button, part);
}

static char *
focused_view (WsPlateView *self)
{
  for (guint i = 0; self->plate != NULL && i < self->buttons->len; i++)
    if (gtk_widget_has_focus (g_ptr_array_index (self->buttons, i)))
      return g_strdup (ws_plate_get_view (self->plate, i));
  return NULL;
}

static void
clear_buttons (WsPlateView *self)
{
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_widget_unparent (g_ptr_array_index (self->buttons, i));
  g_ptr_array_set_size (self->buttons, 0);
}

void
ws_plate_view_take_plate (WsPlateView *self, WsPlate *plate)
{
  g_autofree char *focused = focused_view (self);

  clear_buttons (self);
  ws_plate_free (self->plate);
  self->plate = plate;
  self->laid_out = 0;
  for (guint i = 0; plate != NULL && i < ws_plate_get_n_parts (plate); i++)
    {
      add_button (self, i);
      if (g_strcmp0 (ws_plate_get_view (plate, i), focused) == 0)
        gtk_widget_grab_focus (g_ptr_array_index (self->buttons, i));
    }
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

WsPlate *
ws_plate_view_get_plate (WsPlateView *self)
{
  return self->plate;
}

void
ws_plate_view_set_crop (WsPlateView *self, guint part, cairo_surface_t *crop)
{
  ws_plate_set_crop (self->plate, part, crop);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
ws_plate_view_set_hints (WsPlateView *self, const char *swap, const char *mark)
{
  g_free (self->swap_hint);
  g_free (self->mark_hint);
  self->swap_hint = g_strdup (swap);
  self->mark_hint = g_strdup (mark);
}

/* --- The object --------------------------------------------------------------------------------------- */

static void
ws_plate_view_dispose (GObject *object)
{
  WsPlateView *self = WS_PLATE_VIEW (object);

  clear_buttons (self);
  g_clear_pointer (&self->plate, ws_plate_free);
  G_OBJECT_CLASS (ws_plate_view_parent_class)->dispose (object);
}

static void
ws_plate_view_finalize (GObject *object)
{
  WsPlateView *self = WS_PLATE_VIEW (object);

  g_ptr_array_unref (self->buttons);
  g_free (self->swap_hint);
  g_free (self->mark_hint);
  G_OBJECT_CLASS (ws_plate_view_parent_class)->finalize (object);
}

static void
ws_plate_view_class_init (WsPlateViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = ws_plate_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = ws_plate_view_finalize;
  widget_class->get_request_mode = ws_plate_view_get_request_mode;
  widget_class->measure = ws_plate_view_measure;
  widget_class->size_allocate = ws_plate_view_size_allocate;
  widget_class->snapshot = ws_plate_view_snapshot;
  gtk_widget_class_set_css_name (widget_class, "plate");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[PART_ACTIVATED] = g_signal_new ("part-activated", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[OTHER_ASKED] = g_signal_new ("other-asked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_INT);
}

static void
ws_plate_view_init (WsPlateView *self)
{
  self->buttons = g_ptr_array_new ();
}

GtkWidget *
ws_plate_view_new (void)
{
  return g_object_new (WS_TYPE_PLATE_VIEW, NULL);
}
