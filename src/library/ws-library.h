/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library folder: forays, finds, photos, marks and notes in SQLite, on a thread of its
 * own. Every function here may be called from any thread but the one that draws: it waits for
 * the library's thread. Several programs may use one library together. */
#pragma once

#include <gio/gio.h>

#include "ws-request.h"
#include "ws-values.h"

#define WS_TYPE_LIBRARY (ws_library_get_type ())
G_DECLARE_FINAL_TYPE (WsLibrary, ws_library, WS, LIBRARY, GObject)

#define WS_LIBRARY_FORMAT 1

/* The default folder: "wholestem" in the user's data directory. (transfer full) */
char *ws_library_default_folder (void) G_GNUC_WARN_UNUSED_RESULT;

/* Opens @folder, making it and its database when absent, and migrating older ones (a copy of the old
 * file is kept beside it). WS_ERROR_NEWER_FORMAT, _UNREADABLE, _FAILED. */
WsLibrary *ws_library_open (const char *folder, GError **error) G_GNUC_WARN_UNUSED_RESULT;
const char *ws_library_get_folder (WsLibrary *library);

/* Emitted in the thread-default main context of the opener (signal "changed") after any change,
 * also one made by another program, at most a second later. */

/* --- Reading ------------------------------------------------------------------------ */

/* Whole finds (photos, marks, notes, …), newest foray first, then in order of time. @search
 * (nullable) matches number, field name, place, remarks, notes. Elements WsFind. */
GPtrArray *ws_library_load_finds (WsLibrary *library, const char *search, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* By UUID or by a collecting number that is unique; WS_ERROR_NOT_FOUND, or WS_ERROR_CONFLICT when several
 * have the number. */
WsFind *ws_library_load_find (WsLibrary *library, const char *id_or_number, GError **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *ws_library_load_forays (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;   /* WsForay */
/* Photos that belong to no find and are not set aside. WsPhoto */
GPtrArray *ws_library_load_unsorted (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *ws_library_load_set_aside (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *ws_library_load_all_photos (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* NULL without error when there is none. */
WsPhoto *ws_library_load_photo (WsLibrary *library, const char *id, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsPhoto *ws_library_load_photo_by_digest (WsLibrary *library, const char *digest, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Ids of the finds that hold the photo. */
char **ws_library_dup_finds_of_photo (WsLibrary *library, const char *photo_id, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Settings (poison-service number, name of the user, left hand, …): NULL when not set. */
char *ws_library_dup_setting (WsLibrary *library, const char *key) G_GNUC_WARN_UNUSED_RESULT;
gboolean ws_library_set_setting (WsLibrary *library, const char *key, const char *value, GError **error);

/* --- Writing: one user action is one transaction and one step of undo ---------------- */

typedef struct _WsAction WsAction;

/* @label: a translated phrase for the undo menu, "Mark the stem base". */
WsAction *ws_action_new (const char *label) G_GNUC_WARN_UNUSED_RESULT;
void ws_action_free (WsAction *action);
/* Puts replace what has the same id. Values are referenced. */
void ws_action_put_foray (WsAction *action, const WsForay *foray);
void ws_action_remove_foray (WsAction *action, const char *foray_id);
/* The find's own fields only, not its arrays. */
void ws_action_put_find (WsAction *action, const WsFind *find);
/* With its marks, notes, excuses; photos stay. */
void ws_action_remove_find (WsAction *action, const char *find_id);
void ws_action_put_photo (WsAction *action, const WsPhoto *photo, guint64 likeness);
void ws_action_put_find_photo (WsAction *action, const char *find_id, const WsFindPhoto *link);
/* With the marks of this find on that photo. */
void ws_action_remove_find_photo (WsAction *action, const char *find_id, const char *photo_id);
void ws_action_put_mark (WsAction *action, const char *find_id, const WsMark *mark);
void ws_action_remove_mark (WsAction *action, const char *mark_id);
void ws_action_put_note (WsAction *action, const char *find_id, const WsNote *note);
void ws_action_remove_note (WsAction *action, const char *note_id);
void ws_action_put_excuse (WsAction *action, const char *find_id, const WsExcuse *excuse);
void ws_action_remove_excuse (WsAction *action, const char *find_id, const char *view);
void ws_action_put_cover (WsAction *action, const WsCover *cover);
void ws_action_remove_cover (WsAction *action, const char *cover_id);

/* Carries the action out, whole or not at all. Durable when it returns TRUE. A cancel cannot
 * stop it. WS_ERROR_INVALID when a value breaks a rule, WS_ERROR_CONFLICT when it refers to something
 * that is gone. Takes the action (transfer full). */
gboolean ws_library_apply (WsLibrary *library, WsAction *action, GError **error);

/* Takes the last action back, or does it again; across restarts. @label (out) (optional): of the action.
 * WS_ERROR_NOT_FOUND when there is nothing to take back; WS_ERROR_CONFLICT with a reason when later
 * changes stand in the way (nothing is written). */
gboolean ws_library_undo (WsLibrary *library, char **label, GError **error);
gboolean ws_library_redo (WsLibrary *library, char **label, GError **error);
/* Labels of the next undo and redo, NULL when there is none. (transfer full) (nullable) */
void ws_library_peek_undo (WsLibrary *library, char **undo_label, char **redo_label);

/* The stored measurement of a mark is not a user action: no undo step. */
gboolean ws_library_store_measure (WsLibrary *library, const char *mark_id, const WsMeasure *measure, GError **error);
/* Where the photo was found again (moved files): no undo step. */
gboolean ws_library_store_photo_path (WsLibrary *library, const char *photo_id, const char *path,
                                      gint64 size, gint64 modified_us, GError **error);

/* A photo with a similar picture (Hamming distance at most 6) and more pixels, NULL without error when there is
 * none. */
WsPhoto *ws_library_find_likeness (WsLibrary *library, guint64 likeness, int width, int height, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- Requests: never undone ------------------------------------------------------------ */

typedef struct
{
  char *id, *find_id, *number, *to, *question;
  char *digest;        /* SHA-512 of request.json */
  char *package;       /* file name in sent/ */
  char *replaces;      /* (nullable) */
  gint64 made_us;
  gint64 sent_us;      /* 0: made, not said to be sent */
} WsSentRequest;
void ws_sent_request_free (WsSentRequest *sent);

gboolean ws_library_add_request (WsLibrary *library, const WsRequest *request, const char *digest,
                                 const char *package, GError **error);
gboolean ws_library_set_request_sent (WsLibrary *library, const char *request_id, gint64 sent_us, GError **error);
GPtrArray *ws_library_load_requests (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT; /* WsSentRequest, newest first */

/* --- Thumbnails, outside the database ---------------------------------------------------- */

/* "FOLDER/thumbnails/ab/abcdef….jpg" for a digest. (transfer full) */
char *ws_library_dup_thumbnail_path (WsLibrary *library, const char *digest) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsAction, ws_action_free)
