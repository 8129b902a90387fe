/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "find-support.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void
load_folder (GHashTable *tables, const char *folder, const char *prefix)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL), *text = NULL;
      gsize size;

      if (g_file_test (path, G_FILE_TEST_IS_DIR) && *prefix == '\0')
        {
          g_autofree char *inner = g_strconcat (name, "/", NULL);

          load_folder (tables, path, inner);
        }
      else if (g_str_has_suffix (name, ".tsv"))
        {
          g_assert_true (g_file_get_contents (path, &text, &size, NULL));
          g_hash_table_insert (tables, g_strconcat (prefix, name, NULL), g_bytes_new_take (g_steal_pointer (&text), size));
        }
    }
}

GHashTable *
support_load_tables (void)
{
  static const char page[] = "#format\t1\nkind\tid\ttext\npage\tplaceholder\tx\n";
  static const char *const languages[] = { "en", "de" };
  GHashTable *tables = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  g_autofree char *folder = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "knowledge", NULL);

  load_folder (tables, folder, "");
  for (gsize i = 0; i < G_N_ELEMENTS (languages); i++)
    {
      g_autofree char *name = g_strconcat (languages[i], "/page.tsv", NULL);

      if (!g_hash_table_contains (tables, name))
        g_hash_table_insert (tables, g_steal_pointer (&name), g_bytes_new_static (page, sizeof page - 1));
    }
  return tables;
}

WsKnowledge *
support_load_knowledge (void)
{
  g_autoptr (GHashTable) tables = support_load_tables ();
  g_autoptr (GError) error = NULL;
  WsKnowledge *knowledge = ws_knowledge_parse (tables, &error);

  g_assert_no_error (error);
  g_assert_nonnull (knowledge);
  return knowledge;
}

const char *
support_table_text (GHashTable *tables, const char *table)
{
  GBytes *bytes = g_hash_table_lookup (tables, table);
  g_autofree char *text = NULL;

  g_assert_nonnull (bytes);
  text = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  return g_intern_string (text);
}

void
support_replace (GHashTable *tables, const char *table, const char *what, const char *with)
{
  const char *text = support_table_text (tables, table), *there = strstr (text, what);
  g_autoptr (GString) changed = g_string_new (text);

  g_assert_nonnull (there);
  g_string_erase (changed, there - text, (gssize) strlen (what));
  g_string_insert (changed, there - text, with);
  g_hash_table_insert (tables, g_strdup (table), g_bytes_new (changed->str, changed->len));
}

int
support_line_of (GHashTable *tables, const char *table, const char *what)
{
  const char *text = support_table_text (tables, table), *there = strstr (text, what);
  int line = 1;

  g_assert_nonnull (there);
  for (const char *p = text; p < there; p++)
    line += *p == '\n';
  return line;
}

static void
add_photo (WsFind *find, const char *id, gboolean aside)
{
  WsFindPhoto *link = ws_find_photo_new ();

  ws_set_string (&link->photo->id, id);
  link->photo->set_aside = aside;
  g_ptr_array_add (find->photos, link);
}

static void
apply_mark_word (WsMark *mark, const char *word)
{
  if (g_str_equal (word, "unmeasured"))
    mark->measure.measured = FALSE;
  else if (g_str_equal (word, "whole"))
    mark->whole_photo = TRUE;
  else if (g_str_equal (word, "aside"))
    ws_set_string (&mark->photo_id, "photo-aside");
  else if (g_str_equal (word, "full"))
    {
      ws_shape_free (mark->shape);
      mark->shape = ws_shape_new_box (&(WsRect) { 0, 0, 1, 1 });
    }
  else if (*word == 'w' && g_ascii_isdigit (word[1]))
    mark->measure.width_px = mark->measure.height_px = atoi (word + 1);
  else if (g_str_equal (word, "s?"))
    mark->measure.blur_sigma = NAN;
  else if (*word == 's' && g_ascii_isdigit (word[1]))
    mark->measure.blur_sigma = g_ascii_strtod (word + 1, NULL);
  else if (*word == 'b' && g_ascii_isdigit (word[1]))
    mark->measure.burnt_out = g_ascii_strtod (word + 1, NULL) / 100;
  else if (*word == 'k' && g_ascii_isdigit (word[1]))
    mark->measure.blocked_up = g_ascii_strtod (word + 1, NULL) / 100;
  else
    ws_set_string (&mark->base_kind, word);
}

static void
add_mark (WsFind *find, const char *views, const char *words)
{
  WsMark *mark = ws_mark_new ();
  g_auto (GStrv) list = g_strsplit (words, ",", -1);

  g_free (mark->id);
  mark->id = g_strdup_printf ("mark-%u", find->marks->len + 1);
  ws_set_string (&mark->photo_id, "photo");
  g_strfreev (mark->views);
  mark->views = g_strsplit (views, "+", -1);
  ws_set_string (&mark->part, g_str_equal (mark->views[0], "v_base") ? "stem_base" : "whole");
  ws_shape_free (mark->shape);
  mark->shape = ws_shape_new_box (&(WsRect) { 0.25, 0.25, 0.5, 0.5 });
  mark->measure = (WsMeasure) { TRUE, 1000, 1000, 1.0, 0, 0, NAN, 1 };
  for (guint i = 0; list[i] != NULL; i++)
    if (list[i][0] != '\0')
      apply_mark_word (mark, list[i]);
  g_ptr_array_add (find->marks, mark);
}

static void
add_note (WsFind *find, const char *character, const char *states)
{
  WsNote *note = ws_note_new ();

  ws_set_string (&note->character, g_str_equal (character, "form") ? "growth_form" : character);
  g_strfreev (note->states);
  note->sure = !g_str_has_suffix (states, "?");
  note->states = *states != '\0' ? g_strsplit (states, "|", -1) : g_new0 (char *, 1);
  for (guint i = 0; note->states[i] != NULL; i++)
    g_strdelimit (note->states[i], "?", '\0');
  g_ptr_array_add (find->notes, note);
}

static void
add_excuse (WsFind *find, const char *view)
{
  WsExcuse *excuse = ws_excuse_new ();

  ws_set_string (&excuse->view, view);
  ws_set_string (&excuse->reason, "it is gone");
  g_ptr_array_add (find->excuses, excuse);
}

WsFind *
support_find (const char *model)
{
  WsFind *find = ws_find_new ();
  g_auto (GStrv) words = g_strsplit (model, " ", -1);

  add_photo (find, "photo", FALSE);
  add_photo (find, "photo-aside", TRUE);
  for (guint i = 0; words[i] != NULL; i++)
    {
      char *colon = strchr (words[i], ':'), *equals = strchr (words[i], '=');

      if (words[i][0] == '\0')
        continue;
      if (colon != NULL)
        *colon++ = '\0';
      if (colon != NULL && g_str_equal (words[i], "excuse"))
        add_excuse (find, colon);
      else if (colon != NULL)
        add_mark (find, words[i], colon);
      else
        {
          g_assert_nonnull (equals);
          *equals++ = '\0';
          add_note (find, words[i], equals);
        }
    }
  return find;
}
