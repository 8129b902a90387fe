/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library folder: forays, finds, photos, marks and notes in SQLite, on a thread of its
 * own. Every function here may be called from any thread but the one that draws: it waits for
 * the library's thread. Several programs may use one library together.
 *
 * Where nothing else is said, a failing function sets WS_ERROR_CONFLICT when another program kept
 * the library locked for five seconds (nothing was written: do it again), WS_ERROR_UNREADABLE when
 * the database is damaged, WS_ERROR_NEWER_FORMAT when a newer program has migrated it meanwhile, and WS_ERROR_FAILED when the system refused (disk full, …). Unknown
 * numbers (NAN) and unknown times come back as they were given; -0.0 comes back as 0. */
#pragma once

#include <gio/gio.h>

#include "ws-request.h"
#include "ws-values.h"

#define WS_TYPE_LIBRARY (ws_library_get_type ())
G_DECLARE_FINAL_TYPE (WsLibrary, ws_library, WS, LIBRARY, GObject)

#define WS_LIBRARY_FORMAT 2

/* The default folder: "wholestem" in the user's data directory. (transfer full) */
char *ws_library_default_folder (void) G_GNUC_WARN_UNUSED_RESULT;

/* Opens @folder, making it (for its owner alone) and its database when absent, and migrating older
 * ones (a copy of the old file is kept beside it). A file in the database's place that is not a
 * database of ours is left as it is. WS_ERROR_NEWER_FORMAT, _UNREADABLE, _FAILED. The last
 * g_object_unref() closes it and waits for that. */
WsLibrary *ws_library_open (const char *folder, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Absolute. May be called from the thread that draws. */
const char *ws_library_get_folder (WsLibrary *library);

/* Emitted in the thread-default main context of the opener (signal "changed", no arguments) after any
 * change, also one made by another program, about a second later. Changes in quick succession are
 * told once. */

/* --- Reading ------------------------------------------------------------------------ */

/* Whole finds (photos, marks, notes, …), newest foray first, finds without a foray last; inside a foray
 * in order of time, those without a time last. @search (nullable): every word of it must occur in the
 * number, field name, locality, remarks, the foray's place, the states and texts of the notes or the
 * names (withdrawn ones too), whatever the case and accents; no character has a special meaning. Elements WsFind; a photo in several finds is
 * one shared value. A mark's measure is the stored one, if it was taken of this shape and this
 * photo's bytes, else "not measured"; mm_per_pixel is that of the photo's scale. */
GPtrArray *ws_library_load_finds (WsLibrary *library, const char *search, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* By UUID (either case) or by a collecting number that is unique; WS_ERROR_NOT_FOUND, or
 * WS_ERROR_CONFLICT when several have the number. */
WsFind *ws_library_load_find (WsLibrary *library, const char *id_or_number, GError **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *ws_library_load_forays (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;   /* WsForay, newest first */
/* Photos that belong to no find and are not set aside. WsPhoto, in order of time */
GPtrArray *ws_library_load_unsorted (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *ws_library_load_set_aside (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;
GPtrArray *ws_library_load_all_photos (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* NULL without error when there is none. */
WsPhoto *ws_library_load_photo (WsLibrary *library, const char *id, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsPhoto *ws_library_load_photo_by_digest (WsLibrary *library, const char *digest, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Ids of the finds that hold the photo; empty when there is none. (transfer full) */
char **ws_library_dup_finds_of_photo (WsLibrary *library, const char *photo_id, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Settings (poison-service number, name of the user, left hand, …): NULL when not set, and with a
 * warning when it cannot be read. @value NULL unsets. */
char *ws_library_dup_setting (WsLibrary *library, const char *key) G_GNUC_WARN_UNUSED_RESULT;
gboolean ws_library_set_setting (WsLibrary *library, const char *key, const char *value, GError **error);

/* --- Writing: one user action is one transaction and one step of undo ---------------- */

typedef struct _WsAction WsAction;

/* @label: a translated phrase for the undo menu, "Mark the stem base". */
WsAction *ws_action_new (const char *label) G_GNUC_WARN_UNUSED_RESULT;
void ws_action_free (WsAction *action);
/* Puts replace what has the same id. Values are referenced. A remove of what is already gone makes
 * the action fail with WS_ERROR_CONFLICT. */
void ws_action_put_foray (WsAction *action, const WsForay *foray);
/* Its finds must have been moved or removed before, or in the same action. */
void ws_action_remove_foray (WsAction *action, const char *foray_id);
/* The find's own fields only (with name_in_force), not its arrays. */
void ws_action_put_find (WsAction *action, const WsFind *find);
/* With its marks, notes, excuses, measurements and spore lists; photos with their covers and scales stay, and
 * names and answers, which nothing removes. */
void ws_action_remove_find (WsAction *action, const char *find_id);
/* @likeness 0: none is known; what is stored is kept. Path, size and time of the file are stored as
 * by ws_library_store_photo_path(): undo does not touch them. */
void ws_action_put_photo (WsAction *action, const WsPhoto *photo, guint64 likeness);
/* Find and photo are stored already or put by the same action; of the photo only the id counts here. */
void ws_action_put_find_photo (WsAction *action, const char *find_id, const WsFindPhoto *link);
/* With the marks and measurements of this find on that photo. */
void ws_action_remove_find_photo (WsAction *action, const char *find_id, const char *photo_id);
/* On a photo of that find. Moves the mark when it was another find's. A measure in the mark is stored
 * as by ws_library_store_measure(). */
void ws_action_put_mark (WsAction *action, const char *find_id, const WsMark *mark);
/* Notes that were read off the mark stay, without it. */
void ws_action_remove_mark (WsAction *action, const char *mark_id);
void ws_action_put_note (WsAction *action, const char *find_id, const WsNote *note);
void ws_action_remove_note (WsAction *action, const char *note_id);
void ws_action_put_excuse (WsAction *action, const char *find_id, const WsExcuse *excuse);
void ws_action_remove_excuse (WsAction *action, const char *find_id, const char *view);
void ws_action_put_cover (WsAction *action, const WsCover *cover);
void ws_action_remove_cover (WsAction *action, const char *cover_id);
void ws_action_put_scale (WsAction *action, const WsScale *scale);
void ws_action_remove_scale (WsAction *action, const char *scale_id);
/* On a photo of that find, if on one. Moves it when it was another find's. */
void ws_action_put_measurement (WsAction *action, const char *find_id, const WsMeasurement *measurement);
void ws_action_remove_measurement (WsAction *action, const char *measurement_id);
void ws_action_put_spore_list (WsAction *action, const char *find_id, const WsSporeList *list);
void ws_action_remove_spore_list (WsAction *action, const char *list_id);
/* The names and answers of @from are those of @to as well, also warnings (merged and divided finds). */
void ws_action_share_names (WsAction *action, const char *from_find_id, const char *to_find_id);

/* Carries the action out, whole or not at all, in the order of its puts and removes. Durable when it
 * returns TRUE. A cancel cannot stop it. WS_ERROR_INVALID when a value breaks a rule (the message says
 * which), WS_ERROR_CONFLICT when it refers to something that is gone, or when a photo with the same
 * digest is already there. An action that changes nothing makes no step of undo. Takes the action
 * (transfer full).
 *
 * Rules: ids are UUIDs in lower case; texts are UTF-8; a find has a number; a known position is on the
 * globe; a mark has a part, at least one view and a shape inside the photo; a mark of the whole photo
 * is the box 0 0 1 1 and has no base kind; a note read off a photo is not sure; minutes stand with a note taken after so
 * many minutes, are not below 0, and with no other; a scale has two points inside the photo that do not coincide and a
 * distance above 0; a measurement has a quantity and a value above 0, its points inside the photo; spores
 * have sizes above 0; what a thing may be off by is not below 0. */
gboolean ws_library_apply (WsLibrary *library, WsAction *action, GError **error);

/* The last WS_LIBRARY_UNDO_STEPS actions are kept. */
#define WS_LIBRARY_UNDO_STEPS 1000

/* Takes the last action back, or does it again; across restarts. Actions that another program has made
 * since this one opened the library are that program's to take back. @label (out) (optional): of the
 * action. WS_ERROR_NOT_FOUND when there is nothing to take back; WS_ERROR_CONFLICT with a reason when
 * later changes stand in the way (nothing is written). */
gboolean ws_library_undo (WsLibrary *library, char **label, GError **error);
gboolean ws_library_redo (WsLibrary *library, char **label, GError **error);
/* Labels of the next undo and redo, NULL when there is none. (transfer full) (nullable) */
void ws_library_peek_undo (WsLibrary *library, char **undo_label, char **redo_label);

/* The stored measurement of a mark is not a user action: no undo step. @mark is the mark as it was
 * measured: if its shape has been changed since, the measure comes back only with the old shape (after an
 * undo). WS_ERROR_NOT_FOUND when its photo is gone, WS_ERROR_INVALID when nothing was measured. */
gboolean ws_library_store_measure (WsLibrary *library, const WsMark *mark, const WsMeasure *measure, GError **error);
/* Where the photo was found again (moved files): no undo step. WS_ERROR_NOT_FOUND. */
gboolean ws_library_store_photo_path (WsLibrary *library, const char *photo_id, const char *path,
                                      gint64 size, gint64 modified_us, GError **error);

/* The photo with the most similar picture (Hamming distance of the difference hashes at most 6) and more
 * pixels, the largest of those equally near; NULL without error when there is none. @likeness 0 (none
 * known) is like nothing. */
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
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsSentRequest, ws_sent_request_free)

/* Keeps that the request was made. WS_ERROR_CONFLICT when its id is there already: a request is
 * never changed. WS_ERROR_INVALID when an id is not a UUID. */
gboolean ws_library_add_request (WsLibrary *library, const WsRequest *request, const char *digest,
                                 const char *package, GError **error);
/* @sent_us 0: not sent after all. WS_ERROR_NOT_FOUND. */
gboolean ws_library_set_request_sent (WsLibrary *library, const char *request_id, gint64 sent_us, GError **error);
GPtrArray *ws_library_load_requests (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT; /* WsSentRequest, newest first */

/* NULL with WS_ERROR_NOT_FOUND. */
WsSentRequest *ws_library_load_request (WsLibrary *library, const char *request_id, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- Names and answers: only ever added, never undone ------------------------------------ */

/* WS_ERROR_CONFLICT when its id is there already, WS_ERROR_NOT_FOUND when the find, or the name that it withdraws, is
 * not there; WS_ERROR_INVALID when it breaks a rule: ids are UUIDs, a name has a text unless it warns or
 * withdraws, one that withdraws says nothing else. */
gboolean ws_library_add_name (WsLibrary *library, const char *find_id, const WsName *name, GError **error);

/* Keeps an answer with the @names (of WsName, may be NULL) that it gives to the find, whole or not at all. @file: its file
 * name in received/, "" when there is none. @find_id NULL: an answer given by the user to somebody's request; its
 * file lies in sent/. Errors as above; WS_ERROR_CONFLICT also when the answer is there already: nothing is lost. */
gboolean ws_library_add_answer (WsLibrary *library, const char *find_id, const WsAnswer *answer, GPtrArray *names,
                                const char *file, GError **error);
/* WsAnswer to a request, received and given ones, oldest first; @request_id NULL: all. */
GPtrArray *ws_library_load_answers (WsLibrary *library, const char *request_id, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* NULL without error when there is none. */
WsAnswer *ws_library_load_answer (WsLibrary *library, const char *answer_id, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- Requests received: for review ---------------------------------------------------------- */

typedef struct
{
  char *id;             /* of the request */
  char *digest;         /* SHA-512 of its request.json */
  char *from, *number, *question, *language;
  char *package;        /* file name in received/ */
  char *replaces;       /* (nullable) */
  gboolean emergency;
  gint64 made_us;       /* as the sender says */
  gint64 received_us;
  guint n_answers;      /* given to it; of those loaded */
} WsReceived;
void ws_received_free (WsReceived *received);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsReceived, ws_received_free)

/* WS_ERROR_CONFLICT when its id is there already. */
gboolean ws_library_add_received (WsLibrary *library, const WsReceived *received, GError **error);
/* WsReceived, emergencies first, then newest first. */
GPtrArray *ws_library_load_received (WsLibrary *library, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- Thumbnails, outside the database ---------------------------------------------------- */

/* "FOLDER/thumbnails/ab/abcdef….jpg" for a digest; who writes it makes the folder "ab". Never outside of
 * thumbnails/, whatever @digest is. May be called from the thread that draws. (transfer full) */
char *ws_library_dup_thumbnail_path (WsLibrary *library, const char *digest) G_GNUC_WARN_UNUSED_RESULT;

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsAction, ws_action_free)
