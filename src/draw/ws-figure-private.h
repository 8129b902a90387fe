/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A parsed figure, shared by the parser and the drawing. */
#pragma once

#include "ws-figure.h"

typedef enum
{
  FIGURE_OUTLINE = 1 << 0,
  FIGURE_ASIDE = 1 << 1,
  FIGURE_SMALL = 1 << 2,
  FIGURE_OPEN = 1 << 3,
  FIGURE_EDGE = 1 << 4,
  FIGURE_GROUND = 1 << 5,
} FigureFlags;

typedef struct
{
  guint part;             /* index into parts */
  FigureFlags flags;
  char *variant;          /* (nullable) */
  GArray *data;           /* cairo_path_data_t: moves, lines, curves, closes */
} FigurePath;

typedef struct
{
  double x, y;            /* anchor */
  double x0, y0, x1, y1;  /* bounds of its outlines */
  gboolean aside;         /* all of its outlines are asides */
} FigurePart;

struct _WsFigure
{
  gatomicrefcount refs;
  double width, height;
  double main[4];         /* x0, y0, x1, y1 of what is no aside: the small version */
  GPtrArray *paths;       /* FigurePath */
  GPtrArray *names;       /* char*, NULL-terminated once parsed */
  GArray *parts;          /* FigurePart, beside names */
};

/* Reads a number and moves @text behind it; FALSE if there is none. */
gboolean ws_figure_number_take (const char **text, double *number);
/* Reads path data into @data (cairo_path_data_t). FALSE at anything outside the subset or outside the viewBox of
 * @width x @height; stops early, with TRUE, once there are more than @limit segments. */
gboolean ws_figure_path_parse (const char *text, double width, double height, guint limit, GArray *data,
                               guint *n_segments, gboolean *all_closed);
/* Appends the path to the current path of @cr. */
void ws_figure_path_append (const FigurePath *path, cairo_t *cr);
/* The index of a part, -1 if there is none. */
int ws_figure_find_part (const WsFigure *figure, const char *part);
/* TRUE if the path is drawn when @base is the variant of the base, "plain" unless recorded. */
gboolean ws_figure_path_is_drawn (const FigurePath *path, const char *base);
/* The variant of the base that is drawn for a state of the character stem_base; "plain" where it says nothing. */
const char *ws_figure_base_variant (const WsFigure *figure, const char *state);
/* Fills in bounds and anchors of a parsed figure. */
void ws_figure_measure (WsFigure *figure);
