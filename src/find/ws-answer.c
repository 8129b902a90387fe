/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-answer.h"

#include "ws-value-private.h"

static void
ws_reason_clear (WsReason *reason)
{
  g_free (reason->text);
  g_free (reason->photo_id);
  g_free (reason->part);
}

DEFINE_VALUE (WsReason, ws_reason)

WsReason *
ws_reason_new (void)
{
  WsReason *reason = NEW_VALUE (WsReason);

  ws_value_fill_strings ((char **[]) { &reason->text, &reason->part, NULL });
  return reason;
}

WsReason *
ws_reason_copy (const WsReason *value)
{
  WsReason *reason = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings ((char **[]) { &reason->text, &reason->part, NULL });
  reason->photo_id = g_strdup (reason->photo_id);
  return reason;
}

static void
ws_opinion_clear (WsOpinion *opinion)
{
  g_free (opinion->name);
  g_ptr_array_unref (opinion->reasons);
}

DEFINE_VALUE (WsOpinion, ws_opinion)

WsOpinion *
ws_opinion_new (void)
{
  WsOpinion *opinion = NEW_VALUE (WsOpinion);

  opinion->name = g_strdup ("");
  opinion->reasons = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_reason_unref);
  return opinion;
}

WsOpinion *
ws_opinion_copy (const WsOpinion *value)
{
  WsOpinion *opinion = ws_value_dup (value, sizeof *value);

  opinion->name = g_strdup (opinion->name);
  opinion->reasons = COPY_MEMBERS (opinion->reasons, ws_reason);
  return opinion;
}

#define WISH_STRINGS(w) (char **[]) { &(w)->view, &(w)->character, &(w)->part, &(w)->text, NULL }

static void
ws_wish_clear (WsWish *wish)
{
  ws_value_free_strings (WISH_STRINGS (wish));
}

DEFINE_VALUE (WsWish, ws_wish)

WsWish *
ws_wish_new (void)
{
  WsWish *wish = NEW_VALUE (WsWish);

  ws_value_fill_strings (WISH_STRINGS (wish));
  return wish;
}

WsWish *
ws_wish_copy (const WsWish *value)
{
  WsWish *wish = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (WISH_STRINGS (wish));
  return wish;
}

#define ANSWER_STRINGS(a) (char **[]) { &(a)->id, &(a)->request_id, &(a)->request_digest, &(a)->by, \
                                        &(a)->language, &(a)->remarks, &(a)->verbatim, &(a)->entered_by, NULL }

static void
ws_answer_clear (WsAnswer *answer)
{
  ws_value_free_strings (ANSWER_STRINGS (answer));
  g_free (answer->replaces);
  g_ptr_array_unref (answer->opinions);
  g_ptr_array_unref (answer->wishes);
}

DEFINE_VALUE (WsAnswer, ws_answer)

WsAnswer *
ws_answer_new (void)
{
  WsAnswer *answer = NEW_VALUE (WsAnswer);

  ws_value_fill_strings (ANSWER_STRINGS (answer));
  answer->opinions = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_opinion_unref);
  answer->wishes = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_wish_unref);
  return answer;
}

WsAnswer *
ws_answer_copy (const WsAnswer *value)
{
  WsAnswer *answer = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (ANSWER_STRINGS (answer));
  answer->replaces = g_strdup (answer->replaces);
  answer->opinions = COPY_MEMBERS (answer->opinions, ws_opinion);
  answer->wishes = COPY_MEMBERS (answer->wishes, ws_wish);
  return answer;
}

/* --- Names ------------------------------------------------------------------------------------- */

static char *
join_reasons (const WsOpinion *opinion)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();

  for (guint i = 0; i < opinion->reasons->len; i++)
    g_ptr_array_add (lines, ((const WsReason *) g_ptr_array_index (opinion->reasons, i))->text);
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}

static char *
date_of (gint64 made_us)
{
  g_autoptr (GDateTime) made = made_us > 0 ? g_date_time_new_from_unix_utc (made_us / G_USEC_PER_SEC) : NULL;

  return made != NULL ? g_date_time_format (made, "%Y-%m-%d") : g_strdup ("");
}

/* @opinion NULL: the warning alone. */
static WsName *
name_of (const WsAnswer *answer, const WsOpinion *opinion, int base_shown, char *id, gint64 entered_us)
{
  g_autofree char *reasons = opinion != NULL ? join_reasons (opinion) : g_strdup (answer->remarks);
  g_autofree char *date = date_of (answer->made_us), *taken = id;
  WsName *name = ws_name_new ();

  ws_set_string (&name->id, taken);
  ws_set_string (&name->verbatim, opinion != NULL ? opinion->name : "");
  name->certainty = opinion != NULL ? opinion->certainty : WS_CERTAINTY_OPEN;
  ws_set_string (&name->by, answer->by);
  ws_set_string (&name->date, date);
  name->on = opinion != NULL ? opinion->on : WS_NAMED_ON_UNKNOWN;
  name->base_shown = base_shown;
  ws_set_string (&name->reasons, reasons);
  name->source = answer->kind == WS_ANSWER_TOLD ? WS_NAME_TOLD : WS_NAME_BY_ANSWER;
  name->answer_id = g_strdup (answer->id);
  ws_set_string (&name->entered_by, answer->entered_by);
  name->deadly = answer->deadly;
  name->created_us = entered_us;
  return name;
}

GPtrArray *
ws_answer_dup_names (const WsAnswer *answer, int base_shown, char *(*new_id) (void), gint64 entered_us)
{
  GPtrArray *names = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_name_unref);

  for (guint i = 0; i < answer->opinions->len; i++)
    g_ptr_array_add (names, name_of (answer, g_ptr_array_index (answer->opinions, i), base_shown, new_id (),
                                     entered_us));
  if (names->len == 0 && answer->deadly)
    g_ptr_array_add (names, name_of (answer, NULL, base_shown, new_id (), entered_us));
  return names;
}

static const char *const kind_ids[] = { "file", "told" };

const char *
ws_answer_kind_id (WsAnswerKind kind)
{
  return kind_ids[kind];
}

gboolean
ws_answer_kind_parse (const char *text, WsAnswerKind *kind)
{
  int place = ID_PLACE (kind_ids, text);

  if (place >= 0)
    *kind = (WsAnswerKind) place;
  return place >= 0;
}
