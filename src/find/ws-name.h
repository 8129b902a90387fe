/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A name: one determination of a find. Names are only ever added; taking one back is a name of its own that
 * withdraws it. Values as in ws-values.h. */
#pragma once

#include "ws-value.h"

/* How certain the one who gave the name is. Nothing said is open. */
typedef enum { WS_CERTAINTY_OPEN, WS_CERTAINTY_PROBABLE, WS_CERTAINTY_SURE } WsCertainty;

/* What the name was given on. */
typedef enum { WS_NAMED_ON_UNKNOWN, WS_NAMED_ON_PHOTOS, WS_NAMED_ON_SPECIMEN, WS_NAMED_ON_BOTH } WsNamedOn;

/* How it came into the library. */
typedef enum
{
  WS_NAME_BY_FINDER,   /* the finder's own opinion */
  WS_NAME_BY_ANSWER,   /* an answer file: see answer_id */
  WS_NAME_TOLD,        /* told by somebody, entered by the finder */
} WsNameSource;

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *verbatim;       /* as given, qualifiers and all; "" for a warning without a name */
  WsCertainty certainty;
  char *by;             /* who gave it; unverified, always said so */
  char *date;           /* when it was given, "2025-10-04"; "" not known */
  WsNamedOn on;
  int base_shown;       /* at that time: 1 yes, 0 no, -1 the form has no base or it is not known */
  char *reasons;        /* in words */
  WsNameSource source;
  char *answer_id;      /* (nullable): the answer it came with */
  char *entered_by;     /* WS_NAME_TOLD: who entered it; else "" */
  gboolean deadly;      /* whoever gave it warned: this may be one of the deadly ones */
  char *withdraws;      /* (nullable): id of the name that this row takes back; verbatim is then "" */
  gint64 created_us;    /* when it was entered here, UTC */
} WsName;

WS_DECLARE_VALUE (WsName, ws_name)
#define WS_TYPE_NAME (ws_name_get_type ())

/* TRUE for "2025-10-04" and for "". */
gboolean ws_name_is_date (const char *date);

/* "open", "probable", "sure". */
const char *ws_certainty_id (WsCertainty certainty);
gboolean ws_certainty_parse (const char *text, WsCertainty *certainty);
/* "unknown", "photos", "specimen", "both". */
const char *ws_named_on_id (WsNamedOn on);
gboolean ws_named_on_parse (const char *text, WsNamedOn *on);
/* "finder", "answer", "told". */
const char *ws_name_source_id (WsNameSource source);
gboolean ws_name_source_parse (const char *text, WsNameSource *source);
