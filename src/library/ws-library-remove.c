/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The removes of an action, as SQL: row by row what belongs together, never by a cascade (why: see
 * ws-library-format-1.c). */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

/* @sql takes the step's id and its other one, if it has one. */
static gboolean
run (WsStore *store, const char *sql, const WsStep *step, int *n_changed, GError **error)
{
  g_auto (WsStatement) statement = ws_statement (store, sql);

  ws_statement_bind_text (&statement, step->id);
  if (step->other != NULL)
    ws_statement_bind_text (&statement, step->other);
  return ws_statement_run_counted (&statement, n_changed, error);
}

/* Removes the thing itself, which must be there. */
static gboolean
run_last (WsStore *store, const char *sql, const WsStep *step, const char *table, GError **error)
{
  int n_changed;

  if (!run (store, sql, step, &n_changed, error))
    return FALSE;
  if (n_changed == 0)
    g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
                 _("This change removes %s that is no longer in the library; nothing was written. "
                   "Look at it again and repeat"), ws_store_word_for_table (table));
  return n_changed > 0;
}

gboolean
ws_write_no_foray (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM foray WHERE id = ?", step, "foray", error);
}

gboolean
ws_write_no_find (WsStore *store, const WsStep *step, GError **error)
{
  int n;

  return run (store, "DELETE FROM note WHERE find_id = ?", step, &n, error) &&
         run (store, "UPDATE note SET mark_id = NULL "
                     "WHERE mark_id IN (SELECT id FROM mark WHERE find_id = ?)", step, &n, error) &&
         run (store, "DELETE FROM mark WHERE find_id = ?", step, &n, error) &&
         run (store, "DELETE FROM excuse WHERE find_id = ?", step, &n, error) &&
         run (store, "DELETE FROM measurement WHERE find_id = ?", step, &n, error) &&
         run (store, "DELETE FROM spore_list WHERE find_id = ?", step, &n, error) &&
         run (store, "DELETE FROM find_photo WHERE find_id = ?", step, &n, error) &&
         run_last (store, "DELETE FROM find WHERE id = ?", step, "find", error);
}

gboolean
ws_write_no_find_photo (WsStore *store, const WsStep *step, GError **error)
{
  int n;

  return run (store, "UPDATE note SET mark_id = NULL "
                     "WHERE mark_id IN (SELECT id FROM mark WHERE find_id = ? AND photo_id = ?)",
              step, &n, error) &&
         run (store, "DELETE FROM mark WHERE find_id = ? AND photo_id = ?", step, &n, error) &&
         run (store, "DELETE FROM measurement WHERE find_id = ? AND photo_id = ?", step, &n, error) &&
         run_last (store, "DELETE FROM find_photo WHERE find_id = ? AND photo_id = ?", step, "find_photo", error);
}

gboolean
ws_write_no_mark (WsStore *store, const WsStep *step, GError **error)
{
  int n;

  return run (store, "UPDATE note SET mark_id = NULL WHERE mark_id = ?", step, &n, error) &&
         run_last (store, "DELETE FROM mark WHERE id = ?", step, "mark", error);
}

gboolean
ws_write_no_note (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM note WHERE id = ?", step, "note", error);
}

gboolean
ws_write_no_excuse (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM excuse WHERE find_id = ? AND view = ?", step, "excuse", error);
}

gboolean
ws_write_no_cover (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM cover WHERE id = ?", step, "cover", error);
}

gboolean
ws_write_no_scale (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM scale WHERE id = ?", step, "scale", error);
}

gboolean
ws_write_no_measurement (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM measurement WHERE id = ?", step, "measurement", error);
}

gboolean
ws_write_no_spore_list (WsStore *store, const WsStep *step, GError **error)
{
  return run_last (store, "DELETE FROM spore_list WHERE id = ?", step, "spore_list", error);
}
