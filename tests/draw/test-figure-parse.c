/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw-rig.h"

#include <string.h>

#include "ws-error.h"

#define HEAD "<svg viewBox=\"0 0 100 100\">"
#define CAP(d) "<path data-part=\"cap\" class=\"outline\" d=\"" d "\"/>"

static WsFigure *
parse (const char *text, GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));

  return ws_figure_parse ("lines.svg", bytes, error);
}

static void
test_refused (void)
{
  static const struct { const char *what, *text; } cases[] = {
    { "empty file", "" },
    { "not XML", "cap" },
    { "not closed", HEAD CAP ("M0 0L9 0L9 9Z") },
    { "no part", HEAD "</svg>" },
    { "no viewBox", "<svg>" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "viewBox off the origin", "<svg viewBox=\"1 0 100 100\">" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "viewBox of nothing", "<svg viewBox=\"0 0 0 100\">" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "viewBox of a mile", "<svg viewBox=\"0 0 100 1e9\">" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "viewBox not a number", "<svg viewBox=\"0 0 nan 100\">" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "viewBox with more", "<svg viewBox=\"0 0 100 100 5\">" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "another root", "<html viewBox=\"0 0 100 100\"></html>" },
    { "another element", HEAD CAP ("M0 0L9 0L9 9Z") "<circle r=\"3\"/></svg>" },
    { "a group", HEAD "<g>" CAP ("M0 0L9 0L9 9Z") "</g></svg>" },
    { "an image", HEAD "<image href=\"file:///etc/passwd\"/></svg>" },
    { "a script", HEAD "<script>1</script></svg>" },
    { "a drawing in a drawing", HEAD HEAD CAP ("M0 0L9 0L9 9Z") "</svg></svg>" },
    { "a path in a path", HEAD "<path data-part=\"cap\" class=\"outline\" d=\"M0 0L9 0L9 9Z\">" CAP ("M0 0L9 0L9 9Z") "</path></svg>" },
    { "a transformation", HEAD "<path data-part=\"cap\" class=\"outline\" transform=\"scale(9)\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "a style", HEAD "<path data-part=\"cap\" class=\"outline\" style=\"fill:red\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "colour of the drawing", "<svg viewBox=\"0 0 100 100\" fill=\"red\">" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "text", HEAD CAP ("M0 0L9 0L9 9Z") "cap</svg>" },
    { "a document type", "<!DOCTYPE svg [<!ENTITY a \"b\">]>" HEAD CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "an entity", HEAD CAP ("&a;") "</svg>" },
    { "CDATA", HEAD "<![CDATA[x]]>" CAP ("M0 0L9 0L9 9Z") "</svg>" },
    { "no part named", HEAD "<path class=\"outline\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "an odd part name", HEAD "<path data-part=\"../cap\" class=\"outline\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "no class", HEAD "<path data-part=\"cap\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "an unknown class", HEAD "<path data-part=\"cap\" class=\"outline bold\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "an unknown variant", HEAD "<path data-part=\"cap\" data-variant=\"red\" class=\"outline\" d=\"M0 0L9 0L9 9Z\"/></svg>" },
    { "a detail without a shape", HEAD "<path data-part=\"cap\" class=\"detail\" d=\"M0 0L9 0\"/></svg>" },
    { "no path data", HEAD CAP ("") "</svg>" },
    { "an open outline", HEAD CAP ("M0 0L9 0L9 9") "</svg>" },
    { "an outline half open", HEAD CAP ("M0 0L9 0M1 1L5 5L2 5Z") "</svg>" },
    { "an arc", HEAD CAP ("M0 0A9 9 0 0 1 9 9Z") "</svg>" },
    { "a horizontal", HEAD CAP ("M0 0H9V9Z") "</svg>" },
    { "a smooth curve", HEAD CAP ("M0 0C1 1 2 2 3 3S5 5 6 6Z") "</svg>" },
    { "no move first", HEAD CAP ("L9 0L9 9Z") "</svg>" },
    { "a line after the end", HEAD CAP ("M0 0L9 0L9 9ZL3 3Z") "</svg>" },
    { "closed twice", HEAD CAP ("M0 0L9 0L9 9ZZ") "</svg>" },
    { "half a point", HEAD CAP ("M0 0L9 0L9Z") "</svg>" },
    { "a hexadecimal", HEAD CAP ("M0 0L0x9 0L9 9Z") "</svg>" },
    { "infinity", HEAD CAP ("M0 0Linf 0L9 9Z") "</svg>" },
    { "an overflow", HEAD CAP ("M0 0L1e999 0L9 9Z") "</svg>" },
    { "a huge number", HEAD CAP ("M0 0L151 0L9 9Z") "</svg>" },
    { "huge by small steps", HEAD CAP ("M0 0l90 0l90 0L9 9Z") "</svg>" },
    { "a control point far off", HEAD CAP ("M0 0Q-51 0 9 9Z") "</svg>" },
  };

  g_test_summary ("What is outside the subset is an error that names the file");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsFigure) figure = parse (cases[i].text, &error);

      g_test_message ("%s: %s", cases[i].what, error != NULL ? error->message : "accepted");
      g_assert_null (figure);
      g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
      g_assert_nonnull (strstr (error->message, "lines.svg"));
    }
}

static void
test_accepted (void)
{
  /* The same square, 10 to 20, each time. SVG 1.1, section 8.3: implicit repetition, relative forms, numbers that run
   * together. */
  static const char *const same[] = {
    "M10 10L20 10L20 20L10 20Z",
    "M10,10 20,10 20,20 10,20z",
    "m10 10l10 0l0 10l-10 0z",
    "m10 10 10 0 0 10-10 0z",
    "M1e1 1E+1L20.0 10.L20 20 10,20Z",
    " M 10 10 C 13 10 17 10 20 10 L20 20 Q15 20 10 20 Z ",
    "M10 10c3 0 7 0 10 0l0 10q-5 0-10 0z",
    "M10 10L20 10 20 20 10 20ZM12 12L13 12L13 13Z",
  };

  g_test_summary ("Absolute, relative and short forms are the same shape");
  for (guint i = 0; i < G_N_ELEMENTS (same); i++)
    {
      g_autofree char *text = g_strdup_printf ("<?xml version=\"1.0\"?><!-- a square -->"
                                               "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 80\" fill=\"none\" stroke=\"black\">"
                                               "<path id=\"a\" data-part=\"cap\" class=\"outline\" d=\"%s\"/></svg>", same[i]);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsFigure) figure = parse (text, &error);
      double x, y, w, h;

      g_assert_no_error (error);
      g_test_message ("%s", same[i]);
      ws_figure_get_size (figure, &w, &h);
      g_assert_cmpfloat (w, ==, 100);
      g_assert_cmpfloat (h, ==, 80);
      g_assert_true (ws_figure_get_bounds (figure, "cap", &x, &y, &w, &h));
      g_assert_cmpfloat_with_epsilon (x, 10, 1e-9);
      g_assert_cmpfloat_with_epsilon (y, 10, 1e-9);
      g_assert_cmpfloat_with_epsilon (w, 10, 1e-9);
      g_assert_cmpfloat_with_epsilon (h, 10, 1e-9);
      g_assert_true (ws_figure_hits (figure, "cap", 11, 19));
      g_assert_false (ws_figure_hits (figure, "cap", 9, 15));
      g_assert_false (ws_figure_hits (figure, "gills", 15, 15));
    }
}

/* @n lines in all, in two paths. */
static WsFigure *
parse_lines (guint n, GError **error)
{
  g_autoptr (GString) text = g_string_new (HEAD CAP ("M0 0L9 0L9 9Z"));

  g_string_append (text, "<path data-part=\"cap\" class=\"detail\" d=\"M0 0");
  for (guint i = 2; i < n; i++)
    g_string_append_printf (text, "L%u %u", i % 90, i % 80);
  g_string_append (text, "\"/></svg>");
  return parse (text->str, error);
}

static void
test_limits (void)
{
  g_autofree char *long_comment = g_strnfill (WS_FIGURE_MAX_BYTES, 'x');
  g_autofree char *text = g_strconcat (HEAD "<!--", long_comment, "-->" CAP ("M0 0L9 0L9 9Z") "</svg>", NULL);
  g_autoptr (GString) parts = g_string_new (HEAD);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsFigure) most = NULL;

  g_test_summary ("2,000 segments are drawn, one more is refused, and so are too many bytes and parts");
  most = parse_lines (WS_FIGURE_MAX_SEGMENTS, &error);
  g_assert_no_error (error);
  g_assert_null (parse_lines (WS_FIGURE_MAX_SEGMENTS + 1, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
  g_assert_nonnull (strstr (error->message, "lines.svg"));
  g_clear_error (&error);
  g_assert_null (parse (text, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
  g_clear_error (&error);
  for (guint i = 0; i < 300; i++)
    g_string_append_printf (parts, "<path data-part=\"p%u\" class=\"outline\" d=\"M0 0L9 0L9 9Z\"/>", i);
  g_string_append (parts, "</svg>");
  g_assert_null (parse (parts->str, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
}

/* Draws whatever was accepted, so that drawing is tried as well. */
static void
draw_some (const WsFigure *figure)
{
  WsFigureLook look = { .base = "volva_sac", .ring = TRUE };

  g_free (rig_draw (figure, 90, 120, &look));
}

static void
test_damaged (void)
{
  g_autofree char *whole = rig_read_figure_text ("truffle");
  gsize size = strlen (whole);
  guint n_refused = 0, n_drawn = 0;

  g_test_summary ("A figure with random bytes changed is refused or drawn, and never more");
  for (guint i = 0; i < 400; i++)
    {
      g_autofree char *text = g_strdup (whole);
      g_autoptr (GError) error = NULL;
      g_autoptr (WsFigure) figure = NULL;

      for (int k = g_test_rand_int_range (1, 6); k > 0; k--)
        text[g_test_rand_int_range (0, size)] = "MLCQZz<>\"/ -.e9\n&\x7f"[g_test_rand_int_range (0, 18)];
      if (g_test_rand_bit ())
        text[g_test_rand_int_range (size / 2, size)] = '\0';
      figure = parse (text, &error);
      g_assert_true ((figure == NULL) == (error != NULL));
      n_refused += figure == NULL;
      if (figure != NULL && n_drawn++ % 8 == 0)
        draw_some (figure);
    }
  g_test_message ("%u refused, %u accepted", n_refused, n_drawn);
  g_assert_cmpuint (n_refused, >, 0);
  g_assert_cmpuint (n_drawn, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/figure-parse/refused", test_refused);
  g_test_add_func ("/draw/figure-parse/accepted", test_accepted);
  g_test_add_func ("/draw/figure-parse/limits", test_limits);
  g_test_add_func ("/draw/figure-parse/damaged", test_damaged);
  return g_test_run ();
}
