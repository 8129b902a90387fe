/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-bag-check.h"

#include "ws-intl.h"


void
ws_bag_check_add (WsBagCheck *check, const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  if (check->version >= WS_BAG_V1_0)
    ws_bag_verdict_add_error (check->verdict, "%s", text);
  else
    ws_bag_verdict_add_warning (check->verdict, "%s", text);
}

/* --- Paths and texts ---------------------------------------------------------------------- */

char *
ws_bag_check_dup_text (WsBagCheck *check, const WsBagEntry *file)
{
  const char *fault = NULL;
  char *text;

  if (file->content == NULL)
    {
      ws_bag_verdict_add_error (check->verdict, _("%s is no readable tag file, or too large to be one"),
                                file->path);
      return NULL;
    }
  text = ws_bag_text_decode (file->content, check->encoding, &fault);
  if (text == NULL)
    ws_bag_verdict_add_error (check->verdict, _("%s: %s"), file->path, fault);
  return text;
}

WsBagEntry *
ws_bag_check_resolve (WsBagCheck *check, const char *path, gboolean *inexact)
{
  WsBagEntry *entry = ws_bag_tree_find (check->tree, path);

  *inexact = FALSE;
  if (entry == NULL)
    {
      g_autofree char *key = ws_inner_path_key (path, FALSE);

      entry = g_hash_table_lookup (check->by_form, key);
      *inexact = entry != NULL;
    }
  return entry;
}

char *
ws_bag_check_dup_path (WsBagCheck *check, const char *file, guint line, const char *path)
{
  gboolean stray = FALSE;
  g_autofree char *plain = ws_bag_text_unescape (path, &stray);
  g_autofree char *quoted = ws_inner_path_quote (path);
  const char *fault = ws_inner_path_fault (plain);

  if (fault == NULL)
    fault = ws_inner_path_fault (path);
  if (fault != NULL)
    {
      ws_bag_verdict_add_error (check->verdict, _("%s, line %u: the path “%s” is not allowed: %s"), file, line,
                                quoted, fault);
      return NULL;
    }
  if (check->version >= WS_BAG_V1_0)
    {
      if (stray)
        ws_bag_verdict_add_warning (check->verdict, _("%s, line %u: the “%%” in “%s” should be written %%25"),
                                    file, line,
                                    quoted);
      return g_steal_pointer (&plain);
    }
  /* Older bags hold their signs as they are; some programs escaped line ends nevertheless. */
  if (ws_bag_tree_find (check->tree, path) == NULL && ws_bag_tree_find (check->tree, plain) != NULL)
    {
      ws_bag_verdict_add_warning (check->verdict, _("%s, line %u: “%s” is escaped as in version 1.0"), file,
                                  line, quoted);
      return g_steal_pointer (&plain);
    }
  return g_strdup (path);
}

/* --- The whole ------------------------------------------------------------------------------ */

static gboolean
check_declaration (WsBagCheck *check)
{
  const WsBagEntry *file = ws_bag_tree_find (check->tree, "bagit.txt");
  const char *fault = NULL;

  if (file == NULL || file->is_folder)
    ws_bag_verdict_add_error (check->verdict, _("bagit.txt is missing, so this is no bag"));
  else if (file->content == NULL)
    ws_bag_verdict_add_error (check->verdict, _("%s is no readable tag file, or too large to be one"), file->path);
  else if (!ws_bag_text_parse_declaration (file->content, &check->version, &check->encoding, &fault))
    ws_bag_verdict_add_error (check->verdict, "bagit.txt: %s", fault);
  else if (g_ascii_strcasecmp (check->encoding, "UTF-8") != 0)
    ws_bag_verdict_add_warning (check->verdict, _("bagit.txt: tag files should be in UTF-8"));
  return check->encoding != NULL;
}

/* Names that some systems cannot tell apart, or cannot hold. */
static void
check_names (WsBagCheck *check)
{
  g_autoptr (GHashTable) folded = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < check->tree->entries->len; i++)
    {
      WsBagEntry *entry = g_ptr_array_index (check->tree->entries, i);
      g_autofree char *key = ws_inner_path_key (entry->path, TRUE);
      g_autofree char *quoted = ws_inner_path_quote (entry->path);
      const char *nuisance = ws_inner_path_nuisance (entry->path);
      const char *other = g_hash_table_lookup (folded, key);

      g_hash_table_insert (check->by_form, ws_inner_path_key (entry->path, FALSE), entry);
      if (other != NULL)
        {
          g_autofree char *named = ws_inner_path_quote (other);

          ws_bag_verdict_add_warning (check->verdict, _("“%s” and “%s” differ only in case or Unicode form"),
                                      named, quoted);
        }
      else
        g_hash_table_insert (folded, g_steal_pointer (&key), entry->path);
      if (nuisance != NULL)
        ws_bag_verdict_add_warning (check->verdict, _("“%s” cannot be kept on every system: %s"), quoted, nuisance);
    }
}

/* Letters and digits only, in small letters. */
static char *
check_algorithm (WsBagCheck *check, const char *file, char *algorithm)
{
  GString *plain = g_string_new (NULL);

  for (const char *at = algorithm; *at != '\0'; at++)
    if (g_ascii_isalnum (*at))
      g_string_append_c (plain, g_ascii_tolower (*at));
  if (!g_str_equal (plain->str, algorithm))
    ws_bag_check_add (check, _("%s: the algorithm must be named in small letters and digits only"), file);
  g_free (algorithm);
  return g_string_free (plain, FALSE);
}

typedef struct
{
  GPtrArray *listed;      /* GHashTable, one a manifest */
  GPtrArray *files;       /* const WsBagEntry */
  GPtrArray *algorithms;  /* char* */
  guint n_known;          /* with an algorithm that can be worked out here */
} Manifests;

static void
read_manifests (WsBagCheck *check, Manifests *manifests, const char *prefix)
{
  WsDigestKind kind;

  manifests->listed = g_ptr_array_new_with_free_func ((GDestroyNotify) g_hash_table_unref);
  manifests->files = g_ptr_array_new ();
  manifests->algorithms = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < check->tree->entries->len; i++)
    {
      WsBagEntry *entry = g_ptr_array_index (check->tree->entries, i);
      char *algorithm = entry->is_folder ? NULL : ws_bag_manifest_algorithm (entry->path, prefix);

      if (algorithm == NULL)
        continue;
      algorithm = check_algorithm (check, entry->path, algorithm);
      g_ptr_array_add (manifests->algorithms, algorithm);
      g_ptr_array_add (manifests->files, entry);
      if (ws_digest_kind_parse (algorithm, &kind))
        manifests->n_known++;
      else
        ws_bag_verdict_add_warning (check->verdict,
                                    _("%s: its algorithm is not known here, so its check sums are not checked"),
                                    entry->path);
      g_ptr_array_add (manifests->listed, ws_bag_check_manifest (check, entry, algorithm, prefix[0] == 't'));
    }
}

static void
manifests_clear (Manifests *manifests)
{
  g_ptr_array_unref (manifests->listed);
  g_ptr_array_unref (manifests->files);
  g_ptr_array_unref (manifests->algorithms);
}

/* Every payload file in every manifest; before 1.0 in at least one. */
static void
check_payload_listed (WsBagCheck *check, const Manifests *manifests)
{
  for (guint i = 0; i < check->tree->entries->len; i++)
    {
      WsBagEntry *entry = g_ptr_array_index (check->tree->entries, i);
      g_autofree char *quoted = NULL;
      const char *lacking = NULL;
      guint n = 0;

      if (entry->is_folder || !g_str_has_prefix (entry->path, "data/"))
        continue;
      for (guint j = 0; j < manifests->listed->len; j++)
        {
          if (g_hash_table_contains (g_ptr_array_index (manifests->listed, j), entry))
            n++;
          else
            lacking = ((WsBagEntry *) g_ptr_array_index (manifests->files, j))->path;
        }
      if (lacking == NULL)
        continue;
      quoted = ws_inner_path_quote (entry->path);
      if (n == 0)
        ws_bag_verdict_add_error (check->verdict, _("“%s” is in no manifest"), quoted);
      else
        ws_bag_check_add (check, _("“%s” is not in %s"), quoted, lacking);
    }
}

static gboolean
is_tag_manifest (const WsBagEntry *entry)
{
  g_autofree char *algorithm = ws_bag_manifest_algorithm (entry->path, "tagmanifest-");

  return algorithm != NULL;
}

static void
check_tags_listed (WsBagCheck *check, const Manifests *tags, const Manifests *payload)
{
  for (guint j = 0; j < tags->listed->len; j++)
    {
      GHashTable *listed = g_ptr_array_index (tags->listed, j);
      const WsBagEntry *file = g_ptr_array_index (tags->files, j);

      for (guint i = 0; i < payload->files->len; i++)
        {
          WsBagEntry *manifest = g_ptr_array_index (payload->files, i);

          if (!g_hash_table_contains (listed, manifest))
            ws_bag_check_add (check, _("%s does not list %s"), file->path, manifest->path);
        }
      for (guint i = 0; i < check->tree->entries->len; i++)
        {
          WsBagEntry *entry = g_ptr_array_index (check->tree->entries, i);
          g_autofree char *quoted = ws_inner_path_quote (entry->path);

          if (!entry->is_folder && !g_str_has_prefix (entry->path, "data/") && !is_tag_manifest (entry)
              && !g_hash_table_contains (listed, entry) && !g_ptr_array_find (payload->files, entry, NULL))
            ws_bag_verdict_add_warning (check->verdict, _("%s should list “%s” too"), file->path, quoted);
        }
    }
}

static void
check_same_algorithms (WsBagCheck *check, const Manifests *tags, const Manifests *payload)
{
  for (guint i = 0; tags->files->len > 0 && i < payload->algorithms->len; i++)
    {
      const char *algorithm = g_ptr_array_index (payload->algorithms, i);

      if (!g_ptr_array_find_with_equal_func (tags->algorithms, algorithm, g_str_equal, NULL))
        ws_bag_verdict_add_warning (check->verdict,
                                    _("there should be a tag manifest with the algorithm %s too"), algorithm);
    }
}

static void
check_structure (WsBagCheck *check)
{
  const WsBagEntry *data = ws_bag_tree_find (check->tree, "data");
  Manifests payload = { 0 }, tags = { 0 };

  if (data == NULL || !data->is_folder)
    ws_bag_verdict_add_error (check->verdict, _("the folder data/ is missing"));
  ws_bag_check_read_fetch (check);
  read_manifests (check, &payload, "manifest-");
  read_manifests (check, &tags, "tagmanifest-");
  if (payload.files->len == 0)
    ws_bag_verdict_add_error (check->verdict, _("there is no manifest"));
  else if (payload.n_known == 0)
    ws_bag_verdict_add_error (check->verdict, _("there is no manifest with an algorithm that is known here"));
  check_payload_listed (check, &payload);
  ws_bag_check_fetch (check, payload.files->len);
  check_tags_listed (check, &tags, &payload);
  check_same_algorithms (check, &tags, &payload);
  manifests_clear (&payload);
  manifests_clear (&tags);
}

void
ws_bag_check (const WsBagTree *tree, WsBagVerdict *verdict)
{
  WsBagCheck check = { .tree = tree, .verdict = verdict, .version = WS_BAG_V1_0 };
  const WsBagEntry *info = ws_bag_tree_find (tree, "bag-info.txt");

  check.by_form = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  check.to_fetch = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  verdict->valid = TRUE;
  for (guint i = 0; i < tree->faults->len; i++)
    ws_bag_verdict_add_error (verdict, "%s", (char *) g_ptr_array_index (tree->faults, i));
  if (check_declaration (&check))
    {
      check_names (&check);
      check_structure (&check);
      /* Its name until version 0.95 (from memory). */
      if (info == NULL && check.version < WS_BAG_V1_0)
        info = ws_bag_tree_find (tree, "package-info.txt");
      if (info != NULL && !info->is_folder)
        ws_bag_check_info (&check, info);
    }
  g_free (check.encoding);
  g_hash_table_unref (check.by_form);
  g_hash_table_unref (check.to_fetch);
}
