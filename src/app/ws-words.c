/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-words.h"

#include "ws-intl.h"

#include <math.h>
#include <stdio.h>

static GDateTime *
parse_date (const char *date)
{
  int year, month, day;

  if (sscanf (date, "%4d-%2d-%2d", &year, &month, &day) != 3)
    return NULL;
  return g_date_time_new_utc (year, month, day, 12, 0, 0);
}

char *
ws_words_date (const char *date)
{
  g_autoptr (GDateTime) day = parse_date (date);

  if (day == NULL)
    return g_strdup (*date != '\0' ? date : _("Date not known"));
  /* Translators: the date of a foray, "Saturday, 4 October 2025". The codes are those of date(1). */
  return g_date_time_format (day, _("%A, %-d %B %Y"));
}

char *
ws_words_when (gint64 utc_us)
{
  g_autoptr (GDateTime) utc = g_date_time_new_from_unix_utc (utc_us / G_USEC_PER_SEC);
  g_autoptr (GDateTime) local = utc != NULL ? g_date_time_to_local (utc) : NULL;

  /* Translators: a date with a time, "4 October 2025, 14:03". */
  return local != NULL ? g_date_time_format (local, _("%-d %B %Y, %H:%M")) : g_strdup ("");
}

char *
ws_words_place_people (const WsForay *foray)
{
  if (foray == NULL || (*foray->place == '\0' && *foray->people == '\0'))
    return g_strdup ("");
  if (*foray->people == '\0')
    return g_strdup (foray->place);
  if (*foray->place == '\0')
    /* Translators: who came along on a foray. */
    return g_strdup_printf (_("with %s"), foray->people);
  /* Translators: place of a foray, then who came along. */
  return g_strdup_printf (_("%s, with %s"), foray->place, foray->people);
}

static void
add_detail (GString *text, const char *detail)
{
  if (detail == NULL || *detail == '\0')
    return;
  if (text->len > 0)
    g_string_append (text, " · ");
  g_string_append (text, detail);
}

char *
ws_words_find_details (const WsFind *find)
{
  GString *text = g_string_new (NULL);
  g_autofree char *clock = ws_moment_clock (&find->when);
  g_autofree char *spot = ws_position_is_known (&find->where) ? ws_position_to_text (&find->where, 4) : NULL;
  guint n = find->photos->len;
  g_autofree char *photos = n == 0 ? g_strdup (_("no photo yet"))
                                   : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u photo", "%u photos", n), n);

  add_detail (text, clock);
  add_detail (text, *find->locality != '\0' ? find->locality : spot);
  add_detail (text, photos);
  return g_string_free (text, FALSE);
}

char *
ws_words_find_title (const WsFind *find)
{
  if (*find->field_name == '\0')
    return g_strdup (find->number);
  return g_strdup_printf ("%s, %s", find->number, find->field_name);
}

char *
ws_words_photo (const WsPhoto *photo)
{
  g_autofree char *name = g_path_get_basename (photo->path);
  g_autofree char *date = ws_moment_date (&photo->taken);
  g_autofree char *clock = ws_moment_clock (&photo->taken);
  g_autoptr (GDateTime) day = date != NULL ? parse_date (date) : NULL;
  /* Translators: the day a photo was taken, "4 October 2025". */
  g_autofree char *words = day != NULL ? g_date_time_format (day, _("%-d %B %Y")) : NULL;

  if (words == NULL || clock == NULL)
    return g_strdup_printf (_("%s, time not known"), name);
  return g_strdup_printf ("%s, %s, %s", name, words, clock);
}

char *
ws_words_note (const WsNote *note, const WsKnowledge *knowledge, const char *language)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; note->states[i] != NULL; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "",
                            ws_knowledge_state_text (knowledge, language, note->character, note->states[i]));
  if (note->observed != WS_OBSERVED_UNKNOWN)
    {
      const char *when = ws_knowledge_text (knowledge, language, "observed", ws_observed_id (note->observed));
      g_autofree char *minutes = g_strdup_printf ("%g", note->minutes);
      /* Filled by hand: a text of a table is never a format. */
      g_auto (GStrv) halves = g_strsplit (when, "%s", 2);
      g_autofree char *words = g_strjoinv (minutes, halves);

      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", words);
    }
  if (note->text[0] != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", note->text);
  return g_string_free (text, FALSE);
}

gboolean
ws_words_notes_are_same (const WsNote *a, const WsNote *b)
{
  return g_strv_equal ((const char *const *) a->states, (const char *const *) b->states) && a->sure == b->sure && a->off_photo == b->off_photo &&
         a->observed == b->observed && (a->observed != WS_OBSERVED_AFTER || fabs (a->minutes - b->minutes) < 1e-6) &&
         g_str_equal (a->specimen, b->specimen) && g_str_equal (a->observer, b->observer) && g_str_equal (a->text, b->text) &&
         g_strcmp0 (a->mark_id, b->mark_id) == 0 && g_strv_equal ((const char *const *) a->answers, (const char *const *) b->answers);
}
