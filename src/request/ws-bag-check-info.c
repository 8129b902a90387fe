/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bag-info.txt (RFC 8493, 2.2.2). */
#include "ws-bag-check.h"

#include "ws-intl.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* Labels that are not to stand there twice. */
static const char *const once[] = { "bagging-date", "bag-size", "bag-group-identifier", "bag-count", NULL };

static void
check_oxum (WsBagCheck *check, const char *file, const char *value)
{
  guint64 octets = 0, n_files = 0, told_octets, told_files;
  g_auto (GStrv) parts = g_strsplit (value, ".", 3);

  if (g_strv_length (parts) != 2 || !g_ascii_string_to_unsigned (parts[0], 10, 0, G_MAXUINT64, &told_octets, NULL)
      || !g_ascii_string_to_unsigned (parts[1], 10, 0, G_MAXUINT64, &told_files, NULL))
    {
      ws_bag_verdict_add_error (check->verdict, _("%s: Payload-Oxum must be two numbers with a dot between"), file);
      return;
    }
  for (guint i = 0; i < check->tree->entries->len; i++)
    {
      const WsBagEntry *entry = g_ptr_array_index (check->tree->entries, i);

      if (!entry->is_folder && g_str_has_prefix (entry->path, "data/"))
        {
          octets += entry->size;
          n_files++;
        }
    }
  if (octets != told_octets || n_files != told_files)
    ws_bag_verdict_add_error (check->verdict,
                              _("%s: Payload-Oxum says %" PRIu64 " bytes in %" PRIu64
                                " files; there are %" PRIu64 " in %" PRIu64),
                              file, told_octets, told_files, octets, n_files);
}

static gboolean
is_date (const char *text)
{
  int year, month, day, n = 0;

  return sscanf (text, "%4d-%2d-%2d%n", &year, &month, &day, &n) == 3 && n == 10 && text[n] == '\0'
         && year > 0 && g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

static gboolean
is_count (const char *text)
{
  const char *of = strstr (text, " of ");

  return of != NULL && of != text && strspn (text, "0123456789") == (gsize) (of - text)
         && (g_str_equal (of + 4, "?") || (of[4] != '\0' && strspn (of + 4, "0123456789") == strlen (of + 4)));
}

/* @seen: labels so far in small letters, with how often. */
static void
check_element (WsBagCheck *check, const char *file, const char *label, const char *value, GHashTable *seen)
{
  g_autofree char *small = g_utf8_strdown (label, -1);
  gboolean again = !g_hash_table_add (seen, g_strdup (small));

  if (again && g_str_equal (small, "payload-oxum"))
    ws_bag_check_add (check, _("%s: Payload-Oxum stands there twice"), file);
  if (again && g_strv_contains (once, small))
    ws_bag_verdict_add_warning (check->verdict, _("%s: %s should stand there once only"), file, label);
  if (g_str_equal (small, "payload-oxum"))
    check_oxum (check, file, value);
  if (g_str_equal (small, "bagging-date") && !is_date (value))
    ws_bag_verdict_add_warning (check->verdict, _("%s: Bagging-Date should be a date like 2025-10-04"), file);
  if (g_str_equal (small, "bag-count") && !is_count (value))
    ws_bag_verdict_add_warning (check->verdict, _("%s: Bag-Count should be two numbers with “of” between"), file);
}

void
ws_bag_check_info (WsBagCheck *check, const WsBagEntry *file)
{
  g_autofree char *text = ws_bag_check_dup_text (check, file);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GString) value = g_string_new (NULL);
  g_autofree char *label = NULL;
  char *at = text, *line = NULL;
  guint number = 0;

  while (text != NULL && (line = ws_bag_text_next_line (&at)) != NULL)
    {
      char *name, *rest;
      const char *fault;

      number++;
      if (label != NULL && (*line == ' ' || *line == '\t'))
        {
          g_string_append_printf (value, " %s", g_strstrip (line));
          continue;
        }
      if (label != NULL)
        check_element (check, file->path, label, value->str, seen);
      g_clear_pointer (&label, g_free);
      if (*line == '\0')
        ws_bag_verdict_add_warning (check->verdict, _("%s, line %u: the line is empty"), file->path, number);
      else if (!ws_bag_text_split_info (line, check->version, &name, &rest, &fault))
        ws_bag_verdict_add_error (check->verdict, _("%s, line %u: %s"), file->path, number, fault);
      else
        {
          label = g_strdup (name);
          g_string_assign (value, rest);
        }
    }
  if (label != NULL)
    check_element (check, file->path, label, value->str, seen);
}
