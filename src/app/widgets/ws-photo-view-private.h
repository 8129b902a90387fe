/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the photo view share. ws-photo-view.c: the widget and its properties; -slips.c: words and layout;
 * -zoom.c: moving and zooming; -load.c: which level is asked for when; -marks.c: the marks and their accessible
 * buttons; -edit.c: what is being made or changed; -line.c: an outline that is begun; -edges.c: the edges that it
 * follows; -points.c: the points of one that is there; -draw.c: drawing; -input.c: pointer and touch; -keys.c: the
 * keyboard. */
#pragma once

#include "ws-edge-path.h"
#include "ws-photo-tiles.h"
#include "ws-photo-view.h"

/* Size of a handle's hit area, widget px. */
#define HANDLE_HIT 12.0
#define HANDLE_HIT_TOUCH 24.0
/* A drag shorter than this is a click, widget px. */
#define DRAG_THRESHOLD 4.0

typedef enum
{
  DRAG_NONE,
  DRAG_NEW,
  DRAG_LINE,         /* an outline: a click sets a point, a drag draws */
  DRAG_POINT,        /* a point of the selected outline, or a new one out of its line */
  DRAG_MOVE,
  DRAG_RESIZE,
  DRAG_PAN,
} DragMode;

/* Edges that a handle moves. */
typedef enum
{
  EDGE_LEFT = 1 << 0,
  EDGE_RIGHT = 1 << 1,
  EDGE_TOP = 1 << 2,
  EDGE_BOTTOM = 1 << 3,
} Edges;

/* An outline that is begun. */
typedef struct
{
  GArray *corners;                  /* WsPoint: as they were set */
  GPtrArray *legs;                  /* GArray of WsPoint for each corner but the last: from it, without the next */
  GArray *pen_leg;                  /* from the last corner to the pen */
  WsPoint pen;                      /* where the next corner would be */
  gboolean by_keys;                 /* the arrows move the pen; it is there before the first corner */
  gboolean pen_moved;               /* by keys, since the last corner */
  gboolean by_hand;                 /* a part was drawn by dragging */
  WsShape *closed;                  /* (nullable): handed in, visible until the page answers */
} Line;

/* The edges of what is seen, for ws-photo-view-edges.c. */
typedef struct
{
  WsEdgePath *path;                 /* (nullable): not there yet, or not asked for */
  WsPictureLevels *levels;          /* (nullable): of which they are, or are asked for */
  guint level;
  WsRect region;                    /* asked for */
  GCancellable *cancellable;        /* (nullable): on their way */
  guint later;                      /* source: ask */
} EdgeFinding;

/* The level being read, for ws-photo-view-load.c. */
typedef struct
{
  char *path, *digest, *thumbnail;
  gboolean dimensions_known;
  GCancellable *cancellable;        /* (nullable): of the thumbnail and the level */
  GCancellable *expected;           /* (nullable): of the neighbours */
  int asked_edge;                   /* of the level on its way; -1 none */
  gboolean only_thumbnail;          /* what is drawn is the small preview */
  char *problem;                    /* (nullable): why the photo cannot be read */
  char *neighbours[4];              /* path, digest, path, digest */
  guint later;                      /* source: ask for a finer level */
  guint notice;                     /* source: say that this is the preview */
  gboolean say_preview;
} Loading;

enum
{
  MARK_DRAWN,
  COVER_DRAWN,
  MARK_CHANGED,
  MARK_DELETE,
  MARK_SELECTED,
  DISARM_REQUESTED,
  VIEW_CHANGED,
  N_SIGNALS
};
extern guint ws_photo_view_signals[N_SIGNALS];

enum
{
  PROP_0,
  PROP_ARMED,
  PROP_COVER,
  PROP_TOOL,
  PROP_SELECTED,
  PROP_ZOOM,
  PROP_STATUS,
  N_PROPS
};
extern GParamSpec *ws_photo_view_props[N_PROPS];

struct _WsPhotoView
{
  GtkWidget parent;

  /* children */
  GtkWidget *banner;                /* what is armed */
  GtkWidget *notice;                /* the status in words */

  /* owned */
  WsPictureLoader *loader;
  WsPhotoTiles *tiles;
  WsPhotoViewport port;
  Loading load;

  GPtrArray *marks;                 /* WsPhotoViewMark; the page's, never changed */
  GHashTable *buttons;              /* id -> its accessible button, a child */
  char *selected;                   /* (nullable) */

  char *armed;                      /* (nullable) */
  gboolean cover;
  WsPhotoViewTool tool;

  /* what is being made or changed */
  gboolean has_draft;
  gboolean draft_by_keys;           /* begun with Enter */
  gboolean draft_handed_in;         /* emitted; visible until the page answers */
  WsRect draft;                     /* a new mark, fractions */
  Line line;                        /* a new mark's outline */
  EdgeFinding edges;
  char *edit_id;                    /* (nullable): the mark that is changed… */
  WsShape *edit;                    /* …its shape meanwhile… */
  WsShape *edit_base;               /* …and as the page knows it */
  gboolean edit_handed_in;
  int point;                        /* of the selected outline, that keys go to; -1: none */
  GHashTable *held_keys;            /* arrows that are down: their hardware codes */

  DragMode drag_mode;
  gboolean drag_moved;              /* beyond the threshold */
  double drag_x, drag_y;            /* where it began */
  double drag_last_x, drag_last_y;  /* offset already panned */
  Edges drag_edges;
  WsRect drag_bounds;               /* of the mark when it began */
  int drag_point;                   /* taken hold of; -1: none */
  gboolean drag_adds_point;         /* it is not there yet: after drag_point */
  gint64 point_clicked_us;          /* when a point was clicked last */
  gboolean space_held;
  double pointer_x, pointer_y;
  GtkGesture *drag, *pan, *pinch;   /* borrowed: the widget owns its controllers */
  double pinch_zoom, pinch_x, pinch_y;
};

/* -- ws-photo-view.c */
/* TRUE if a drag, or Enter, draws something: it is armed and there is a photo to see. */
gboolean ws_photo_view_can_draw (WsPhotoView *self);

/* -- ws-photo-view-slips.c */
void ws_photo_view_add_slips (WsPhotoView *self);
/* The slips say what is true now. */
void ws_photo_view_update_words (WsPhotoView *self);
void ws_photo_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline);
void ws_photo_view_size_allocate (GtkWidget *widget, int width, int height, int baseline);

/* -- ws-photo-view-zoom.c */
/* The view moved or zoomed: redraws, lays the buttons out, asks for a finer level. */
void ws_photo_view_moved (WsPhotoView *self);
/* About the place (@x, @y) of the widget. */
void ws_photo_view_zoom_by (WsPhotoView *self, double x, double y, double factor);

/* -- ws-photo-view-load.c */
void ws_photo_view_load_init (WsPhotoView *self);
void ws_photo_view_load_clear (WsPhotoView *self);
/* Begins with the photo that load names. */
void ws_photo_view_load_start (WsPhotoView *self);
/* Asks for the level that the zoom needs, if it is not there or on its way. */
void ws_photo_view_load_level (WsPhotoView *self);
/* The same when zooming has come to rest, and draws again. */
void ws_photo_view_load_level_later (WsPhotoView *self);
/* Reads the neighbours ahead, if the photo itself is there. */
void ws_photo_view_load_neighbours (WsPhotoView *self);
/* What there is to say in words: (transfer full). */
char *ws_photo_view_load_dup_status (WsPhotoView *self);

/* -- ws-photo-view-marks.c */
WsPhotoViewMark *ws_photo_view_find_mark (WsPhotoView *self, const char *id);
/* The shape and the bounds as they are shown: while it is changed, the changed ones. Borrowed. */
const WsShape *ws_photo_view_mark_shape (WsPhotoView *self, const WsPhotoViewMark *mark);
WsRect ws_photo_view_mark_bounds (WsPhotoView *self, const WsPhotoViewMark *mark);
/* (nullable): the smallest mark at a place of the widget; @after: the next larger one when that is it. */
WsPhotoViewMark *ws_photo_view_mark_at (WsPhotoView *self, double x, double y, const char *after);
void ws_photo_view_update_buttons (WsPhotoView *self);
void ws_photo_view_allocate_buttons (WsPhotoView *self);
/* By the person: says so. */
void ws_photo_view_select_by_hand (WsPhotoView *self, const char *id);
/* Selects the next (+1) or previous (-1) mark. FALSE beyond the last or first one. */
gboolean ws_photo_view_step_marks (WsPhotoView *self, int direction);

/* -- ws-photo-view-edit.c */
/* Moved and resized inside the photo: moving keeps the size, resizing keeps at least @least of it. */
WsRect ws_photo_view_rect_moved (const WsRect *rect, double dx, double dy);
WsRect ws_photo_view_rect_resized (const WsRect *rect, Edges edges, double dx, double dy, WsPoint least);
/* The rectangle between two points (fractions), inside the photo; @square: as wide as high in px. */
WsRect ws_photo_view_rect_between (WsPoint a, WsPoint b, gboolean square, int photo_width, int photo_height);
void ws_photo_view_begin_edit (WsPhotoView *self, const char *id);
void ws_photo_view_set_edit (WsPhotoView *self, const WsRect *bounds);
/* The same for its shape (transfer full). */
void ws_photo_view_take_edit (WsPhotoView *self, WsShape *shape);
/* Emits "mark-changed" if the bounds changed. */
void ws_photo_view_commit_edit (WsPhotoView *self);
void ws_photo_view_set_draft (WsPhotoView *self, const WsRect *bounds);
/* Emits "mark-drawn" or "cover-drawn". */
void ws_photo_view_commit_draft (WsPhotoView *self);
/* Gives up the draft and any change not handed in. */
void ws_photo_view_give_up (WsPhotoView *self);
/* "mark-delete" of the selected mark, if there is one. */
gboolean ws_photo_view_delete_selected (WsPhotoView *self);

/* -- ws-photo-view-line.c */
void ws_photo_view_line_init (WsPhotoView *self);
void ws_photo_view_line_free (WsPhotoView *self);
/* The tool draws outlines. */
gboolean ws_photo_view_draws_lines (WsPhotoView *self);
/* One is begun, if only by a pen. */
gboolean ws_photo_view_line_begun (WsPhotoView *self);
void ws_photo_view_line_drop (WsPhotoView *self);
/* A click at a place of the widget: sets a corner, or closes the line at its first or last one. */
void ws_photo_view_line_click (WsPhotoView *self, double x, double y, double hit);
/* Sets a corner at a place of the widget, drawn by hand. */
void ws_photo_view_line_stroke (WsPhotoView *self, double x, double y);
/* A stroke ends: closes the line if it ends at its beginning. */
void ws_photo_view_line_lift (WsPhotoView *self, double x, double y, double hit);
/* The pointer is there now. */
void ws_photo_view_line_point (WsPhotoView *self, double x, double y);
void ws_photo_view_line_begin_by_keys (WsPhotoView *self);
/* Moves the pen by fractions. */
void ws_photo_view_line_step (WsPhotoView *self, double dx, double dy);
/* Enter: sets a corner at the pen, or closes the line. */
void ws_photo_view_line_enter (WsPhotoView *self);
void ws_photo_view_line_take_back (WsPhotoView *self);
/* Finds its ways again, those only that are straight for want of edges, or all. */
void ws_photo_view_line_refollow (WsPhotoView *self, gboolean all);
/* FALSE without any corner or pen. */
gboolean ws_photo_view_line_get_bounds (WsPhotoView *self, WsRect *bounds);

/* -- ws-photo-view-edges.c */
/* Something changed that the edges hang on: asks for those of what is seen, if they are needed and not there. */
void ws_photo_view_update_edges (WsPhotoView *self);
void ws_photo_view_drop_edges (WsPhotoView *self);

/* -- ws-photo-view-points.c */
/* (nullable): the selected mark's shape, if it is an outline. Borrowed. */
const WsShape *ws_photo_view_selected_outline (WsPhotoView *self);
/* The point at a place of the widget, and on its line the one after which a new one would come; -1: none. */
int ws_photo_view_point_at (WsPhotoView *self, double x, double y, double hit);
int ws_photo_view_point_before (WsPhotoView *self, double x, double y, double hit);
/* Moves it to @place (fractions), or adds one there after it. */
void ws_photo_view_move_point (WsPhotoView *self, int point, WsPoint place);
void ws_photo_view_add_point (WsPhotoView *self, int after, WsPoint place);
/* An outline keeps three; FALSE when it has no more. */
gboolean ws_photo_view_remove_point (WsPhotoView *self, int point);
/* The keys go to it; -1: to none. */
void ws_photo_view_set_point (WsPhotoView *self, int point);

/* -- ws-photo-view-draw.c */
void ws_photo_view_draw (WsPhotoView *self, GtkSnapshot *snapshot);

/* -- ws-photo-view-input.c */
void ws_photo_view_input_init (WsPhotoView *self);
void ws_photo_view_cancel_drag (WsPhotoView *self);
void ws_photo_view_update_cursor (WsPhotoView *self);

/* -- ws-photo-view-keys.c */
void ws_photo_view_keys_init (WsPhotoView *self);
