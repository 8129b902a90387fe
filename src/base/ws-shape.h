/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rectangles, points and the shapes of marks. All values are fractions 0-1 of
 * the upright picture (after EXIF orientation): origin top left, x to the
 * right by the width, y down by the height, edges and not pixel centres. */
#pragma once

#include <glib.h>

typedef struct { double x, y; } WsPoint;
typedef struct { double x, y, width, height; } WsRect;

/* TRUE if finite, of positive size and inside 0-1 (a rounding excess of 1e-9
 * is allowed, since sums of decimals do not meet 1 exactly). */
gboolean ws_rect_is_valid (const WsRect *rect);

/* The part of @rect inside the picture, at least 1e-6 in size. */
WsRect ws_rect_clamped (const WsRect *rect);

/* Share of the smaller one that both cover, 0-1. */
double ws_rect_overlap (const WsRect *a, const WsRect *b);

/* Pixels of a picture of @width x @height that @rect touches, at least 1 x 1,
 * inside the picture. */
void ws_rect_to_pixels (const WsRect *rect, int width, int height,
                        int *x, int *y, int *w, int *h);

/* Reads "X,Y,W,H" (decimal points whatever the locale). FALSE if it is not
 * four numbers or not a valid rectangle. */
gboolean ws_rect_parse (const char *text, WsRect *rect);

typedef enum
{
  WS_SHAPE_BOX,
  WS_SHAPE_OVAL,     /* the ellipse inside the bounds */
  WS_SHAPE_OUTLINE,  /* a closed polygon */
} WsShapeKind;

/* More corners than anybody draws; bounds what a hostile file can ask for. */
#define WS_SHAPE_MAX_POINTS 2048

/* A shape is filled once and then not written to again; copies are deep. */
typedef struct
{
  WsShapeKind kind;
  WsRect bounds;      /* of an outline: its bounding rectangle */
  WsPoint *points;    /* (nullable): outline only */
  guint n_points;
} WsShape;

WsShape *ws_shape_new_box (const WsRect *rect) G_GNUC_WARN_UNUSED_RESULT;
WsShape *ws_shape_new_oval (const WsRect *rect) G_GNUC_WARN_UNUSED_RESULT;
/* (nullable): NULL when there are fewer than 3 or too many points, one lies
 * outside 0-1, or they enclose no area. */
WsShape *ws_shape_new_outline (const WsPoint *points, guint n_points) G_GNUC_WARN_UNUSED_RESULT;
WsShape *ws_shape_copy (const WsShape *shape) G_GNUC_WARN_UNUSED_RESULT;
void ws_shape_free (WsShape *shape);
gboolean ws_shape_equal (const WsShape *a, const WsShape *b);

/* The stored form: "box X Y W H", "oval X Y W H" or "outline X Y X Y ...", with
 * numbers that read back exactly. (transfer full) */
char *ws_shape_to_text (const WsShape *shape) G_GNUC_WARN_UNUSED_RESULT;
/* (nullable): NULL if the text is not a valid shape. */
WsShape *ws_shape_parse (const char *text) G_GNUC_WARN_UNUSED_RESULT;

/* TRUE if the point lies in the shape (even-odd rule for outlines). */
gboolean ws_shape_contains (const WsShape *shape, double x, double y);

/* The same shape moved so that its bounds become @bounds. */
WsShape *ws_shape_with_bounds (const WsShape *shape, const WsRect *bounds) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsShape, ws_shape_free)
