/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is stored without a step of undo: measures, where photos lie, settings. */
#include "ws-library-private.h"

#include "ws-error.h"
#include "ws-intl.h"

typedef struct
{
  const WsMark *mark;
  const WsMeasure *measure;
} Measured;

static gboolean
store_measure (WsStore *store, gpointer data, GError **error)
{
  const Measured *measured = data;
  int n_written;

  if (!ws_write_measure (store, measured->mark, measured->measure, &n_written, error))
    return FALSE;
  if (n_written == 0)
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The photo of this mark is no longer in the library"));
  return n_written > 0;
}

gboolean
ws_library_store_measure (WsLibrary *library, const WsMark *mark, const WsMeasure *measure, GError **error)
{
  Measured measured = { mark, measure };

  if (!measure->measured || mark->shape == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_INVALID, _("Only what was measured can be stored"));
      return FALSE;
    }
  return ws_rules_check_id (mark->id, _("a mark"), error) &&
         ws_library_write (library, store_measure, &measured, error);
}

typedef struct
{
  const char *photo_id, *path;
  gint64 size, modified_us;
} Place;

static gboolean
store_path (WsStore *store, gpointer data, GError **error)
{
  const Place *place = data;
  g_auto (WsStatement) known = ws_statement (store, "SELECT 1 FROM photo WHERE id = ?");

  ws_statement_bind_text (&known, place->photo_id);
  if (ws_statement_next (&known, error))
    return ws_write_photo_file (store, place->photo_id, place->path, place->size, place->modified_us, error);
  if (ws_statement_ended (&known))
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The photo “%s” is not in the library"), place->photo_id);
  return FALSE;
}

gboolean
ws_library_store_photo_path (WsLibrary *library, const char *photo_id, const char *path, gint64 size,
                             gint64 modified_us, GError **error)
{
  Place place = { photo_id, path, size, modified_us };

  return ws_library_write (library, store_path, &place, error);
}

typedef struct
{
  const char *key;
  const char *value;   /* (nullable) */
  char *stored;        /* (nullable) */
} Setting;

static gboolean
load_setting (WsStore *store, gpointer data, GError **error)
{
  Setting *setting = data;
  g_auto (WsStatement) row = ws_statement (store, "SELECT value FROM setting WHERE key = ?");

  ws_statement_bind_text (&row, setting->key);
  if (ws_statement_next (&row, error))
    {
      setting->stored = ws_statement_take_text (&row);
      return TRUE;
    }
  return ws_statement_ended (&row);
}

char *
ws_library_dup_setting (WsLibrary *library, const char *key)
{
  g_autoptr (GError) error = NULL;
  Setting setting = { key, NULL, NULL };

  if (!ws_library_read (library, load_setting, &setting, &error))
    g_warning ("The setting “%s” cannot be read: %s", key, error->message);
  return setting.stored;
}

static gboolean
store_setting (WsStore *store, gpointer data, GError **error)
{
  const Setting *setting = data;
  g_auto (WsStatement) put = ws_statement (store, setting->value != NULL
    ? "INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value"
    : "DELETE FROM setting WHERE key = ?");

  ws_statement_bind_text (&put, setting->key);
  if (setting->value != NULL)
    ws_statement_bind_text (&put, setting->value);
  return ws_statement_run (&put, error);
}

gboolean
ws_library_set_setting (WsLibrary *library, const char *key, const char *value, GError **error)
{
  Setting setting = { key, value, NULL };

  return ws_library_write (library, store_setting, &setting, error);
}
