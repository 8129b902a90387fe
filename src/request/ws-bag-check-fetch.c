/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fetch.txt (RFC 8493, 2.2.3). Nothing is fetched. */
#include "ws-bag-check.h"

#include "ws-intl.h"

#include <string.h>

void
ws_bag_check_read_fetch (WsBagCheck *check)
{
  const WsBagEntry *file = ws_bag_tree_find (check->tree, "fetch.txt");
  g_autofree char *text = file != NULL && !file->is_folder ? ws_bag_check_dup_text (check, file) : NULL;
  char *at = text, *line;

  for (guint number = 1; text != NULL && (line = ws_bag_text_next_line (&at)) != NULL; number++)
    {
      g_autofree char *plain = NULL;
      const char *fault = NULL;
      char *path;

      if (number > WS_ARCHIVE_MAX_ENTRIES)
        {
          ws_bag_verdict_add_error (check->verdict, _("%s has more than %d lines"), file->path,
                                    WS_ARCHIVE_MAX_ENTRIES);
          break;
        }
      if (line[strspn (line, " \t")] == '\0')
        continue;
      if (!ws_bag_text_split_fetch (line, &path, &fault))
        {
          ws_bag_verdict_add_error (check->verdict, _("%s, line %u: %s"), file->path, number, fault);
          continue;
        }
      plain = ws_bag_check_dup_path (check, file->path, number, path + (g_str_has_prefix (path, "./") ? 2 : 0));
      if (plain != NULL && !g_str_has_prefix (plain, "data/"))
        ws_bag_verdict_add_error (check->verdict, _("%s, line %u: only files below data/ may be fetched"),
                                  file->path, number);
      else if (plain != NULL)
        g_hash_table_insert (check->to_fetch, g_steal_pointer (&plain), g_new0 (guint, 1));
    }
}

void
ws_bag_check_fetch (WsBagCheck *check, guint n_manifests)
{
  GHashTableIter iter;
  gpointer path, listed;

  g_hash_table_iter_init (&iter, check->to_fetch);
  while (g_hash_table_iter_next (&iter, &path, &listed))
    {
      g_autofree char *quoted = ws_inner_path_quote (path);
      guint n = *(guint *) listed;

      if (n < (check->version >= WS_BAG_V1_0 ? n_manifests : 1))
        ws_bag_verdict_add_error (check->verdict, _("fetch.txt: “%s” is not in every manifest"), quoted);
    }
}
