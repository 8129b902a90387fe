/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desk.h"

#include "ws-builtin.h"
#include "ws-error.h"
#include "ws-file.h"

/* Bounds what an edited knowledge file may ask for. */
#define TABLE_LIMIT (4 * 1024 * 1024)
#define RESOURCE_ROOT "/page/wholestem/data/"

GBytes *
ws_desk_builtin_data (const char *name)
{
  g_autofree char *path = g_strconcat (RESOURCE_ROOT, name, NULL);

  return g_resource_lookup_data (ws_builtin_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
}

static void
add_builtin_tables (GHashTable *tables, const char *folder)
{
  g_autofree char *path = g_strconcat (RESOURCE_ROOT "knowledge/", folder, NULL);
  g_auto (GStrv) names = g_resource_enumerate_children (ws_builtin_get_resource (), path,
                                                        G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);

  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    {
      g_autofree char *name = g_strconcat (folder, names[i], NULL);

      if (g_str_has_suffix (name, "/"))
        add_builtin_tables (tables, name);
      else
        {
          g_autofree char *whole = g_strconcat ("knowledge/", name, NULL);

          g_hash_table_insert (tables, g_strdup (name), ws_desk_builtin_data (whole));
        }
    }
}

static GHashTable *
builtin_tables (void)
{
  GHashTable *tables = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);

  add_builtin_tables (tables, "");
  return tables;
}

WsKnowledge *
ws_desk_builtin_knowledge (GError **error)
{
  g_autoptr (GHashTable) tables = builtin_tables ();

  return ws_knowledge_parse (tables, error);
}

/* An edited copy need not hold every table: what it lacks is taken from the built-in ones. */
static gboolean
overlay_edited (GHashTable *tables, const char *folder, gboolean *any, GError **error)
{
  g_autoptr (GList) names = g_hash_table_get_keys (tables);

  *any = FALSE;
  for (GList *l = names; l != NULL; l = l->next)
    {
      g_autofree char *path = g_build_filename (folder, l->data, NULL);
      GBytes *bytes;

      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        continue;
      bytes = ws_file_read (path, TABLE_LIMIT, error);
      if (bytes == NULL)
        return FALSE;
      g_hash_table_insert (tables, g_strdup (l->data), bytes);
      *any = TRUE;
    }
  return TRUE;
}

/* The edited copy when it is there and sound; a broken one is named and the built-in copy used. */
static gboolean
load_knowledge (WsDesk *desk, const char *folder, GError **error)
{
  g_autoptr (GHashTable) tables = builtin_tables ();
  g_autofree char *edited = g_build_filename (folder, "knowledge", NULL);
  g_autoptr (GError) trouble = NULL;
  gboolean any = FALSE;

  if (overlay_edited (tables, edited, &any, &trouble) && any)
    desk->knowledge = ws_knowledge_parse (tables, &trouble);
  if (desk->knowledge != NULL)
    {
      desk->knowledge_from = g_steal_pointer (&edited);
      return TRUE;
    }
  if (trouble != NULL)
    desk->knowledge_trouble = g_strdup (trouble->message);
  desk->knowledge = ws_desk_builtin_knowledge (error);
  return desk->knowledge != NULL;
}

WsDesk *
ws_desk_open (const char *folder, GError **error)
{
  g_autoptr (WsDesk) desk = g_new0 (WsDesk, 1);
  g_autofree char *standard = folder == NULL ? ws_library_default_folder () : NULL;

  g_atomic_ref_count_init (&desk->refs);
  if (folder == NULL)
    folder = standard;
  desk->library = ws_library_open (folder, error);
  if (desk->library == NULL || !load_knowledge (desk, folder, error))
    return NULL;
  desk->language = ws_knowledge_pick_language (desk->knowledge, g_get_language_names ());
  return g_steal_pointer (&desk);
}

WsDesk *
ws_desk_ref (WsDesk *desk)
{
  g_atomic_ref_count_inc (&desk->refs);
  return desk;
}

void
ws_desk_unref (WsDesk *desk)
{
  if (desk == NULL || !g_atomic_ref_count_dec (&desk->refs))
    return;
  g_clear_object (&desk->library);
  ws_knowledge_unref (desk->knowledge);
  g_free (desk->knowledge_from);
  g_free (desk->knowledge_trouble);
  g_free (desk);
}
