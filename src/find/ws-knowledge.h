/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the trade knows, parsed from the text tables of data/knowledge. Pure: the bytes are
 * handed in. Everything returned is borrowed and lives as long as the knowledge. */
#pragma once

#include <glib-object.h>

typedef struct _WsKnowledge WsKnowledge;

typedef enum { WS_NEED_NONE, WS_NEED_REQUIRED, WS_NEED_RECOMMENDED, WS_NEED_ONLY_IF } WsNeed;
typedef enum { WS_SHOWS_NO, WS_SHOWS_WEAKLY, WS_SHOWS_FULLY } WsShows;

typedef struct { const char *id; const char *term; const char *const *views; } WsPart;
typedef struct { const char *id; const char *part; gboolean is_base; } WsView;
typedef struct { const char *id; WsShows shows; } WsBaseKind;
typedef struct
{
  const char *id;
  const char *term;
  gboolean has_stem;
  const char *const *surfaces;  /* fertile surfaces it can have; empty when the tables do not say */
} WsGrowthForm;
typedef struct
{
  const char *id;
  gboolean several;   /* may hold several states at once */
  gboolean colour;
  gboolean free_text; /* its state is a free text (trees, weather, size) */
  GPtrArray *states;  /* of char*: ids, in order */
  GPtrArray *terms;   /* of char*, beside states: the technical term, "" when there is none */
  const char *const *forms;  /* growth forms it applies to; empty: all */
  const char *asked_with;    /* (nullable): the character with whose note this is asked as a question */
} WsCharacter;

/* One condition of an only-if cell: met when a note of the character holds a state of the
 * list ("ring=hanging|upright"), or one outside it ("ring!=none_seen"), or any ("ring=*"). */
typedef struct { const char *character; gboolean negated; const char *const *states; } WsCondition;

typedef struct { const WsView *view; WsNeed need; const WsCondition *condition; } WsRequirement;

/* How long missing evidence can still be had, hours from the find's time; 0: not to be had there. */
typedef struct
{
  const char *kind;             /* "view", "form", "reason", "note" */
  const char *id;               /* of the view, form or reason; of the character of a note */
  const char *const *states;    /* of a note: any of these */
  guint kept_h, spot_h;
} WsLasting;

typedef struct
{
  int base_min_px;          /* a base narrower than this is useless (judgement) */
  int part_min_px;          /* any other mark narrower than this is weak (judgement) */
  double blur_weak;         /* blur sigma / width of the mark, from which a mark is weak */
  double blur_useless;      /* … and from which it is useless */
  double exposure_weak;     /* share burnt out or blocked up */
  double exposure_useless;
} WsThresholds;

/* Names of the tables needed, NULL-terminated: "parts.tsv", …, "en/texts.tsv". */
const char *const *ws_knowledge_get_table_names (void);

/* @tables: file name (as above, also of other languages "de/texts.tsv") to GBytes. Every
 * id that one table uses must be in the table that defines it. NULL with an error that
 * names file and line (WS_ERROR_UNREADABLE, _NEWER_FORMAT, _NOT_FOUND). */
WsKnowledge *ws_knowledge_parse (GHashTable *tables, GError **error) G_GNUC_WARN_UNUSED_RESULT;
WsKnowledge *ws_knowledge_ref (WsKnowledge *knowledge);
void ws_knowledge_unref (WsKnowledge *knowledge);

/* SHA-512 over all tables in the order of their names: travels with a request. */
const char *ws_knowledge_get_digest (const WsKnowledge *knowledge);

GPtrArray *ws_knowledge_get_parts (const WsKnowledge *knowledge);          /* WsPart */
GPtrArray *ws_knowledge_get_views (const WsKnowledge *knowledge);          /* WsView */
GPtrArray *ws_knowledge_get_base_kinds (const WsKnowledge *knowledge);     /* WsBaseKind */
GPtrArray *ws_knowledge_get_growth_forms (const WsKnowledge *knowledge);   /* WsGrowthForm */
GPtrArray *ws_knowledge_get_characters (const WsKnowledge *knowledge);     /* WsCharacter */
const WsPart *ws_knowledge_find_part (const WsKnowledge *knowledge, const char *id);
const WsView *ws_knowledge_find_view (const WsKnowledge *knowledge, const char *id);
const WsBaseKind *ws_knowledge_find_base_kind (const WsKnowledge *knowledge, const char *id);
const WsGrowthForm *ws_knowledge_find_growth_form (const WsKnowledge *knowledge, const char *id);
const WsCharacter *ws_knowledge_find_character (const WsKnowledge *knowledge, const char *id);
GPtrArray *ws_knowledge_get_lastings (const WsKnowledge *knowledge);      /* WsLasting */
/* The technical term of a state, "" when there is none. */
const char *ws_character_get_term (const WsCharacter *character, const char *state);
/* TRUE when the character applies to the growth form, or when one of both is not known. */
gboolean ws_character_applies (const WsCharacter *character, const char *growth_form);
gboolean ws_character_has_state (const WsCharacter *character, const char *state);
/* The part by which a view is shown, as a mark made for this view gets it. */
const char *ws_knowledge_part_of_view (const WsKnowledge *knowledge, const char *view, const char *growth_form);

/* What a growth form needs, in the order of views.tsv, without the cells "n". With an
 * unknown form ("" or not in the table): the required views of all forms with a stem. (transfer
 * container): free with g_array_unref; elements are WsRequirement. */
GArray *ws_knowledge_dup_requirements (const WsKnowledge *knowledge, const char *growth_form) G_GNUC_WARN_UNUSED_RESULT;

const WsThresholds *ws_knowledge_get_thresholds (const WsKnowledge *knowledge);

/* Languages with texts, "en" first. */
const char *const *ws_knowledge_get_languages (const WsKnowledge *knowledge);

/* The text of @kind ("part", "view", "base_kind", "growth_form", "character", "reason",
 * "why", "how", "caution", "need", "state:ring", "page", …) and @id in a language; English if
 * that language lacks it, the id if English lacks it too. Never NULL. */
const char *ws_knowledge_text (const WsKnowledge *knowledge, const char *language,
                               const char *kind, const char *id);
/* What a view is called. @technical: with the technical term behind it, where the language has one: "Underside
 * (hymenophore)". (transfer full) */
char *ws_knowledge_dup_view_name (const WsKnowledge *knowledge, const char *language, const char *view,
                                  gboolean technical) G_GNUC_WARN_UNUSED_RESULT;
/* FALSE when neither the language nor English has it. */
gboolean ws_knowledge_has_text (const WsKnowledge *knowledge, const char *kind, const char *id);
/* The text of a character's state. */
const char *ws_knowledge_state_text (const WsKnowledge *knowledge, const char *language,
                                     const char *character, const char *state);
/* The language of ours that fits the locale best: "de" for "de_DE.UTF-8", else "en". */
const char *ws_knowledge_pick_language (const WsKnowledge *knowledge, const char *const *wanted);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsKnowledge, ws_knowledge_unref)
