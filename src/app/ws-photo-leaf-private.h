/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files of the photo leaf. */
#pragma once

#include "ws-base-question.h"
#include "ws-photo-leaf.h"
#include "ws-photo-view.h"

struct _WsPhotoLeaf
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *box;
  GtkLabel *caption;
  GtkToggleButton *oval_button, *cover_button;
  GtkMenuButton *labels_button;
  GtkWidget *labels_box;       /* in its popover */
  GtkLabel *labels_text;
  GtkBox *view_place;
  GtkRevealer *mark_revealer;
  GtkLabel *mark_name;
  GtkDropDown *part_drop, *specimen_drop;
  GtkWidget *base_place;
  GtkScrolledWindow *roll_scroller;
  GtkBox *roll;

  GtkWidget *view;             /* WsPhotoView */
  GtkWidget *question;         /* WsBaseQuestion */

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  char *photo_id;              /* shown; NULL: none */
  char *armed;                 /* view id */
  char *roll_stamp;            /* what the roll shows */
  gboolean filling;            /* controls are set from the find, not by the person */
};

/* borrowed; NULL */
const WsFind *ws_photo_leaf_get_find (WsPhotoLeaf *self);
const WsPhoto *ws_photo_leaf_get_photo (WsPhotoLeaf *self);
const WsMark *ws_photo_leaf_get_selected (WsPhotoLeaf *self);

/* ws-photo-leaf-roll.c: the small prints below, and the labels of the photo as a whole */
void ws_photo_leaf_fill_roll (WsPhotoLeaf *self);
void ws_photo_leaf_point_roll (WsPhotoLeaf *self);
void ws_photo_leaf_fill_labels (WsPhotoLeaf *self);
gboolean ws_photo_leaf_is_labelled (const WsFind *find, const char *photo_id, const char *view);
void ws_photo_leaf_go_to (WsPhotoLeaf *self, const char *photo_id);

/* ws-photo-leaf-marks.c: the marks of the shown photo and the bar of the selected one */
void ws_photo_leaf_init_marks (WsPhotoLeaf *self);
void ws_photo_leaf_fill_marks (WsPhotoLeaf *self);
void ws_photo_leaf_fill_mark_bar (WsPhotoLeaf *self);

/* ws-photo-leaf-actions.c */
void ws_photo_leaf_install_actions (GtkWidgetClass *klass);
