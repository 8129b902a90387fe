/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the view says in words, on slips of paper that lie on the photo, and where everything is laid out. */
#include "ws-photo-view-private.h"

#include "ws-intl.h"

/* Paper slips that lie on the photo and say things; the colours are the theme's paper and ink. */
static const char style[] =
  "photoview { background-color: @view_bg_color; color: @view_fg_color; }"
  "photoview:focus-visible { outline: 2px dotted alpha(@view_fg_color, 0.7); outline-offset: -4px; }"
  "photoview > label.slip { background-color: @view_bg_color; color: @view_fg_color; padding: 4px 10px;"
  "                         border: 1px solid alpha(@view_fg_color, 0.6); }"
  "photoview > label.plain { padding: 12px; }";

/* --- Words ------------------------------------------------------------------------------------ */

/* What to do while an outline is begun or its points are changed; NULL otherwise. */
static char *
dup_line_text (WsPhotoView *self)
{
  const WsShape *outline = ws_photo_view_selected_outline (self);

  if (ws_photo_view_line_begun (self) && self->line.by_keys)
    return g_strdup (_("Arrows lead the pen, Enter sets a point, Enter again closes; Backspace takes one back"));
  if (ws_photo_view_line_begun (self))
    return g_strdup (_("Click on; the first point or Enter closes, Backspace takes one back, Escape gives up"));
  if (self->point >= 0 && outline != NULL)
    return g_strdup_printf (_("Point %d of %u: arrows move it, Tab goes on, Insert adds one, Delete removes it"),
                            self->point + 1, outline->n_points);
  return NULL;
}

static char *
dup_banner_text (WsPhotoView *self)
{
  char *line = dup_line_text (self);

  if (line != NULL)
    return line;
  if (self->has_draft && self->draft_by_keys)
    return g_strdup (_("Arrows move it, Ctrl+arrows size it, Enter sets it, Escape gives up"));
  if (!ws_photo_view_can_draw (self))
    return g_strdup ("");
  if (self->cover && ws_photo_view_draws_lines (self))
    return g_strdup (_("Covering: click round a face, a hand, a number plate or a sign, or press Enter"));
  if (self->cover)
    return g_strdup (_("Covering: drag over a face, a hand, a number plate or a sign, or press Enter"));
  if (self->tool == WS_PHOTO_VIEW_OUTLINE)
    return g_strdup_printf (_("Marking: %s — click point after point, draw round it, or press Enter"), self->armed);
  if (self->tool == WS_PHOTO_VIEW_EDGE)
    return g_strdup_printf (_("Marking: %s — click here and there on its edge, or press Enter"), self->armed);
  /* Translators: what the next mark will show: "Marking: stem base". */
  return g_strdup_printf (_("Marking: %s — drag over it, or press Enter"), self->armed);
}

static void
set_words (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_visible (label, text[0] != '\0');
}

void
ws_photo_view_update_words (WsPhotoView *self)
{
  gboolean bare = ws_photo_tiles_get_levels (self->tiles) == NULL;
  g_autofree char *banner = dup_banner_text (self);
  g_autofree char *status = ws_photo_view_load_dup_status (self);
  gboolean changed = g_strcmp0 (status, gtk_label_get_text (GTK_LABEL (self->notice))) != 0;

  set_words (self->banner, banner);
  set_words (self->notice, status);
  gtk_widget_remove_css_class (self->notice, bare ? "slip" : "plain");
  gtk_widget_add_css_class (self->notice, bare ? "plain" : "slip");
  if (changed)
    {
      gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, status, -1);
      g_object_notify_by_pspec (G_OBJECT (self), ws_photo_view_props[PROP_STATUS]);
    }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const char *
ws_photo_view_get_status (WsPhotoView *self)
{
  return gtk_label_get_text (GTK_LABEL (self->notice));
}

/* --- Layout ------------------------------------------------------------------------------ */

void
ws_photo_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  *minimum = 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 480 : 360;
}

/* A slip of paper in the middle of the line at @y, from above or, with @from_bottom, from below. */
static void
lay_slip (WsPhotoView *self, GtkWidget *slip, int width, double y, gboolean from_bottom)
{
  int natural, height, slip_width, room = MAX (width - 16, 1);

  if (!gtk_widget_get_visible (slip))
    return;
  gtk_widget_measure (slip, GTK_ORIENTATION_HORIZONTAL, -1, &slip_width, &natural, NULL, NULL);
  slip_width = MAX (MIN (natural, room), slip_width);
  gtk_widget_measure (slip, GTK_ORIENTATION_VERTICAL, slip_width, &height, NULL, NULL, NULL);
  gtk_widget_size_allocate (slip, &(GtkAllocation) { (width - slip_width) / 2, from_bottom ? y - height : y,
                                                     slip_width, height }, -1);
}

/* Of the point that the keys go to. */
static gboolean
get_point_bounds (WsPhotoView *self, WsRect *bounds)
{
  const WsShape *outline = ws_photo_view_selected_outline (self);

  if (self->point < 0 || outline == NULL)
    return FALSE;
  *bounds = (WsRect) { outline->points[self->point].x, outline->points[self->point].y, 0, 0 };
  return TRUE;
}

void
ws_photo_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  WsPhotoView *self = WS_PHOTO_VIEW (widget);
  double old_width = self->port.view_width, old_height = self->port.view_height;
  gboolean bare = ws_photo_tiles_get_levels (self->tiles) == NULL;
  WsRect bounds = self->draft;
  gboolean drawing = ws_photo_view_line_get_bounds (self, &bounds) || get_point_bounds (self, &bounds) || self->has_draft;
  WsRect draft = ws_photo_viewport_rect_to_view (&self->port, &bounds);
  /* The banner gives way to a mark that is drawn under it, and to a point. */
  gboolean low = drawing && draft.y < 64 && draft.y + draft.height < height - 64;

  ws_photo_viewport_set_view (&self->port, width, height, gtk_widget_get_scale_factor (widget));
  lay_slip (self, self->banner, width, low ? height - 8 : 8, low);
  lay_slip (self, self->notice, width, bare ? height / 2 + 24 : height - (low ? 56 : 8), TRUE);
  ws_photo_view_allocate_buttons (self);
  /* The first size decides which level is read; later ones when they have come to rest. */
  if (old_width <= 0 || old_height <= 0)
    ws_photo_view_load_level (self);
  else if (old_width != width || old_height != height)
    ws_photo_view_load_level_later (self);
}

static GtkWidget *
add_slip (WsPhotoView *self, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_widget_set_can_target (label, FALSE);
  gtk_widget_set_visible (label, FALSE);
  gtk_widget_add_css_class (label, css_class);
  gtk_widget_set_parent (label, GTK_WIDGET (self));
  return label;
}

static void
add_style (void)
{
  static gsize done;

  if (g_once_init_enter (&done))
    {
      g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

      gtk_css_provider_load_from_data (provider, style, -1);
      gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                                  GTK_STYLE_PROVIDER_PRIORITY_FALLBACK);
      g_once_init_leave (&done, 1);
    }
}

void
ws_photo_view_add_slips (WsPhotoView *self)
{
  add_style ();
  self->banner = add_slip (self, "slip");
  self->notice = add_slip (self, "plain");
}
