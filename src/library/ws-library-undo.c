/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Actions and their steps of undo. While an action runs, SQLite's session extension records which rows
 * it changes; the changeset is stored with the action's label in undo_log, in the same transaction.
 * Undo applies the changeset inverted, redo as it is. Both compare every value that is replaced or
 * deleted with the recorded one and every row's references: if anything else has changed them meanwhile,
 * nothing is written.
 *
 * A step belongs to the program that made it (origin) while other programs are open, and to whoever
 * opens the library later. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

/* What undo covers. */
static const char *const undoable[] = {
  "foray", "find", "photo", "cover", "find_photo", "excuse", "mark", "note", "scale", "measurement", "spore_list",
  "find_name", "find_answer",
};

static gboolean
run_steps (WsStore *store, const WsAction *action, GError **error)
{
  for (guint i = 0; i < action->steps->len; i++)
    {
      const WsStep *step = g_ptr_array_index (action->steps, i);

      if (!step->run (store, step, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
finish_steps (WsStore *store, const WsAction *action, GError **error)
{
  for (guint i = 0; i < action->steps->len; i++)
    {
      const WsStep *step = g_ptr_array_index (action->steps, i);

      if (step->finish != NULL && !step->finish (store, step, error))
        return FALSE;
    }
  return TRUE;
}

/* Runs the action and gives its changeset, to be freed by sqlite3_free(). */
static gboolean
record (WsStore *store, const WsAction *action, int *size, void **changes, GError **error)
{
  sqlite3_session *session = NULL;
  int rc = sqlite3session_create (store->db, "main", &session);
  gboolean ok;

  for (guint i = 0; i < G_N_ELEMENTS (undoable) && rc == SQLITE_OK; i++)
    rc = sqlite3session_attach (session, undoable[i]);
  ok = rc == SQLITE_OK && run_steps (store, action, error);
  if (ok)
    rc = sqlite3session_changeset (session, size, changes);
  if (session != NULL)
    sqlite3session_delete (session);
  if (rc == SQLITE_OK)
    return ok;
  g_set_error (error, WS_ERROR, WS_ERROR_FAILED,
               _("This change cannot be recorded for undo (%s); nothing was written"), sqlite3_errstr (rc));
  return FALSE;
}

/* A new action ends what could have been done again. */
static gboolean
forget_undone (WsStore *store, GError **error)
{
  g_auto (WsStatement) forget = ws_statement (store,
    "DELETE FROM undo_log WHERE undone AND (step <= ? OR origin = ?)");

  ws_statement_bind_int (&forget, store->steps_at_open);
  ws_statement_bind_text (&forget, store->origin);
  return ws_statement_run (&forget, error);
}

static gboolean
forget_oldest (WsStore *store, GError **error)
{
  g_auto (WsStatement) forget = ws_statement (store,
    "DELETE FROM undo_log WHERE step <= (SELECT step FROM undo_log ORDER BY step DESC LIMIT 1 OFFSET ?)");

  ws_statement_bind_int (&forget, WS_LIBRARY_UNDO_STEPS);
  return ws_statement_run (&forget, error);
}

static gboolean
log_step (WsStore *store, const char *label, const void *changes, int size, GError **error)
{
  g_auto (WsStatement) put = ws_statement (store,
    "INSERT INTO undo_log (origin, label, made_us, undone, changes) VALUES (?, ?, ?, 0, ?)");

  ws_statement_bind_text (&put, store->origin);
  ws_statement_bind_text (&put, label);
  ws_statement_bind_int (&put, g_get_real_time ());
  ws_statement_bind_blob (&put, changes, (gsize) size);
  return ws_statement_run (&put, error);
}

static gboolean
apply (WsStore *store, gpointer data, GError **error)
{
  const WsAction *action = data;
  void *changes = NULL;
  int size = 0;
  gboolean ok = record (store, action, &size, &changes, error);

  if (ok && size > 0)
    ok = forget_undone (store, error) && log_step (store, action->label, changes, size, error) &&
         forget_oldest (store, error);
  sqlite3_free (changes);
  return ok && finish_steps (store, action, error);
}

gboolean
ws_library_apply (WsLibrary *library, WsAction *action, GError **error)
{
  g_autoptr (WsAction) owned = action;

  g_return_val_if_fail (action != NULL, FALSE);
  for (guint i = 0; i < action->steps->len; i++)
    {
      const WsStep *step = g_ptr_array_index (action->steps, i);

      if (step->check != NULL && !step->check (step, error))
        return FALSE;
    }
  return ws_library_write (library, apply, action, error);
}

/* --- Taking back ------------------------------------------------------------------------ */

/* The newest step that is done, and the oldest that is undone. */
#define NEXT_UNDO " FROM undo_log WHERE NOT undone AND (step <= ? OR origin = ?) ORDER BY step DESC LIMIT 1"
#define NEXT_REDO " FROM undo_log WHERE undone AND (step <= ? OR origin = ?) ORDER BY step LIMIT 1"
#define WHOLE_STEP "SELECT step, label, changes"

typedef struct
{
  gboolean redo;
  gint64 step;
  char *label;
  GBytes *changes;
  const char *in_the_way; /* static: what a conflict was about */
} Turn;

static void
turn_clear (Turn *turn)
{
  g_free (turn->label);
  g_clear_pointer (&turn->changes, g_bytes_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Turn, turn_clear)

/* FALSE without @error when there is none. */
static gboolean
look_up (WsStore *store, Turn *turn, GError **error)
{
  g_auto (WsStatement) next = ws_statement (store, turn->redo ? WHOLE_STEP NEXT_REDO : WHOLE_STEP NEXT_UNDO);
  int size;

  ws_statement_bind_int (&next, store->steps_at_open);
  ws_statement_bind_text (&next, store->origin);
  if (!ws_statement_next (&next, error))
    return FALSE;
  turn->step = ws_statement_take_int (&next);
  turn->label = ws_statement_take_text (&next);
  size = sqlite3_column_bytes (next.stmt, 2);
  turn->changes = g_bytes_new (sqlite3_column_blob (next.stmt, 2), (gsize) size);
  return TRUE;
}

static int
conflict (void *data, int kind, sqlite3_changeset_iter *at)
{
  Turn *turn = data;
  const char *table = NULL;
  int n_columns, operation, indirect;

  if (kind != SQLITE_CHANGESET_FOREIGN_KEY)
    (void) sqlite3changeset_op (at, &table, &n_columns, &operation, &indirect);
  turn->in_the_way = ws_store_word_for_table (table);
  return SQLITE_CHANGESET_ABORT;
}

static gboolean
apply_changes (WsStore *store, Turn *turn, GError **error)
{
  gsize size;
  gconstpointer changes = g_bytes_get_data (turn->changes, &size);
  int rc = sqlite3changeset_apply_v2 (store->db, (int) size, (void *) changes, NULL, conflict, turn, NULL, NULL,
                                      turn->redo ? 0 : SQLITE_CHANGESETAPPLY_INVERT);

  if (rc == SQLITE_OK)
    return TRUE;
  if (turn->in_the_way == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE,
                   _("What “%s” has changed cannot be read from “%s” (%s); nothing was written"),
                   turn->label, store->path, sqlite3_errstr (rc));
      return FALSE;
    }
  g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
               turn->redo
                 ? _("“%s” cannot be done again: %s has changed since, perhaps in another program, or is still "
                     "needed. Nothing was written; make the change by hand")
                 : _("“%s” cannot be taken back: %s has changed since, perhaps in another program, or is still "
                     "needed. Nothing was written; take the later change back first, or make this one by hand"),
               turn->label, turn->in_the_way);
  return FALSE;
}

static gboolean
mark_turned (WsStore *store, const Turn *turn, GError **error)
{
  g_auto (WsStatement) set = ws_statement (store, "UPDATE undo_log SET undone = ? WHERE step = ?");

  ws_statement_bind_int (&set, !turn->redo);
  ws_statement_bind_int (&set, turn->step);
  return ws_statement_run (&set, error);
}

static gboolean
turn_step (WsStore *store, gpointer data, GError **error)
{
  Turn *turn = data;
  g_autoptr (GError) why = NULL;

  if (look_up (store, turn, &why))
    return apply_changes (store, turn, error) && mark_turned (store, turn, error);
  if (why != NULL)
    g_propagate_error (error, g_steal_pointer (&why));
  else
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, "%s",
                 turn->redo ? _("There is nothing to do again") : _("There is nothing to take back"));
  return FALSE;
}

static gboolean
turn_and_tell (WsLibrary *library, gboolean redo, char **label, GError **error)
{
  g_auto (Turn) turn = { redo };

  if (!ws_library_write (library, turn_step, &turn, error))
    return FALSE;
  if (label != NULL)
    *label = g_steal_pointer (&turn.label);
  return TRUE;
}

gboolean
ws_library_undo (WsLibrary *library, char **label, GError **error)
{
  return turn_and_tell (library, FALSE, label, error);
}

gboolean
ws_library_redo (WsLibrary *library, char **label, GError **error)
{
  return turn_and_tell (library, TRUE, label, error);
}

typedef struct
{
  char *undo, *redo;
} Labels;

static gboolean
look_up_label (WsStore *store, const char *sql, char **label, GError **error)
{
  g_auto (WsStatement) next = ws_statement (store, sql);

  ws_statement_bind_int (&next, store->steps_at_open);
  ws_statement_bind_text (&next, store->origin);
  if (ws_statement_next (&next, error))
    {
      *label = ws_statement_take_text (&next);
      return TRUE;
    }
  return ws_statement_ended (&next);
}

static gboolean
peek (WsStore *store, gpointer data, GError **error)
{
  Labels *labels = data;

  return look_up_label (store, "SELECT label" NEXT_UNDO, &labels->undo, error) &&
         look_up_label (store, "SELECT label" NEXT_REDO, &labels->redo, error);
}

void
ws_library_peek_undo (WsLibrary *library, char **undo_label, char **redo_label)
{
  g_autoptr (GError) error = NULL;
  Labels labels = { NULL, NULL };

  if (!ws_library_read (library, peek, &labels, &error))
    g_warning ("The undo log cannot be read: %s", error->message);
  *undo_label = labels.undo;
  *redo_label = labels.redo;
}
