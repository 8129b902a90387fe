/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-bag-intake.h"

struct _WsBagIntake
{
  WsBagTree *tree;
  WsBagEntry *entry;
  WsDigest *digests[WS_BAG_N_KINDS];
  GByteArray *content;  /* (nullable) */
};

static gboolean
has_meaning (const char *path)
{
  static const char *const names[] = { "bagit.txt", "bag-info.txt", "package-info.txt", "fetch.txt", NULL };
  g_autofree char *payload = ws_bag_manifest_algorithm (path, "manifest-");
  g_autofree char *tags = ws_bag_manifest_algorithm (path, "tagmanifest-");

  return payload != NULL || tags != NULL || g_strv_contains (names, path);
}

WsBagIntake *
ws_bag_intake_new (WsBagTree *tree, WsBagEntry *entry)
{
  WsBagIntake *intake = g_new0 (WsBagIntake, 1);
  guint kinds = g_str_has_prefix (entry->path, "data/") ? tree->payload_kinds : tree->tag_kinds;

  intake->tree = tree;
  intake->entry = entry;
  for (guint i = 0; i < WS_BAG_N_KINDS; i++)
    if (kinds & 1u << i)
      intake->digests[i] = ws_digest_new (i);
  if (has_meaning (entry->path) || g_strcmp0 (entry->path, tree->wanted) == 0)
    intake->content = g_byte_array_new ();
  return intake;
}

void
ws_bag_intake_take (WsBagIntake *intake, gconstpointer data, gsize size)
{
  for (guint i = 0; i < WS_BAG_N_KINDS; i++)
    if (intake->digests[i] != NULL && size > 0)
      ws_digest_update (intake->digests[i], data, size);
  if (intake->content == NULL || size == 0)
    return;
  if (intake->content->len + size > WS_BAG_MAX_TAG_FILE || intake->tree->n_kept + size > WS_BAG_MAX_TAG_FILES)
    {
      /* The check says of a tag file without text that it is too large. */
      intake->tree->n_kept -= intake->content->len;
      g_clear_pointer (&intake->content, g_byte_array_unref);
      return;
    }
  intake->tree->n_kept += size;
  g_byte_array_append (intake->content, data, (guint) size);
}

void
ws_bag_intake_finish (WsBagIntake *intake)
{
  for (guint i = 0; i < WS_BAG_N_KINDS; i++)
    if (intake->digests[i] != NULL)
      intake->entry->digests[i] = ws_digest_finish (intake->digests[i]);
  if (intake->content != NULL)
    intake->entry->content = g_byte_array_free_to_bytes (g_steal_pointer (&intake->content));
}

void
ws_bag_intake_free (WsBagIntake *intake)
{
  if (intake == NULL)
    return;
  for (guint i = 0; i < WS_BAG_N_KINDS; i++)
    ws_digest_free (intake->digests[i]);
  if (intake->content != NULL)
    g_byte_array_unref (intake->content);
  g_free (intake);
}
