/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-state-search.h"

typedef struct { WsStateMatch match; int rank; } Ranked;

static gboolean
has_letters (const char *text)
{
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_isalnum (g_utf8_get_char (p)))
      return TRUE;
  return FALSE;
}

static int
rank_of (const WsKnowledge *knowledge, const char *language, const char *letters, const WsCharacter *character, const char *state)
{
  const char *plain = ws_knowledge_state_text (knowledge, language, character->id, state);
  const char *term = ws_character_get_term (character, state);
  const char *name = ws_knowledge_text (knowledge, language, "character", character->id);
  g_autofree char *all = g_strjoin (" ", name, plain, term, NULL);

  /* Most states match nothing: one look is enough for them. */
  if (!g_str_match_string (letters, all, TRUE))
    return -1;
  if (g_str_match_string (letters, name, TRUE))
    return 0;
  if (g_str_match_string (letters, plain, TRUE))
    return 1;
  return g_str_match_string (letters, term, TRUE) ? 2 : 3;
}

static int
by_rank (gconstpointer a, gconstpointer b)
{
  return ((const Ranked *) a)->rank - ((const Ranked *) b)->rank;
}

GArray *
ws_state_search (const WsKnowledge *knowledge, const char *language, const char *letters, const char *growth_form, guint limit)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (WsStateMatch));
  g_autoptr (GArray) ranked = g_array_new (FALSE, FALSE, sizeof (Ranked));
  gboolean any = g_utf8_validate (letters, -1, NULL) && has_letters (letters);
  GPtrArray *characters = ws_knowledge_get_characters (knowledge);

  for (guint c = 0; any && c < characters->len; c++)
    {
      const WsCharacter *character = g_ptr_array_index (characters, c);

      for (guint s = 0; character->asked_with == NULL && s < character->states->len; s++)
        {
          const char *state = g_ptr_array_index (character->states, s);
          Ranked one = { { character, state }, rank_of (knowledge, language, letters, character, state) };

          if (one.rank < 0)
            continue;
          one.rank += ws_character_applies (character, growth_form) ? 0 : 4;
          g_array_append_val (ranked, one);
        }
    }
  g_array_sort (ranked, by_rank);
  for (guint i = 0; i < MIN (limit, ranked->len); i++)
    g_array_append_val (found, g_array_index (ranked, Ranked, i).match);
  return found;
}
