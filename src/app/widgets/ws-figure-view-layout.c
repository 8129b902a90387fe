/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where figure, labels and caption of a WsFigureView go. */
#include "ws-figure-view-private.h"

#include <math.h>

/* From this width, px, labels stand beside the figure. */
#define WIDE 540
#define MIN_WIDTH 240
#define MIN_COLUMN 150.0
#define MAX_COLUMN 240.0
#define GAP 6.0
/* Between a column and the figure: room in which the leaders fan out. */
#define FAN 14.0
/* A figure higher than this gains nothing. */
#define MAX_FIGURE_HEIGHT 760.0
#define MAX_NARROW_HEIGHT 420.0

static double
measure_height (GtkWidget *widget, double width)
{
  int least_width, height;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least_width, NULL, NULL, NULL);
  gtk_widget_measure (widget, GTK_ORIENTATION_VERTICAL, MAX ((int) width, least_width), &height, NULL, NULL, NULL);
  return height;
}

/* The caption in the middle of a strip, no wider than its words. */
static graphene_rect_t
place_caption (WsFigureView *self, double x, double y, double width)
{
  int natural;
  double own;

  gtk_widget_measure (self->caption, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  own = MIN (natural, width);
  return GRAPHENE_RECT_INIT (x + (width - own) / 2, y, own, measure_height (self->caption, own));
}

/* What is required and missing comes first, the base before all; what is shown last. */
static int
rank (const FigureLine *line)
{
  int need = line->line->need == WS_NEED_REQUIRED ? 0 : line->line->need == WS_NEED_RECOMMENDED ? 1 : 2;
  int state = line->line->state == WS_EVIDENCE_MISSING ? 0 : line->line->state == WS_EVIDENCE_WEAK ? 1 : 2;

  if (line->line->view->is_base)
    return -1;
  return state == 2 ? 100 + need : need * 10 + state;
}

static int
compare_rank (gconstpointer a, gconstpointer b, gpointer evidence)
{
  const FigureLine *one = a, *two = b;
  guint i = 0, k = 0;

  if (rank (one) != rank (two))
    return rank (one) - rank (two);
  g_ptr_array_find (((WsEvidence *) evidence)->lines, one->line, &i);
  g_ptr_array_find (((WsEvidence *) evidence)->lines, two->line, &k);
  return (int) i - (int) k;
}

/* Left column from the top, then the right one. */
static int
compare_place (gconstpointer a, gconstpointer b)
{
  const WsLeader *one = &((const FigureLine *) a)->leader, *two = &((const FigureLine *) b)->leader;

  if (one->side != two->side)
    return (int) one->side - (int) two->side;
  return one->y < two->y ? -1 : one->y > two->y;
}

/* The height the figure gets in a width, none without a figure. */
static double
figure_height (WsFigureView *self, double width, double most)
{
  double w, h;

  if (self->figure == NULL)
    return 0;
  ws_figure_get_size (self->figure, &w, &h);
  return MIN (most, width * h / w);
}

static FigureLayout
lay_out_narrow (WsFigureView *self, double width)
{
  FigureLayout layout = { .narrow = TRUE };
  g_autofree WsLeader *leaders = g_new0 (WsLeader, self->lines->len);
  double height = figure_height (self, width, MAX_NARROW_HEIGHT), top;

  layout.figure = GRAPHENE_RECT_INIT (0, 0, width, height);
  layout.caption = place_caption (self, 0, height, width);
  top = height + layout.caption.size.height + GAP;
  if (self->evidence != NULL)
    g_array_sort_with_data (self->lines, compare_rank, self->evidence);
  for (guint i = 0; i < self->lines->len; i++)
    {
      FigureLine *line = ws_figure_view_line (self, i);

      leaders[i].width = width;
      leaders[i].height = measure_height (GTK_WIDGET (line->label), width);
    }
  layout.height = top + ws_leader_lay_out_below (leaders, self->lines->len, 0, top, GAP);
  for (guint i = 0; i < self->lines->len; i++)
    ws_figure_view_line (self, i)->leader = leaders[i];
  return layout;
}

static void
place_columns (WsFigureView *self, FigureLayout *layout, double width, double column, double height)
{
  g_autofree WsLeader *leaders = g_new0 (WsLeader, self->lines->len);

  for (guint i = 0; i < self->lines->len; i++)
    {
      FigureLine *line = ws_figure_view_line (self, i);
      double x = 0, y = 0;

      leaders[i].anchored = line->part != NULL && ws_figure_get_anchor (self->figure, line->part, &x, &y);
      if (leaders[i].anchored)
        {
          leaders[i].anchor_x = x * layout->place.scale + layout->place.dx;
          leaders[i].anchor_y = y * layout->place.scale + layout->place.dy;
        }
      leaders[i].width = column;
      leaders[i].height = measure_height (GTK_WIDGET (line->label), column);
      leaders[i].port = ws_figure_label_get_port (line->label);
    }
  layout->height = ws_leader_lay_out_sides (leaders, self->lines->len, 0, height, column, width - column, GAP);
  for (guint i = 0; i < self->lines->len; i++)
    ws_figure_view_line (self, i)->leader = leaders[i];
}

static FigureLayout
lay_out_wide (WsFigureView *self, double width)
{
  FigureLayout layout = { .narrow = FALSE };
  double column = CLAMP (width * 0.235, MIN_COLUMN, MAX_COLUMN);
  double middle = width - 2 * (column + FAN);
  double caption = place_caption (self, 0, 0, middle).size.height;
  double figure = figure_height (self, middle, MAX_FIGURE_HEIGHT), needed;

  /* The columns may be higher than the figure, which then stands in their middle. */
  for (int pass = 0; pass < 2; pass++)
    {
      needed = MAX (figure + GAP + caption, pass == 0 ? 0 : layout.height);
      layout.figure = GRAPHENE_RECT_INIT (column + FAN, (needed - figure - GAP - caption) / 2, middle, figure);
      layout.caption = place_caption (self, column + FAN, layout.figure.origin.y + figure + GAP, middle);
      if (self->figure != NULL)
        layout.place = ws_figure_place (self->figure, layout.figure.origin.x, layout.figure.origin.y, middle, figure);
      place_columns (self, &layout, width, column, needed);
    }
  g_array_sort (self->lines, compare_place);
  return layout;
}

FigureLayout
ws_figure_view_lay_out (WsFigureView *self, int width)
{
  FigureLayout layout = width >= WIDE && self->figure != NULL ? lay_out_wide (self, width)
                                                              : lay_out_narrow (self, width);

  if (self->figure != NULL)
    layout.place = ws_figure_place (self->figure, layout.figure.origin.x, layout.figure.origin.y,
                                    layout.figure.size.width, layout.figure.size.height);
  return layout;
}

void
ws_figure_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                        int *minimum_baseline, int *natural_baseline)
{
  WsFigureView *self = WS_FIGURE_VIEW (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = MIN_WIDTH;
      *natural = WIDE + 160;
    }
  else
    {
      FigureLayout layout = ws_figure_view_lay_out (self, for_size > 0 ? for_size : WIDE + 160);

      *minimum = *natural = (int) ceil (layout.height);
      if (self->layout.figure.size.width > 0)   /* measuring moved the leaders */
        ws_figure_view_lay_out (self, gtk_widget_get_width (widget));
    }
}

static void
allocate_rect (GtkWidget *widget, double x, double y, double width, double height)
{
  int least_width, least_height;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least_width, NULL, NULL, NULL);
  gtk_widget_measure (widget, GTK_ORIENTATION_VERTICAL, MAX ((int) width, least_width), &least_height, NULL, NULL, NULL);
  gtk_widget_size_allocate (widget, &(GtkAllocation) { (int) round (x), (int) round (y), MAX ((int) width, least_width),
                                                       MAX ((int) round (height), least_height) }, -1);
}

void
ws_figure_view_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  WsFigureView *self = WS_FIGURE_VIEW (widget);
  GtkWidget *after = self->caption;

  self->layout = ws_figure_view_lay_out (self, width);
  for (guint i = 0; i < self->parts->len; i++)
    {
      WsFigurePart *part = g_ptr_array_index (self->parts, i);
      const WsFigurePlace *place = &self->layout.place;
      double x, y, w, h;

      ws_figure_get_bounds (self->figure, ws_figure_part_get_part (part), &x, &y, &w, &h);
      allocate_rect (GTK_WIDGET (part), x * place->scale + place->dx, y * place->scale + place->dy,
                     ceil (w * place->scale), ceil (h * place->scale));
    }
  allocate_rect (self->caption, self->layout.caption.origin.x, self->layout.caption.origin.y,
                 self->layout.caption.size.width, self->layout.caption.size.height);
  for (guint i = 0; i < self->lines->len; i++)
    {
      FigureLine *line = ws_figure_view_line (self, i);

      ws_figure_label_set_place (line->label, line->leader.side == WS_LEADER_LEFT,
                                 self->layout.narrow && line->part != NULL ? i + 1 : 0);
      allocate_rect (GTK_WIDGET (line->label), line->leader.x, line->leader.y, line->leader.width, line->leader.height);
      /* A screen reader reads children in their order. */
      if (gtk_widget_get_prev_sibling (GTK_WIDGET (line->label)) != after)
        gtk_widget_insert_after (GTK_WIDGET (line->label), widget, after);
      after = GTK_WIDGET (line->label);
    }
}

/* --- Focus ------------------------------------------------------------------------- */

/* Labels as they are read, then the parts of the drawing. */
static GtkWidget *
stop_at (WsFigureView *self, int place)
{
  int n = (int) self->lines->len;

  return place < n ? GTK_WIDGET (ws_figure_view_line (self, place)->label) : g_ptr_array_index (self->parts, (guint) (place - n));
}

static int
focused_stop (WsFigureView *self, int n_stops)
{
  for (int i = 0; i < n_stops; i++)
    if (gtk_widget_is_focus (stop_at (self, i)))
      return i;
  return -1;
}

/* The middle of a stop, in px of the figure view; FALSE for what is not laid out. */
static gboolean
get_middle (WsFigureView *self, int place, double *x, double *y)
{
  graphene_rect_t bounds;

  if (!gtk_widget_compute_bounds (stop_at (self, place), GTK_WIDGET (self), &bounds))
    return FALSE;
  *x = bounds.origin.x + bounds.size.width / 2;
  *y = bounds.origin.y + bounds.size.height / 2;
  return TRUE;
}

/* The nearest label in a direction, -1 if there is none: up and down stay in a column. From a part of the drawing the
 * way to either column is open. */
static int
line_toward (WsFigureView *self, int from, GtkDirectionType direction)
{
  double here_x, here_y, x, y, best = G_MAXDOUBLE;
  int n = (int) self->lines->len, found = -1;
  int side = from < n ? (int) ws_figure_view_line (self, from)->leader.side : -1;

  if (!get_middle (self, from, &here_x, &here_y))
    return -1;
  for (int i = 0; i < n; i++)
    {
      gboolean same = side < 0 || (int) ws_figure_view_line (self, i)->leader.side == side, fits;

      if (i == from || !get_middle (self, i, &x, &y))
        continue;
      fits = direction == GTK_DIR_UP ? same && y < here_y :
             direction == GTK_DIR_DOWN ? same && y > here_y :
             direction == GTK_DIR_LEFT ? x < here_x - 1 && (side < 0 || !same) :
             x > here_x + 1 && (side < 0 || !same);
      if (fits && fabs (y - here_y) < best)
        {
          best = fabs (y - here_y);
          found = i;
        }
    }
  return found;
}

gboolean
ws_figure_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  WsFigureView *self = WS_FIGURE_VIEW (widget);
  int n = (int) (self->lines->len + self->parts->len), from = focused_stop (self, n), to;

  if (direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD)
    to = direction == GTK_DIR_TAB_FORWARD ? from + 1 : from < 0 ? n - 1 : from - 1;
  else
    to = from < 0 ? 0 : line_toward (self, from, direction);
  if (to < 0 || to >= n)
    return FALSE;
  return gtk_widget_grab_focus (stop_at (self, to));
}
