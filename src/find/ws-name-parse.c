/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-name-parse.h"

#include "ws-name-reading.h"
#include "ws-name-words.h"

#include <string.h>

static char *
join_name (const char *genus, const char *a, const char *b, const char *c, const char *author)
{
  const char *parts[] = { genus, a, b, c, author };
  GString *name = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i] != NULL && *parts[i] != '\0')
      ws_name_reading_append (name, parts[i]);
  return g_string_free (name, FALSE);
}

/* Nothing is certain: everything is qualifier. */
static void
fill_unread (const WsNameReading *reading, WsNameParts *parts)
{
  GString *all = g_string_new (NULL);

  for (guint i = 0; i < reading->words->len; i++)
    ws_name_reading_append (all, g_ptr_array_index (reading->words, i));
  parts->scientific_name = g_strdup ("Fungi");
  parts->taxon_rank = g_strdup ("kingdom");
  if (reading->genus != NULL && reading->words->len == 2 && g_str_equal (reading->signs->str, "?"))
    parts->identification_qualifier = g_strdup_printf ("%s gen. inc.", reading->genus);
  else
    parts->identification_qualifier = g_strdup (all->str);
  parts->qualifier = g_strdup (reading->signs->str);
  g_string_free (all, TRUE);
}

static void
fill_genus (const WsNameReading *reading, WsNameParts *parts)
{
  const char *ending = ws_name_rank_by_ending (reading->genus);
  gboolean above = reading->above != NULL && !reading->above_doubted;

  parts->scientific_name = join_name (reading->genus, above ? reading->above_sign : NULL, above ? reading->above : NULL,
                                      NULL, reading->doubt == WS_DOUBT_NONE ? reading->authors[0]->str : NULL);
  parts->taxon_rank = g_strdup (above ? reading->above_rank : ending != NULL ? ending : "genus");
  parts->identification_qualifier = reading->doubt == WS_DOUBT_NONE ? g_strdup (reading->senses->str)
                                    : above ? g_strdup (reading->after_above->str)
                                            : g_strdup (reading->after_genus->str);
}

static void
fill_species (const WsNameReading *reading, WsNameParts *parts)
{
  gboolean below = reading->below != NULL && reading->doubt == WS_DOUBT_NONE;

  parts->scientific_name = below ? join_name (reading->genus, reading->species, reading->below_sign, reading->below,
                                              reading->authors[2]->str)
                                 : join_name (reading->genus, reading->species, NULL, NULL, reading->authors[1]->str);
  parts->taxon_rank = g_strdup (reading->wide_rank != NULL ? reading->wide_rank : below ? reading->below_rank : "species");
  parts->identification_qualifier = g_strdup (reading->doubt == WS_DOUBT_NONE ? reading->senses->str
                                                                           : reading->after_species->str);
  parts->firm = reading->wide_rank == NULL;
}

static void
fill_given (const WsNameReading *reading, WsNameParts *parts)
{
  const char *ending = reading->genus != NULL ? ws_name_rank_by_ending (reading->genus) : NULL;
  const char *rank = reading->genus == NULL       ? ""
                     : reading->wide_rank != NULL ? reading->wide_rank
                     : reading->below != NULL     ? reading->below_rank
                     : reading->species != NULL   ? "species"
                     : reading->above != NULL     ? reading->above_rank
                     : ending != NULL             ? ending : "genus";

  parts->genus = g_strdup (reading->genus != NULL && ending == NULL ? reading->genus : "");
  parts->rank = g_strdup (rank);
  parts->epithet = g_strdup (reading->species != NULL ? reading->species : reading->above != NULL ? reading->above : "");
  parts->infraspecific = g_strdup (reading->below != NULL ? reading->below : "");
  parts->author = g_strdup (reading->authors[reading->below != NULL ? 2 : reading->species != NULL ? 1 : 0]->str);
}

static void
fill (WsNameReading *reading, WsNameParts *parts)
{
  fill_given (reading, parts);
  if (reading->genus == NULL || reading->doubt == WS_DOUBT_GENUS)
    {
      fill_unread (reading, parts);
      return;
    }
  parts->qualifier = g_strdup (reading->signs->str);
  if (reading->species == NULL || reading->doubt == WS_DOUBT_SPECIES)
    fill_genus (reading, parts);
  else
    fill_species (reading, parts);
}

WsNameParts *
ws_name_parse (const char *text)
{
  WsNameParts *parts = g_new0 (WsNameParts, 1);
  g_autofree char *start = g_strndup (text, WS_NAME_MAX_BYTES);
  WsNameReading reading;

  ws_name_reading_read (&reading, start, strlen (text) > WS_NAME_MAX_BYTES);
  fill (&reading, parts);
  parts->verbatim = g_utf8_make_valid (text, -1);
  ws_name_reading_clear (&reading);
  return parts;
}

void
ws_name_parts_free (WsNameParts *parts)
{
  if (parts == NULL)
    return;
  g_free (parts->verbatim);
  g_free (parts->genus);
  g_free (parts->rank);
  g_free (parts->epithet);
  g_free (parts->infraspecific);
  g_free (parts->author);
  g_free (parts->qualifier);
  g_free (parts->scientific_name);
  g_free (parts->identification_qualifier);
  g_free (parts->taxon_rank);
  g_free (parts);
}
