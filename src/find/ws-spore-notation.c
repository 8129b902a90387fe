/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-spore-notation.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-spore-reader.h"

#include <math.h>
#include <string.h>

double
ws_spore_volume (const WsSpore *spore)
{
  return G_PI / 6 * spore->length * spore->width * spore->width;
}

/* --- A list of spores ------------------------------------------------------------------------ */

static gboolean
take_spore (const char **text, WsSpore *spore, GError **error)
{
  const char *start = *text;

  ws_spore_skip_blanks (text);
  if (!ws_spore_take_number (text, &spore->length) || !ws_spore_take_times (text) ||
      !ws_spore_take_number (text, &spore->width) || (**text != '\0' && strchr (" \t\n\r;", **text) == NULL))
    {
      ws_spore_fail (error, _("“%s” is not a spore; write length x width, such as 8.2x5.4"), start);
      return FALSE;
    }
  if (spore->width < WS_SPORE_MIN_UM || spore->length > WS_SPORE_MAX_UM)
    {
      ws_spore_fail (error, _("“%s”: no spore has this size in µm"), start);
      return FALSE;
    }
  if (spore->width > spore->length)
    {
      ws_spore_fail (error, _("“%s”: the width is larger than the length; the length comes first"), start);
      return FALSE;
    }
  return TRUE;
}

GArray *
ws_spore_list_parse (const char *text, GError **error)
{
  g_autoptr (GArray) spores = g_array_new (FALSE, FALSE, sizeof (WsSpore));

  for (text += strspn (text, " \t\n\r;"); *text != '\0'; text += strspn (text, " \t\n\r;"))
    {
      WsSpore spore;

      if (!take_spore (&text, &spore, error))
        return NULL;
      if (spores->len == WS_SPORE_MAX_COUNT)
        {
          g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("More than %d spores in one list"), WS_SPORE_MAX_COUNT);
          return NULL;
        }
      g_array_append_val (spores, spore);
    }
  if (spores->len == 0)
    {
      g_set_error_literal (error, WS_ERROR, WS_ERROR_INVALID,
                           _("The list holds no spore; write length x width of each, such as 8.2x5.4"));
      return NULL;
    }
  return g_steal_pointer (&spores);
}

WsSporeSizes
ws_spore_sizes_of (const WsSpore *spores, guint n, guint n_bodies, guint n_collections, WsPercentileRule rule)
{
  g_autofree double *length = g_new (double, n + 1), *width = g_new (double, n + 1), *q = g_new (double, n + 1);
  WsSporeSizes sizes = { .n_spores = n, .n_bodies = n_bodies, .n_collections = n_collections, .has_width = TRUE,
                         .rule = rule };

  for (guint i = 0; i < n; i++)
    {
      length[i] = spores[i].length;
      width[i] = spores[i].width;
      q[i] = spores[i].length / spores[i].width;
    }
  sizes.length = ws_range_of (length, n, rule);
  sizes.width = ws_range_of (width, n, rule);
  sizes.q = ws_range_of (q, n, rule);
  sizes.length_sd = ws_standard_deviation (length, n);
  sizes.width_sd = ws_standard_deviation (width, n);
  sizes.q_sd = ws_standard_deviation (q, n);
  return sizes;
}

/* --- Writing ---------------------------------------------------------------------------------- */

static void
append_mean (GString *text, const char *sign, double mean, int decimals)
{
  g_autofree char *number = isnan (mean) ? NULL : ws_decimal_to_text (mean, decimals, '.');

  if (number != NULL)
    g_string_append_printf (text, ", %s = %s", sign, number);
}

char *
ws_spore_sizes_to_text (const WsSporeSizes *sizes)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *length = ws_range_to_text (&sizes->length, WS_RANGE_SPORES, 1, '.');
  g_autofree char *width = ws_range_to_text (&sizes->width, WS_RANGE_SPORES, 1, '.');
  g_autofree char *q = ws_range_to_text (&sizes->q, WS_RANGE_SPORES, 2, '.');

  if (*length == '\0')
    return g_strdup ("");
  if (sizes->n_spores > 0 && sizes->n_bodies > 0 && sizes->n_collections > 0)
    g_string_append_printf (text, "[%u/%u/%u] ", sizes->n_spores, sizes->n_bodies, sizes->n_collections);
  g_string_append (text, length);
  if (sizes->has_width && *width != '\0')
    g_string_append_printf (text, " × %s", width);
  g_string_append (text, " µm");
  if (*q != '\0')
    g_string_append_printf (text, ", Q = %s", q);
  append_mean (text, "L'", sizes->length.mean, 1);
  append_mean (text, "W'", sizes->width.mean, 1);
  append_mean (text, "Q'", sizes->q.mean, 2);
  return g_string_free (g_steal_pointer (&text), FALSE);
}
