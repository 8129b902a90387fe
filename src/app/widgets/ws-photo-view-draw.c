/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing: the photo's tiles, then its marks as ink lines with a light edge, which shows on any photo, and small
 * paper labels with their letters. Ink and paper of what lies on the photo are the same in both styles, since the
 * photo is. */
#include "ws-photo-view-private.h"

#include <math.h>

#define INK 0.13, 0.11, 0.09
#define PAPER 0.98, 0.96, 0.91
#define LABEL_PAD 4.0
#define HANDLE_SIZE 8.0
#define HATCH_STEP 7.0
/* Points of an outline closer than this, widget px, are drawn small. */
#define CROWDED 14.0

/* A context for drawing in @place and @around it, or NULL where nothing of it is in @view: a mark may be larger than
 * any surface when the photo is zoomed. */
static cairo_t *
begin_cairo (GtkSnapshot *snapshot, const WsRect *place, double around, const WsRect *view)
{
  graphene_rect_t bounds, seen;

  graphene_rect_init (&bounds, floor (place->x - around), floor (place->y - around),
                      ceil (place->width + 2 * around) + 1, ceil (place->height + 2 * around) + 1);
  graphene_rect_init (&seen, view->x, view->y, view->width, view->height);
  if (!graphene_rect_intersection (&bounds, &seen, &bounds))
    return NULL;
  return gtk_snapshot_append_cairo (snapshot, &bounds);
}

/* --- Lines -------------------------------------------------------------------------------- */

/* The shape's path in the widget; @place: its bounds there. */
static void
trace (cairo_t *cr, const WsShape *shape, const WsRect *place)
{
  const WsRect *b = &shape->bounds;

  cairo_new_path (cr);
  switch (shape->kind)
    {
    case WS_SHAPE_OVAL:
      cairo_save (cr);
      cairo_translate (cr, place->x + place->width / 2, place->y + place->height / 2);
      cairo_scale (cr, MAX (place->width, 0.01) / 2, MAX (place->height, 0.01) / 2);
      cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
      cairo_close_path (cr);
      cairo_restore (cr);
      break;
    case WS_SHAPE_OUTLINE:
      for (guint i = 0; i < shape->n_points; i++)
        cairo_line_to (cr, place->x + (shape->points[i].x - b->x) / b->width * place->width,
                       place->y + (shape->points[i].y - b->y) / b->height * place->height);
      cairo_close_path (cr);
      break;
    case WS_SHAPE_BOX:
    default:
      cairo_rectangle (cr, place->x, place->y, place->width, place->height);
      break;
    }
}

/* Dark ink on a light edge, along the current path. */
static void
ink (cairo_t *cr, double width, gboolean dashed)
{
  const double dashes[] = { 7, 5 };

  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_source_rgba (cr, PAPER, 0.85);
  cairo_set_line_width (cr, width + 2);
  cairo_stroke_preserve (cr);
  if (dashed)
    cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0);
  cairo_set_source_rgb (cr, INK);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
}

/* The block that is painted over in copies: paper with slanting lines, so that it is told from the photo. */
static void
hatch (cairo_t *cr, const WsRect *place, const WsRect *view)
{
  double left = MAX (place->x, view->x), right = MIN (place->x + place->width, view->x + view->width);
  double top = MAX (place->y, view->y), bottom = MIN (place->y + place->height, view->y + view->height);
  double slant = bottom - top;

  cairo_save (cr);
  cairo_clip_preserve (cr);
  cairo_set_source_rgb (cr, 0.62, 0.59, 0.53);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, INK);
  cairo_set_line_width (cr, 1);
  /* Lines lie at whole steps of the widget, so that neighbouring blocks hatch alike. */
  for (double x = floor ((left - slant) / HATCH_STEP) * HATCH_STEP; x < right; x += HATCH_STEP)
    {
      cairo_move_to (cr, x, bottom);
      cairo_line_to (cr, x + slant, top);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_pin (cairo_t *cr, double x, double y, double size, gboolean filled)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, size / 2, 0, 2 * G_PI);
  if (filled)
    cairo_set_source_rgb (cr, INK);
  else
    cairo_set_source_rgb (cr, PAPER);
  cairo_fill_preserve (cr);
  if (filled)
    cairo_set_source_rgb (cr, PAPER);
  else
    cairo_set_source_rgb (cr, INK);
  cairo_set_line_width (cr, 1.2);
  cairo_stroke (cr);
}

/* The points of an outline: pins where there is room for them, else dots. */
static void
draw_points (WsPhotoView *self, cairo_t *cr, const WsShape *shape)
{
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &shape->bounds);
  gboolean crowded = (place.width + place.height) * 2 / shape->n_points < CROWDED;

  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < shape->n_points; i++)
      {
        WsPoint at = ws_photo_viewport_to_view (&self->port, shape->points[i].x, shape->points[i].y);

        /* The one that the keys go to lies above all others. */
        if ((self->point == (int) i) != (pass == 1))
          continue;
        draw_pin (cr, at.x, at.y, pass == 1 ? HANDLE_SIZE + 3 : crowded ? HANDLE_SIZE / 2 : HANDLE_SIZE - 1, pass == 1);
      }
}

/* What the pointer can take hold of: pins, and for ovals the line they stand on. */
static void
draw_handles (cairo_t *cr, const WsShape *shape, const WsRect *place)
{
  const double dots[] = { 1, 3 };

  if (shape->kind != WS_SHAPE_BOX)
    {
      cairo_rectangle (cr, place->x, place->y, place->width, place->height);
      cairo_set_source_rgb (cr, PAPER);
      cairo_set_line_width (cr, 1);
      cairo_stroke_preserve (cr);
      cairo_set_dash (cr, dots, G_N_ELEMENTS (dots), 0);
      cairo_set_source_rgb (cr, INK);
      cairo_stroke (cr);
      cairo_set_dash (cr, NULL, 0, 0);
    }
  for (int i = 0; i < 9; i++)
    {
      double x = place->x + place->width * (i % 3) / 2, y = place->y + place->height * (i / 3) / 2;

      if (i == 4)
        continue;
      draw_pin (cr, x, y, HANDLE_SIZE, FALSE);
    }
}

static gboolean
is_selected (WsPhotoView *self, const WsPhotoViewMark *mark)
{
  return g_strcmp0 (self->selected, mark->id) == 0;
}

static void
draw_mark (WsPhotoView *self, GtkSnapshot *snapshot, const WsPhotoViewMark *mark, const WsRect *view)
{
  const WsShape *shape = ws_photo_view_mark_shape (self, mark);
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &shape->bounds);
  cairo_t *cr = begin_cairo (snapshot, &place, HANDLE_SIZE, view);

  if (cr == NULL)
    return;
  trace (cr, shape, &place);
  if (mark->state == WS_PHOTO_VIEW_MARK_COVER)
    {
      hatch (cr, &place, view);
      trace (cr, shape, &place);
    }
  ink (cr, mark->armed || is_selected (self, mark) ? 2.2 : 1.3, mark->state == WS_PHOTO_VIEW_MARK_WEAK);
  if (is_selected (self, mark) && shape->kind == WS_SHAPE_OUTLINE)
    draw_points (self, cr, shape);
  else if (is_selected (self, mark))
    draw_handles (cr, shape, &place);
  cairo_destroy (cr);
}

static void
draw_draft (WsPhotoView *self, GtkSnapshot *snapshot, const WsRect *view)
{
  WsShape shape = { .kind = self->tool == WS_PHOTO_VIEW_OVAL ? WS_SHAPE_OVAL : WS_SHAPE_BOX, .bounds = self->draft };
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &self->draft);
  cairo_t *cr = begin_cairo (snapshot, &place, HANDLE_SIZE, view);

  if (cr == NULL)
    return;
  trace (cr, &shape, &place);
  ink (cr, 2.2, FALSE);
  cairo_destroy (cr);
}

/* --- An outline that is begun ------------------------------------------------------------ */

static void
trace_leg (WsPhotoView *self, cairo_t *cr, const GArray *leg)
{
  for (guint i = 0; i < leg->len; i++)
    {
      const WsPoint *p = &g_array_index (leg, WsPoint, i);
      WsPoint at = ws_photo_viewport_to_view (&self->port, p->x, p->y);

      cairo_line_to (cr, at.x, at.y);
    }
}

/* Where a corner is drawn: on the line, which begins at the edge beside it. */
static WsPoint
corner_place (WsPhotoView *self, guint i)
{
  const Line *line = &self->line;
  const GArray *leg = i < line->legs->len ? g_ptr_array_index (line->legs, i) : line->pen_leg;
  const WsPoint *p = leg->len > 0 ? &g_array_index (leg, WsPoint, 0) : &g_array_index (line->corners, WsPoint, i);

  return ws_photo_viewport_to_view (&self->port, p->x, p->y);
}

static void
draw_line (WsPhotoView *self, GtkSnapshot *snapshot, const WsRect *view)
{
  const Line *line = &self->line;
  WsPoint pen = ws_photo_viewport_to_view (&self->port, line->pen.x, line->pen.y);
  cairo_t *cr = begin_cairo (snapshot, view, 0, view);

  cairo_new_path (cr);
  for (guint i = 0; i < line->legs->len; i++)
    trace_leg (self, cr, g_ptr_array_index (line->legs, i));
  if (line->corners->len > 0)
    {
      WsPoint last = corner_place (self, line->corners->len - 1);

      cairo_line_to (cr, last.x, last.y);
      ink (cr, 2.2, FALSE);
      cairo_new_path (cr);
      trace_leg (self, cr, line->pen_leg);
      cairo_line_to (cr, pen.x, pen.y);
      ink (cr, 1.3, TRUE);
    }
  /* Drawn by hand there would be more pins than line. The first one closes it. */
  for (guint i = 0; i < line->corners->len; i++)
    {
      WsPoint at = corner_place (self, i);

      if (i == 0 || !line->by_hand)
        draw_pin (cr, at.x, at.y, i == 0 ? HANDLE_SIZE + 2 : HANDLE_SIZE - 2, i == 0);
    }
  if (line->by_keys)
    {
      cairo_move_to (cr, pen.x - 10, pen.y);
      cairo_line_to (cr, pen.x + 10, pen.y);
      cairo_move_to (cr, pen.x, pen.y - 10);
      cairo_line_to (cr, pen.x, pen.y + 10);
      ink (cr, 1.3, FALSE);
    }
  cairo_destroy (cr);
}

/* The outline that was handed in, until the page answers. */
static void
draw_closed (WsPhotoView *self, GtkSnapshot *snapshot, const WsRect *view)
{
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &self->line.closed->bounds);
  cairo_t *cr = begin_cairo (snapshot, &place, HANDLE_SIZE, view);

  if (cr == NULL)
    return;
  trace (cr, self->line.closed, &place);
  ink (cr, 2.2, FALSE);
  cairo_destroy (cr);
}

/* --- Letters ------------------------------------------------------------------------------- */

static gboolean
overlap (const WsRect *a, const WsRect *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
}

/* At the mark's top left corner, above it where there is room; beside labels that are there already. */
static WsRect
place_label (const WsRect *mark, double width, double height, const WsRect *view, GArray *taken)
{
  WsRect label = { mark->x, mark->y - height - 2, width, height };

  if (label.y < view->y)
    label.y = mark->y + 3;
  label.y = CLAMP (label.y, view->y, MAX (view->y + view->height - height, view->y));
  label.x = CLAMP (label.x, view->x, MAX (view->x + view->width - width, view->x));
  for (guint i = 0; i < taken->len; i++)
    if (overlap (&label, &g_array_index (taken, WsRect, i)))
      {
        const WsRect *other = &g_array_index (taken, WsRect, i);

        label.x = other->x + other->width + 2;
        if (label.x + width > view->x + view->width)
          {
            label.x = view->x;
            label.y = other->y + other->height + 2;
          }
        i = -1;
        if (label.y > view->y + view->height)
          break;
      }
  g_array_append_val (taken, label);
  return label;
}

static PangoLayout *
label_layout (WsPhotoView *self, const WsPhotoViewMark *mark, gboolean with_caption, double max_width)
{
  g_autofree char *text = NULL;
  PangoLayout *layout;
  PangoAttrList *attributes = pango_attr_list_new ();

  if (with_caption && mark->letter[0] != '\0')
    text = g_strdup_printf ("%s  %s", mark->letter, mark->caption);
  else
    text = g_strdup (with_caption ? mark->caption : mark->letter);
  layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  pango_attr_list_insert (attributes, pango_attr_family_new ("serif"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, MAX (max_width, 20) * PANGO_SCALE);
  return layout;
}

static void
draw_label (WsPhotoView *self, GtkSnapshot *snapshot, const WsPhotoViewMark *mark, const WsRect *view, GArray *taken)
{
  gboolean selected = is_selected (self, mark);
  WsRect bounds = ws_photo_view_mark_bounds (self, mark);
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &bounds);
  g_autoptr (PangoLayout) layout = NULL;
  WsRect label;
  int width, height;
  cairo_t *cr;

  if (!overlap (&place, view) || (!selected && mark->letter[0] == '\0'))
    return;
  layout = label_layout (self, mark, selected, view->width - 4 * LABEL_PAD);
  pango_layout_get_pixel_size (layout, &width, &height);
  label = place_label (&place, width + 2 * LABEL_PAD + 1, height + 2, view, taken);
  cr = begin_cairo (snapshot, &label, 1, view);
  if (cr == NULL)
    return;
  cairo_rectangle (cr, floor (label.x) + 0.5, floor (label.y) + 0.5, ceil (label.width) - 1, ceil (label.height) - 1);
  cairo_set_source_rgb (cr, PAPER);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, INK);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_move_to (cr, floor (label.x) + LABEL_PAD + 0.5, floor (label.y) + 1);
  pango_cairo_show_layout (cr, layout);
  cairo_destroy (cr);
}

/* --- All of it -------------------------------------------------------------------------- */

static WsPhotoViewMark *
nth_mark (WsPhotoView *self, guint i)
{
  return g_ptr_array_index (self->marks, i);
}

/* A thin line around the photo, as around a mounted print. */
static void
draw_frame (WsPhotoView *self, GtkSnapshot *snapshot)
{
  WsRect whole = { 0, 0, 1, 1 };
  WsRect place = ws_photo_viewport_rect_to_view (&self->port, &whole);
  GskRoundedRect outline;
  const float widths[4] = { 1, 1, 1, 1 };
  const GdkRGBA ink_color = { INK, 0.7 };
  const GdkRGBA colors[4] = { ink_color, ink_color, ink_color, ink_color };

  gsk_rounded_rect_init_from_rect (&outline, &GRAPHENE_RECT_INIT (round (place.x) - 1, round (place.y) - 1,
                                                                  round (place.width) + 2,
                                                                  round (place.height) + 2), 0);
  gtk_snapshot_append_border (snapshot, &outline, widths, colors);
}

void
ws_photo_view_draw (WsPhotoView *self, GtkSnapshot *snapshot)
{
  WsRect view = { 0, 0, self->port.view_width, self->port.view_height };
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (WsRect));
  WsPhotoViewMark *selected = ws_photo_view_find_mark (self, self->selected);

  if (self->port.photo_width <= 0 || view.width < 1 || view.height < 1)
    return;
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, view.width, view.height));
  if (ws_photo_tiles_get_levels (self->tiles) != NULL)
    {
      draw_frame (self, snapshot);
      if (!ws_photo_tiles_snapshot (self->tiles, snapshot, &self->port))
        ws_photo_view_load_level_later (self);
    }
  for (guint i = 0; i < self->marks->len; i++)
    if (nth_mark (self, i) != selected)
      draw_mark (self, snapshot, nth_mark (self, i), &view);
  if (selected != NULL)
    draw_mark (self, snapshot, selected, &view);
  if (self->has_draft)
    draw_draft (self, snapshot, &view);
  if (self->line.closed != NULL)
    draw_closed (self, snapshot, &view);
  if (ws_photo_view_line_begun (self))
    draw_line (self, snapshot, &view);
  if (selected != NULL)
    draw_label (self, snapshot, selected, &view, taken);
  for (guint i = 0; i < self->marks->len; i++)
    if (nth_mark (self, i) != selected)
      draw_label (self, snapshot, nth_mark (self, i), &view, taken);
  gtk_snapshot_pop (snapshot);
}
