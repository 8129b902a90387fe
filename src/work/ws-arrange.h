/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which photo belongs to which find. Every function is one undo step. */
#pragma once

#include "ws-desk.h"

/* The photos leave their find and make a new one; marks on them go along. Returns the new find's id. */
char *ws_arrange_split (WsDesk *desk, const char *find_id, const char *const *photo_ids, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Everything of @other moves to @find; @other is removed. */
gboolean ws_arrange_merge (WsDesk *desk, const char *find_id, const char *other_id, GError **error);
/* The photo, with its marks, moves from one find to another. */
gboolean ws_arrange_move (WsDesk *desk, const char *photo_id, const char *from_find, const char *to_find, GError **error);
/* The photo belongs to @find as well; @visit "", "same" or "another" (a later visit: the same specimen or another one). */
gboolean ws_arrange_share (WsDesk *desk, const char *const *photo_ids, const char *find_id, const char *visit, GError **error);
/* The photos, with or without time, are all one find. Returns its id. */
char *ws_arrange_one_find (WsDesk *desk, const char *const *photo_ids, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Takes the photo out of the find; in no find it is unsorted again. */
gboolean ws_arrange_remove (WsDesk *desk, const char *photo_id, const char *find_id, GError **error);
/* Hides the photo everywhere without deleting it, or shows it again. */
gboolean ws_arrange_set_aside (WsDesk *desk, const char *const *photo_ids, gboolean aside, GError **error);
gboolean ws_arrange_remove_find (WsDesk *desk, const char *find_id, GError **error);
/* An empty find of today, to be filled later. @date "YYYY-MM-DD" (nullable). */
char *ws_arrange_new_find (WsDesk *desk, const char *date, GError **error) G_GNUC_WARN_UNUSED_RESULT;
