/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scales, measurements and spore lists to rows, as in ws-library-write.c. */
#include "ws-library-private.h"

#include <math.h>

gboolean
ws_write_scale (WsStore *store, const WsStep *step, GError **error)
{
  const WsScale *scale = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO scale (id, photo_id, seq, a_x, a_y, b_x, b_y, mm, mm_error, point_error, tilt, created_us) "
    "VALUES (?1, ?2, (SELECT COALESCE(MAX(seq), 0) + 1 FROM scale WHERE photo_id = ?2), "
    "?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11) "
    "ON CONFLICT (id) DO UPDATE SET photo_id = excluded.photo_id, a_x = excluded.a_x, a_y = excluded.a_y, "
    "b_x = excluded.b_x, b_y = excluded.b_y, mm = excluded.mm, mm_error = excluded.mm_error, "
    "point_error = excluded.point_error, tilt = excluded.tilt, created_us = excluded.created_us");

  ws_statement_bind_text (&put, scale->id);
  ws_statement_bind_text (&put, scale->photo_id);
  ws_statement_bind_double (&put, scale->a.x);
  ws_statement_bind_double (&put, scale->a.y);
  ws_statement_bind_double (&put, scale->b.x);
  ws_statement_bind_double (&put, scale->b.y);
  ws_statement_bind_double (&put, scale->mm);
  ws_statement_bind_double (&put, scale->mm_error);
  ws_statement_bind_double (&put, scale->point_error);
  ws_statement_bind_double (&put, scale->tilt);
  ws_statement_bind_int (&put, scale->created_us);
  return ws_statement_run (&put, error);
}

/* Points of a measurement that was not made on a photo are stored as unknown. */
static void
bind_end (WsStatement *put, const WsMeasurement *measurement, double fraction)
{
  ws_statement_bind_double (put, measurement->photo_id != NULL ? fraction : (double) NAN);
}

gboolean
ws_write_measurement (WsStore *store, const WsStep *step, GError **error)
{
  const WsMeasurement *measurement = step->value;
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO measurement (id, find_id, seq, quantity, specimen, value, error, photo_id, a_x, a_y, b_x, b_y, "
    "observer, remark, created_us) "
    "VALUES (?1, ?2, (SELECT COALESCE(MAX(seq), 0) + 1 FROM measurement WHERE find_id = ?2), "
    "?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14) "
    "ON CONFLICT (id) DO UPDATE SET find_id = excluded.find_id, quantity = excluded.quantity, "
    "specimen = excluded.specimen, value = excluded.value, error = excluded.error, photo_id = excluded.photo_id, "
    "a_x = excluded.a_x, a_y = excluded.a_y, b_x = excluded.b_x, b_y = excluded.b_y, observer = excluded.observer, "
    "remark = excluded.remark, created_us = excluded.created_us");

  ws_statement_bind_text (&put, measurement->id);
  ws_statement_bind_text (&put, step->id);
  ws_statement_bind_text (&put, measurement->quantity);
  ws_statement_bind_text (&put, measurement->specimen);
  ws_statement_bind_double (&put, measurement->value);
  ws_statement_bind_double (&put, measurement->error);
  ws_statement_bind_text (&put, measurement->photo_id);
  bind_end (&put, measurement, measurement->a.x);
  bind_end (&put, measurement, measurement->a.y);
  bind_end (&put, measurement, measurement->b.x);
  bind_end (&put, measurement, measurement->b.y);
  ws_statement_bind_text (&put, measurement->observer);
  ws_statement_bind_text (&put, measurement->remark);
  ws_statement_bind_int (&put, measurement->created_us);
  return ws_statement_run (&put, error);
}

/* "LENGTH WIDTH LENGTH WIDTH…", numbers that read back exactly. */
static char *
spores_to_text (const WsSporeList *list)
{
  GString *text = g_string_new (NULL);
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  for (guint i = 0; i < list->n_spores; i++)
    {
      g_string_append_printf (text, "%s%s", i > 0 ? " " : "",
                              g_ascii_dtostr (number, sizeof number, list->spores[i].length));
      g_string_append_printf (text, " %s", g_ascii_dtostr (number, sizeof number, list->spores[i].width));
    }
  return g_string_free (text, FALSE);
}

gboolean
ws_write_spore_list (WsStore *store, const WsStep *step, GError **error)
{
  const WsSporeList *list = step->value;
  g_autofree char *spores = spores_to_text (list);
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO spore_list (id, find_id, seq, specimen, spores, n_specimens, taken_from, mount, rule, verbatim, "
    "observer, remark, created_us) "
    "VALUES (?1, ?2, (SELECT COALESCE(MAX(seq), 0) + 1 FROM spore_list WHERE find_id = ?2), "
    "?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12) "
    "ON CONFLICT (id) DO UPDATE SET find_id = excluded.find_id, specimen = excluded.specimen, "
    "spores = excluded.spores, n_specimens = excluded.n_specimens, taken_from = excluded.taken_from, "
    "mount = excluded.mount, rule = excluded.rule, verbatim = excluded.verbatim, observer = excluded.observer, "
    "remark = excluded.remark, created_us = excluded.created_us");

  ws_statement_bind_text (&put, list->id);
  ws_statement_bind_text (&put, step->id);
  ws_statement_bind_text (&put, list->specimen);
  ws_statement_bind_text (&put, spores);
  ws_statement_bind_int (&put, list->n_specimens);
  ws_statement_bind_int (&put, list->from);
  ws_statement_bind_text (&put, list->mount);
  ws_statement_bind_int (&put, list->rule);
  ws_statement_bind_text (&put, list->verbatim);
  ws_statement_bind_text (&put, list->observer);
  ws_statement_bind_text (&put, list->remark);
  ws_statement_bind_int (&put, list->created_us);
  return ws_statement_run (&put, error);
}
