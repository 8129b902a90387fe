/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The texts of each language: LANG/texts.tsv, states.tsv, page.tsv. */
#include "ws-knowledge-private.h"

#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

static char *
text_key (const char *language, const char *kind, const char *id)
{
  return g_strjoin ("\t", language, kind, id, NULL);
}

/* A text may hold at most one %s and no other %: it is handed to a formatter. */
static gboolean
placeholders_are_fine (const char *text)
{
  const char *percent = strchr (text, '%');

  return percent == NULL || (percent[1] == 's' && strchr (percent + 1, '%') == NULL);
}

static void
add_text (WsKnowledge *self, const char *language, const char *kind, const char *id, const char *text)
{
  if (*text != '\0')
    g_hash_table_insert (self->texts, text_key (language, kind, id), (gpointer) ws_knowledge_keep (self, text));
}

static gboolean
read_text_table (WsKnowledge *self, GHashTable *tables, const char *language, const char *name, GError **error)
{
  static const char *const columns[] = { "kind", "id", "text", NULL };
  g_autofree char *path = g_strconcat (language, "/", name, NULL);
  g_autoptr (WsTable) table = ws_knowledge_open (tables, path, columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *kind = ws_table_get (table, i, "kind"), *text = ws_table_get (table, i, "text");

      if (g_str_equal (kind, "reason") && !placeholders_are_fine (text))
        return ws_table_fail (table, i, error, _("a reason may hold one %%s and no other %%"));
      add_text (self, language, kind, ws_table_get (table, i, "id"), text);
    }
  return table != NULL;
}

static gboolean
read_state_table (WsKnowledge *self, GHashTable *tables, const char *language, GError **error)
{
  static const char *const columns[] = { "character", "id", "text", "definition", NULL };
  g_autofree char *path = g_strconcat (language, "/states.tsv", NULL);
  g_autoptr (WsTable) table = ws_knowledge_open (tables, path, columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *id = ws_table_get (table, i, "id");
      const WsCharacter *character = ws_knowledge_find_character (self, ws_table_get (table, i, "character"));
      g_autofree char *kind = NULL, *definition = NULL;

      if (character == NULL || !ws_character_has_state (character, id))
        return ws_table_fail (table, i, error, _("there is no state “%s” of “%s”"), id,
                              ws_table_get (table, i, "character"));
      kind = g_strconcat ("state:", character->id, NULL);
      definition = g_strconcat ("state_def:", character->id, NULL);
      add_text (self, language, kind, id, ws_table_get (table, i, "text"));
      add_text (self, language, definition, id, ws_table_get (table, i, "definition"));
    }
  return table != NULL;
}

static gboolean
read_group_table (WsKnowledge *self, GHashTable *tables, const char *language, GError **error)
{
  static const char *const columns[] = { "group", "label", "helps", NULL };
  g_autofree char *path = g_strconcat (language, "/groups.tsv", NULL);
  g_autoptr (WsTable) table = ws_knowledge_open (tables, path, columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *id = ws_table_get (table, i, "group");

      if (ws_knowledge_find_group (self, id) == NULL)
        return ws_table_fail (table, i, error, _("there is no group “%s”"), id);
      add_text (self, language, "group", id, ws_table_get (table, i, "label"));
      add_text (self, language, "group_helps", id, ws_table_get (table, i, "helps"));
    }
  return table != NULL;
}

static gboolean
read_language (WsKnowledge *self, GHashTable *tables, const char *language, GError **error)
{
  return read_text_table (self, tables, language, "texts.tsv", error) &&
         read_state_table (self, tables, language, error) &&
         read_text_table (self, tables, language, "page.tsv", error) &&
         read_group_table (self, tables, language, error);
}

static gboolean
require_text (WsKnowledge *self, const char *kind, const char *id, GError **error)
{
  if (ws_knowledge_has_text (self, kind, id))
    return TRUE;
  g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("en/texts.tsv has no text for the %s “%s”"), kind, id);
  return FALSE;
}

/* What the screens and the package cannot do without; safety texts above all. */
static gboolean
check_english (WsKnowledge *self, GError **error)
{
  static const char *const needed[][2] = {
    { "caution", "photos_never" }, { "caution", "doubt" }, { "caution", "base_missing" }, { "caution", "poison" },
    { "caution", "law" }, { "caution", "touch" }, { "caution", "figure_ink" }, { "eaten", "title" },
    { "eaten", "call" }, { "eaten", "no_wait" }, { "eaten", "better" }, { "reason", "not_marked" },
    { "reason", "whole_photo_only" }, { "reason", "base_kind_unanswered" }, { "reason", "not_measured" },
    { "reason", "cannot_tell" }, { "reason", "blurred" }, { "reason", "burnt_out" }, { "reason", "blocked_up" },
    { "reason", "too_small" } };

  for (gsize i = 0; i < G_N_ELEMENTS (needed); i++)
    if (!require_text (self, needed[i][0], needed[i][1], error))
      return FALSE;
  for (guint i = 0; i < self->views->len; i++)
    if (!require_text (self, "view", ((WsView *) g_ptr_array_index (self->views, i))->id, error))
      return FALSE;
  for (guint i = 0; i < self->base_kinds->len; i++)
    if (!require_text (self, "base_kind", ((WsBaseKind *) g_ptr_array_index (self->base_kinds, i))->id, error))
      return FALSE;
  return TRUE;
}

gboolean
ws_knowledge_read_texts (WsKnowledge *self, GHashTable *tables, GError **error)
{
  g_autoptr (GPtrArray) languages = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer name;

  g_ptr_array_add (languages, g_strdup ("en"));
  g_hash_table_iter_init (&iter, tables);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    if (g_str_has_suffix (name, "/texts.tsv") && !g_str_has_prefix (name, "en/"))
      g_ptr_array_add (languages, g_path_get_dirname (name));
  g_ptr_array_add (languages, NULL);
  self->languages = (char **) g_ptr_array_free (g_steal_pointer (&languages), FALSE);
  for (guint i = 0; self->languages[i] != NULL; i++)
    if (!read_language (self, tables, self->languages[i], error))
      return FALSE;
  return check_english (self, error);
}

const char *const *
ws_knowledge_get_languages (const WsKnowledge *self)
{
  return (const char *const *) self->languages;
}

static const char *
look_up (const WsKnowledge *self, const char *language, const char *kind, const char *id)
{
  g_autofree char *key = text_key (language, kind, id);

  return g_hash_table_lookup (self->texts, key);
}

const char *
ws_knowledge_text (const WsKnowledge *self, const char *language, const char *kind, const char *id)
{
  const char *text = look_up (self, language != NULL ? language : "en", kind, id);

  if (text == NULL)
    text = look_up (self, "en", kind, id);
  return text != NULL ? text : id;
}

char *
ws_knowledge_dup_view_name (const WsKnowledge *self, const char *language, const char *view, gboolean technical)
{
  const char *plain = ws_knowledge_text (self, language, "view", view);
  const char *term = technical ? look_up (self, language != NULL ? language : "en", "view_term", view) : NULL;

  return term != NULL ? g_strdup_printf ("%s (%s)", plain, term) : g_strdup (plain);
}

gboolean
ws_knowledge_has_text (const WsKnowledge *self, const char *kind, const char *id)
{
  return look_up (self, "en", kind, id) != NULL;
}

const char *
ws_knowledge_state_text (const WsKnowledge *self, const char *language, const char *character, const char *state)
{
  g_autofree char *kind = g_strconcat ("state:", character, NULL);

  return ws_knowledge_text (self, language, kind, state);
}

const char *
ws_knowledge_pick_language (const WsKnowledge *self, const char *const *wanted)
{
  for (guint i = 0; wanted != NULL && wanted[i] != NULL; i++)
    for (guint l = 0; self->languages[l] != NULL; l++)
      if (g_str_has_prefix (wanted[i], self->languages[l]) &&
          !g_ascii_isalpha (wanted[i][strlen (self->languages[l])]))
        return self->languages[l];
  return "en";
}
