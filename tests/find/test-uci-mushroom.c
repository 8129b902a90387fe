/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The UCI Mushroom set (8,124 made-up samples of 23 species of one guide, from Debian's r-cran-cba), read in place. Its codes are
 * mapped to our states or named as unmapped; it is a test of words and of monotony, never of a verdict. */
#include "ws-still-open.h"

#include "find-support.h"

#include <string.h>

#include "../house/house-words.h"

#define N_COLUMNS 23

/* Codes as the set's own description gives them. NULL: no state of ours says that and nothing else. */
typedef struct { char code; const char *note; } Code;
typedef struct { const char *column; Code codes[13]; } Column;

static const Column columns[N_COLUMNS] = {
  { "class", { { 0, NULL } } },   /* never read */
  { "cap-shape", { { 'b', "cap_shape=bell" }, { 'c', "cap_shape=conical" }, { 'x', "cap_shape=convex" }, { 'f', "cap_shape=flat" },
                   { 'k', "cap_shape=umbonate" }, { 's', "cap_shape=depressed" } } },
  { "cap-surface", { { 'f', "cap_surface=silky" }, { 'g', NULL }, { 'y', "cap_surface=scaly" }, { 's', "cap_surface=smooth" } } },
  { "cap-color", { { 'n', "cap_colour=brown" }, { 'b', "cap_colour=cream" }, { 'c', "cap_colour=reddish_brown" }, { 'g', "cap_colour=grey" },
                   { 'r', "cap_colour=olive_green" }, { 'p', "cap_colour=pink" }, { 'u', "cap_colour=lilac_purple" }, { 'e', "cap_colour=red" },
                   { 'w', "cap_colour=white" }, { 'y', "cap_colour=yellow" } } },
  { "bruises", { { 't', NULL }, { 'f', "bruising=none" } } },
  { "odor", { { 'a', "odour=almond" }, { 'l', "odour=anise" }, { 'c', "odour=gas" }, { 'y', "odour=fish" }, { 'f', "odour=carrion" },
              { 'm', "odour=earth" }, { 'n', "odour=none" }, { 'p', NULL }, { 's', NULL } } },
  { "gill-attachment", { { 'a', NULL }, { 'd', "gill_attachment=decurrent" }, { 'f', "gill_attachment=free" }, { 'n', "gill_attachment=sinuate" } } },
  { "gill-spacing", { { 'c', "gill_spacing=close" }, { 'w', "gill_spacing=crowded" }, { 'd', "gill_spacing=distant" } } },
  { "gill-size", { { 'b', NULL }, { 'n', NULL } } },
  { "gill-color", { { 'k', "gill_colour=black" }, { 'n', "gill_colour=clay_brown" }, { 'b', "gill_colour=cream" }, { 'h', "gill_colour=chocolate" },
                    { 'g', "gill_colour=grey" }, { 'r', "gill_colour=greenish" }, { 'o', "gill_colour=orange" }, { 'p', "gill_colour=pink" },
                    { 'u', "gill_colour=lilac" }, { 'e', "gill_colour=red" }, { 'w', "gill_colour=white" }, { 'y', "gill_colour=yellow" } } },
  { "stalk-shape", { { 'e', "stem_shape=tapering_up" }, { 't', "stem_shape=tapering_down" } } },
  { "stalk-root", { { 'b', "stem_base=bulb" }, { 'c', "stem_base=club" }, { 'u', "stem_base=volva_sac" }, { 'e', "stem_base=equal" },
                    { 'z', "stem_base=cords" }, { 'r', "stem_base=rooting" }, { '?', "" } } },   /* "?": not recorded */
  { "stalk-surface-above-ring", { { 'f', "stem_surface=silky" }, { 'y', "stem_surface=scaly" }, { 'k', "stem_surface=silky" }, { 's', "stem_surface=smooth" } } },
  { "stalk-surface-below-ring", { { 'f', "stem_surface=silky" }, { 'y', "stem_surface=scaly" }, { 'k', "stem_surface=silky" }, { 's', "stem_surface=smooth" } } },
  { "stalk-color-above-ring", { { 'n', NULL }, { 'b', NULL }, { 'c', NULL }, { 'g', NULL }, { 'o', NULL }, { 'p', NULL }, { 'e', NULL }, { 'w', NULL }, { 'y', NULL } } },
  { "stalk-color-below-ring", { { 'n', NULL }, { 'b', NULL }, { 'c', NULL }, { 'g', NULL }, { 'o', NULL }, { 'p', NULL }, { 'e', NULL }, { 'w', NULL }, { 'y', NULL } } },
  { "veil-type", { { 'p', NULL }, { 'u', NULL } } },   /* whose veil, not of what kind */
  { "veil-color", { { 'n', NULL }, { 'o', NULL }, { 'w', NULL }, { 'y', NULL } } },
  { "ring-number", { { 'n', "ring=none_seen" }, { 'o', NULL }, { 't', "ring=double" } } },
  { "ring-type", { { 'c', "ring=cobweb" }, { 'e', "ring=woolly" }, { 'f', "ring=upright" }, { 'l', NULL }, { 'n', "ring=none_seen" },
                   { 'p', "ring=hanging" }, { 's', "ring=upright" }, { 'z', "ring=zone" } } },
  { "spore-print-color", { { 'k', "spore_print=black" }, { 'n', "spore_print=clay_brown" }, { 'b', "spore_print=cream" }, { 'h', "spore_print=chocolate" },
                           { 'r', "spore_print=green" }, { 'o', NULL }, { 'u', "spore_print=purple_brown" }, { 'w', "spore_print=white" },
                           { 'y', "spore_print=yellow" } } },
  { "population", { { 'a', "growth_habit=troop" }, { 'c', "growth_habit=tuft" }, { 'n', "growth_habit=troop" }, { 's', "growth_habit=scattered" },
                    { 'v', NULL }, { 'y', "growth_habit=single" } } },
  { "habitat", { { 'g', "substrate=grass" }, { 'l', "substrate=litter" }, { 'm', "substrate=grass" }, { 'p', NULL }, { 'u', NULL }, { 'w', NULL }, { 'd', NULL } } },
};

static WsKnowledge *knowledge;

/* Lines of the set as cells; NULL and a skip when it is not there. */
static GPtrArray *
load_records (void)
{
  const char *checks = g_getenv ("WS_CHECKS");
  g_autofree char *path = checks != NULL && *checks != '\0' ? g_build_filename (checks, "..", "reference", "uci-mushroom.csv", NULL) : NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  GPtrArray *records;

  if (path == NULL || !g_file_get_contents (path, &text, NULL, NULL))
    {
      g_test_skip ("uci-mushroom.csv is not there");
      return NULL;
    }
  records = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 1; lines[i] != NULL; i++)
    if (lines[i][0] != '\0')
      g_ptr_array_add (records, g_strsplit (g_strchomp (lines[i]), ",", -1));
  g_assert_cmpuint (records->len, ==, 8124);
  return records;
}

static const Code *
code_of (guint column, const char *cell)
{
  for (gsize i = 0; i < G_N_ELEMENTS (columns[column].codes) && columns[column].codes[i].code != 0; i++)
    if (columns[column].codes[i].code == cell[0] && cell[1] == '\0')
      return &columns[column].codes[i];
  return NULL;
}

/* Adds the state to the note of its character: what the two stalk surfaces say is one note of several states. */
static void
add_state (WsFind *find, const char *pair)
{
  g_auto (GStrv) words = g_strsplit (pair, "=", 2);
  WsNote *note;

  for (guint i = 0; i < find->notes->len; i++)
    {
      WsNote *there = g_ptr_array_index (find->notes, i);

      if (g_str_equal (there->character, words[0]))
        {
          g_autofree char *joined = g_strjoinv ("|", there->states), *both = g_strconcat (joined, "|", words[1], NULL);

          g_strfreev (there->states);
          there->states = g_strsplit (both, "|", -1);
          return;
        }
    }
  note = ws_note_new ();
  ws_set_string (&note->character, words[0]);
  note->sure = TRUE;
  g_strfreev (note->states);
  note->states = g_strdupv ((char *[]) { words[1], NULL });
  g_ptr_array_add (find->notes, note);
}

/* The record with the columns named; all its samples are gilled mushrooms with a stem. */
static WsFind *
find_of (char **cells, const char *const *wanted)
{
  WsFind *find = ws_find_new ();

  add_state (find, "growth_form=gilled_stem");
  add_state (find, "fertile_surface=gills");
  for (guint c = 1; c < N_COLUMNS; c++)
    if (wanted == NULL || g_strv_contains (wanted, columns[c].column))
      {
        const Code *code = code_of (c, cells[c]);

        if (code != NULL && code->note != NULL && code->note[0] != '\0')
          add_state (find, code->note);
      }
  return find;
}

static void
test_codes (void)
{
  g_autoptr (GPtrArray) records = load_records ();
  guint mapped = 0;

  g_test_summary ("Every code of the set is a state of ours, or is reported as unmapped");
  for (guint c = 1; c < N_COLUMNS; c++)
    for (gsize i = 0; columns[c].codes[i].code != 0 && i < G_N_ELEMENTS (columns[c].codes); i++)
      {
        const char *note = columns[c].codes[i].note;
        g_auto (GStrv) words = note != NULL ? g_strsplit (note, "=", 2) : NULL;
        const WsCharacter *character = words != NULL && words[0] != NULL ? ws_knowledge_find_character (knowledge, words[0]) : NULL;

        if (note == NULL)
          g_test_message ("unmapped: %s=%c", columns[c].column, columns[c].codes[i].code);
        else if (note[0] != '\0')
          {
            g_assert_nonnull (character);
            g_assert_true (ws_character_has_state (character, words[1]));
            mapped++;
          }
      }
  g_test_message ("%u codes are mapped", mapped);
  for (guint r = 0; records != NULL && r < records->len; r++)
    {
      char **cells = g_ptr_array_index (records, r);

      g_assert_cmpuint (g_strv_length (cells), ==, N_COLUMNS);
      for (guint c = 1; c < N_COLUMNS; c++)
        g_assert_nonnull (code_of (c, cells[c]));
    }
}

/* Everything that the still-open list says of a find. */
static void
append_said (GString *said, const WsFind *find, const char *language)
{
  g_autoptr (WsStillOpen) open = ws_still_open_judge (find, knowledge, (const char *[]) { "all", NULL });
  g_autoptr (GArray) next = ws_still_open_dup_next (open, knowledge, (const char *[]) { "all", NULL });

  for (guint i = 0; i < open->verdicts->len; i++)
    {
      const WsGroupVerdict *verdict = g_ptr_array_index (open->verdicts, i);
      g_autofree char *why = ws_still_open_dup_reasons_text (open, knowledge, language, verdict);

      g_string_append_printf (said, "%s\n%s\n%s\n", ws_knowledge_text (knowledge, language, "group", verdict->group->id),
                              ws_knowledge_text (knowledge, language, "group_helps", verdict->group->id), why);
    }
  for (guint i = 0; i < next->len; i++)
    {
      g_autofree char *text = ws_next_evidence_dup_text (&g_array_index (next, WsNextEvidence, i), knowledge, language);

      g_string_append_printf (said, "%s\n", text);
    }
}

static void
test_words (void)
{
  g_autoptr (GPtrArray) records = load_records ();
  g_autoptr (GRegex) eating = g_regex_new (HOUSE_EATING "|" HOUSE_NOWHERE "|" HOUSE_NOT_READ, G_REGEX_CASELESS | G_REGEX_OPTIMIZE, 0, NULL);
  const char *const *languages = ws_knowledge_get_languages (knowledge);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  g_test_summary ("No output for any record holds a word of eating or a word that all is well, in any language");
  /* Another record often says the same words: each line is looked at once. */
  for (guint r = 0; records != NULL && r < records->len; r++)
    for (guint l = 0; languages[l] != NULL; l++)
      {
        g_autoptr (WsFind) find = find_of (g_ptr_array_index (records, r), NULL);
        g_autoptr (GString) said = g_string_new (NULL);
        g_auto (GStrv) lines = NULL;

        append_said (said, find, languages[l]);
        g_assert_cmpuint (said->len, >, 500);
        lines = g_strsplit (said->str, "\n", -1);
        for (guint i = 0; lines[i] != NULL; i++)
          if (g_hash_table_add (seen, g_strdup (lines[i])) && g_regex_match (eating, lines[i], 0, NULL))
            g_error ("%s", lines[i]);
      }
}

static void
test_table (void)
{
  static const struct { const char *what; const char *columns[12]; } steps[] = {
    { "gilled with a stem", { NULL } },
    { "+ cap", { "cap-shape", "cap-surface", "cap-color", NULL } },
    { "+ gills", { "cap-shape", "cap-surface", "cap-color", "gill-attachment", "gill-spacing", "gill-color", NULL } },
    { "+ ring", { "cap-shape", "cap-surface", "cap-color", "gill-attachment", "gill-spacing", "gill-color", "ring-number", "ring-type", NULL } },
    { "+ stem", { "cap-shape", "cap-surface", "cap-color", "gill-attachment", "gill-spacing", "gill-color", "ring-number", "ring-type",
                  "stalk-shape", "stalk-surface-above-ring", "stalk-surface-below-ring", NULL } },
    { "+ base", { NULL } }, { "+ print", { NULL } } };
  g_autoptr (GPtrArray) records = load_records ();
  g_autoptr (GPtrArray) known = g_ptr_array_new ();
  g_autofree guint *before = NULL;

  g_test_summary ("How many groups stay open as cap, gills, ring, stem, base, print are added one after another, all conditions taken as met; "
                  "adding never opens one again, the veil aside");
  if (records == NULL)
    return;
  before = g_new (guint, records->len);
  g_test_message ("groups open, mean (least to most) of %u records", records->len);
  for (gsize s = 0; s < G_N_ELEMENTS (steps); s++)
    {
      guint sum = 0, least = G_MAXUINT, most = 0;

      g_ptr_array_set_size (known, 0);
      for (guint i = 0; i < 12 && steps[MIN (s, 4)].columns[i] != NULL; i++)
        g_ptr_array_add (known, (gpointer) steps[MIN (s, 4)].columns[i]);
      if (s >= 5)
        g_ptr_array_add (known, (gpointer) "stalk-root");
      if (s >= 6)
        g_ptr_array_add (known, (gpointer) "spore-print-color");
      g_ptr_array_add (known, NULL);
      for (guint r = 0; r < records->len; r++)
        {
          g_autoptr (WsFind) find = find_of (g_ptr_array_index (records, r), (const char *const *) known->pdata);
          g_autoptr (WsStillOpen) open = ws_still_open_judge (find, knowledge, (const char *[]) { "all", NULL });

          if (s > 0)
            g_assert_cmpuint (open->n_open, <=, before[r]);
          before[r] = open->n_open;
          sum += open->n_open;
          least = MIN (least, open->n_open);
          most = MAX (most, open->n_open);
        }
      g_test_message ("%-20s %5.2f (%u to %u)", steps[s].what, (double) sum / records->len, least, most);
    }
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  knowledge = support_load_knowledge ();
  g_test_add_func ("/find/uci-mushroom/codes", test_codes);
  g_test_add_func ("/find/uci-mushroom/words", test_words);
  g_test_add_func ("/find/uci-mushroom/table", test_table);
  result = g_test_run ();
  ws_knowledge_unref (knowledge);
  return result;
}
