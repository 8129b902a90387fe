/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files of the photo leaf. */
#pragma once

#include "ws-base-question.h"
#include "ws-photo-leaf.h"
#include "ws-photo-view.h"
#include "ws-spread.h"

/* A photo as it lies on the leaf. */
typedef struct
{
  GtkWidget *frame;            /* NULL until it is needed; holds the view, and a slip that says which photo this is */
  GtkWidget *view;             /* WsPhotoView */
  GtkLabel *slip;
  char *photo_id;              /* NULL: nothing lies here */
  WsPhotoViewApart apart;      /* to what is looked at together */
} WsPrint;

struct _WsPhotoLeaf
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkLabel *caption;
  GtkToggleButton *cover_button;
  GtkBox *tools;               /* what marks are drawn with */
  GtkMenuButton *labels_button, *beside_button;
  GtkWidget *labels_box;       /* in its popover */
  GtkLabel *labels_text;
  GtkBox *view_place;
  GtkRevealer *mark_revealer;
  GtkLabel *mark_name;
  GtkDropDown *part_drop, *specimen_drop;
  GtkWidget *base_place;
  GtkScrolledWindow *roll_scroller;
  GtkBox *roll;

  GtkWidget *spread;           /* WsSpread: the prints */
  WsPrint prints[WS_SPREAD_MOST];
  guint hand;                  /* the print that is in hand: everything on the leaf is about it */
  guint n_wanted;              /* how many are to lie beside each other: 1, 2 or 4 */
  gboolean together;           /* they move and zoom together… */
  gboolean following;          /* …and do so now */
  GSimpleActionGroup *beside;
  GtkWidget *view;             /* WsPhotoView: of the print in hand */
  GtkWidget *question;         /* WsBaseQuestion */
  GtkToggleButton *tool_buttons[WS_PHOTO_VIEW_N_TOOLS];
  GtkWidget *mark_fields;      /* template: WsWrapBox */
  GtkWidget *remark;           /* WsTextField… */
  WsMark *remarked;            /* …of this mark… */
  char *remarked_find;         /* …of this find */

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  const char *photo_id;        /* of the print in hand; NULL: none */
  char *armed;                 /* view id */
  char *roll_stamp;            /* what the roll shows */
  gboolean filling;            /* controls are set from the find, not by the person */
};

/* borrowed; NULL */
const WsFind *ws_photo_leaf_get_find (WsPhotoLeaf *self);
const WsPhoto *ws_photo_leaf_get_photo (WsPhotoLeaf *self);
const WsMark *ws_photo_leaf_get_selected (WsPhotoLeaf *self);
int ws_photo_leaf_place_of (const WsFind *find, const char *photo_id);
const WsPhoto *ws_photo_leaf_photo_at (const WsFind *find, int place);
/* All that is said about the print in hand, and the marks of all. */
void ws_photo_leaf_fill (WsPhotoLeaf *self);
/* What the person does in @view reaches the leaf. */
void ws_photo_leaf_connect_view (WsPhotoLeaf *self, GtkWidget *view);

/* ws-photo-leaf-beside.c: photos beside each other */
void ws_photo_leaf_init_beside (WsPhotoLeaf *self);
void ws_photo_leaf_clear_beside (WsPhotoLeaf *self);
/* TRUE if something lies at print number @i. */
gboolean ws_photo_leaf_is_laid (WsPhotoLeaf *self, guint i);
/* Lays as many as are wanted, keeping those that can stay, the one in hand above all; nothing without a find. */
void ws_photo_leaf_arrange (WsPhotoLeaf *self);
/* Nothing lies there any more. */
void ws_photo_leaf_take_all_away (WsPhotoLeaf *self);
/* Puts the photo where the one in hand lies, or takes it in hand where it lies already. */
void ws_photo_leaf_put_in_hand (WsPhotoLeaf *self, const char *photo_id);
/* Takes the print that holds @view in hand. */
void ws_photo_leaf_take_in_hand (WsPhotoLeaf *self, WsPhotoView *view);

/* ws-photo-leaf-roll.c: the small prints below, and the labels of the photo as a whole */
void ws_photo_leaf_fill_roll (WsPhotoLeaf *self);
void ws_photo_leaf_point_roll (WsPhotoLeaf *self);
void ws_photo_leaf_fill_labels (WsPhotoLeaf *self);
gboolean ws_photo_leaf_is_labelled (const WsFind *find, const char *photo_id, const char *view);
void ws_photo_leaf_go_to (WsPhotoLeaf *self, const char *photo_id);

/* ws-photo-leaf-marks.c: the marks of the shown photo and the bar of the selected one */
void ws_photo_leaf_init_marks (WsPhotoLeaf *self);
void ws_photo_leaf_connect_marks (WsPhotoLeaf *self, GtkWidget *view);
void ws_photo_leaf_fill_marks (WsPhotoLeaf *self);
void ws_photo_leaf_fill_mark_bar (WsPhotoLeaf *self);

/* ws-photo-leaf-tools.c: what marks are drawn with, the selected one's remark, and its copy on the next photo */
void ws_photo_leaf_init_tools (WsPhotoLeaf *self);
void ws_photo_leaf_clear_tools (WsPhotoLeaf *self);
void ws_photo_leaf_install_tools (GtkWidgetClass *klass);
/* The tool that a view has now. */
void ws_photo_leaf_fill_tools (WsPhotoLeaf *self);
void ws_photo_leaf_connect_tools (WsPhotoLeaf *self, GtkWidget *view);
/* Of the mark; NULL: none is selected. What was typed for another is stored first. */
void ws_photo_leaf_fill_remark (WsPhotoLeaf *self, const WsMark *mark);

/* ws-photo-leaf-actions.c */
void ws_photo_leaf_install_actions (GtkWidgetClass *klass);
