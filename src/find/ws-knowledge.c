/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the tables of ids. Order matters: a table may name only what an earlier one defines. */
#include "ws-knowledge-private.h"

#include "ws-digest.h"
#include "ws-error.h"
#include "ws-intl.h"

#include <string.h>

static const char *const table_names[] = {
  "parts.tsv", "views.tsv", "needs.tsv", "under-part.tsv", "base-kinds.tsv", "growth-forms.tsv",
  "characters.tsv", "states.tsv", "thresholds.tsv", "conditions.tsv", "applies.tsv", "surfaces.tsv",
  "go-back.tsv", "quantities.tsv", "dangerous-groups.tsv", "en/texts.tsv", "en/states.tsv", "en/page.tsv", "en/groups.tsv", NULL
};

const char *const *
ws_knowledge_get_table_names (void)
{
  return table_names;
}

const char *
ws_knowledge_keep (WsKnowledge *self, const char *text)
{
  return g_string_chunk_insert_const (self->strings, text);
}

const char *const *
ws_knowledge_keep_list (WsKnowledge *self, const char *text)
{
  char **list = *text != '\0' ? g_strsplit (text, "|", -1) : g_new0 (char *, 1);

  g_ptr_array_add (self->strvs, list);
  return (const char *const *) list;
}

WsTable *
ws_knowledge_open (GHashTable *tables, const char *name, const char *const *columns, GError **error)
{
  GBytes *bytes = g_hash_table_lookup (tables, name);

  if (bytes == NULL)
    {
      g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The knowledge table %s is missing"), name);
      return NULL;
    }
  return ws_table_parse (name, bytes, columns, error);
}

static gpointer
find_by_id (GPtrArray *array, const char *id)
{
  /* Every struct begins with its id; the tables are short. */
  for (guint i = 0; id != NULL && i < array->len; i++)
    {
      const char *const *entry = g_ptr_array_index (array, i);

      if (g_str_equal (*entry, id))
        return (gpointer) entry;
    }
  return NULL;
}

/* Adds a row's id, which must be new and not empty, as the first field of a struct of @size. */
static gpointer
add_entry (WsKnowledge *self, WsTable *table, guint row, GPtrArray *array, gsize size, GError **error)
{
  const char *id = ws_table_get (table, row, "id");
  const char **entry;

  if (*id == '\0' || find_by_id (array, id) != NULL)
    {
      ws_table_fail (table, row, error, _("the id “%s” is empty or stands twice"), id);
      return NULL;
    }
  entry = g_malloc0 (size);
  *entry = ws_knowledge_keep (self, id);
  g_ptr_array_add (array, entry);
  return entry;
}

static gboolean
read_yes (WsTable *table, guint row, const char *column, gboolean *yes, GError **error)
{
  const char *cell = ws_table_get (table, row, column);

  *yes = g_str_equal (cell, "yes");
  return *yes || g_str_equal (cell, "no") ||
         ws_table_fail (table, row, error, _("“%s” in the column %s is neither yes nor no"), cell, column);
}

static gboolean
read_views (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "parts", "base", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "views.tsv", columns, error);
  guint n_bases = 0;

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsView *view = add_entry (self, table, i, self->views, sizeof (WsView), error);
      const char *const *parts = ws_knowledge_keep_list (self, ws_table_get (table, i, "parts"));

      if (view == NULL || !read_yes (table, i, "base", &view->is_base, error))
        return FALSE;
      for (guint p = 0; parts[p] != NULL; p++)
        if (ws_knowledge_find_part (self, parts[p]) == NULL)
          return ws_table_fail (table, i, error, _("there is no part “%s”"), parts[p]);
      if (parts[0] == NULL)
        return ws_table_fail (table, i, error, _("a view needs at least one part"));
      view->part = parts[0];
      n_bases += view->is_base != FALSE;
    }
  if (table != NULL && n_bases != 1)
    g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("views.tsv: %u views are the base; exactly one must be"), n_bases);
  return table != NULL && n_bases == 1;
}

static gboolean
read_parts (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "term", "views", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "parts.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsPart *part = add_entry (self, table, i, self->parts, sizeof (WsPart), error);

      if (part == NULL)
        return FALSE;
      part->term = ws_knowledge_keep (self, ws_table_get (table, i, "term"));
      part->views = ws_knowledge_keep_list (self, ws_table_get (table, i, "views"));
    }
  return table != NULL;
}

/* Parts and views name each other, so the views of parts are checked last. */
static gboolean
check_part_views (WsKnowledge *self, GError **error)
{
  for (guint i = 0; i < self->parts->len; i++)
    {
      const WsPart *part = g_ptr_array_index (self->parts, i);

      for (guint v = 0; part->views[v] != NULL; v++)
        if (ws_knowledge_find_view (self, part->views[v]) == NULL)
          {
            g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("parts.tsv: the part %s names the view “%s”, which is not in views.tsv"),
                         part->id, part->views[v]);
            return FALSE;
          }
    }
  return TRUE;
}

static gboolean
read_base_kinds (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "shows", NULL };
  static const char *const words[] = { "no", "weakly", "fully", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "base-kinds.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsBaseKind *kind = add_entry (self, table, i, self->base_kinds, sizeof (WsBaseKind), error);
      const char *shows = ws_table_get (table, i, "shows");

      if (kind == NULL)
        return FALSE;
      if (!g_strv_contains (words, shows))
        return ws_table_fail (table, i, error, _("“%s” is not one of fully, weakly, no"), shows);
      kind->shows = g_str_equal (shows, "fully") ? WS_SHOWS_FULLY
                    : g_str_equal (shows, "weakly") ? WS_SHOWS_WEAKLY : WS_SHOWS_NO;
    }
  return table != NULL;
}

static gboolean
read_growth_forms (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "term", "stem", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "growth-forms.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsGrowthForm *form = add_entry (self, table, i, self->growth_forms, sizeof (WsGrowthForm), error);

      if (form == NULL || !read_yes (table, i, "stem", &form->has_stem, error))
        return FALSE;
      form->term = ws_knowledge_keep (self, ws_table_get (table, i, "term"));
      form->surfaces = ws_knowledge_keep_list (self, "");
    }
  return table != NULL;
}

static gboolean
read_characters (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "several", "colour", "free", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "characters.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      WsCharacter *character = add_entry (self, table, i, self->characters, sizeof (WsCharacter), error);

      if (character == NULL)
        return FALSE;
      character->states = g_ptr_array_new ();
      character->terms = g_ptr_array_new ();
      character->forms = ws_knowledge_keep_list (self, "");
      if (!read_yes (table, i, "several", &character->several, error) ||
          !read_yes (table, i, "colour", &character->colour, error) ||
          !read_yes (table, i, "free", &character->free_text, error))
        return FALSE;
    }
  return table != NULL;
}

static gboolean
read_states (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "character", "id", "term", NULL };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "states.tsv", columns, error);

  for (guint i = 0; table != NULL && i < ws_table_get_n_rows (table); i++)
    {
      const char *id = ws_table_get (table, i, "id");
      const WsCharacter *character = ws_knowledge_find_character (self, ws_table_get (table, i, "character"));

      if (character == NULL || character->free_text)
        return ws_table_fail (table, i, error, _("there is no character “%s” with states"),
                              ws_table_get (table, i, "character"));
      if (*id == '\0' || ws_character_has_state (character, id))
        return ws_table_fail (table, i, error, _("the id “%s” is empty or stands twice"), id);
      g_ptr_array_add (character->states, (gpointer) ws_knowledge_keep (self, id));
      g_ptr_array_add (character->terms, (gpointer) ws_knowledge_keep (self, ws_table_get (table, i, "term")));
    }
  return table != NULL;
}

static gboolean
read_thresholds (WsKnowledge *self, GHashTable *tables, GError **error)
{
  static const char *const columns[] = { "id", "value", NULL };
  static const char *const ids[] = { "base_min_px", "part_min_px", "blur_weak", "blur_useless",
                                     "exposure_weak", "exposure_useless" };
  g_autoptr (WsTable) table = ws_knowledge_open (tables, "thresholds.tsv", columns, error);
  double values[G_N_ELEMENTS (ids)] = { 0 };

  if (table == NULL)
    return FALSE;
  for (guint i = 0; i < ws_table_get_n_rows (table); i++)
    for (gsize t = 0; t < G_N_ELEMENTS (ids); t++)
      if (g_str_equal (ids[t], ws_table_get (table, i, "id")))
        {
          char *end;
          const char *cell = ws_table_get (table, i, "value");

          values[t] = g_ascii_strtod (cell, &end);
          if (*end != '\0' || !(values[t] > 0))
            return ws_table_fail (table, i, error, _("“%s” is not a number above 0"), cell);
        }
  for (gsize t = 0; t < G_N_ELEMENTS (ids); t++)
    if (values[t] == 0)
      {
        g_set_error (error, WS_ERROR, WS_ERROR_UNREADABLE, _("thresholds.tsv: the value %s is missing"), ids[t]);
        return FALSE;
      }
  self->thresholds = (WsThresholds) { (int) values[0], (int) values[1], values[2], values[3], values[4], values[5] };
  return TRUE;
}

static char *
digest_of (GHashTable *tables)
{
  g_autoptr (WsDigest) digest = ws_digest_new (WS_DIGEST_SHA512);
  g_autoptr (GList) names = g_list_sort (g_hash_table_get_keys (tables), (GCompareFunc) strcmp);

  for (GList *l = names; l != NULL; l = l->next)
    {
      gsize size;
      gconstpointer data = g_bytes_get_data (g_hash_table_lookup (tables, l->data), &size);

      ws_digest_update (digest, l->data, strlen (l->data) + 1);
      ws_digest_update (digest, data, size);
    }
  return ws_digest_finish (digest);
}

static void
free_character (WsCharacter *character)
{
  if (character->states != NULL)
    {
      g_ptr_array_unref (character->states);
      g_ptr_array_unref (character->terms);
    }
  g_free (character);
}

static WsKnowledge *
knowledge_new (void)
{
  WsKnowledge *self = g_new0 (WsKnowledge, 1);

  g_atomic_ref_count_init (&self->refs);
  self->strings = g_string_chunk_new (4096);
  self->strvs = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  self->conditions = g_ptr_array_new_with_free_func (g_free);
  self->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_group_free);
  self->means = g_ptr_array_new_with_free_func (g_free);
  self->lastings = g_ptr_array_new_with_free_func (g_free);
  self->quantities = g_ptr_array_new_with_free_func (g_free);
  self->parts = g_ptr_array_new_with_free_func (g_free);
  self->views = g_ptr_array_new_with_free_func (g_free);
  self->base_kinds = g_ptr_array_new_with_free_func (g_free);
  self->growth_forms = g_ptr_array_new_with_free_func (g_free);
  self->characters = g_ptr_array_new_with_free_func ((GDestroyNotify) free_character);
  self->under_parts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->needs = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_array_unref);
  self->texts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return self;
}

WsKnowledge *
ws_knowledge_parse (GHashTable *tables, GError **error)
{
  g_autoptr (WsKnowledge) self = knowledge_new ();

  if (!read_parts (self, tables, error) || !read_views (self, tables, error) || !check_part_views (self, error) ||
      !read_base_kinds (self, tables, error) || !read_growth_forms (self, tables, error) ||
      !read_characters (self, tables, error) || !read_states (self, tables, error) ||
      !read_thresholds (self, tables, error) || !ws_knowledge_read_needs (self, tables, error) ||
      !ws_knowledge_read_fitting (self, tables, error) || !ws_knowledge_read_quantities (self, tables, error) ||
      !ws_knowledge_read_groups (self, tables, error) || !ws_knowledge_read_texts (self, tables, error))
    return NULL;
  self->digest = digest_of (tables);
  return g_steal_pointer (&self);
}

WsKnowledge *
ws_knowledge_ref (WsKnowledge *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
ws_knowledge_unref (WsKnowledge *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->refs))
    return;
  g_free (self->digest);
  g_ptr_array_unref (self->parts);
  g_ptr_array_unref (self->views);
  g_ptr_array_unref (self->base_kinds);
  g_ptr_array_unref (self->growth_forms);
  g_ptr_array_unref (self->characters);
  g_hash_table_unref (self->under_parts);
  g_hash_table_unref (self->needs);
  g_hash_table_unref (self->texts);
  g_strfreev (self->languages);
  g_ptr_array_unref (self->conditions);
  g_ptr_array_unref (self->groups);
  g_ptr_array_unref (self->means);
  g_ptr_array_unref (self->lastings);
  g_ptr_array_unref (self->quantities);
  g_ptr_array_unref (self->strvs);
  g_string_chunk_free (self->strings);
  g_free (self);
}

const char *ws_knowledge_get_digest (const WsKnowledge *self) { return self->digest; }
GPtrArray *ws_knowledge_get_parts (const WsKnowledge *self) { return self->parts; }
GPtrArray *ws_knowledge_get_views (const WsKnowledge *self) { return self->views; }
GPtrArray *ws_knowledge_get_base_kinds (const WsKnowledge *self) { return self->base_kinds; }
GPtrArray *ws_knowledge_get_growth_forms (const WsKnowledge *self) { return self->growth_forms; }
GPtrArray *ws_knowledge_get_characters (const WsKnowledge *self) { return self->characters; }
const WsThresholds *ws_knowledge_get_thresholds (const WsKnowledge *self) { return &self->thresholds; }

const WsPart *
ws_knowledge_find_part (const WsKnowledge *self, const char *id)
{
  return find_by_id (self->parts, id);
}

const WsView *
ws_knowledge_find_view (const WsKnowledge *self, const char *id)
{
  return find_by_id (self->views, id);
}

const WsBaseKind *
ws_knowledge_find_base_kind (const WsKnowledge *self, const char *id)
{
  return find_by_id (self->base_kinds, id);
}

const WsGrowthForm *
ws_knowledge_find_growth_form (const WsKnowledge *self, const char *id)
{
  return find_by_id (self->growth_forms, id);
}

const WsCharacter *
ws_knowledge_find_character (const WsKnowledge *self, const char *id)
{
  return find_by_id (self->characters, id);
}

gboolean
ws_character_has_state (const WsCharacter *character, const char *state)
{
  for (guint i = 0; i < character->states->len; i++)
    if (g_str_equal (g_ptr_array_index (character->states, i), state))
      return TRUE;
  return FALSE;
}
