/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A package of a stranger: the bag, and what a request is beyond it. */
#include "ws-package.h"

#include "ws-bag-check.h"
#include "ws-intl.h"


#define JSON "data/request.json"
#define PAGE "data/request.html"

void
ws_package_verdict_free (WsPackageVerdict *verdict)
{
  if (verdict == NULL)
    return;
  ws_bag_verdict_free (verdict->bag);
  g_free (verdict);
}

/* The bag stays as valid as it is. */
static void
add_fault (WsPackageVerdict *verdict, const char *format, ...)
{
  va_list args;

  verdict->request = WS_REQUEST_INVALID;
  va_start (args, format);
  if (verdict->bag->errors->len < 2 * WS_BAG_MAX_TOLD)
    g_ptr_array_add (verdict->bag->errors, g_strdup_vprintf (format, args));
  va_end (args);
}

static void
check_photos (WsPackageVerdict *verdict, const WsBagTree *tree, const WsFind *find)
{
  g_autoptr (GHashTable) named = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;
      const WsBagEntry *entry = ws_bag_tree_find (tree, photo->path);

      g_hash_table_add (named, photo->path);
      if (entry == NULL || entry->is_folder)
        add_fault (verdict, _("%s: the photo “%s” is missing"), JSON, photo->path);
      else if (g_strcmp0 (entry->digests[WS_DIGEST_SHA512], photo->digest) != 0)
        add_fault (verdict, _("%s: the digest of the photo “%s” is wrong; it was changed"), JSON, photo->path);
    }
  for (guint i = 0; i < tree->entries->len; i++)
    {
      const WsBagEntry *entry = g_ptr_array_index (tree->entries, i);
      g_autofree char *quoted = ws_inner_path_quote (entry->path);

      if (!entry->is_folder && g_str_has_prefix (entry->path, "data/photos/")
          && !g_hash_table_contains (named, entry->path))
        ws_bag_verdict_add_warning (verdict->bag, _("“%s” is no photo of the request"), quoted);
    }
}

static void
check_request (WsPackageVerdict *verdict, const WsBagTree *tree, const WsBagEntry *json)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsRequest) request = NULL;
  const WsBagEntry *page = ws_bag_tree_find (tree, PAGE);

  verdict->request = WS_REQUEST_VALID;
  if (page == NULL || page->is_folder)
    add_fault (verdict, _("%s is missing"), PAGE);
  if (json->content == NULL)
    {
      add_fault (verdict, _("%s is too large to be read"), JSON);
      return;
    }
  request = ws_request_from_json (json->content, faults, &error);
  for (guint i = 0; i < faults->len; i++)
    add_fault (verdict, "%s: %s", JSON, (char *) g_ptr_array_index (faults, i));
  if (request == NULL && faults->len == 0)
    add_fault (verdict, "%s", error->message);
  if (request != NULL)
    check_photos (verdict, tree, request->find);
}

WsPackageVerdict *
ws_package_verify (const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (WsPackageVerdict) verdict = g_new0 (WsPackageVerdict, 1);
  g_autoptr (WsBagTree) tree = NULL;
  const WsBagEntry *json;

  verdict->bag = ws_bag_verify_tree (path, JSON, &tree, cancellable, error);
  if (verdict->bag == NULL)
    return NULL;
  json = tree != NULL ? ws_bag_tree_find (tree, JSON) : NULL;
  if (json != NULL && !json->is_folder)
    check_request (verdict, tree, json);
  return g_steal_pointer (&verdict);
}
