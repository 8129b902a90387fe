/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-value-private.h"

gpointer
ws_value_new (gsize size)
{
  gatomicrefcount *refs = g_malloc0 (size);

  g_atomic_ref_count_init (refs);
  return refs;
}

gpointer
ws_value_dup (gconstpointer value, gsize size)
{
  gatomicrefcount *refs = g_memdup2 (value, size);

  g_atomic_ref_count_init (refs);
  return refs;
}

void
ws_set_string (char **field, const char *value)
{
  char *copy = g_strdup (value != NULL ? value : "");

  g_free (*field);
  *field = copy;
}

void
ws_value_fill_strings (char **fields[])
{
  for (guint i = 0; fields[i] != NULL; i++)
    *fields[i] = g_strdup (*fields[i] != NULL ? *fields[i] : "");
}

void
ws_value_free_strings (char **fields[])
{
  for (guint i = 0; fields[i] != NULL; i++)
    g_free (*fields[i]);
}

char **
ws_value_empty_strv (void)
{
  return g_new0 (char *, 1);
}

GPtrArray *
ws_value_copy_members (GPtrArray *members, gpointer (*ref) (gconstpointer), GDestroyNotify unref)
{
  GPtrArray *copy = g_ptr_array_new_full (members->len, unref);

  for (guint i = 0; i < members->len; i++)
    g_ptr_array_add (copy, ref (g_ptr_array_index (members, i)));
  return copy;
}

int
ws_value_find_id (const char *const *ids, gsize n, const char *text)
{
  for (gsize i = 0; i < n; i++)
    if (g_strcmp0 (ids[i], text) == 0)
      return (int) i;
  return -1;
}
