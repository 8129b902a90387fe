/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-spore-notation.h"

#include "ws-error.h"

#include <math.h>
#include <string.h>

/* trade.md, 5.5 (b): constructed, not measured on a fungus; its statistics were worked out there by other means. Only the
   lower limit of Q is printed otherwise there, rounded twice: it is 1.47495 (fractions), so 1.4750 to four places and 1.47 to two. */
#define LIST "8.2x5.4 8.5x5.6 8.6x5.5 8.7x5.9 8.8x5.7 8.8x5.8 8.9x6.0 9.0x5.8 9.0x6.1 9.1x5.9 9.1x6.2 9.2x6.0 9.2x6.1 " \
             "9.3x6.0 9.3x6.3 9.4x6.1 9.4x6.2 9.5x6.0 9.5x6.4 9.6x6.2 9.6x6.3 9.7x6.2 9.8x6.4 9.8x6.5 9.9x6.3 10.0x6.6 " \
             "10.1x6.4 10.3x6.7 10.6x6.6 11.2x7.0"

static void
test_list (void)
{
  static const struct { WsPercentileRule rule; double l5, l95, w5, w95, q5, q95; const char *text; } cases[] = {
    { WS_PERCENTILES_LINEAR, 8.5450, 10.4650, 5.5450, 6.6550, 1.4750, 1.5925,
      "[30/1/1] (8.2-) 8.5 - 10.5 (-11.2) × (5.4-) 5.5 - 6.7 (-7.0) µm, Q = 1.47 - 1.59 (-1.61), L' = 9.4, W' = 6.1, Q' = 1.53" },
    { WS_PERCENTILES_NEAREST, 8.5, 10.6, 5.5, 6.7, 1.4746, 1.6000,
      "[30/1/1] (8.2-) 8.5 - 10.6 (-11.2) × (5.4-) 5.5 - 6.7 (-7.0) µm, Q = 1.47 - 1.60 (-1.61), L' = 9.4, W' = 6.1, "
      "Q' = 1.53" },
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) spores = ws_spore_list_parse (LIST, &error);
  WsSpore mean;

  g_test_summary ("the list of trade.md 5.5 (b) by both rules: the printed text differs, so the rule is named");
  g_assert_no_error (error);
  g_assert_cmpuint (spores->len, ==, 30);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WsSporeSizes s = ws_spore_sizes_of ((const WsSpore *) spores->data, spores->len, 1, 1, cases[i].rule);
      g_autofree char *text = ws_spore_sizes_to_text (&s);
      WsSporeSizes again;

      g_assert_cmpfloat_with_epsilon (s.length.low, cases[i].l5, 5e-5);
      g_assert_cmpfloat_with_epsilon (s.length.high, cases[i].l95, 5e-5);
      g_assert_cmpfloat_with_epsilon (s.width.low, cases[i].w5, 5e-5);
      g_assert_cmpfloat_with_epsilon (s.width.high, cases[i].w95, 5e-5);
      g_assert_cmpfloat_with_epsilon (s.q.low, cases[i].q5, 5.1e-5);
      g_assert_cmpfloat_with_epsilon (s.q.high, cases[i].q95, 5.1e-5);
      g_assert_true (s.length.min == 8.2 && s.length.max == 11.2 && s.width.min == 5.4 && s.width.max == 7.0);
      g_assert_cmpfloat_with_epsilon (s.q.min, 1.4677, 5e-5);
      g_assert_cmpfloat_with_epsilon (s.q.max, 1.6061, 5e-5);
      g_assert_cmpfloat_with_epsilon (s.length.mean, 9.403333, 5e-7);
      g_assert_cmpfloat_with_epsilon (s.width.mean, 6.14, 5e-7);
      g_assert_cmpfloat_with_epsilon (s.q.mean, 1.531085, 5e-7);
      g_assert_cmpfloat_with_epsilon (s.length_sd, 0.644597, 5e-7);
      g_assert_cmpfloat_with_epsilon (s.width_sd, 0.360651, 5e-7);
      g_assert_cmpfloat_with_epsilon (s.q_sd, 0.037389, 5e-7);
      g_assert_cmpstr (text, ==, cases[i].text);
      g_assert_true (ws_spore_sizes_parse (text, &again, &error));
      g_assert_no_error (error);
      g_assert_true (again.n_spores == 30 && again.n_bodies == 1 && again.n_collections == 1);
      g_assert_true (again.length.max == 11.2 && again.width.mean == 6.1 && again.q.mean == 1.53);
      g_assert_cmpint (again.rule, ==, WS_PERCENTILES_UNSAID);
    }
  mean = (WsSpore) { 9.403333, 6.14 };
  g_assert_cmpfloat_with_epsilon (ws_spore_volume (&mean), 185.617, 1e-3);
}

/* trade.md, 5.5 (a): published values, cited there. */
static void
test_volume (void)
{
  static const struct { WsSpore spore; double volume; } cases[] = {
    { { 7.5, 5 }, 98.174770424681 }, { { 8.5, 5.5 }, 134.630335175713 }, { { 8.3, 6.8 }, 200.953021284422 },
    { { 10.5, 10.5 }, 606.131032601981 } };

  g_test_summary ("volumes of four published mean spores");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (ws_spore_volume (&cases[i].spore), cases[i].volume, 1e-10);
}

#define N NAN
static const struct { const char *text; WsRange length, width, q; } published[] = {
  /* The nine published strings of trade.md, 5.3. */
  { "8,5-13,5  x 4,5-7  µm", { N, 8.5, N, 13.5, N }, { N, 4.5, N, 7, N }, { N, N, N, N, N } },
  { "3.5-4.5(-5) x 2.5-3 µm", { N, 3.5, N, 4.5, 5 }, { N, 2.5, N, 3, N }, { N, N, N, N, N } },
  { "(3.3-)3.8-4.0(-4.5) x (1.4-)1.7-2.2 µm", { 3.3, 3.8, N, 4.0, 4.5 }, { 1.4, 1.7, N, 2.2, N }, { N, N, N, N, N } },
  { "5.0-8.0 (-8.5) x (1.5) 2.0-2.5 (-3.0) µm", { N, 5, N, 8, 8.5 }, { 1.5, 2, N, 2.5, 3 }, { N, N, N, N, N } },
  { "6.5-9(10) x 4-5 µm", { N, 6.5, N, 9, 10 }, { N, 4, N, 5, N }, { N, N, N, N, N } },
  { "6.5--8.5(-9) µm", { N, 6.5, N, 8.5, 9 }, { N, N, N, N, N }, { N, N, N, N, N } },
  { "(4.5)6-8(10) x 2.5-3 µm", { 4.5, 6, N, 8, 10 }, { N, 2.5, N, 3, N }, { N, N, N, N, N } },
  { "4,5-7 x 2-2,8 (av. 5,8 x 2,3) µm", { N, 4.5, 5.8, 7, N }, { N, 2, 2.3, 2.8, N }, { N, N, N, N, N } },
  { "4.0 x 1.5 µm", { N, 4, N, 4, N }, { N, 1.5, N, 1.5, N }, { N, N, N, N, N } },
  /* The worked example of 5.4 (MycoBank original description 813793). */
  { "(6.9) 7.0–7.9–8.9 (9.2) × (6.0) 6.1–6.8–7.3 (7.8) µm, Q = (1.01) 1.03–1.17–1.26 (1.32)",
    { 6.9, 7.0, 7.9, 8.9, 9.2 }, { 6.0, 6.1, 6.8, 7.3, 7.8 }, { 1.01, 1.03, 1.17, 1.26, 1.32 } },
  /* Own: other dashes, Greek mu, no unit. */
  { "7—9 X 7−9 μm", { N, 7, N, 9, N }, { N, 7, N, 9, N }, { N, N, N, N, N } },
  { " 7 - 9×5 - 6 ", { N, 7, N, 9, N }, { N, 5, N, 6, N }, { N, N, N, N, N } },
};

static void
assert_same (const WsRange *a, const WsRange *b)
{
  const double one[] = { a->min, a->low, a->mean, a->high, a->max }, two[] = { b->min, b->low, b->mean, b->high, b->max };

  for (guint i = 0; i < 5; i++)
    if (!(isnan (one[i]) && isnan (two[i])))
      g_assert_cmpfloat_with_epsilon (one[i], two[i], 1e-12);
}

static void
test_published (void)
{
  g_test_summary ("the nine published notations of trade.md 5.3, the example of 5.4 and three more read as what they say");
  for (guint i = 0; i < G_N_ELEMENTS (published); i++)
    {
      g_autoptr (GError) error = NULL;
      WsSporeSizes sizes;

      g_test_message ("%s", published[i].text);
      g_assert_true (ws_spore_sizes_parse (published[i].text, &sizes, &error));
      g_assert_no_error (error);
      assert_same (&sizes.length, &published[i].length);
      assert_same (&sizes.width, &published[i].width);
      assert_same (&sizes.q, &published[i].q);
      g_assert_cmpint (sizes.has_width, ==, !isnan (published[i].width.low));
      g_assert_cmpint (sizes.rule, ==, WS_PERCENTILES_UNSAID);
    }
}

/* 5.4: the printed numbers agree with each other. */
static void
test_example (void)
{
  g_autoptr (GError) error = NULL;
  WsSporeSizes s;

  g_test_summary ("the published example: the ratio of its means lies within its published range of mean Q");
  g_assert_true (ws_spore_sizes_parse (published[9].text, &s, &error));
  g_assert_cmpfloat_with_epsilon (s.length.mean / s.width.mean, 1.162, 5e-4);
  g_assert_true (s.length.mean / s.width.mean >= 1.16 && s.length.mean / s.width.mean <= 1.19);
  g_assert_true (ws_range_is_sound (&s.q));
}

static void
test_refused (void)
{
  static const struct { const char *text, *says; } cases[] = {
    /* The two published mistakes of trade.md, 5.3. */
    { "5.5-6.8 x 8.8-9.5 µm", "width" }, { "4.6 x 1.8-2.0", "one number" },
    { "9-7 x 4-5", "order" },            { "(8) 7-9 x 4-5", "order" },      { "7-9 (8) x 4-5", "order" },
    { "7-12-9 x 4-5", "order" },         { "0 x 0", "order" },              { "7000-9000 x 5", "size" },
    { "7-9 x 4-5 (av. 12 x 4.4)", "order" },                                { "7-9 x 4-9.5 µm", "width" },
    { "7-9 x 4-5 µm, Q = 0.8 - 1.5", "Q" },                                 { "7-9 x 4-5 µm, Q = 1.8 - 1.5", "Q" },
    { "", "not a spore size" },          { "7-9 x", "not a spore size" },   { "7-9 x 4-5 mm", "not a spore size" },
    { "seven", "not a spore size" },     { "7-9 x 4-5 µm, smooth", "not a spore size" },
    { "[30/1] 7-9 x 4-5", "not a spore size" },                             { "[0/1/1] 7-9 x 4-5", "not a spore size" },
    { "7-9 (-10 x 4-5", "not a spore size" },                               { "123456789012345 x 4", "not a spore size" },
    { "7-9 x 4-5 (x 2)", "not a spore size" },                              { "7-8-9-10 x 4-5", "not a spore size" },
    { "\xff\xfe 7-9", "not a spore size" },
  };
  static const char *const lists[] = { "", " ;\n", "8.2", "8.2x", "x5", "8.2x5.4x3", "5.4x8.2", "8.2x5.4 nothing", "8200x5.4",
                                       "8.2x0.01", "-8x5", "8.2x5.4,8.5x5.6" };

  g_test_summary ("notations and lists that cannot be are refused, each with what is wrong");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      WsSporeSizes sizes;

      g_assert_false (ws_spore_sizes_parse (cases[i].text, &sizes, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, cases[i].says));
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
    }
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (ws_spore_list_parse (lists[i], &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
    }
}

static void
test_random (void)
{
  static const char letters[] = "0123456789.,-()[]/x Q='µm";
  g_autoptr (GRand) rand = g_rand_new_with_seed (193);
  guint read = 0;

  g_test_summary ("20,000 random lists print as notations that read back as the same numbers; 20,000 garbled ones do not crash");
  for (guint i = 0; i < 20000; i++)
    {
      WsSpore spores[40];
      guint n = 1 + i % 40;
      WsSporeSizes sizes, again;
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL, *twice = NULL;

      for (guint k = 0; k < n; k++)
        {
          spores[k].width = g_rand_int_range (rand, 20, 90) / 10.0;
          spores[k].length = spores[k].width + g_rand_int_range (rand, 0, 90) / 10.0;
        }
      sizes = ws_spore_sizes_of (spores, n, 1 + i % 3, 1, i % 2 ? WS_PERCENTILES_LINEAR : WS_PERCENTILES_NEAREST);
      text = ws_spore_sizes_to_text (&sizes);
      /* One number against a range is what a list of equal lengths gives; reading it back is refused, as published ones are. */
      if (!ws_spore_sizes_parse (text, &again, &error))
        {
          g_assert_nonnull (strstr (error->message, "one number"));
          continue;
        }
      read++;
      twice = ws_spore_sizes_to_text (&again);
      g_assert_cmpstr (twice, ==, text);
      for (guint k = 0; k < 6 && *text != '\0'; k++)
        text[g_rand_int_range (rand, 0, (gint32) strlen (text))] = letters[g_rand_int_range (rand, 0, sizeof letters - 1)];
      (void) ws_spore_sizes_parse (text, &again, NULL);
    }
  g_assert_cmpuint (read, >, 18000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/spore-notation/list", test_list);
  g_test_add_func ("/find/spore-notation/volume", test_volume);
  g_test_add_func ("/find/spore-notation/published", test_published);
  g_test_add_func ("/find/spore-notation/example", test_example);
  g_test_add_func ("/find/spore-notation/refused", test_refused);
  g_test_add_func ("/find/spore-notation/random", test_random);
  return g_test_run ();
}
