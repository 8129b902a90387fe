/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loading photos and forays by themselves. */
#include "ws-library-private.h"

#define SELECT_PHOTO "SELECT " WS_PHOTO_COLUMNS "FROM " WS_PHOTO_TABLES
#define IN_ORDER_OF_TIME "ORDER BY p.taken_us + p.taken_correction * 1000000 NULLS LAST, l.path, p.id"

typedef struct
{
  const char *sql;
  const char *key;     /* (nullable) */
  GPtrArray *values;
} Query;

static gboolean
load_photos (WsStore *store, gpointer data, GError **error)
{
  Query *query = data;
  g_auto (WsStatement) rows = ws_statement (store, query->sql);

  if (query->key != NULL)
    ws_statement_bind_text (&rows, query->key);
  while (ws_statement_next (&rows, error))
    g_ptr_array_add (query->values, ws_row_take_photo (&rows));
  return ws_statement_ended (&rows);
}

static GPtrArray *
load_list (WsLibrary *library, const char *sql, const char *key, GError **error)
{
  g_autoptr (GPtrArray) photos = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_photo_unref);
  Query query = { sql, key, photos };

  if (!ws_library_read (library, load_photos, &query, error))
    return NULL;
  return g_steal_pointer (&photos);
}

static WsPhoto *
load_one (WsLibrary *library, const char *sql, const char *key, GError **error)
{
  g_autoptr (GPtrArray) photos = load_list (library, sql, key, error);

  return photos != NULL && photos->len > 0 ? ws_photo_ref (g_ptr_array_index (photos, 0)) : NULL;
}

GPtrArray *
ws_library_load_unsorted (WsLibrary *library, GError **error)
{
  return load_list (library,
                    SELECT_PHOTO "WHERE NOT p.set_aside AND p.id NOT IN (SELECT photo_id FROM find_photo) "
                    IN_ORDER_OF_TIME, NULL, error);
}

GPtrArray *
ws_library_load_set_aside (WsLibrary *library, GError **error)
{
  return load_list (library, SELECT_PHOTO "WHERE p.set_aside " IN_ORDER_OF_TIME, NULL, error);
}

GPtrArray *
ws_library_load_all_photos (WsLibrary *library, GError **error)
{
  return load_list (library, SELECT_PHOTO IN_ORDER_OF_TIME, NULL, error);
}

WsPhoto *
ws_library_load_photo (WsLibrary *library, const char *id, GError **error)
{
  return load_one (library, SELECT_PHOTO "WHERE p.id = ?", id, error);
}

WsPhoto *
ws_library_load_photo_by_digest (WsLibrary *library, const char *digest, GError **error)
{
  /* The second condition says that the index, which leaves out unknown digests, can be used. */
  return load_one (library, SELECT_PHOTO "WHERE p.digest = ? AND p.digest <> ''", digest, error);
}

static gboolean
load_find_ids (WsStore *store, gpointer data, GError **error)
{
  Query *query = data;
  g_auto (WsStatement) rows = ws_statement (store, query->sql);

  ws_statement_bind_text (&rows, query->key);
  while (ws_statement_next (&rows, error))
    g_ptr_array_add (query->values, ws_statement_take_text (&rows));
  return ws_statement_ended (&rows);
}

char **
ws_library_dup_finds_of_photo (WsLibrary *library, const char *photo_id, GError **error)
{
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  Query query = { "SELECT find_id FROM find_photo WHERE photo_id = ? ORDER BY find_id", photo_id, ids };

  if (!ws_library_read (library, load_find_ids, &query, error))
    return NULL;
  g_ptr_array_add (ids, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&ids), FALSE);
}

static gboolean
load_forays (WsStore *store, gpointer data, GError **error)
{
  GPtrArray *forays = data;
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT id, date, place, people FROM foray ORDER BY date DESC, id");

  while (ws_statement_next (&rows, error))
    {
      WsForay *foray = ws_foray_new ();

      ws_statement_take_into (&rows, &foray->id);
      ws_statement_take_into (&rows, &foray->date);
      ws_statement_take_into (&rows, &foray->place);
      ws_statement_take_into (&rows, &foray->people);
      g_ptr_array_add (forays, foray);
    }
  return ws_statement_ended (&rows);
}

GPtrArray *
ws_library_load_forays (WsLibrary *library, GError **error)
{
  g_autoptr (GPtrArray) forays = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_foray_unref);

  if (!ws_library_read (library, load_forays, forays, error))
    return NULL;
  return g_steal_pointer (&forays);
}

/* --- Likeness ------------------------------------------------------------------------- */

#define LIKENESS_DISTANCE 6

typedef struct
{
  guint64 likeness;
  gint64 pixels;
  WsPhoto *photo;      /* the result */
} Likeness;

static int
distance (guint64 a, guint64 b)
{
  return __builtin_popcountll (a ^ b);
}

/* The row id of the best one, 0 when there is none. The index alone answers this. */
static gboolean
find_row (WsStore *store, const Likeness *like, gint64 *row, GError **error)
{
  int best = LIKENESS_DISTANCE + 1;
  gint64 most = 0;
  g_auto (WsStatement) rows = ws_statement (store,
    "SELECT rowid, likeness, width * height FROM photo WHERE likeness <> 0 AND width * height > ?");

  *row = 0;
  ws_statement_bind_int (&rows, like->pixels);
  while (ws_statement_next (&rows, error))
    {
      gint64 id = ws_statement_take_int (&rows);
      int d = distance (like->likeness, (guint64) ws_statement_take_int (&rows));
      gint64 pixels = ws_statement_take_int (&rows);

      if (d < best || (d == best && d <= LIKENESS_DISTANCE && pixels > most))
        {
          best = d;
          most = pixels;
          *row = id;
        }
    }
  return ws_statement_ended (&rows);
}

static gboolean
find_likeness (WsStore *store, gpointer data, GError **error)
{
  Likeness *like = data;
  g_auto (WsStatement) rows = ws_statement (store, SELECT_PHOTO "WHERE p.rowid = ?");
  gint64 row;

  if (!find_row (store, like, &row, error))
    return FALSE;
  ws_statement_bind_int (&rows, row);
  if (ws_statement_next (&rows, error))
    {
      like->photo = ws_row_take_photo (&rows);
      return TRUE;
    }
  return ws_statement_ended (&rows);
}

WsPhoto *
ws_library_find_likeness (WsLibrary *library, guint64 likeness, int width, int height, GError **error)
{
  Likeness like = { likeness, (gint64) width * height, NULL };

  if (likeness == 0 || !ws_library_read (library, find_likeness, &like, error))
    return NULL;
  return like.photo;
}
