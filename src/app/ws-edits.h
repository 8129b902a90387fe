/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a find sheet lets a person change, as edits of the session: each is stored in the background, one step of
 * undo, and the find is judged again afterwards. @owner and @done (nullable) as in ws_session_edit(). */
#pragma once

#include "ws-session.h"

/* Marks what @view asks for on the photo; @shape NULL: the whole photo. The result handed to @done is the mark's id. */
void ws_edit_mark (WsSession *session, const char *find_id, const char *photo_id, const char *view,
                   const WsShape *shape, gpointer owner, WsTaskDone done);
void ws_edit_change_mark (WsSession *session, const char *find_id, const WsMark *mark);
/* The same mark on another photo of the find; the result handed to @done is its id. */
void ws_edit_copy_mark (WsSession *session, const char *find_id, const char *mark_id, const char *photo_id,
                        gpointer owner, WsTaskDone done);
void ws_edit_remove_mark (WsSession *session, const char *find_id, const char *mark_id);
/* Labels the whole photo with the view, or takes the label away. */
void ws_edit_label_photo (WsSession *session, const char *find_id, const char *photo_id, const char *view);
void ws_edit_cover (WsSession *session, const char *find_id, const char *photo_id, const WsShape *shape);
void ws_edit_change_cover (WsSession *session, const char *find_id, const WsCover *cover);
void ws_edit_uncover (WsSession *session, const char *find_id, const char *cover_id);

/* @states "a|b", "" takes the note away. */
void ws_edit_note (WsSession *session, const char *find_id, const char *character, const char *states, gboolean sure);
/* With everything a note can hold, as ws_record_whole_note() takes it. */
void ws_edit_whole_note (WsSession *session, const char *find_id, const WsNote *note);
void ws_edit_remove_note (WsSession *session, const char *find_id, const char *note_id);
void ws_edit_copy_habitat (WsSession *session, const char *find_id);
void ws_edit_excuse (WsSession *session, const char *find_id, const char *view, const char *reason);
/* Keys as in ws_record_set() and ws_record_set_foray(). */
void ws_edit_set (WsSession *session, const char *find_id, const char *key, const char *value);
void ws_edit_set_foray (WsSession *session, const char *foray_id, const char *key, const char *value);

typedef enum
{
  WS_PHOTO_SPLIT,       /* the photos make a find of their own */
  WS_PHOTO_TAKE_OUT,    /* the first photo is taken out of the find */
  WS_PHOTO_SET_ASIDE,   /* the photos are hidden */
  WS_PHOTO_MOVE,        /* the first photo moves to the other find */
  WS_PHOTO_SHARE,       /* the photos belong to the other find as well */
} WsPhotoEdit;
/* @other_find: for moving and sharing. */
void ws_edit_photos (WsSession *session, const char *find_id, const char *const *photo_ids, WsPhotoEdit edit,
                     const char *other_find);
