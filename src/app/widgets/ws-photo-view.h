/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The photo leaf's canvas: one photo, as large as can be, with its marks as thin ink lines, and the making,
 * moving and removing of marks by pointer, touch and keyboard. It knows photos by path and digest and marks by
 * id; what a mark means, and storing it, is the page's. All places are fractions of the upright photo.
 *
 * Pointer: dragging draws while a part is armed (Shift: as wide as high), moves or resizes the selected mark,
 * else moves the photo; a click selects, and again the next one beneath; the wheel zooms; the middle button, or
 * Space held, moves the photo; two fingers zoom and move it. An outline is drawn by clicking point after point, or
 * by dragging round; with the edge tool the line follows the strongest edge between the clicks. Clicking the first
 * point or the last one again closes it. Of a selected outline the points are dragged, or a new one out of the line
 * between two; a point that is clicked twice goes.
 *
 * Keys: + and - zoom, 0 fits, 1 shows one photo pixel per screen pixel, Shift+arrows move the photo; while
 * something is armed, X, O, L and F take the box, the oval, the outline and the edge; Tab and Shift+Tab step through the marks. With something armed,
 * Enter begins a mark in the middle of what is seen; arrows move it (or the selected mark), Ctrl+arrows size it,
 * Alt makes the steps fine; Enter sets it. Of an outline Enter sets point after point where the arrows lead, and
 * closes it when pressed again in the same place, or when the pointer set the last one; Backspace takes the last
 * point back. F2 goes to the points of the selected outline: Tab and Shift+Tab step through them, arrows move one,
 * Insert adds one after it, Delete removes it. Delete removes the selected mark. Escape gives up what was begun, else
 * leaves the points, else disarms, else selects nothing. Keys not listed are left to the page.
 *
 * Signals:
 *   "mark-drawn" (const WsShape *)                   a mark for what is armed; valid during the emission. It stays
 *                                                    visible until the marks are set or something else is armed
 *   "cover-drawn" (const WsShape *)                  the same for a region to cover
 *   "mark-changed" (const char *id, const WsShape *) moved or resized: once a drag, once a key action
 *   "mark-delete" (const char *id)                   the person wants it removed
 *   "mark-selected" (const char *id)                 (nullable) by the person; not when ws_photo_view_select() did
 *   "disarm-requested" ()                            Escape, with nothing begun
 *   "view-changed" ()                                zoomed, moved or resized
 *
 * Properties: "armed" (nullable string), "cover" (boolean), "tool" (WsPhotoViewTool as int),
 * "selected" (nullable string, read-only), "zoom" (double, read-only: screen px per photo px), "status" (string,
 * read-only: what the widget says about the photo in words, "" when there is nothing to say). */
#pragma once

#include <gtk/gtk.h>

#include "ws-picture-loader.h"
#include "ws-shape.h"

/* --- Marks to show -------------------------------------------------------------------- */

typedef enum
{
  WS_PHOTO_VIEW_MARK_INK,    /* usable evidence, as far as known: a line */
  WS_PHOTO_VIEW_MARK_WEAK,   /* a dashed line */
  WS_PHOTO_VIEW_MARK_COVER,  /* a region that is painted over in every copy: a hatched block */
} WsPhotoViewMarkState;

typedef struct
{
  char *id;
  WsShape *shape;
  char *letter;     /* "A", as on the figure; "" for none */
  char *caption;    /* in words, for the selected mark and for screen readers: "Stem base, dug out whole" */
  WsPhotoViewMarkState state;
  gboolean armed;   /* belongs to what is armed: a stronger line */
} WsPhotoViewMark;

/* Copies all it is given. */
WsPhotoViewMark *ws_photo_view_mark_new (const char *id, const WsShape *shape, const char *letter,
                                         const char *caption, WsPhotoViewMarkState state,
                                         gboolean armed) G_GNUC_WARN_UNUSED_RESULT;
void ws_photo_view_mark_free (WsPhotoViewMark *mark);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsPhotoViewMark, ws_photo_view_mark_free)

/* --- What marks are drawn with ---------------------------------------------------------- */

typedef enum
{
  WS_PHOTO_VIEW_BOX,
  WS_PHOTO_VIEW_OVAL,
  WS_PHOTO_VIEW_OUTLINE,  /* point after point, or by hand */
  WS_PHOTO_VIEW_EDGE,     /* point after point, and along the strongest edge between them */
  WS_PHOTO_VIEW_N_TOOLS,
} WsPhotoViewTool;

/* --- The widget ------------------------------------------------------------------------- */

#define WS_TYPE_PHOTO_VIEW (ws_photo_view_get_type ())
G_DECLARE_FINAL_TYPE (WsPhotoView, ws_photo_view, WS, PHOTO_VIEW, GtkWidget)

/* @loader: shared by all views of a program, so that they share its cache. */
GtkWidget *ws_photo_view_new (WsPictureLoader *loader) G_GNUC_WARN_UNUSED_RESULT;

/* Shows the photo at @path: at once by @thumbnail_path (nullable: a JPEG of our own), then by the level that fits.
 * @digest: its SHA-512. @full_width and @full_height: of the upright photo, px; 0 when not known. The photo is
 * fitted, the marks are forgotten and what was begun is given up; the same path and digest again change nothing,
 * unless the photo could not be read.
 * @path NULL: no photo. */
void ws_photo_view_set_photo (WsPhotoView *self, const char *path, const char *digest, const char *thumbnail_path,
                              int full_width, int full_height);
/* The photos likely to be shown next; read when this one is there. Each path and digest (nullable). Setting another
 * photo forgets them. */
void ws_photo_view_set_neighbours (WsPhotoView *self, const char *next_path, const char *next_digest,
                                   const char *previous_path, const char *previous_digest);

/* The marks of this photo, in the order of their letters. Takes a reference to the array of WsPhotoViewMark, which
 * is not changed afterwards; NULL for none. A selection stays if its mark is still there. */
void ws_photo_view_set_marks (WsPhotoView *self, GPtrArray *marks);
/* What dragging draws: the name of the part, as shown to people; NULL: nothing. */
void ws_photo_view_set_armed (WsPhotoView *self, const char *caption);
const char *ws_photo_view_get_armed (WsPhotoView *self);
/* Dragging draws a region to cover. */
void ws_photo_view_set_cover (WsPhotoView *self, gboolean cover);
gboolean ws_photo_view_get_cover (WsPhotoView *self);
/* An outline that was begun goes on with the other tool for outlines; what else was begun is given up. */
void ws_photo_view_set_tool (WsPhotoView *self, WsPhotoViewTool tool);
WsPhotoViewTool ws_photo_view_get_tool (WsPhotoView *self);
/* @id: NULL, or one not there, for none. */
void ws_photo_view_select (WsPhotoView *self, const char *id);
/* (nullable) */
const char *ws_photo_view_get_selected (WsPhotoView *self);

void ws_photo_view_fit (WsPhotoView *self);
/* Screen px per photo px, at most 8; about the middle of the view. */
void ws_photo_view_set_zoom (WsPhotoView *self, double zoom);
double ws_photo_view_get_zoom (WsPhotoView *self);
/* Zooms to a region, with some of what surrounds it. */
void ws_photo_view_show_region (WsPhotoView *self, const WsRect *region);
/* What is seen of the photo, as fractions, inside the photo. FALSE without a photo. */
gboolean ws_photo_view_get_visible (WsPhotoView *self, WsRect *visible);
/* Sets zoom (beyond fitting) and middle as in @other, by the photo's share: for photos side by side that are zoomed together. */
void ws_photo_view_follow (WsPhotoView *self, WsPhotoView *other);

/* How one photo lies beside another: how much more it is zoomed beyond fitting than the other, and how far its middle
 * is from the other's, as fractions of the photo. */
typedef struct { double zoom, x, y; } WsPhotoViewApart;
WsPhotoViewApart ws_photo_view_get_apart (WsPhotoView *self, WsPhotoView *other);
/* Moves and zooms so that it lies to @other as @apart says, and fits when @other fits: photos that were laid so that
 * the same part is seen keep showing it together. Like ws_photo_view_follow() it does not emit "view-changed". */
void ws_photo_view_follow_apart (WsPhotoView *self, WsPhotoView *other, const WsPhotoViewApart *apart);
/* The place in the widget of a point of the photo, widget px. */
WsPoint ws_photo_view_to_view (WsPhotoView *self, double x, double y);

const char *ws_photo_view_get_status (WsPhotoView *self);
