/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is recorded on a find: marks, notes, words. Every writing function is one undo step. */
#pragma once

#include "ws-desk.h"
#include "ws-request.h"

/* Marks @part on a photo of the find: the views come from the knowledge unless @views is given. @shape NULL: the whole photo.
 * @base_kind "" when not answered. Measures the mark from the pixels before it is stored (a
 * photo that cannot be read is marked unmeasured). Returns the mark's id. */
char *ws_record_mark (WsDesk *desk, const char *find_id, const char *photo_id, const char *part,
                      const char *const *views, const WsShape *shape, const char *base_kind,
                      GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Replaces a mark (moved, resized, other part, base kind, specimen, remark); measured again when the shape changed. */
gboolean ws_record_change_mark (WsDesk *desk, const char *find_id, const WsMark *mark, GError **error);
gboolean ws_record_remove_mark (WsDesk *desk, const char *mark_id, GError **error);
/* The same mark on another photo of the find, measured there: part, views, shape, specimen and remark go along. How a base is shown
 * does not: that is a claim about what the other photo shows, and is asked there. Returns the new mark's id. */
char *ws_record_copy_mark (WsDesk *desk, const char *find_id, const char *mark_id, const char *photo_id,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Marks the whole photo with a view, or takes that mark away again when it is there already. */
gboolean ws_record_label_photo (WsDesk *desk, const char *find_id, const char *photo_id, const char *view, GError **error);

/* Notes a character. @states "a|b" (or free text); an earlier note of the same character and specimen by the same person is replaced.
 * @states "" removes it. Unknown characters and states are WS_ERROR_INVALID and the message lists what there is. */
gboolean ws_record_note (WsDesk *desk, const char *find_id, const char *character, const char *states, gboolean sure,
                         gboolean off_photo, const char *specimen, GError **error);
/* The same with everything a note can hold. Of @note count: character, states, sure, off_photo, specimen, mark_id,
 * observed and minutes, text, answers, and observer ("": the user). With an id it replaces that note; with id "" it
 * replaces what the same observer noted of the same character and specimen at the same time (fresh, after so many minutes,
 * …), so that a timed series stands side by side. Without states and text it removes. Where the user does not see
 * colours reliably (setting "colours-unsure" is "yes") a note of a colour by the user is unsure and needs the user's
 * name: WS_ERROR_INVALID without. Returns the note's id, "" when one was removed. */
char *ws_record_whole_note (WsDesk *desk, const char *find_id, const WsNote *note, GError **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean ws_record_remove_note (WsDesk *desk, const char *note_id, GError **error);
/* Copies habitat, substrate and trees of @from (NULL: the find before) to the finds, as unsure. */
gboolean ws_record_copy_habitat (WsDesk *desk, const char *from, const char *const *find_ids, GError **error);
/* Why a view cannot be had; "" takes the reason back. The view stays missing. */
gboolean ws_record_excuse (WsDesk *desk, const char *find_id, const char *view, const char *reason, GError **error);
/* KEY: number, field-name, locality, remarks, only-mine, specimen-is, place ("LAT,LON" or "LAT,LON,ERROR_M"), time. */
gboolean ws_record_set (WsDesk *desk, const char *find_id, const char *key, const char *value, GError **error);
/* KEY: date, place, people of a foray. */
gboolean ws_record_set_foray (WsDesk *desk, const char *foray_id, const char *key, const char *value, GError **error);
/* A covered region, for every copy of the photo. Returns its id. */
char *ws_record_cover (WsDesk *desk, const char *photo_id, const WsShape *shape, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Its shape changes. */
gboolean ws_record_change_cover (WsDesk *desk, const WsCover *cover, GError **error);
gboolean ws_record_uncover (WsDesk *desk, const char *cover_id, GError **error);

/* Where the original of a photo is now: its path, or, when it has moved, where a file of the same content is found in the
 * folders of the other photos. NULL with WS_ERROR_NOT_FOUND. */
char *ws_record_locate_photo (WsDesk *desk, const WsPhoto *photo, GError **error) G_GNUC_WARN_UNUSED_RESULT;
