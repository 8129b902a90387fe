/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-name.h"

#include "ws-moment.h"
#include "ws-value-private.h"

#define NAME_STRINGS(n) (char **[]) { &(n)->id, &(n)->verbatim, &(n)->by, &(n)->date, &(n)->reasons, \
                                      &(n)->entered_by, NULL }

static void
ws_name_clear (WsName *name)
{
  ws_value_free_strings (NAME_STRINGS (name));
  g_free (name->answer_id);
  g_free (name->withdraws);
}

DEFINE_VALUE (WsName, ws_name)

WsName *
ws_name_new (void)
{
  WsName *name = NEW_VALUE (WsName);

  ws_value_fill_strings (NAME_STRINGS (name));
  name->base_shown = -1;
  return name;
}

WsName *
ws_name_copy (const WsName *value)
{
  WsName *name = ws_value_dup (value, sizeof *value);

  ws_value_fill_strings (NAME_STRINGS (name));
  name->answer_id = g_strdup (name->answer_id);
  name->withdraws = g_strdup (name->withdraws);
  return name;
}

gboolean
ws_name_is_date (const char *date)
{
  g_autofree char *noon = g_strconcat (date, "T12:00:00", NULL);
  WsMoment moment = WS_MOMENT_INIT;

  return *date == '\0' || ws_moment_set_local (&moment, noon);
}

static const char *const certainty_ids[] = { "open", "probable", "sure" };
static const char *const named_on_ids[] = { "unknown", "photos", "specimen", "both" };
static const char *const source_ids[] = { "finder", "answer", "told" };

const char *
ws_certainty_id (WsCertainty certainty)
{
  return certainty_ids[certainty];
}

gboolean
ws_certainty_parse (const char *text, WsCertainty *certainty)
{
  int place = ID_PLACE (certainty_ids, text);

  if (place >= 0)
    *certainty = (WsCertainty) place;
  return place >= 0;
}

const char *
ws_named_on_id (WsNamedOn on)
{
  return named_on_ids[on];
}

gboolean
ws_named_on_parse (const char *text, WsNamedOn *on)
{
  int place = ID_PLACE (named_on_ids, text);

  if (place >= 0)
    *on = (WsNamedOn) place;
  return place >= 0;
}

const char *
ws_name_source_id (WsNameSource source)
{
  return source_ids[source];
}

gboolean
ws_name_source_parse (const char *text, WsNameSource *source)
{
  int place = ID_PLACE (source_ids, text);

  if (place >= 0)
    *source = (WsNameSource) place;
  return place >= 0;
}
