/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An answer: what comes back to a request. Immutable; an amended one replaces it. Values as in ws-values.h. */
#pragma once

#include "ws-name.h"

/* --- Reason of an opinion, with where it was seen ------------------------------------------ */

typedef struct
{
  gatomicrefcount refs;
  char *text;
  char *photo_id;       /* (nullable): seen on this photo of the request */
  char *part;           /* seen on this part, id of parts.tsv; "" when not said */
} WsReason;

/* --- Opinion: one name that comes into question -------------------------------------------- */

typedef struct
{
  gatomicrefcount refs;
  char *name;           /* as written, qualifiers and all */
  WsCertainty certainty;
  WsNamedOn on;
  GPtrArray *reasons;   /* WsReason */
} WsOpinion;

/* --- Wish: what to photograph or note next --------------------------------------------------- */

typedef struct
{
  gatomicrefcount refs;
  char *view;           /* id of views.tsv; "" none */
  char *character;      /* id of characters.tsv; "" none */
  char *part;           /* id of parts.tsv, chosen on the figure; "" none */
  char *text;           /* more about it, or a wish that no id names; "" when an id says it all */
} WsWish;

/* --- Answer ------------------------------------------------------------------------------------ */

typedef enum
{
  WS_ANSWER_FILE,       /* an answer file or the text block of a mail */
  WS_ANSWER_TOLD,       /* an ordinary reply or what was said: told by somebody, entered by the finder */
} WsAnswerKind;

/* More than anybody writes; bounds what a hostile file can ask for. */
#define WS_ANSWER_MAX_ITEMS 100

typedef struct
{
  gatomicrefcount refs;
  char *id;
  WsAnswerKind kind;
  char *request_id;     /* "" for what was told without a request */
  char *request_digest; /* SHA-512 of that request.json; "" when told */
  char *replaces;       /* (nullable): id of the answer that this one amends */
  char *by;             /* who answers; unverified */
  gint64 made_us;       /* UTC, microseconds; 0 unknown */
  char *language;       /* of its texts; "" unknown */
  GPtrArray *opinions;  /* WsOpinion, as given */
  gboolean cannot_name; /* it cannot be named from this */
  gboolean deadly;      /* this may be one of the deadly ones */
  gboolean phone_poison_service; /* phone the poison service now */
  GPtrArray *wishes;    /* WsWish, as given */
  char *remarks;
  char *verbatim;       /* told: the words as they came; else "" */
  char *entered_by;     /* told: who entered it; else "" */
  gint64 received_us;   /* taken in here, UTC; 0: not (yet) received */
} WsAnswer;

WS_DECLARE_VALUE (WsReason, ws_reason)
WS_DECLARE_VALUE (WsOpinion, ws_opinion)
WS_DECLARE_VALUE (WsWish, ws_wish)
WS_DECLARE_VALUE (WsAnswer, ws_answer)
#define WS_TYPE_ANSWER (ws_answer_get_type ())

/* The names of the answer as rows for the find it is about, in its order: by, date (UTC), certainty, on, reasons
 * (one a line), warning. An answer that warns without an opinion gives one row without a name; that it cannot be
 * named is no name. @new_id hands out the id of each (this layer has no chance); the result is taken.
 * @base_shown, @entered_us: as in WsName. Elements WsName. (transfer full) */
GPtrArray *ws_answer_dup_names (const WsAnswer *answer, int base_shown, char *(*new_id) (void),
                                gint64 entered_us) G_GNUC_WARN_UNUSED_RESULT;

/* "file", "told". */
const char *ws_answer_kind_id (WsAnswerKind kind);
gboolean ws_answer_kind_parse (const char *text, WsAnswerKind *kind);
