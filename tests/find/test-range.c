/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-range.h"

#include <gio/gio.h>

#include <math.h>
#include <string.h>

/* --- GNU R ---------------------------------------------------------------------------------- */

#define N_LISTS 240

static void
append_lists (GString *script, GRand *rand, double values[N_LISTS][64], guint *lengths)
{
  for (guint i = 0; i < N_LISTS; i++)
    {
      lengths[i] = 1 + i % 60;
      g_string_append (script, "ask (c (");
      for (guint j = 0; j < lengths[i]; j++)
        {
          char text[G_ASCII_DTOSTR_BUF_SIZE];

          /* Sizes as they are read off: tenths, with ties. */
          values[i][j] = g_rand_int_range (rand, 20, 140) / 10.0;
          g_string_append_printf (script, "%s%s", j > 0 ? ", " : "",
                                  g_ascii_formatd (text, sizeof text, "%.1f", values[i][j]));
        }
      g_string_append (script, "))\n");
    }
}

static int
compare_values (gconstpointer a, gconstpointer b)
{
  double one = *(const double *) a, two = *(const double *) b;

  return one < two ? -1 : one > two;
}

static void
test_r (void)
{
  static const double shares[] = { 0, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 1 };
  static const WsPercentileRule rules[] = { WS_PERCENTILES_LINEAR, WS_PERCENTILES_NEAREST };
  g_autofree char *program = g_find_program_in_path ("Rscript"), *answer = NULL, *trouble = NULL;
  g_autoptr (GString) script = g_string_new ("p <- c (0, .05, .1, .25, .5, .75, .9, .95, 1)\n"
                                             "ask <- function (v) { for (t in c (7, 1))\n"
                                             "  cat (sprintf ('%.12f', quantile (v, p, type = t)), '\\n')\n"
                                             "  cat (sprintf ('%.12f', sd (v)), '\\n') }\n");
  g_autoptr (GRand) rand = g_rand_new_with_seed (91);
  static double values[N_LISTS][64];
  guint lengths[N_LISTS];
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  char *next;

  g_test_summary ("percentiles of 240 lists of 1 to 60 sizes by both rules, and standard deviations, as GNU R gives them");
  if (program == NULL)
    {
      g_test_skip ("Rscript (Debian: r-base-core) is not installed");
      return;
    }
  append_lists (script, rand, values, lengths);
  process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE,
                              &error, program, "--vanilla", "-", NULL);
  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (process, script->str, NULL, &answer, &trouble, &error);
  g_assert_no_error (error);
  if (!g_subprocess_get_successful (process))
    g_error ("Rscript failed: %s", trouble);
  next = answer;
  for (guint i = 0; i < N_LISTS; i++)
    {
      double sd;

      qsort (values[i], lengths[i], sizeof (double), compare_values);
      for (guint r = 0; r < G_N_ELEMENTS (rules); r++)
        for (guint s = 0; s < G_N_ELEMENTS (shares); s++)
          {
            double theirs = g_ascii_strtod (next, &next), ours = ws_percentile (values[i], lengths[i], shares[s], rules[r]);

            if (fabs (theirs - ours) > 1e-9)
              g_error ("list %u of %u, share %g, %s: %.12f, R says %.12f", i, lengths[i], shares[s],
                       ws_percentile_rule_id (rules[r]), ours, theirs);
          }
      next += strspn (next, " \n");
      if (g_str_has_prefix (next, "NA"))
        {
          g_assert_cmpuint (lengths[i], ==, 1);
          g_assert_true (isnan (ws_standard_deviation (values[i], 1)));
          next += 2;
          continue;
        }
      sd = g_ascii_strtod (next, &next);
      g_assert_cmpfloat_with_epsilon (ws_standard_deviation (values[i], lengths[i]), sd, 1e-9);
    }
}

/* --- Forms ------------------------------------------------------------------------------------ */

static void
test_text (void)
{
  static const struct { WsRange range; WsRangeForm form; int decimals; char point; const char *text; } cases[] = {
    { { 42, 50, 80, 120, 135 }, WS_RANGE_SIZES, 0, '.', "(42–) 50–120 (–135)" },
    { { 42, 50, NAN, 120, NAN }, WS_RANGE_SIZES, 0, '.', "(42–) 50–120" },
    { { NAN, 50, NAN, 120, 135 }, WS_RANGE_SIZES, 0, '.', "50–120 (–135)" },
    { { 49.8, 50, NAN, 120, 120.3 }, WS_RANGE_SIZES, 0, '.', "50–120" },
    { { NAN, 50, NAN, 50, NAN }, WS_RANGE_SIZES, 0, '.', "50" },
    { { 8.2, 8.545, 9.4, 10.465, 11.2 }, WS_RANGE_SPORES, 1, '.', "(8.2-) 8.5 - 10.5 (-11.2)" },
    { { 8.2, 8.545, 9.4, 10.465, 11.2 }, WS_RANGE_SPORES, 1, ',', "(8,2-) 8,5 - 10,5 (-11,2)" },
    { { NAN, NAN, NAN, NAN, NAN }, WS_RANGE_SIZES, 0, '.', "" },
    { { NAN, 5, NAN, 4, NAN }, WS_RANGE_SIZES, 0, '.', "" },
    { { 5, 4, NAN, 6, NAN }, WS_RANGE_SIZES, 0, '.', "" },
    { { NAN, 0, NAN, 6, NAN }, WS_RANGE_SIZES, 0, '.', "" },
    { { NAN, 5, NAN, INFINITY, NAN }, WS_RANGE_SIZES, 0, '.', "" },
  };

  g_test_summary ("ranges as text: what is not given or prints alike is left out, what is not in order prints nothing");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = ws_range_to_text (&cases[i].range, cases[i].form, cases[i].decimals, cases[i].point);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_few (void)
{
  double values[40];
  WsRange range;

  g_test_summary ("under 20 values a and b are the extremes; from 20 on they are percentiles; none at all gives nothing");
  for (guint i = 0; i < 40; i++)
    values[i] = 10 + (i * 17) % 40;
  range = ws_range_of (values, 0, WS_PERCENTILES_LINEAR);
  g_assert_true (isnan (range.low) && isnan (range.mean) && isnan (range.max));
  range = ws_range_of (values, 1, WS_PERCENTILES_LINEAR);
  g_assert_true (range.low == 10 && range.high == 10 && isnan (range.min));
  range = ws_range_of (values, 19, WS_PERCENTILES_LINEAR);
  g_assert_true (isnan (range.min) && isnan (range.max));
  range = ws_range_of (values, 40, WS_PERCENTILES_LINEAR);
  g_assert_true (range.min == 10 && range.max == 49 && range.low == 11.95 && range.mean == 29.5);
  range = ws_range_of (values, 40, WS_PERCENTILES_NEAREST);
  g_assert_true (range.low == 11 && range.high == 47);
  range = ws_range_of (values, 40, WS_PERCENTILES_UNSAID);
  g_assert_true (isnan (range.min) && range.low == 10);
}

static void
test_rules (void)
{
  WsPercentileRule rule;

  g_test_summary ("rules read back from their ids, and nothing else does");
  for (guint i = 0; i < 3; i++)
    {
      g_assert_true (ws_percentile_rule_parse (ws_percentile_rule_id (i), &rule));
      g_assert_cmpuint (rule, ==, i);
    }
  g_assert_false (ws_percentile_rule_parse ("", &rule));
  g_assert_false (ws_percentile_rule_parse (NULL, &rule));
  g_assert_false (ws_percentile_rule_parse ("Linear", &rule));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/find/range/r", test_r);
  g_test_add_func ("/find/range/text", test_text);
  g_test_add_func ("/find/range/few", test_few);
  g_test_add_func ("/find/range/rules", test_rules);
  return g_test_run ();
}
