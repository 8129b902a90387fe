/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loading finds. Which ones is settled first, in the temporary table "chosen"; then one query for each
 * kind of value brings them all, however many finds there are. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-id.h"
#include "ws-intl.h"

#define IS_CHOSEN " IN (SELECT find_id FROM temp.chosen) "

typedef struct
{
  const char *search;      /* (nullable) */
  const char *id;          /* (nullable) */
  const char *number;      /* (nullable) */
  GPtrArray *finds;        /* WsFind, in order */
  GHashTable *by_id;       /* borrowed id -> borrowed WsFind */
  GHashTable *photos;      /* borrowed id -> WsPhoto */
} Loading;

static void
loading_clear (Loading *loading)
{
  g_clear_pointer (&loading->by_id, g_hash_table_unref);
  g_clear_pointer (&loading->photos, g_hash_table_unref);
  g_clear_pointer (&loading->finds, g_ptr_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Loading, loading_clear)

#define LOADING_INIT                                                                     \
  NULL, NULL, NULL, g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_unref),     \
  g_hash_table_new (g_str_hash, g_str_equal),                                            \
  g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) ws_photo_unref)

static gboolean
choose (WsStore *store, const Loading *loading, GError **error)
{
  g_auto (WsStatement) clear = ws_statement (store, "DELETE FROM temp.chosen");
  g_auto (WsStatement) all = ws_statement (store, "INSERT INTO temp.chosen SELECT id FROM find");
  g_auto (WsStatement) one = ws_statement (store, "INSERT INTO temp.chosen SELECT id FROM find WHERE id = ?");
  g_auto (WsStatement) numbered = ws_statement (store,
    "INSERT INTO temp.chosen SELECT id FROM find WHERE number = ?");
  g_auto (WsStatement) found = ws_statement (store,
    "INSERT INTO temp.chosen SELECT f.id FROM find AS f LEFT JOIN foray AS y ON y.id = f.foray_id "
    "WHERE ws_matches (?, f.number, f.field_name, f.locality, f.remarks, y.place, "
    "(SELECT group_concat (n.states || ' ' || n.text, ' ') FROM note AS n WHERE n.find_id = f.id), "
    "(SELECT group_concat (n.verbatim, ' ') FROM find_name AS l JOIN name AS n ON n.id = l.name_id "
    "WHERE l.find_id = f.id))");

  if (!ws_statement_run (&clear, error))
    return FALSE;
  ws_statement_bind_text (&one, loading->id);
  ws_statement_bind_text (&numbered, loading->number);
  ws_statement_bind_text (&found, loading->search);
  return ws_statement_run (loading->id != NULL       ? &one
                           : loading->number != NULL ? &numbered
                           : loading->search != NULL ? &found
                                                     : &all,
                           error);
}

static gboolean
load_own (WsStore *store, Loading *loading, GError **error)
{
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT " WS_FIND_COLUMNS "FROM find AS f LEFT JOIN foray AS y ON y.id = f.foray_id "
    "WHERE f.id" IS_CHOSEN
    "ORDER BY f.foray_id IS NULL, y.date DESC, f.foray_id, "
    "f.when_us + f.when_correction * 1000000 NULLS LAST, f.created_us, f.number, f.id");

  while (ws_statement_next (&rows, error))
    {
      WsFind *find = ws_row_take_find (&rows);

      g_ptr_array_add (loading->finds, find);
      g_hash_table_insert (loading->by_id, find->id, find);
    }
  return ws_statement_ended (&rows);
}

static gboolean
load_photos (WsStore *store, Loading *loading, GError **error)
{
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT " WS_PHOTO_COLUMNS "FROM " WS_PHOTO_TABLES
    "WHERE p.id IN (SELECT photo_id FROM find_photo WHERE find_id" IS_CHOSEN ")");

  while (ws_statement_next (&rows, error))
    {
      WsPhoto *photo = ws_row_take_photo (&rows);

      g_hash_table_insert (loading->photos, photo->id, photo);
    }
  return ws_statement_ended (&rows);
}

/* Takes the row, whose first column named @find, into it. */
typedef gboolean (*TakeRow) (WsStatement *row, WsFind *find, const Loading *loading, GError **error);

static gboolean
take_link (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  WsPhoto *photo = g_hash_table_lookup (loading->photos, ws_statement_peek_text (row));
  WsFindPhoto *link = ws_find_photo_new ();

  ws_photo_unref (link->photo);
  link->photo = ws_photo_ref (photo);
  link->position = (int) ws_statement_take_int (row);
  ws_statement_take_into (row, &link->specimen);
  ws_statement_take_into (row, &link->visit);
  g_ptr_array_add (find->photos, link);
  return TRUE;
}

static gboolean
take_mark (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  WsMark *mark = ws_row_take_mark (row, error);

  if (mark != NULL)
    g_ptr_array_add (find->marks, mark);
  return mark != NULL;
}

static gboolean
take_note (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  g_ptr_array_add (find->notes, ws_row_take_note (row));
  return TRUE;
}

static gboolean
take_excuse (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  WsExcuse *excuse = ws_excuse_new ();

  ws_statement_take_into (row, &excuse->view);
  ws_statement_take_into (row, &excuse->reason);
  g_ptr_array_add (find->excuses, excuse);
  return TRUE;
}

static gboolean
take_cover (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  WsCover *cover = ws_row_take_cover (row, error);

  if (cover != NULL)
    g_ptr_array_add (find->covers, cover);
  return cover != NULL;
}

static gboolean
take_scale (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  g_ptr_array_add (find->scales, ws_row_take_scale (row));
  return TRUE;
}

static gboolean
take_measurement (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  g_ptr_array_add (find->measurements, ws_row_take_measurement (row));
  return TRUE;
}

static gboolean
take_spore_list (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  WsSporeList *list = ws_row_take_spore_list (row, error);

  if (list != NULL)
    g_ptr_array_add (find->spores, list);
  return list != NULL;
}

static gboolean
take_name (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  g_ptr_array_add (find->names, ws_row_take_name (row));
  return TRUE;
}

static gboolean
take_answer (WsStatement *row, WsFind *find, const Loading *loading, GError **error)
{
  g_ptr_array_add (find->answers, ws_row_take_answer (row));
  return TRUE;
}

/* What a find is made of, each in the order that ws-values.h promises. */
static const struct
{
  const char *sql;
  TakeRow take;
} kinds[] = {
  { "SELECT l.find_id, l.photo_id, l.position, l.specimen, l.visit "
    "FROM find_photo AS l JOIN photo AS p ON p.id = l.photo_id WHERE l.find_id" IS_CHOSEN
    "ORDER BY l.position, p.taken_us + p.taken_correction * 1000000 NULLS LAST, p.id", take_link },
  { "SELECT m.find_id, " WS_MARK_COLUMNS "FROM " WS_MARK_TABLES
    "WHERE m.find_id" IS_CHOSEN "ORDER BY m.created_us, m.seq, m.id", take_mark },
  { "SELECT n.find_id, " WS_NOTE_COLUMNS "FROM note AS n "
    "WHERE n.find_id" IS_CHOSEN "ORDER BY n.created_us, n.seq, n.id", take_note },
  { "SELECT find_id, view, reason FROM excuse WHERE find_id" IS_CHOSEN "ORDER BY view", take_excuse },
  { "SELECT l.find_id, " WS_COVER_COLUMNS "FROM find_photo AS l JOIN cover AS c ON c.photo_id = l.photo_id "
    "WHERE l.find_id" IS_CHOSEN "ORDER BY l.position, c.id", take_cover },
  { "SELECT l.find_id, " WS_SCALE_COLUMNS "FROM find_photo AS l JOIN scale AS c ON c.photo_id = l.photo_id "
    "WHERE l.find_id" IS_CHOSEN "ORDER BY c.created_us, c.seq, c.id", take_scale },
  { "SELECT m.find_id, " WS_MEASUREMENT_COLUMNS "FROM measurement AS m "
    "WHERE m.find_id" IS_CHOSEN "ORDER BY m.created_us, m.seq, m.id", take_measurement },
  { "SELECT s.find_id, " WS_SPORE_LIST_COLUMNS "FROM spore_list AS s "
    "WHERE s.find_id" IS_CHOSEN "ORDER BY s.created_us, s.seq, s.id", take_spore_list },
  { "SELECT l.find_id, " WS_NAME_COLUMNS "FROM find_name AS l JOIN name AS n ON n.id = l.name_id "
    "WHERE l.find_id" IS_CHOSEN "ORDER BY n.created_us, n.rowid", take_name },
  { "SELECT l.find_id, " WS_ANSWER_COLUMNS "FROM find_answer AS l JOIN answer AS a ON a.id = l.answer_id "
    "WHERE l.find_id" IS_CHOSEN "ORDER BY a.received_us, a.rowid", take_answer },
};

static gboolean
load_kind (WsStore *store, const Loading *loading, const char *sql, TakeRow take, GError **error)
{
  g_auto (WsStatement) rows = ws_statement (store, sql);

  while (ws_statement_next (&rows, error))
    {
      WsFind *find = g_hash_table_lookup (loading->by_id, ws_statement_peek_text (&rows));

      if (!take (&rows, find, loading, error))
        return FALSE;
    }
  return ws_statement_ended (&rows);
}

/* What hangs on the rows that were loaded. */
static gboolean
complete (WsStore *store, WsFind *find, GError **error)
{
  for (guint i = 0; i < find->answers->len; i++)
    if (!ws_answer_fill (store, g_ptr_array_index (find->answers, i), error))
      return FALSE;
  ws_find_fill_scales (find);
  return TRUE;
}

static gboolean
load (WsStore *store, gpointer data, GError **error)
{
  Loading *loading = data;

  if (!choose (store, loading, error) || !load_own (store, loading, error) || !load_photos (store, loading, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (!load_kind (store, loading, kinds[i].sql, kinds[i].take, error))
      return FALSE;
  for (guint i = 0; i < loading->finds->len; i++)
    if (!complete (store, g_ptr_array_index (loading->finds, i), error))
      return FALSE;
  return TRUE;
}

GPtrArray *
ws_library_load_finds (WsLibrary *library, const char *search, GError **error)
{
  g_auto (Loading) loading = { LOADING_INIT };

  loading.search = search;
  if (!ws_library_read (library, load, &loading, error))
    return NULL;
  return g_steal_pointer (&loading.finds);
}

WsFind *
ws_library_load_find (WsLibrary *library, const char *id_or_number, GError **error)
{
  g_auto (Loading) loading = { LOADING_INIT };
  g_autofree char *id = NULL;

  if (ws_id_is_valid (id_or_number))
    loading.id = id = g_ascii_strdown (id_or_number, -1);
  else
    loading.number = id_or_number;
  if (!ws_library_read (library, load, &loading, error))
    return NULL;
  if (loading.finds->len == 1)
    return ws_find_ref (g_ptr_array_index (loading.finds, 0));
  if (loading.finds->len == 0)
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no find “%s” in the library"), id_or_number);
  else
    g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT,
                 _("%u finds have the number “%s”; name one of them by its UUID, or give it another number"),
                 loading.finds->len, id_or_number);
  return NULL;
}
