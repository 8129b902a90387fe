/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-colour.h"

#include "photo-making.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The numbers of a table of the shared checks, row by row, without its heading. */
static GPtrArray *
read_table (const char *name, guint columns)
{
  g_autofree char *folder = checks_folder ("colour");
  g_autofree char *path = NULL, *text = NULL;
  g_auto (GStrv) lines = NULL;
  GPtrArray *rows;

  if (folder == NULL)
    return NULL;
  path = g_build_filename (folder, name, NULL);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  rows = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 1; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_auto (GStrv) fields = g_strsplit (lines[i], "\t", -1);
      double *row = g_new (double, columns);

      g_assert_cmpuint (g_strv_length (fields), ==, columns);
      for (guint c = 0; c < columns; c++)
        row[c] = g_ascii_strtod (fields[c], NULL);
      g_ptr_array_add (rows, row);
    }
  return rows;
}

static void
test_difference (void)
{
  g_autoptr (GPtrArray) rows = read_table ("ciede2000_sharma2005.tsv", 8);

  g_test_summary ("CIEDE2000 of the 34 pairs of Sharma, Wu and Dalal 2005, Table 1, to 4 decimals, both ways round");
  if (rows == NULL)
    return;
  g_assert_cmpuint (rows->len, ==, 34);
  for (guint i = 0; i < rows->len; i++)
    {
      const double *row = rows->pdata[i];
      WsLab first = { row[1], row[2], row[3] }, second = { row[4], row[5], row[6] };
      g_autofree char *told = g_strdup_printf ("%.4f", row[7]);
      g_autofree char *ours = g_strdup_printf ("%.4f", ws_colour_difference (&first, &second));
      g_autofree char *back = g_strdup_printf ("%.4f", ws_colour_difference (&second, &first));

      g_test_message ("pair %u", i + 1);
      g_assert_cmpstr (ours, ==, told);
      g_assert_cmpstr (back, ==, told);
    }
}

static void
test_lab (void)
{
  g_autoptr (GPtrArray) rows = read_table ("srgb_lab.tsv", 9);
  double worst50 = 0, worst65 = 0;

  g_test_summary ("sRGB to Lab: D50 against lcms2 (transicc), D65 against libvips, whose tables are 0.041 off "
                  "(shared checks, colour/README)");
  if (rows == NULL)
    return;
  g_assert_cmpuint (rows->len, ==, 65);
  for (guint i = 0; i < rows->len; i++)
    {
      const double *row = rows->pdata[i];
      guint8 rgb[3] = { (guint8) row[0], (guint8) row[1], (guint8) row[2] };
      WsLab d50 = ws_colour_lab_from_srgb (rgb, WS_WHITE_D50), d65 = ws_colour_lab_from_srgb (rgb, WS_WHITE_D65);
      const double ours50[] = { d50.L, d50.a, d50.b }, ours65[] = { d65.L, d65.a, d65.b };

      for (int c = 0; c < 3; c++)
        {
          worst50 = fmax (worst50, fabs (ours50[c] - row[3 + c]));
          worst65 = fmax (worst65, fabs (ours65[c] - row[6 + c]));
        }
    }
  g_test_message ("largest difference: D50 %.4f, D65 %.4f", worst50, worst65);
  g_assert_cmpfloat (worst50, <, 0.001);
  g_assert_cmpfloat (worst65, <, 0.05);
}

static void
test_back (void)
{
  g_test_summary ("Lab back to sRGB gives the colour it came from; outside sRGB is told");
  for (int white = WS_WHITE_D50; white <= WS_WHITE_D65; white++)
    for (int i = 0; i < 4096; i++)
      {
        guint8 rgb[3] = { (guint8) (i / 256 * 17), (guint8) (i / 16 % 16 * 17), (guint8) (i % 16 * 17) }, back[3];
        WsLab lab = ws_colour_lab_from_srgb (rgb, (WsWhite) white);

        g_assert_true (ws_colour_srgb_from_lab (&lab, (WsWhite) white, back));
        g_assert_cmpmem (back, 3, rgb, 3);
      }
  {
    guint8 rgb[3];

    g_assert_false (ws_colour_srgb_from_lab (&(WsLab) { 60, -120, 60 }, WS_WHITE_D50, rgb));
    g_assert_cmpint (rgb[0], ==, 0);
    g_assert_false (ws_colour_srgb_from_lab (&(WsLab) { 110, 0, 0 }, WS_WHITE_D65, rgb));
    g_assert_cmpint (rgb[1], ==, 255);
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/colour/difference", test_difference);
  g_test_add_func ("/photo/colour/lab", test_lab);
  g_test_add_func ("/photo/colour/back", test_back);
  return g_test_run ();
}
