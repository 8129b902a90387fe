/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"

#include "ws-archive.h"
#include "ws-error.h"
#include "ws-file.h"

#include <glib/gstdio.h>
#include <string.h>

static char *folder;

static char *
write_zip (GBytes *zip)
{
  char *path = g_build_filename (folder, "a.zip", NULL);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, g_bytes_get_data (zip, NULL), (gssize) g_bytes_get_size (zip), &error);
  g_assert_no_error (error);
  return path;
}

/* Reads everything: "name:size name:size", or the error. */
static char *
read_all (const char *path, GError **error)
{
  g_autoptr (WsArchive) archive = ws_archive_open (path, NULL, error);
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) problem = NULL;
  const WsArchiveEntry *entry;

  if (archive == NULL)
    return NULL;
  while ((entry = ws_archive_next (archive, &problem)) != NULL)
    {
      gsize n = 1, total = 0;

      while (n > 0)
        {
          gconstpointer data;

          if (!ws_archive_read (archive, &data, &n, error))
            return NULL;
          total += n;
        }
      g_string_append_printf (text, "%s%s%s:%" G_GSIZE_FORMAT, text->len > 0 ? " " : "", entry->path,
                              entry->is_folder ? "/" : "", total);
    }
  if (problem != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&problem));
      return NULL;
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
assert_refused (GBytes *zip, const char *what, const char *rule)
{
  g_autofree char *path = write_zip (zip);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = read_all (path, &error);

  g_test_message ("%s: %s", what, error != NULL ? error->message : "not refused");
  g_assert_null (text);
  g_assert_error (error, WS_ERROR, WS_ERROR_REFUSED);
  g_assert_nonnull (strstr (error->message, rule));
  g_bytes_unref (zip);
}

static void
test_right (void)
{
  MakerEntry entries[] = { MAKER_ENTRY ("top/", ""), MAKER_ENTRY ("top/stored", "text"), MAKER_ENTRY ("top/packed", "text text text text"),
                           MAKER_ENTRY ("top/behind", "text text text text"), MAKER_ENTRY ("top/nothing", "") };
  MakerEnd remark = { .remark = "a remark" }, wide = { .wide = TRUE };
  MakerEnd *ends[] = { NULL, &remark, &wide };

  g_test_summary ("Right archives, stored, packed, with descriptors, remark and zip64 end, are read whole");
  entries[2].method = 8;
  entries[3].method = 8;
  entries[3].flags = 8;
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autoptr (GBytes) zip = maker_zip (entries, G_N_ELEMENTS (entries), ends[i]);
      g_autofree char *path = write_zip (zip);
      g_autoptr (GError) error = NULL;
      g_autofree char *text = read_all (path, &error);

      g_assert_no_error (error);
      g_assert_cmpstr (text, ==, "top/:0 top/stored:4 top/packed:19 top/behind:19 top/nothing:0");
    }
}

static void
test_names (void)
{
  static const struct { const char *name, *rule; } cases[] = {
    { "../evil", ".." },          { "top/../../evil", ".." },   { "/etc/evil", "absolute" },     { "C:/evil", "drive" },
    { "c:evil", "drive" },        { "top\\..\\evil", ".." },    { "top\\evil", "backslash" },    { "\\\\host\\evil", "backslash" },
    { "\\\\?\\C:\\evil", "backslash" }, { "~/evil", "home" },   { "~root/evil", "home" },        { "top//evil", "empty part" },
    { "top/./evil", "“.”" },      { "", "empty" },              { "top/\xe4.txt", "UTF-8" },     { "top/\xc0\xaf", "UTF-8" },
    { "//", "absolute" },         { "..", ".." },               { "top/..", ".." },              { "./top", "“.”" },
  };

  g_test_summary ("A name that leads outside, or that programs read differently, refuses the archive");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      MakerEntry entries[] = { MAKER_ENTRY ("top/fine", "fine"), MAKER_ENTRY (cases[i].name, "evil") };

      assert_refused (maker_zip (entries, 2, NULL), cases[i].name, cases[i].rule);
    }
}

static void
test_lengths (void)
{
  g_autofree char *longest = g_strnfill (WS_INNER_PATH_MAX, 'a'), *longer = g_strnfill (WS_INNER_PATH_MAX + 1, 'a');
  g_autoptr (GString) deep = g_string_new (NULL);
  MakerEntry fine = MAKER_ENTRY (longest, ""), too_long = MAKER_ENTRY (longer, ""), too_deep = MAKER_ENTRY ("", "");
  g_autoptr (GBytes) zip = maker_zip (&fine, 1, NULL);
  g_autofree char *path = write_zip (zip);
  g_autofree char *text = read_all (path, NULL);

  g_test_summary ("Paths up to 1,000 bytes and 32 folders deep are read, longer and deeper ones are not");
  g_assert_nonnull (text);
  assert_refused (maker_zip (&too_long, 1, NULL), "long", "1,000");
  for (guint i = 0; i < WS_INNER_PATH_MAX_DEPTH; i++)
    g_string_append (deep, "d/");
  g_string_append (deep, "x");
  g_assert_null (ws_inner_path_fault (deep->str));
  g_string_prepend (deep, "d/");
  too_deep.name = deep->str;
  assert_refused (maker_zip (&too_deep, 1, NULL), "deep", "32");
}

static void
test_types (void)
{
  static const guint32 modes[] = { 0120777, 0060644, 0020644, 0010644, 0140755, 0040755 };

  g_test_summary ("Links, devices, pipes, sockets, and files that say they are folders refuse the archive");
  for (guint i = 0; i < G_N_ELEMENTS (modes); i++)
    {
      MakerEntry entry = MAKER_ENTRY ("top/link", "/etc/hosts");

      entry.mode = modes[i];
      assert_refused (maker_zip (&entry, 1, NULL), "mode", "link");
    }
}

static void
test_twins (void)
{
  MakerEntry twice[] = { MAKER_ENTRY ("top/a", "one"), MAKER_ENTRY ("top/a", "two") };
  MakerEntry both[] = { MAKER_ENTRY ("top/a", "one"), MAKER_ENTRY ("top/a/b", "two") };
  MakerEntry folder_and_file[] = { MAKER_ENTRY ("top/a", "one"), MAKER_ENTRY ("top/a/", "") };

  g_test_summary ("One name twice, as file or as folder, refuses the archive");
  assert_refused (maker_zip (twice, 2, NULL), "twice", "twice");
  assert_refused (maker_zip (both, 2, NULL), "file above a file", "a file and a folder");
  assert_refused (maker_zip (folder_and_file, 2, NULL), "file and folder", "twice");
}

static void
lie_flags (MakerEntry *e) { e->flags = 1; }
static void
lie_local_flags (MakerEntry *e) { e->local_flags = 1; }
static void
lie_hidden (MakerEntry *e) { e->flags = 1 << 13; }
static void
lie_aes (MakerEntry *e) { e->extra = "\x01\x99\x07\x00\x02\x00\x41\x45\x03\x08\x00"; e->extra_size = 11; }
static void
lie_method (MakerEntry *e) { e->method = 12; }
static void
lie_local_method (MakerEntry *e) { e->local_method = 8; }
static void
lie_local_name (MakerEntry *e) { e->local_name = "top/b"; }
static void
lie_local_path (MakerEntry *e) { e->local_name = "../ab"; }
static void
lie_local_size (MakerEntry *e) { e->local_size = 3; }
static void
lie_local_crc (MakerEntry *e) { e->local_crc = 3; }
static void
lie_crc (MakerEntry *e) { e->central_crc = e->local_crc = 3; }
static void
lie_sizes (MakerEntry *e) { e->method = 8; e->central_size = 3; e->flags = 8; e->behind_size = 3; }
static void
lie_larger (MakerEntry *e) { e->method = 8; e->central_size = 5000; e->flags = 8; e->behind_size = 5000; }
static void
lie_stored (MakerEntry *e) { e->central_size = 3; }
static void
lie_behind (MakerEntry *e) { e->method = 8; e->flags = 8; e->behind_size = 3; }
static void
lie_packed (MakerEntry *e) { e->central_packed = e->central_size = 100000; }
static void
lie_offset (MakerEntry *e) { e->offset = 7; }
static void
lie_offset_far (MakerEntry *e) { e->offset = 0x7ffffff0; }
static void
lie_gap (MakerEntry *e) { e->gap = 5; }
static void
lie_unicode (MakerEntry *e) { e->extra = "\x75\x70\x0a\x00\x01\x00\x00\x00\x00" "other"; e->extra_size = 14; }
static void
lie_extra (MakerEntry *e) { e->extra = "\x75\x70\xff\x00\x01"; e->extra_size = 5; }
static void
lie_bomb (MakerEntry *e) { e->method = 8; e->central_size = 0x7fffffff; e->flags = 8; }
static void
lie_wide (MakerEntry *e)
{
  /* 5 GiB by a zip64 field. */
  e->extra = "\x01\x00\x08\x00\x00\x00\x00\x40\x01\x00\x00\x00";
  e->extra_size = 12;
  e->central_size = e->local_size = 0xffffffff;
}
static void
lie_wide_packed (MakerEntry *e)
{
  e->extra = "\x01\x00\x08\x00\x00\x00\x00\x40\x01\x00\x00\x00";
  e->extra_size = 12;
  e->central_size = 0xffffffff;
  e->method = e->flags = 8;
}
static void
lie_total (MakerEntry *e) { e->method = 8; e->central_size = 0xfffffff0; e->central_packed = 0x7ffffff0; }
static void
lie_wide_short (MakerEntry *e) { e->extra = "\x01\x00\x02\x00\x00\x00"; e->extra_size = 6; e->central_size = 0xffffffff; }

static void
test_lies (void)
{
  static const struct { const char *what; void (*lie) (MakerEntry *); const char *rule; } cases[] = {
    { "encrypted", lie_flags, "encrypted" },
    { "encrypted beside the data only", lie_local_flags, "encrypted" },
    { "hidden headers", lie_hidden, "encrypted" },
    { "AES", lie_aes, "encrypted" },
    { "bzip2", lie_method, "method 12" },
    { "another method beside the data", lie_local_method, "than in the directory" },
    { "another name beside the data", lie_local_name, "another name" },
    { "a path beside the data", lie_local_path, "another name" },
    { "another size beside the data", lie_local_size, "than in the directory" },
    { "another check sum beside the data", lie_local_crc, "than in the directory" },
    { "a wrong check sum everywhere", lie_crc, "damaged" },
    { "smaller everywhere", lie_sizes, "" },
    { "larger everywhere", lie_larger, "" },
    { "stored with two sizes", lie_stored, "two sizes" },
    { "descriptor", lie_behind, "behind its data" },
    { "packed size over the end", lie_packed, "reach into" },
    { "offset", lie_offset, "" },
    { "offset behind the end", lie_offset_far, "" },
    { "gap", lie_gap, "other data" },
    { "another name as Unicode", lie_unicode, "second name" },
    { "extra field too long", lie_extra, "extra field" },
    { "ratio", lie_bomb, "200 times" },
    { "stored zip64 bomb", lie_wide, "two sizes" },
    { "zip64 bomb", lie_wide_packed, "200 times" },
    { "more than 4 GiB", lie_total, "4 GiB" },
    { "zip64 field cut", lie_wide_short, "cut short" },
  };

  g_test_summary ("What the headers say differently, or falsely, refuses the archive");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      MakerEntry entries[] = { MAKER_ENTRY ("top/z", "zzzz zzzz zzzz zzzz"), MAKER_ENTRY ("top/a", "text text text text text text") };

      cases[i].lie (&entries[1]);
      assert_refused (maker_zip (entries, 2, NULL), cases[i].what, cases[i].rule);
    }
}

static void
test_overlap (void)
{
  MakerEntry shared[] = { MAKER_ENTRY ("top/a", "aaaa"), MAKER_ENTRY ("top/b", "aaaa") };
  MakerEntry over[] = { MAKER_ENTRY ("top/a", "aaaa"), MAKER_ENTRY ("top/b", "bbbb"), MAKER_ENTRY ("top/c", "cccc") };

  g_test_summary ("Entries that share or cover each other's data refuse the archive");
  shared[1].offset = 0;
  assert_refused (maker_zip (shared, 2, NULL), "one header for two", "");
  over[0].central_packed = over[0].central_size = over[0].local_size = 60;
  assert_refused (maker_zip (over, 3, NULL), "data over the next header", "overlap");
}

static void
test_ends (void)
{
  static const struct { const char *what; MakerEnd end; const char *rule; } cases[] = {
    { "before", { .before = "MZ program" }, "before" },
    { "after", { .after = "trailing" }, "behind its end" },
    { "second end in the remark", { .remark = "PK\005\006----------------" }, "" },
    { "fewer entries", { .n_entries = 1 }, "more than its end says" },
    { "more entries", { .n_entries = 3 }, "damaged" },
    { "65,535 entries", { .n_entries = 65535 }, "20000" },
    { "offset", { .offset = 3 }, "does not lie" },
    { "size", { .size = 3 }, "does not lie" },
    { "volume", { .disk = 2 }, "volumes" },
    { "zip64 entries", { .wide = TRUE, .n_entries = 1000000 }, "20000" },
    { "zip64 entries, not so many", { .wide = TRUE, .n_entries = 5 }, "damaged" },
    { "zip64 offset", { .wide = TRUE, .offset = G_MAXINT64 }, "does not lie" },
    { "zip64 size", { .wide = TRUE, .size = G_MAXINT64 }, "larger than" },
    { "zip64 volume", { .wide = TRUE, .disk = 2 }, "volumes" },
  };
  MakerEntry entries[] = { MAKER_ENTRY ("top/a", "aaaa"), MAKER_ENTRY ("top/b", "bbbb") };

  g_test_summary ("Data around the archive and an end that lies refuse it");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_refused (maker_zip (entries, 2, &cases[i].end), cases[i].what, cases[i].rule);
}

static void
test_many (void)
{
  guint n = 100000;
  g_autofree MakerEntry *entries = g_new (MakerEntry, n);
  g_autofree char *names = g_malloc (n * 12);
  MakerEnd end = { .wide = TRUE };
  gint64 started;

  g_test_summary ("100,000 entries are refused at once");
  for (guint i = 0; i < n; i++)
    {
      g_snprintf (names + i * 12, 12, "t/%06u", i);
      entries[i] = (MakerEntry) MAKER_ENTRY (names + i * 12, "");
    }
  started = g_get_monotonic_time ();
  assert_refused (maker_zip (entries, n, &end), "many", "20000");
  g_assert_cmpint (g_get_monotonic_time () - started, <, 20 * G_USEC_PER_SEC);
}

/* No more is handed out than the directory says. */
static void
assert_stops_at (GBytes *zip, gsize limit)
{
  g_autofree char *path = write_zip (zip);
  g_autoptr (GError) error = NULL;
  g_autoptr (WsArchive) archive = ws_archive_open (path, NULL, &error);
  gconstpointer data;
  gsize n = 0, total = 0;

  g_assert_no_error (error);
  g_assert_nonnull (ws_archive_next (archive, &error));
  while (ws_archive_read (archive, &data, &n, &error))
    g_assert_cmpuint (total += n, <=, limit);
  g_assert_error (error, WS_ERROR, WS_ERROR_REFUSED);
  g_bytes_unref (zip);
}

static void
test_bomb (void)
{
  gsize size = 64 << 20;
  g_autofree char *zeros = g_malloc0 (size);
  MakerEntry honest = MAKER_ENTRY ("top/zeros", zeros), lying = honest;

  g_test_summary ("64 MiB of zeros, told truly or as 10 bytes, are not unpacked");
  honest.size = lying.size = (gssize) size;
  honest.method = lying.method = 8;
  assert_refused (maker_zip (&honest, 1, NULL), "honest", "200 times");
  lying.central_size = lying.behind_size = 10;
  lying.flags = 8;
  assert_refused (maker_zip (&lying, 1, NULL), "lying", "size");
  assert_stops_at (maker_zip (&lying, 1, NULL), 10);
}

static void
test_nested (void)
{
  g_autoptr (GBytes) zip = NULL;
  g_autofree char *path = NULL, *text = NULL;
  MakerEntry inner = MAKER_ENTRY ("../evil", "evil"), outer;
  g_autoptr (GBytes) evil = maker_zip (&inner, 1, NULL);

  g_test_summary ("An archive inside an archive is bytes like others");
  outer = (MakerEntry) MAKER_ENTRY ("top/inner.zip", g_bytes_get_data (evil, NULL));
  outer.size = (gssize) g_bytes_get_size (evil);
  zip = maker_zip (&outer, 1, NULL);
  path = write_zip (zip);
  text = read_all (path, NULL);
  g_assert_nonnull (text);
  g_assert_true (g_str_has_prefix (text, "top/inner.zip:"));
}

static void
test_damage (void)
{
  MakerEntry entries[] = { MAKER_ENTRY ("top/a", "text text text text"), MAKER_ENTRY ("top/b", "bbbb") };
  g_autoptr (GBytes) zip = NULL;
  gsize size;
  const guint8 *data;
  guint n_read = 0;

  g_test_summary ("Every cut is an error, and no changed byte does harm: the names read stay the two there were");
  entries[0].method = 8;
  entries[0].flags = 8;
  zip = maker_zip (entries, 2, NULL);
  data = g_bytes_get_data (zip, &size);
  for (gsize i = 0; i < size; i++)
    {
      g_autoptr (GBytes) cut = g_bytes_new (data, i);
      g_autofree char *path = write_zip (cut);
      g_autoptr (GError) error = NULL;
      g_autofree char *text = read_all (path, &error);

      g_assert_null (text);
      g_assert_nonnull (error);
    }
  for (gsize i = 0; i < 2 * size; i++)
    {
      g_autofree guint8 *copy = g_memdup2 (data, size);
      g_autoptr (GBytes) changed = NULL;
      g_autofree char *path = NULL, *text = NULL;

      copy[i / 2] ^= i % 2 ? 0xff : 1 << (i % 7);
      changed = g_bytes_new (copy, size);
      path = write_zip (changed);
      text = read_all (path, NULL);
      n_read += text != NULL;
      if (text != NULL)
        g_assert_cmpstr (text, ==, "top/a:19 top/b:4");
    }
  /* Times and versions may change unseen. */
  g_assert_cmpuint (n_read, >, 0);
}

static void
test_not_a_zip (void)
{
  g_autofree char *path = g_build_filename (folder, "a.txt", NULL), *none = g_build_filename (folder, "none", NULL);
  g_autoptr (WsArchive) archive = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("What is no zip, or not there, is told apart from what is refused");
  g_file_set_contents (path, "only a text", -1, NULL);
  g_assert_null (archive = ws_archive_open (path, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
  g_clear_error (&error);
  g_assert_null (archive = ws_archive_open (none, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_null (archive = ws_archive_open (folder, NULL, &error));
  g_assert_error (error, WS_ERROR, WS_ERROR_UNREADABLE);
}

static void
test_cancel (void)
{
  MakerEntry entry = MAKER_ENTRY ("top/a", "aaaa");
  g_autoptr (GBytes) zip = maker_zip (&entry, 1, NULL);
  g_autofree char *path = write_zip (zip);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WsArchive) archive = ws_archive_open (path, cancellable, &error);

  g_test_summary ("Reading stops when cancelled");
  g_cancellable_cancel (cancellable);
  g_assert_null (ws_archive_next (archive, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  folder = maker_folder ();
  g_test_add_func ("/request/archive/right", test_right);
  g_test_add_func ("/request/archive/names", test_names);
  g_test_add_func ("/request/archive/lengths", test_lengths);
  g_test_add_func ("/request/archive/types", test_types);
  g_test_add_func ("/request/archive/twins", test_twins);
  g_test_add_func ("/request/archive/lies", test_lies);
  g_test_add_func ("/request/archive/overlap", test_overlap);
  g_test_add_func ("/request/archive/ends", test_ends);
  g_test_add_func ("/request/archive/many", test_many);
  g_test_add_func ("/request/archive/bomb", test_bomb);
  g_test_add_func ("/request/archive/nested", test_nested);
  g_test_add_func ("/request/archive/damage", test_damage);
  g_test_add_func ("/request/archive/not-a-zip", test_not_a_zip);
  g_test_add_func ("/request/archive/cancel", test_cancel);
  status = g_test_run ();
  ws_file_remove_tree (folder, NULL);
  g_free (folder);
  return status;
}
