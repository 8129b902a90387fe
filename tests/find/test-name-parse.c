/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must come out is from the sources named beside each case:
 * [S] reference/standards.md §5.2, form B and its table (OBIS manual, Horton et al. 2021); [I] ICN Art. 4, 21, 24 (ranks);
 * [G] Sigovini et al. 2016 by the flow chart in §5.1; [J] judgement, on the cautious side. */
#include "ws-name-parse.h"
#include "ws-name-words.h"

#include <locale.h>
#include <string.h>

typedef struct
{
  const char *text;
  const char *parts;   /* genus|rank|epithet|infraspecific|author|qualifier|scientificName|identificationQualifier|taxonRank */
} Case;

static const Case cases[] = {
  /* --- plain names [I] */
  { "Amanita phalloides", "Amanita|species|phalloides||||Amanita phalloides||species" },
  { "  Amanita   phalloides ", "Amanita|species|phalloides||||Amanita phalloides||species" },
  { "Amanita phalloides (Vaill. ex Fr.) Link", "Amanita|species|phalloides||(Vaill. ex Fr.) Link||Amanita phalloides (Vaill. ex Fr.) Link||species" },
  { "Amanita phalloides (Vaill. ex Fr.) Link, 1833", "Amanita|species|phalloides||(Vaill. ex Fr.) Link 1833||Amanita phalloides (Vaill. ex Fr.) Link 1833||species" },
  { "Galerina marginata (Batsch) Kühner", "Galerina|species|marginata||(Batsch) Kühner||Galerina marginata (Batsch) Kühner||species" },
  { "Boletus edulis Bull. : Fr.", "Boletus|species|edulis||Bull. : Fr.||Boletus edulis Bull. : Fr.||species" },
  { "Lycoperdon pyriforme Schaeff.", "Lycoperdon|species|pyriforme||Schaeff.||Lycoperdon pyriforme Schaeff.||species" },
  { "Auricularia auricula-judae", "Auricularia|species|auricula-judae||||Auricularia auricula-judae||species" },
  { "Tuber brumale", "Tuber|species|brumale||||Tuber brumale||species" },
  { "Strobilomyces strobilaceus", "Strobilomyces|species|strobilaceus||||Strobilomyces strobilaceus||species" },
  { "amanita phalloides", "Amanita|species|phalloides||||Amanita phalloides||species" },
  { "Russula", "Russula|genus|||||Russula||genus" },
  { "Russula Pers.", "Russula|genus|||Pers.||Russula Pers.||genus" },
  { "Russulaceae", "|family|||||Russulaceae||family" },
  /* --- ranks [I] */
  { "Amanita muscaria var. guessowii", "Amanita|variety|muscaria|guessowii|||Amanita muscaria var. guessowii||variety" },
  { "Amanita muscaria (L.) Lam. var. guessowii Veselý", "Amanita|variety|muscaria|guessowii|Veselý||Amanita muscaria var. guessowii Veselý||variety" },
  { "Amanita muscaria subsp. flavivolvata", "Amanita|subspecies|muscaria|flavivolvata|||Amanita muscaria subsp. flavivolvata||subspecies" },
  { "Amanita muscaria ssp flavivolvata", "Amanita|subspecies|muscaria|flavivolvata|||Amanita muscaria subsp. flavivolvata||subspecies" },
  { "Amanita citrina f. alba", "Amanita|form|citrina|alba|||Amanita citrina f. alba||form" },
  { "Boletus edulis Hook. f.", "Boletus|species|edulis||Hook. f.||Boletus edulis Hook. f.||species" },
  { "Amanita muscaria subsp. flavivolvata var. guessowii", "Amanita|variety|muscaria|guessowii|||Amanita muscaria var. guessowii||variety" },
  { "Amanita sect. Phalloideae", "Amanita|section|Phalloideae||||Amanita sect. Phalloideae||section" },
  { "Amanita subg. Lepidella", "Amanita|subgenus|Lepidella||||Amanita subg. Lepidella||subgenus" },
  /* --- qualifiers: the table of §5.2 [S] */
  { "Amanita cf. phalloides", "Amanita|species|phalloides|||cf.|Amanita|cf. phalloides|genus" },
  { "Russula sp.", "Russula|genus||||sp.|Russula|sp.|genus" },
  { "Cortinarius aff. rubellus", "Cortinarius|species|rubellus|||aff.|Cortinarius|aff. rubellus|genus" },
  { "Galerina marginata ?", "Galerina|species|marginata|||?|Galerina|marginata ?|genus" },
  { "Galerina marginata s.l.", "Galerina|species|marginata|||s.l.|Galerina marginata|s.l.|species" },
  { "Armillaria mellea agg.", "Armillaria|speciesAggregate|mellea|||agg.|Armillaria mellea|agg.|speciesAggregate" },
  { "? Entoloma", "Entoloma|genus||||?|Fungi|Entoloma gen. inc.|kingdom" },
  { "Amanita phalloides cf. var. alba", "Amanita|variety|phalloides|alba||cf.|Amanita phalloides|cf. var. alba|species" },
  { "Amanita phalloides var. cf. alba", "Amanita|variety|phalloides|alba||cf.|Amanita phalloides|cf. var. alba|species" },
  /* --- other ways to write them [G, J] */
  { "Amanita cf phalloides", "Amanita|species|phalloides|||cf.|Amanita|cf. phalloides|genus" },
  { "Amanita cf.phalloides", "Amanita|species|phalloides|||cf.|Amanita|cf. phalloides|genus" },
  { "Amanita CF. phalloides", "Amanita|species|phalloides|||cf.|Amanita|cf. phalloides|genus" },
  { "amanita cf phalloides", "Amanita|species|phalloides|||cf.|Amanita|cf. phalloides|genus" },
  { "Amanita cf. phalloides (Vaill. ex Fr.) Link", "Amanita|species|phalloides||(Vaill. ex Fr.) Link|cf.|Amanita|cf. phalloides|genus" },
  { "Amanita cf. phalloides var. alba", "Amanita|variety|phalloides|alba||cf.|Amanita|cf. phalloides var. alba|genus" },
  { "Galerina marginata?", "Galerina|species|marginata|||?|Galerina|marginata ?|genus" },
  { "Galerina marginata (?)", "Galerina|species|marginata|||?|Galerina|marginata ?|genus" },
  { "Galerina marginata sp. inc.", "Galerina|species|marginata|||sp. inc.|Galerina|marginata sp. inc.|genus" },
  { "Galerina marginata (Batsch) Kühner ?", "Galerina|species|marginata||(Batsch) Kühner|?|Galerina|marginata ?|genus" },
  { "Amanita phalloides var. alba ?", "Amanita|variety|phalloides|alba||?|Amanita|phalloides var. alba ?|genus" },
  { "Entoloma ?", "Entoloma|genus||||?|Fungi|Entoloma gen. inc.|kingdom" },
  { "Entoloma? sinuatum", "Entoloma|species|sinuatum|||?|Fungi|Entoloma ? sinuatum|kingdom" },
  { "cf. Amanita phalloides", "Amanita|species|phalloides|||cf.|Fungi|cf. Amanita phalloides|kingdom" },
  { "Russula spp.", "Russula|genus||||spp.|Russula|spp.|genus" },
  { "Russula sp. 1", "Russula|genus||||sp. 1|Russula|sp. 1|genus" },
  { "Russula sp. Nordwald", "Russula|genus||||sp.|Russula|sp. Nordwald|genus" },
  { "Russula indet.", "Russula|genus||||indet.|Russula|indet.|genus" },
  { "Amanita sp. aff. phalloides", "Amanita|species|phalloides|||sp. aff.|Amanita|sp. aff. phalloides|genus" },
  { "Russulaceae sp.", "|family||||sp.|Russulaceae|sp.|family" },
  { "Galerina marginata s. l.", "Galerina|species|marginata|||s.l.|Galerina marginata|s.l.|species" },
  { "Galerina marginata sensu lato", "Galerina|species|marginata|||s.l.|Galerina marginata|s.l.|species" },
  { "Galerina marginata s. str.", "Galerina|species|marginata|||s.str.|Galerina marginata|s.str.|species" },
  { "Galerina marginata sensu Kühner", "Galerina|species|marginata|||sensu|Galerina marginata|sensu Kühner|species" },
  { "Armillaria cf. mellea agg.", "Armillaria|speciesAggregate|mellea|||cf. agg.|Armillaria|cf. mellea agg.|genus" },
  { "Amanita sect. Phalloideae sp.", "Amanita|section|Phalloideae|||sp.|Amanita sect. Phalloideae|sp.|section" },
  { "Amanita sect. Phalloideae ?", "Amanita|section|Phalloideae|||?|Amanita|sect. Phalloideae ?|genus" },
  { "Amanita cf. sect. Phalloideae", "Amanita|section|Phalloideae|||cf.|Amanita|cf. sect. Phalloideae|genus" },
  /* --- several names, words of everyday language [J] */
  { "Amanita phalloides or A. virosa", "Amanita|species|phalloides|||or|Amanita|phalloides or A. virosa|genus" },
  { "Amanita phalloides / virosa", "Amanita|species|phalloides|||/|Amanita|phalloides / virosa|genus" },
  { "Amanita phalloides or Galerina marginata", "Amanita|species|phalloides|||or|Fungi|Amanita phalloides or Galerina marginata|kingdom" },
  { "Amanita phalloides Galerina marginata", "Amanita|species|phalloides||Galerina||Fungi|Amanita phalloides Galerina marginata|kingdom" },
  { "Amanita phalloides, Galerina marginata", "Amanita|species|phalloides|||,|Fungi|Amanita phalloides , Galerina marginata|kingdom" },
  { "Amanita muscaria guessowii", "Amanita|species|muscaria||||Amanita|muscaria guessowii|genus" },
  { "Amanita not phalloides", "Amanita|species|phalloides||||Amanita|not phalloides|genus" },
  { "Amanita phalloides Probably", "Amanita|species|phalloides|||Probably|Amanita|phalloides Probably|genus" },
  { "Amanita phalloides (probably)", "Amanita|species|phalloides|||(probably)|Amanita|phalloides (probably)|genus" },
  { "Amanita phalloides NOT", "Amanita|species|phalloides|||NOT|Amanita|phalloides NOT|genus" },
  { "not Amanita phalloides", "||||||Fungi|not Amanita phalloides|kingdom" },
  { "A. phalloides", "||||||Fungi|A. phalloides|kingdom" },
  { "Death cap", "||||||Fungi|Death cap|kingdom" },
  { "False chanterelle", "||||||Fungi|False chanterelle|kingdom" },
  { "Poison pie", "||||||Fungi|Poison pie|kingdom" },
  { "Grüner Knollenblätterpilz", "||||||Fungi|Grüner Knollenblätterpilz|kingdom" },
  { "amanite phalloïde", "||||||Fungi|amanite phalloïde|kingdom" },
  { "", "||||||Fungi||kingdom" },
};

static char *
parts_to_text (const WsNameParts *p)
{
  return g_strjoin ("|", p->genus, p->rank, p->epithet, p->infraspecific, p->author, p->qualifier, p->scientific_name,
                    p->identification_qualifier, p->taxon_rank, NULL);
}

static void
test_cases (void)
{
  g_test_summary ("each name is taken apart as the sources say");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsNameParts) parts = ws_name_parse (cases[i].text);
      g_autofree char *text = parts_to_text (parts);

      if (!g_str_equal (text, cases[i].parts))
        g_test_fail_printf ("%s: %s instead of %s", cases[i].text, text, cases[i].parts);
      g_assert_cmpstr (parts->verbatim, ==, cases[i].text);
    }
}

static const char *const binomials[] = {
  "Amanita phalloides", "Galerina marginata", "Cortinarius rubellus", "Gyromitra esculenta", "Lepiota brunneoincarnata" };

/* Whatever makes a name doubtful. */
static const char *const doubts[] = {
  "cf. %s", "%s ?", "%s?", "? %s", "%s sp.", "aff. %s", "%s or something else", "perhaps %s", "Perhaps %s", "%s perhaps",
  "%s Perhaps", "not %s", "%s not", "Not %s", "%s, very unsure", "%s (unsure)", "%s - no ring", "%s??", "%s !?", "%s inc.",
  "%s indet.", "%s and others", "%s/Russula emetica", "%s x", "looks like %s", "%s young", "%s (photo 3)", "%s <b>", "%s =",
  "%s 50 %%", "%s near", "%s & cf. others", "no idea, %s", "vermutlich %s", "%s vermutlich", "%s nr.", "%s cf. " };

static void
test_never_firm (void)
{
  g_test_summary ("no name with a doubt in it gives a species in scientificName, wherever the doubt stands");
  for (gsize i = 0; i < G_N_ELEMENTS (binomials); i++)
    for (gsize d = 0; d < G_N_ELEMENTS (doubts); d++)
      {
        const char *at = strstr (doubts[d], "%s");
        g_autofree char *before = g_strndup (doubts[d], (gsize) (at - doubts[d]));
        g_autofree char *text = g_strconcat (before, binomials[i], at + 2, NULL);
        g_autoptr (WsNameParts) parts = ws_name_parse (text);

        g_test_message ("%s: %s (%s)", text, parts->scientific_name, parts->identification_qualifier);
        g_assert_false (parts->firm);
        g_assert_null (strchr (parts->scientific_name, ' '));
        g_assert_cmpstr (parts->identification_qualifier, !=, "");
        g_assert_cmpstr (parts->verbatim, ==, text);
      }
}

static void
test_inner_doubt (void)
{
  static const char *const signs[] = { "cf.", "aff.", "?", "sp.", "cf", "near", "perhaps", "Perhaps", "or", "(?)", "nr", "not" };

  g_test_summary ("nor when it stands between genus and epithet");
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      g_autofree char *text = g_strconcat ("Amanita ", signs[i], " phalloides", NULL);
      g_autoptr (WsNameParts) parts = ws_name_parse (text);

      g_test_message ("%s: %s (%s)", text, parts->scientific_name, parts->identification_qualifier);
      g_assert_false (parts->firm);
      g_assert_null (strchr (parts->scientific_name, ' '));
    }
}

static void
test_hostile (void)
{
  static const char *const texts[] = {
    "\x80\xff\xfe", "Amanita \xff phalloides", "\n\r\t\x01\x1f", "?????????", "((((((((", "cf. cf. cf. cf.", "var.", "f.", "sect.",
    "Amanita sect.", "Amanita var. f. subsp.", "Amanita phalloides var.", "sensu", "Amanita sensu", "s. l.", "× × ×",
    "Amanita \xe2\x80\xae phalloides", "<script>alert(1)</script>", "\xf0\x9f\x8d\x84 Amanita", "Amanita phalloides \xf0\x9f\x8d\x84",
    "-", "--", "Amanita -", "Amanita phalloides-", ".", "Amanita .", "/", "A", "a", "Amanita\0phalloides" };
  g_autofree char *many = g_strnfill (100000, '?'), *long_word = g_strnfill (100000, 'a');
  g_autofree char *long_name = g_strconcat ("Amanita phalloides", long_word, NULL);
  g_autofree char *beyond = g_strdup_printf ("Amanita phalloides%*s ?", WS_NAME_MAX_BYTES, "");
  const char *const large[] = { many, long_word, long_name, beyond };

  g_test_summary ("hostile text gives valid UTF-8 and nothing firm, however long");
  for (gsize i = 0; i < G_N_ELEMENTS (texts) + G_N_ELEMENTS (large); i++)
    {
      gboolean is_large = i >= G_N_ELEMENTS (texts);
      const char *text = is_large ? large[i - G_N_ELEMENTS (texts)] : texts[i];
      g_autoptr (WsNameParts) parts = ws_name_parse (text);
      g_autofree char *all = parts_to_text (parts);

      g_test_message ("%.60s: %.200s", text, all);
      g_assert_true (g_utf8_validate (all, -1, NULL));
      g_assert_true (g_utf8_validate (parts->verbatim, -1, NULL));
      g_assert_false (parts->firm);
    }
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/name-parse/cases", test_cases);
  g_test_add_func ("/find/name-parse/never-firm", test_never_firm);
  g_test_add_func ("/find/name-parse/inner-doubt", test_inner_doubt);
  g_test_add_func ("/find/name-parse/hostile", test_hostile);
  return g_test_run ();
}
