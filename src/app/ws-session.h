/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The open library as the window sees it: what was loaded last, kept up to date, and the one door for edits,
 * undo and messages. Only on the thread that draws.
 *
 * Signals:
 *   "changed" ()       something was loaded again: finds, unsorted photos, requests, settings or the undo labels. Each
 *                      WsFindItem that differs emits its own "changed" before
 *   "said" (const char *text, gboolean is_error)
 *                      a sentence for the person; an error stays until it is put away */
#pragma once

#include <gio/gio.h>

#include "ws-desk.h"
#include "ws-figure.h"
#include "ws-find-item.h"
#include "ws-picture-loader.h"
#include "ws-task.h"

#define WS_TYPE_SESSION (ws_session_get_type ())
G_DECLARE_FINAL_TYPE (WsSession, ws_session, WS, SESSION, GObject)

/* Settings of the library that the window knows. */
#define WS_SETTING_MY_NAME "my-name"
#define WS_SETTING_POISON_NUMBER "poison-number"
#define WS_SETTING_MIRRORED "mirrored"          /* "yes": leaves mirrored for the left hand */
#define WS_SETTING_TECHNICAL "technical"        /* "yes": technical terms beside the plain words */
#define WS_SETTING_COLOURS_UNSURE "colours-unsure"  /* "yes": does not see colours reliably; ws_record_whole_note() */
#define WS_SETTING_FIRST_ASKED "first-asked"    /* "yes": name and number were asked for once */
#define WS_SETTING_ASK_TO "ask-to"              /* whom the last request went to */
#define WS_SETTING_TELL_PLACE "tell-place"      /* how the place was told last */
#define WS_SETTING_REGION "region"              /* country and region as last typed */

/* Takes its own reference to @desk, and loads at once. */
WsSession *ws_session_new (WsDesk *desk) G_GNUC_WARN_UNUSED_RESULT;
WsDesk *ws_session_get_desk (WsSession *self);
const WsKnowledge *ws_session_get_knowledge (WsSession *self);
/* The knowledge text in the language of the desk; never NULL. */
const char *ws_session_text (WsSession *self, const char *kind, const char *id);
/* Shared by all views of photos. */
WsPictureLoader *ws_session_get_pictures (WsSession *self);

/* FALSE until the first load is done. */
gboolean ws_session_is_loaded (WsSession *self);
/* WsFindItem: newest foray first, within a foray by time. Borrowed. */
GListModel *ws_session_get_finds (WsSession *self);
/* NULL when there is none (any more). Borrowed. */
WsFindItem *ws_session_get_item (WsSession *self, const char *find_id);
/* The item before it in the same foray, NULL for the first. Borrowed. */
WsFindItem *ws_session_get_item_before (WsSession *self, const char *find_id);
/* WsPhoto in no find and not set aside. Borrowed until "changed". */
GPtrArray *ws_session_get_unsorted (WsSession *self);
/* WsSentRequest, newest first. Borrowed until "changed". */
GPtrArray *ws_session_get_requests (WsSession *self);
/* The drawing of a growth form; of "" the one for forms that are not known. NULL when there is none. Borrowed. */
WsFigure *ws_session_get_figure (WsSession *self, const char *growth_form);

/* From the last load; "" when not set. Borrowed until "changed". */
const char *ws_session_get_setting (WsSession *self, const char *key);
/* Known at once here, stored in the background. @value "" unsets. */
void ws_session_set_setting (WsSession *self, const char *key, const char *value);

/* What the next undo and redo would take back or do again; NULL when there is nothing. */
const char *ws_session_get_undo_label (WsSession *self);
const char *ws_session_get_redo_label (WsSession *self);
/* Say what was taken back or done again, or why not. */
void ws_session_undo (WsSession *self);
void ws_session_redo (WsSession *self);

/* An edit by ws_task_write() with two things around it: its error is reported, and after it @find_id (nullable) is
 * loaded and judged again before @done (nullable) is called. Further arguments as there. */
void ws_session_edit (WsSession *self, const char *find_id, WsTaskFunc func, gpointer data, GDestroyNotify free_data,
                      gpointer owner, WsTaskDone done, gpointer done_data, GDestroyNotify free_result);
/* Loads all again soon; several calls in a row load once. */
void ws_session_reload (WsSession *self);

/* A sentence for the person, and one that went wrong (cancellation says nothing). */
void ws_session_say (WsSession *self, const char *text);
void ws_session_report (WsSession *self, const GError *error);
/* A WsDesktopFailed whose data is a session (transfer full). */
void ws_session_failed (const char *message, gpointer session);
