/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-table.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

#define FORMAT 1

struct _WsTable
{
  char *file;
  char **header;
  GPtrArray *rows;  /* char** */
  GArray *lines;    /* guint */
};

void
ws_table_free (WsTable *table)
{
  if (table == NULL)
    return;
  g_free (table->file);
  g_strfreev (table->header);
  g_ptr_array_unref (table->rows);
  g_array_unref (table->lines);
  g_free (table);
}

static gboolean
fail_at (const char *file, guint line, GError **error, const char *what)
{
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("%s, line %u: %s"), file, line, what);
  return FALSE;
}

static gboolean
check_format (const char *file, const char *line, GError **error)
{
  guint64 format;

  if (!g_str_has_prefix (line, "#format\t"))
    return fail_at (file, 1, error, _("the first line must be “#format”, a tab and a number"));
  if (!g_ascii_string_to_unsigned (line + strlen ("#format\t"), 10, 1, G_MAXINT, &format, NULL))
    return fail_at (file, 1, error, _("the format number cannot be read"));
  if (format > FORMAT)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NEWER_FORMAT,
                   _("%s was written for a newer version of this program (table format %u; this one knows %d). Update the program, or use the older table."),
                   file, (guint) format, FORMAT);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_columns (WsTable *table, guint line, const char *const *columns, GError **error)
{
  for (guint i = 0; columns[i] != NULL; i++)
    if (!g_strv_contains ((const char *const *) table->header, columns[i]))
      {
        g_autofree char *what = g_strdup_printf (_("the column “%s” is missing"), columns[i]);

        return fail_at (table->file, line, error, what);
      }
  return TRUE;
}

static gboolean
add_row (WsTable *table, guint number, const char *line, GError **error)
{
  char **cells = g_strsplit (line, "\t", -1);
  guint n = g_strv_length (cells), wanted = g_strv_length (table->header);

  if (n != wanted)
    {
      g_autofree char *what = g_strdup_printf (_("%u cells where the header has %u"), n, wanted);

      g_strfreev (cells);
      return fail_at (table->file, number, error, what);
    }
  for (guint i = 0; i < n; i++)
    g_strstrip (cells[i]);
  g_ptr_array_add (table->rows, cells);
  g_array_append_val (table->lines, number);
  return TRUE;
}

WsTable *
ws_table_parse (const char *file, GBytes *bytes, const char *const *columns, GError **error)
{
  g_autoptr (WsTable) table = g_new0 (WsTable, 1);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);

  table->file = g_strdup (file);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  table->lines = g_array_new (FALSE, FALSE, sizeof (guint));
  if (data == NULL || !g_utf8_validate_len (data, size, NULL))
    {
      fail_at (file, 1, error, _("this is not UTF-8 text"));
      return NULL;
    }
  text = g_strndup (data, size);
  lines = g_strsplit (text, "\n", -1);
  if (!check_format (file, g_strchomp (lines[0]), error))
    return NULL;

  for (guint i = 1; lines[i] != NULL; i++)
    {
      gsize length = strlen (lines[i]);

      if (length > 0 && lines[i][length - 1] == '\r')
        lines[i][length - 1] = '\0';
      if (lines[i][0] == '\0' || lines[i][0] == '#')
        continue;
      if (table->header == NULL)
        {
          table->header = g_strsplit (lines[i], "\t", -1);
          if (!check_columns (table, i + 1, columns, error))
            return NULL;
        }
      else if (!add_row (table, i + 1, lines[i], error))
        return NULL;
    }
  if (table->header == NULL)
    {
      fail_at (file, 2, error, _("the header line with the column names is missing"));
      return NULL;
    }
  return g_steal_pointer (&table);
}

guint
ws_table_get_n_rows (const WsTable *table)
{
  return table->rows->len;
}

guint
ws_table_get_line (const WsTable *table, guint row)
{
  return g_array_index (table->lines, guint, row);
}

const char *
ws_table_get (const WsTable *table, guint row, const char *column)
{
  char **cells = g_ptr_array_index (table->rows, row);

  for (guint i = 0; table->header[i] != NULL; i++)
    if (g_str_equal (table->header[i], column))
      return cells[i];
  return "";
}

gboolean
ws_table_fail (const WsTable *table, guint row, GError **error, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list args;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  return fail_at (table->file, ws_table_get_line (table, row), error, what);
}
