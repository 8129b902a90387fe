/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-state-search.h"

#include "find-support.h"

#include <string.h>

static WsKnowledge *knowledge;

static char *
text_of (const char *language, const char *letters, const char *form, guint limit)
{
  g_autoptr (GArray) found = ws_state_search (knowledge, language, letters, form, limit);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < found->len; i++)
    g_string_append_printf (text, "%s%s=%s", i > 0 ? " " : "", g_array_index (found, WsStateMatch, i).character->id,
                            g_array_index (found, WsStateMatch, i).state);
  return g_string_free (text, FALSE);
}

static void
test_letters (void)
{
  static const struct { const char *language, *letters, *first; } cases[] = {
    { "en", "decurr", "gill_attachment=decurrent" },        /* the technical term */
    { "en", "runn", "gill_attachment=subdecurrent" }, { "en", "ring", "ring=none_seen" },/* the plain name */
    { "en", "ring skirt", "ring=hanging" }, { "en", "skirt", "ring=hanging" }, { "en", "pend", "ring=hanging" },
    { "en", "SACC", "stem_base=volva_sac" }, { "en", "smell anis", "odour=anise" }, { "en", "umbil", "cap_shape=umbilicate" },
    { "de", "decurr", "gill_attachment=decurrent" }, { "en", "reticul", "stem_surface=network" } };

  g_test_summary ("A few letters of either name find the state");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = text_of (cases[i].language, cases[i].letters, "gilled_stem", 1);

      g_test_message ("%s", cases[i].letters);
      g_assert_cmpstr (text, ==, cases[i].first);
    }
}

static void
test_none (void)
{
  static const char *const letters[] = { "", "   ", "zzzz", "!?", "\t", "\xff" };

  g_test_summary ("Nothing for no letters or for letters of no name");
  for (gsize i = 0; i < G_N_ELEMENTS (letters); i++)
    {
      g_autofree char *text = text_of ("en", letters[i], "", 8);

      g_assert_cmpstr (text, ==, "");
    }
}

/* Each state is found by its own plain name and by its own term. A search takes the sanitizers long: the languages take turns. */
static void
test_all (void)
{
  GPtrArray *characters = ws_knowledge_get_characters (knowledge);
  const char *const *languages = ws_knowledge_get_languages (knowledge);
  guint n_languages = g_strv_length ((char **) languages);

  g_test_summary ("Every state is found by its whole plain name, in the languages in turn, and by its term");
  for (guint c = 0; c < characters->len; c++)
    {
      const WsCharacter *character = g_ptr_array_index (characters, c);

      for (guint s = 0; character->asked_with == NULL && s < character->states->len; s++)
        {
          const char *state = g_ptr_array_index (character->states, s);
          const char *language = languages[(c + s) % n_languages];
          const char *names[] = { ws_knowledge_state_text (knowledge, language, character->id, state),
                                  ws_character_get_term (character, state) };
          g_autofree char *wanted = g_strdup_printf (" %s=%s ", character->id, state);

          for (guint n = 0; n < 2; n++)
            {
              g_autofree char *text = *names[n] != '\0' ? text_of (language, names[n], "", 400) : NULL;
              g_autofree char *padded = text != NULL ? g_strconcat (" ", text, " ", NULL) : NULL;

              if (padded != NULL && strstr (padded, wanted) == NULL)
                g_error ("%s is not found by “%s”", wanted, names[n]);
            }
        }
    }
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  knowledge = support_load_knowledge ();
  g_test_add_func ("/find/state-search/letters", test_letters);
  g_test_add_func ("/find/state-search/none", test_none);
  g_test_add_func ("/find/state-search/all", test_all);
  result = g_test_run ();
  ws_knowledge_unref (knowledge);
  return result;
}
