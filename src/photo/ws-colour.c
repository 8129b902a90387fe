/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-colour.h"

#include <math.h>

/* CIE 15: where the cube root gives way to a line. */
#define EPSILON (216.0 / 24389.0)
#define KAPPA (24389.0 / 27.0)

typedef double Matrix[3][3];

typedef struct
{
  double white[3];         /* XYZ with Y = 1 */
  Matrix to, from;         /* linear sRGB to XYZ, and back */
} Space;

static void
multiply (Matrix a, Matrix b, Matrix result)
{
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      result[i][j] = a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
}

static void
apply (Matrix matrix, const double v[3], double result[3])
{
  for (int i = 0; i < 3; i++)
    result[i] = matrix[i][0] * v[0] + matrix[i][1] * v[1] + matrix[i][2] * v[2];
}

/* By cofactors; the matrices here are far from singular. */
static void
invert (Matrix m, Matrix result)
{
  double determinant = 0;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      {
        int r = (j + 1) % 3, s = (j + 2) % 3, c = (i + 1) % 3, d = (i + 2) % 3;

        result[i][j] = m[r][c] * m[s][d] - m[r][d] * m[s][c];
      }
  for (int j = 0; j < 3; j++)
    determinant += m[0][j] * result[j][0];
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      result[i][j] /= determinant;
}

/* Columns are the primaries of IEC 61966-2-1, scaled so that together they give its white. */
static void
make_d65 (Space *space)
{
  static const double x[] = { 0.64, 0.30, 0.15 }, y[] = { 0.33, 0.60, 0.06 };
  const double white[] = { 0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290 };
  Matrix primaries, back;
  double scale[3];

  for (int i = 0; i < 3; i++)
    {
      space->white[i] = white[i];
      primaries[0][i] = x[i] / y[i];
      primaries[1][i] = 1;
      primaries[2][i] = (1 - x[i] - y[i]) / y[i];
    }
  invert (primaries, back);
  apply (back, white, scale);
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      space->to[i][j] = primaries[i][j] * scale[j];
  invert (space->to, space->from);
}

/* The Bradford transform (ICC.1:2010, annex E) takes the white of sRGB to that of profiles. */
static void
make_d50 (const Space *d65, Space *space)
{
  static const double white[] = { 0.9642, 1, 0.8249 };
  Matrix bradford = { { 0.8951, 0.2664, -0.1614 }, { -0.7502, 1.7135, 0.0367 }, { 0.0389, -0.0685, 1.0296 } };
  Matrix back, scaled, adapted, to;
  double source[3], target[3];

  apply (bradford, d65->white, source);
  apply (bradford, white, target);
  invert (bradford, back);
  for (int i = 0; i < 3; i++)
    {
      space->white[i] = white[i];
      for (int j = 0; j < 3; j++)
        {
          scaled[i][j] = bradford[i][j] * target[i] / source[i];
          to[i][j] = d65->to[i][j];
        }
    }
  multiply (back, scaled, adapted);
  multiply (adapted, to, space->to);
  invert (space->to, space->from);
}

static Space *
get_space (WsWhite white)
{
  static Space spaces[2];
  static gsize made;

  if (g_once_init_enter (&made))
    {
      make_d65 (&spaces[WS_WHITE_D65]);
      make_d50 (&spaces[WS_WHITE_D65], &spaces[WS_WHITE_D50]);
      g_once_init_leave (&made, 1);
    }
  return &spaces[white];
}

static double
lightness_of (double ratio)
{
  return ratio > EPSILON ? cbrt (ratio) : (KAPPA * ratio + 16) / 116;
}

static double
ratio_of (double lightness)
{
  double cube = lightness * lightness * lightness;

  return cube > EPSILON ? cube : (116 * lightness - 16) / KAPPA;
}

WsLab
ws_colour_lab_from_srgb (const guint8 rgb[3], WsWhite white)
{
  Space *space = get_space (white);
  double linear[3], xyz[3];

  for (int i = 0; i < 3; i++)
    {
      double v = rgb[i] / 255.0;

      linear[i] = v <= 0.04045 ? v / 12.92 : pow ((v + 0.055) / 1.055, 2.4);
    }
  apply (space->to, linear, xyz);
  for (int i = 0; i < 3; i++)
    xyz[i] = lightness_of (xyz[i] / space->white[i]);
  return (WsLab) { 116 * xyz[1] - 16, 500 * (xyz[0] - xyz[1]), 200 * (xyz[1] - xyz[2]) };
}

gboolean
ws_colour_srgb_from_lab (const WsLab *lab, WsWhite white, guint8 rgb[3])
{
  Space *space = get_space (white);
  double y = (lab->L + 16) / 116;
  double xyz[3] = { y + lab->a / 500, y, y - lab->b / 200 }, linear[3];
  gboolean inside = TRUE;

  for (int i = 0; i < 3; i++)
    xyz[i] = ratio_of (xyz[i]) * space->white[i];
  apply (space->from, xyz, linear);
  for (int i = 0; i < 3; i++)
    {
      double v = linear[i] <= 0.0031308 ? linear[i] * 12.92 : 1.055 * pow (linear[i], 1 / 2.4) - 0.055;

      inside = inside && v * 255 >= -0.5 && v * 255 <= 255.5;
      rgb[i] = (guint8) floor (CLAMP (v, 0, 1) * 255 + 0.5);
    }
  return inside;
}

static double
radians (double degrees)
{
  return degrees * G_PI / 180;
}

/* Hue angle in degrees, 0-360; 0 where there is no hue. */
static double
hue_of (double a, double b)
{
  double degrees = a == 0 && b == 0 ? 0 : atan2 (b, a) * 180 / G_PI;

  return degrees < 0 ? degrees + 360 : degrees;
}

/* Equations 8-11 of Sharma, Wu and Dalal: the way round the circle is the shorter one. */
static double
hue_difference (double c1, double c2, double h1, double h2)
{
  double turn = h2 - h1;

  if (c1 * c2 == 0)
    return 0;
  if (turn > 180)
    turn -= 360;
  else if (turn < -180)
    turn += 360;
  return 2 * sqrt (c1 * c2) * sin (radians (turn / 2));
}

/* Equation 14. */
static double
mean_hue (double c1, double c2, double h1, double h2)
{
  if (c1 * c2 == 0)
    return h1 + h2;
  if (fabs (h1 - h2) <= 180)
    return (h1 + h2) / 2;
  return (h1 + h2 < 360 ? h1 + h2 + 360 : h1 + h2 - 360) / 2;
}

/* c^7 / (c^7 + 25^7), its root. */
static double
blue_weight (double c)
{
  double c7 = pow (c, 7);

  return sqrt (c7 / (c7 + 6103515625.0));
}

double
ws_colour_difference (const WsLab *first, const WsLab *second)
{
  double g = (1 - blue_weight ((hypot (first->a, first->b) + hypot (second->a, second->b)) / 2)) / 2;
  double a1 = first->a * (1 + g), a2 = second->a * (1 + g);
  double c1 = hypot (a1, first->b), c2 = hypot (a2, second->b), c = (c1 + c2) / 2;
  double h1 = hue_of (a1, first->b), h2 = hue_of (a2, second->b), h = mean_hue (c1, c2, h1, h2);
  double l = (first->L + second->L) / 2 - 50;
  double t = 1 - 0.17 * cos (radians (h - 30)) + 0.24 * cos (radians (2 * h)) + 0.32 * cos (radians (3 * h + 6)) -
             0.20 * cos (radians (4 * h - 63));
  double turn = 30 * exp (-pow ((h - 275) / 25, 2));
  double lightness = (second->L - first->L) / (1 + 0.015 * l * l / sqrt (20 + l * l));
  double chroma = (c2 - c1) / (1 + 0.045 * c);
  double hue = hue_difference (c1, c2, h1, h2) / (1 + 0.015 * c * t);
  double rotation = -sin (radians (2 * turn)) * 2 * blue_weight (c);

  return sqrt (lightness * lightness + chroma * chroma + hue * hue + rotation * chroma * hue);
}
