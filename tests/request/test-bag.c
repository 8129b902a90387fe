/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"

#include "ws-bag.h"
#include "ws-error.h"
#include "ws-file.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Every rule here is of RFC 8493; its section stands beside the case. The digests are GLib's. */

static char *
text_of (WsBagVerdict *verdict)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < verdict->errors->len; i++)
    g_string_append_printf (text, "E %s\n", (char *) g_ptr_array_index (verdict->errors, i));
  for (guint i = 0; i < verdict->warnings->len; i++)
    g_string_append_printf (text, "W %s\n", (char *) g_ptr_array_index (verdict->warnings, i));
  return g_string_free (text, FALSE);
}

typedef enum { VALID, WARNING, INVALID } Expected;

static void
assert_verdict (const char *path, const char *what, Expected expected, const char *words)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsBagVerdict) verdict = ws_bag_verify (path, NULL, &error);
  g_autofree char *text = NULL;

  g_assert_no_error (error);
  text = text_of (verdict);
  g_test_message ("%s: %s", what, text);
  if (verdict->valid != (expected != INVALID) || (verdict->errors->len == 0) != verdict->valid)
    g_error ("%s: valid %d, %s", what, verdict->valid, text);
  if (expected == VALID)
    g_assert_cmpstr (text, ==, "");
  else if (strstr (text, words) == NULL)
    g_error ("%s: “%s” is not in: %s", what, words, text);
  if (expected == WARNING)
    g_assert_cmpuint (verdict->warnings->len, >, 0);
}

/* --- What is done to a right bag --------------------------------------------------------- */

static void
change (const char *root, const char *file, const char *from, const char *to)
{
  g_autofree char *path = g_build_filename (root, file, NULL), *before = NULL;
  g_autoptr (GString) text = NULL;

  g_assert_true (g_file_get_contents (path, &before, NULL, NULL));
  text = g_string_new (before);
  g_assert_cmpuint (g_string_replace (text, from, to, 1), ==, 1);
  maker_put (root, file, text->str, -1);
}

static void
drop (const char *root, const char *file)
{
  g_autofree char *path = g_build_filename (root, file, NULL);

  g_assert_cmpint (g_unlink (path), ==, 0);
}

static void nothing (const char *r) { }
static void no_declaration (const char *r) { drop (r, "bagit.txt"); }
static void small_v (const char *r) { change (r, "bagit.txt", "BagIt-Version", "BagIt-version"); }
static void two_blanks (const char *r) { change (r, "bagit.txt", "BagIt-Version: ", "BagIt-Version:  "); }
static void no_blank (const char *r) { change (r, "bagit.txt", "BagIt-Version: ", "BagIt-Version:"); }
static void third_line (const char *r) { change (r, "bagit.txt", "UTF-8\n", "UTF-8\nMore: x\n"); }
static void swapped (const char *r) { maker_put (r, "bagit.txt", "Tag-File-Character-Encoding: UTF-8\nBagIt-Version: 1.0\n", -1); }
static void one_line (const char *r) { maker_put (r, "bagit.txt", "BagIt-Version: 1.0\n", -1); }
static void mark (const char *r) { change (r, "bagit.txt", "BagIt", "\xef\xbb\xbf" "BagIt"); }
static void mark_manifest (const char *r)
{
  g_autofree char *path = g_build_filename (r, "manifest-sha512.txt", NULL), *before = NULL, *after = NULL;

  g_assert_true (g_file_get_contents (path, &before, NULL, NULL));
  after = g_strconcat ("\xef\xbb\xbf", before, NULL);
  maker_put (r, "manifest-sha512.txt", after, -1);
}
static void version_2 (const char *r) { change (r, "bagit.txt", "1.0", "2.0"); }
static void no_end (const char *r) { change (r, "bagit.txt", "UTF-8\n", "UTF-8"); }
static void cr (const char *r) { maker_put (r, "bagit.txt", "BagIt-Version: 1.0\rTag-File-Character-Encoding: UTF-8\r", -1); }
static void crlf (const char *r) { maker_put (r, "bagit.txt", "BagIt-Version: 1.0\r\nTag-File-Character-Encoding: UTF-8\r\n", -1); }
static void strange_encoding (const char *r) { change (r, "bagit.txt", "UTF-8", "ISO-2022-CN-EXT"); }
static void no_manifest (const char *r) { drop (r, "manifest-sha512.txt"); }
static void changed (const char *r) { maker_put (r, "data/one.txt", "two\n", -1); }
static void emptied (const char *r) { maker_put (r, "data/one.txt", "", 0); }
static void removed (const char *r) { drop (r, "data/one.txt"); }
static void added (const char *r) { maker_put (r, "data/three.txt", "3", -1); }
static void added_tag (const char *r) { maker_put (r, "notes/readme.md", "3", -1); }
static void twice (const char *r) { maker_list (r, "manifest-sha512.txt", "one\n", "data/one.txt"); }
static void twice_other (const char *r) { maker_list (r, "manifest-sha512.txt", "other", "data/one.txt"); }
static void lists_folder (const char *r) { maker_list (r, "manifest-sha512.txt", "", "data/more"); }
static void lists_tag (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "bagit.txt"); }
static void upper_hex (const char *r)
{
  g_autofree char *path = g_build_filename (r, "manifest-sha512.txt", NULL), *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  for (char *at = text; *at != '\0'; at++)
    if (*at >= 'a' && *at <= 'f' && (at == text || !g_ascii_isalpha (at[-1]) || (at[-1] >= 'A' && at[-1] <= 'F')))
      *at = g_ascii_toupper (*at);
  for (char *at; (at = strstr (text, "DAta")) != NULL || (at = strstr (text, "Data")) != NULL;)
    memcpy (at, "data", 4);
  maker_put (r, "manifest-sha512.txt", text, -1);
}
static void tab_between (const char *r) { change (r, "manifest-sha512.txt", "  data/one", "\tdata/one"); }
static void many_blanks (const char *r) { change (r, "manifest-sha512.txt", "  data/one", " \t   data/one"); }
static void star (const char *r) { change (r, "manifest-sha512.txt", "  data/one", " *data/one"); }
static void dot_slash (const char *r) { change (r, "manifest-sha512.txt", "  data/one", "  ./data/one"); }
static void short_sum (const char *r) { change (r, "manifest-sha512.txt", "  data/one", "00  data/one"); }
static void no_sum (const char *r) { maker_put (r, "manifest-sha512.txt", "xyz  data/one.txt\n", -1); }
static void no_path (const char *r) { maker_put (r, "manifest-sha512.txt", "abcd\n", -1); }
static void empty_line (const char *r) { maker_put (r, "more.txt", "", 0); change (r, "manifest-sha512.txt", "one.txt\n", "one.txt\n\n"); }
static void upper_name (const char *r)
{
  g_autofree char *from = g_build_filename (r, "manifest-sha512.txt", NULL), *to = g_build_filename (r, "manifest-SHA512.txt", NULL);

  g_assert_cmpint (g_rename (from, to), ==, 0);
}
static void unknown_too (const char *r) { maker_put (r, "manifest-whirl9.txt", "ab  data/one.txt\nab  data/more/two.txt\n", -1); }
static void unknown_only (const char *r) { drop (r, "manifest-sha512.txt"); unknown_too (r); }
static void path_up (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "data/../../x"); }
static void path_absolute (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "/etc/hostname"); }
static void path_home (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "~/x"); }
static void path_drive (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "C:\\x"); }
static void path_unc (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "\\\\host\\x"); }
static void path_device (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "\\\\?\\C:\\x"); }
static void path_back (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "data\\x"); }
static void path_escaped (const char *r) { maker_list (r, "manifest-sha512.txt", "x", "data/%2e%2e/x"); }
static void tag_up (const char *r) { maker_list (r, "tagmanifest-sha512.txt", "x", "../x"); }
static void tag_home (const char *r) { maker_list (r, "tagmanifest-sha512.txt", "x", "~root/x"); }
static void fetch_up (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x 3 data/../../x\n", -1); }
static void fetch_absolute (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x 3 /x\n", -1); }
static void fetch_tag (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x 3 x.txt\n", -1); }
static void fetch_line (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x data/x\n", -1); }
static void fetch_relative (const char *r) { maker_put (r, "fetch.txt", "x 3 data/one.txt\n", -1); }
static void fetch_length (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x 3x data/one.txt\n", -1); }
static void fetch_unlisted (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x 3 data/x\n", -1); }
static void fetch_missing (const char *r)
{
  maker_put (r, "fetch.txt", "http://example.org/x - data/x\n", -1);
  maker_list (r, "manifest-sha512.txt", "x", "data/x");
}
static void fetched (const char *r) { maker_put (r, "fetch.txt", "http://example.org/x 4 data/one.txt\n", -1); }
static void tags (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name: A\n", -1); maker_tag_manifest (r, "sha512"); }
static void tag_changed (const char *r) { tags (r); maker_put (r, "bag-info.txt", "Contact-Name: B\n", -1); }
static void tag_gone (const char *r) { tags (r); drop (r, "bag-info.txt"); }
static void tag_no_manifest (const char *r) { maker_list (r, "tagmanifest-sha512.txt", "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", "bagit.txt"); }
static void tag_payload (const char *r) { tags (r); maker_list (r, "tagmanifest-sha512.txt", "one\n", "data/one.txt"); }
static void tag_itself (const char *r) { tags (r); maker_list (r, "tagmanifest-sha512.txt", "one\n", "tagmanifest-sha512.txt"); }
static void tag_unlisted (const char *r) { tags (r); added_tag (r); }
static void tag_other (const char *r) { maker_tag_manifest (r, "md5"); }
static void info (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name: A\nContact-Name: B\nExternal-Description: long\n  and longer\nPayload-Oxum: 12.2\nBagging-Date: 2025-10-04\nBag-Count: 1 of ?\n", -1); }
static void info_tab (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name:\tA\n", -1); }
static void oxum (const char *r) { maker_put (r, "bag-info.txt", "Payload-Oxum: 13.2\n", -1); }
static void oxum_files (const char *r) { maker_put (r, "bag-info.txt", "payload-oxum: 12.3\n", -1); }
static void oxum_twice (const char *r) { maker_put (r, "bag-info.txt", "Payload-Oxum: 12.2\nPayload-Oxum: 12.2\n", -1); }
static void oxum_text (const char *r) { maker_put (r, "bag-info.txt", "Payload-Oxum: many\n", -1); }
static void info_blank (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name : A\n", -1); }
static void info_tight (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name:A\n", -1); }
static void info_no_colon (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name\n", -1); }
static void info_date (const char *r) { maker_put (r, "bag-info.txt", "Bagging-Date: 4.10.2025\n", -1); }
static void info_dates (const char *r) { maker_put (r, "bag-info.txt", "Bagging-Date: 2025-10-04\nBagging-Date: 2025-10-05\n", -1); }
static void odd_names (const char *r)
{
  maker_put (r, "data/a\nb%c d.txt", "odd", -1);
  maker_list (r, "manifest-sha512.txt", "odd", "data/a%0Ab%25c d.txt");
}
static void raw_percent (const char *r) { maker_put (r, "data/a%20b", "odd", -1); maker_list (r, "manifest-sha512.txt", "odd", "data/a%20b"); }
static void old_percent (const char *r) { maker_put (r, "data/a%0Ab", "odd", -1); maker_list (r, "manifest-md5.txt", "odd", "data/a%0Ab"); }
static void old_escaped (const char *r) { maker_put (r, "data/a\nb", "odd", -1); maker_list (r, "manifest-md5.txt", "odd", "data/a%0Ab"); }
static void forms (const char *r) { maker_put (r, "data/e\xcc\x81", "e", -1); maker_list (r, "manifest-sha512.txt", "e", "data/\xc3\xa9"); }
static void forms_twice (const char *r) { forms (r); maker_list (r, "manifest-sha512.txt", "e", "data/e\xcc\x81"); }
static void cases (const char *r)
{
  maker_put (r, "data/ONE.TXT", "one\n", -1);
  maker_list (r, "manifest-sha512.txt", "one\n", "data/ONE.TXT");
}
static void no_data (const char *r)
{
  g_autofree char *data = g_build_filename (r, "data", NULL);

  ws_file_remove_tree (data, NULL);
  maker_put (r, "manifest-sha512.txt", "", 0);
}
static void data_file (const char *r) { no_data (r); maker_put (r, "data", "", 0); }
static void link_out (const char *r)
{
  g_autofree char *path = g_build_filename (r, "data/link", NULL);

  g_assert_cmpint (symlink ("/etc/hostname", path), ==, 0);
}
static void link_in (const char *r)
{
  g_autofree char *path = g_build_filename (r, "data/one.txt", NULL), *other = g_build_filename (r, "other", NULL);

  g_assert_cmpint (g_rename (path, other), ==, 0);
  g_assert_cmpint (symlink ("../other", path), ==, 0);
}
static void link_folder (const char *r)
{
  g_autofree char *path = g_build_filename (r, "data/folder", NULL);

  g_assert_cmpint (symlink ("/etc", path), ==, 0);
}
static void link_manifest (const char *r)
{
  g_autofree char *path = g_build_filename (r, "manifest-sha512.txt", NULL), *other = g_build_filename (r, "other", NULL);

  g_assert_cmpint (g_rename (path, other), ==, 0);
  g_assert_cmpint (symlink ("other", path), ==, 0);
}
static void pipe_there (const char *r)
{
  g_autofree char *path = g_build_filename (r, "data/pipe", NULL);

  g_assert_cmpint (mkfifo (path, 0600), ==, 0);
}
static void not_utf8 (const char *r) { maker_put (r, "data/\xe4", "x", -1); }
static void windows_name (const char *r) { maker_put (r, "data/aux.txt", "x", -1); maker_list (r, "manifest-sha512.txt", "x", "data/aux.txt"); }
static void only_in_one (const char *r) { maker_put (r, "data/x", "x", -1); maker_list (r, "manifest-sha512.txt", "x", "data/x"); }
static void only_in_old_one (const char *r) { maker_put (r, "data/x", "x", -1); maker_list (r, "manifest-md5.txt", "x", "data/x"); }
static void old_twice (const char *r) { maker_list (r, "manifest-md5.txt", "one\n", "data/one.txt"); }
static void old_twice_other (const char *r) { maker_list (r, "manifest-md5.txt", "x", "data/one.txt"); }
static void old_package (const char *r) { maker_put (r, "package-info.txt", "Payload-Oxum: 99.9\n", -1); }
static void latin (const char *r)
{
  maker_put (r, "data/\xc3\xa4", "x", -1);
  maker_list (r, "manifest-md5.txt", "x", "data/\xe4");
  change (r, "bagit.txt", "UTF-8", "ISO-8859-1");
}
static void
recode (const char *r, const char *as, const char *declared)
{
  g_autofree char *path = g_build_filename (r, "manifest-md5.txt", NULL), *text = NULL, *wide = NULL;
  gsize n;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  wide = g_convert (text, -1, as, "UTF-8", NULL, &n, NULL);
  maker_put (r, "manifest-md5.txt", wide, (gssize) n);
  change (r, "bagit.txt", "UTF-8", declared);
}
static void utf16 (const char *r) { recode (r, "UTF-16", "UTF-16"); }
static void utf16_no_mark (const char *r) { recode (r, "UTF-16BE", "utf-16"); }
static void not_in_encoding (const char *r) { maker_put (r, "bag-info.txt", "Contact-Name: \xe4\n", -1); }
static void sha384_too (const char *r)
{
  maker_list (r, "manifest-sha384.txt", "one\n", "data/one.txt");
  maker_list (r, "manifest-sha384.txt", "two two\n", "data/more/two.txt");
}

typedef struct { const char *what, *version, *algorithms; void (*act) (const char *root); Expected expected; const char *words; } Case;

static const Case all[] = {
  { "right", "1.0", "sha512", nothing, VALID, NULL },
  { "two manifests", "1.0", "sha256 sha512", nothing, VALID, NULL },
  { "md5", "1.0", "md5", nothing, VALID, NULL },
  { "sha1", "1.0", "sha1", nothing, VALID, NULL },
  { "sha384 too", "1.0", "sha512", sha384_too, VALID, NULL },
  { "0.93", "0.93", "md5", nothing, VALID, NULL },
  { "0.94", "0.94", "md5", nothing, VALID, NULL },
  { "0.95", "0.95", "md5 sha1", nothing, VALID, NULL },
  { "0.96", "0.96", "sha1", nothing, VALID, NULL },
  { "0.97", "0.97", "sha256", nothing, VALID, NULL },
  { "0.92", "0.92", "md5", nothing, INVALID, "version" },
  { "version 2.0", "1.0", "sha512", version_2, INVALID, "version" },            /* 2.1.1 */
  { "no bagit.txt", "1.0", "sha512", no_declaration, INVALID, "bagit.txt" },    /* 2.1.1 */
  { "small v", "1.0", "sha512", small_v, INVALID, "first line" },
  { "two blanks", "1.0", "sha512", two_blanks, INVALID, "one blank" },
  { "two blanks, old", "0.97", "sha512", two_blanks, VALID, NULL },
  { "no blank", "1.0", "sha512", no_blank, INVALID, "one blank" },
  { "third line", "1.0", "sha512", third_line, INVALID, "two lines" },
  { "third line, old", "0.96", "sha512", third_line, INVALID, "two lines" },
  { "swapped lines", "1.0", "sha512", swapped, INVALID, "first line" },
  { "one line", "1.0", "sha512", one_line, INVALID, "second line" },
  { "byte-order mark", "1.0", "sha512", mark, INVALID, "byte-order" },
  { "byte-order mark, old", "0.97", "sha512", mark, INVALID, "byte-order" },
  { "byte-order mark in a manifest", "1.0", "sha512", mark_manifest, INVALID, "byte-order" },
  { "last line open", "1.0", "sha512", no_end, VALID, NULL },
  { "CR", "1.0", "sha512", cr, VALID, NULL },
  { "CRLF", "1.0", "sha512", crlf, VALID, NULL },
  { "an encoding of no use", "1.0", "sha512", strange_encoding, INVALID, "encoding" },
  { "no manifest", "1.0", "sha512", no_manifest, INVALID, "no manifest" },      /* 2.1.3 */
  { "no data", "1.0", "sha512", no_data, INVALID, "data/" },                    /* 2.1.2 */
  { "data is a file", "1.0", "sha512", data_file, INVALID, "data/" },
  { "changed", "1.0", "sha512", changed, INVALID, "check sum" },                /* 3 */
  { "changed, of the same size, old", "0.93", "md5", changed, INVALID, "check sum" },
  { "emptied", "1.0", "sha512", emptied, INVALID, "check sum" },
  { "removed", "1.0", "sha512", removed, INVALID, "missing" },
  { "removed, old", "0.95", "md5", removed, INVALID, "missing" },
  { "added", "1.0", "sha512", added, INVALID, "no manifest" },
  { "added, old", "0.97", "md5", added, INVALID, "no manifest" },
  { "added tag file", "1.0", "sha512", added_tag, VALID, NULL },                /* 2.2.4 */
  { "in one of two manifests", "1.0", "sha256 sha512", only_in_one, INVALID, "manifest-sha256.txt" },
  { "in one of two manifests, old", "0.97", "sha1 md5", only_in_old_one, WARNING, "manifest-sha1.txt" },
  { "listed twice", "1.0", "sha512", twice, INVALID, "twice" },
  { "listed twice, otherwise", "1.0", "sha512", twice_other, INVALID, "another check sum" },
  { "listed twice, old", "0.97", "md5", old_twice, WARNING, "twice" },
  { "listed twice, otherwise, old", "0.97", "md5", old_twice_other, INVALID, "another check sum" },
  { "lists a folder", "1.0", "sha512", lists_folder, INVALID, "folder" },
  { "lists a tag file", "1.0", "sha512", lists_tag, INVALID, "below data/" },
  { "capital hex", "1.0", "sha512", upper_hex, VALID, NULL },                   /* 2.4 */
  { "tab", "1.0", "sha512", tab_between, VALID, NULL },
  { "blanks", "1.0", "sha512", many_blanks, VALID, NULL },
  { "star", "1.0", "sha512", star, WARNING, "*" },                              /* 6.1.1.1 */
  { "star, old", "0.97", "md5 sha512", star, WARNING, "*" },
  { "./", "1.0", "sha512", dot_slash, WARNING, "./" },
  { "sum of another length", "1.0", "sha512", short_sum, INVALID, "length" },
  { "no sum", "1.0", "sha512", no_sum, INVALID, "hexadecimal" },
  { "no path", "1.0", "sha512", no_path, INVALID, "hexadecimal" },
  { "empty line", "1.0", "sha512", empty_line, WARNING, "empty" },
  { "capital algorithm", "1.0", "sha512", upper_name, INVALID, "small letters" },
  { "capital algorithm, old", "0.97", "sha512", upper_name, WARNING, "small letters" },
  { "unknown algorithm too", "1.0", "sha512", unknown_too, WARNING, "not known" },
  { "unknown algorithm only", "1.0", "sha512", unknown_only, INVALID, "known here" },
  { "..", "1.0", "sha512", path_up, INVALID, ".." },                            /* 5.1 and below */
  { "absolute", "1.0", "sha512", path_absolute, INVALID, "absolute" },
  { "absolute, old", "0.97", "md5 sha512", path_absolute, INVALID, "absolute" },
  { "~", "1.0", "sha512", path_home, INVALID, "home" },
  { "drive", "1.0", "sha512", path_drive, INVALID, "drive" },
  { "another computer", "1.0", "sha512", path_unc, INVALID, "backslash" },
  { "device", "1.0", "sha512", path_device, INVALID, "backslash" },
  { "backslash", "1.0", "sha512", path_back, INVALID, "below data/" },
  { "%2e", "1.0", "sha512", path_escaped, INVALID, "missing" },
  { "tag ..", "1.0", "sha512", tag_up, INVALID, ".." },
  { "tag ~user", "0.97", "sha512", tag_home, INVALID, "home" },
  { "fetch ..", "0.97", "sha512", fetch_up, INVALID, ".." },
  { "fetch absolute", "1.0", "sha512", fetch_absolute, INVALID, "absolute" },
  { "fetch a tag file", "1.0", "sha512", fetch_tag, INVALID, "below data/" },   /* 2.2.3 */
  { "fetch without length", "1.0", "sha512", fetch_line, INVALID, "length" },
  { "fetch from nowhere", "1.0", "sha512", fetch_relative, INVALID, "absolute" },
  { "fetch length", "1.0", "sha512", fetch_length, INVALID, "number of bytes" },
  { "fetch unlisted", "1.0", "sha512", fetch_unlisted, INVALID, "not in every manifest" },
  { "to be fetched", "1.0", "sha512", fetch_missing, INVALID, "still to be fetched" },
  { "fetched", "1.0", "sha512", fetched, VALID, NULL },
  { "tag manifest", "1.0", "sha512", tags, VALID, NULL },                       /* 2.2.1 */
  { "tag file changed", "1.0", "sha512", tag_changed, INVALID, "bag-info.txt" },
  { "tag file gone", "1.0", "sha512", tag_gone, INVALID, "missing" },
  { "tag manifest without manifest", "1.0", "sha512", tag_no_manifest, INVALID, "does not list" },
  { "tag manifest with payload", "1.0", "sha512", tag_payload, INVALID, "payload" },
  { "tag manifest with itself", "1.0", "sha512", tag_itself, INVALID, "tag manifest" },
  { "tag file not listed", "1.0", "sha512", tag_unlisted, WARNING, "readme.md" },
  { "tag manifest of another algorithm", "1.0", "sha512", tag_other, WARNING, "sha512" },
  { "bag-info", "1.0", "sha512", info, VALID, NULL },                           /* 2.2.2 */
  { "bag-info with tab", "1.0", "sha512", info_tab, VALID, NULL },
  { "oxum", "1.0", "sha512", oxum, INVALID, "Oxum" },
  { "oxum, files", "0.97", "sha512", oxum_files, INVALID, "Oxum" },
  { "oxum twice", "1.0", "sha512", oxum_twice, INVALID, "twice" },
  { "oxum text", "1.0", "sha512", oxum_text, INVALID, "two numbers" },
  { "blank before the colon", "1.0", "sha512", info_blank, INVALID, "blank" },
  { "blank before the colon, old", "0.97", "sha512", info_blank, VALID, NULL },
  { "no blank behind the colon", "1.0", "sha512", info_tight, INVALID, "blank" },
  { "no blank behind the colon, old", "0.96", "sha512", info_tight, VALID, NULL },
  { "no colon", "1.0", "sha512", info_no_colon, INVALID, "colon" },
  { "date", "1.0", "sha512", info_date, WARNING, "Bagging-Date" },
  { "two dates", "1.0", "sha512", info_dates, WARNING, "once" },
  { "line end and % in a name", "1.0", "sha512", odd_names, WARNING, "every system" }, /* 2.1.3 */
  { "other escapes are none", "1.0", "sha512", raw_percent, WARNING, "%25" },
  { "% in an old bag", "0.97", "md5", old_percent, VALID, NULL },
  { "escaped in an old bag", "0.97", "md5", old_escaped, WARNING, "escaped" },
  { "normal form", "1.0", "sha512", forms, WARNING, "Unicode form" },           /* 6.1.1.2 */
  { "two normal forms", "1.0", "sha512", forms_twice, WARNING, "Unicode form" },
  { "case", "1.0", "sha512", cases, WARNING, "differ only" },
  { "link out", "1.0", "sha512", link_out, INVALID, "link" },
  { "link inside", "1.0", "sha512", link_in, INVALID, "link" },
  { "link to a folder", "1.0", "sha512", link_folder, INVALID, "link" },
  { "link for a manifest", "1.0", "sha512", link_manifest, INVALID, "link" },
  { "pipe", "1.0", "sha512", pipe_there, INVALID, "no plain file" },
  { "name not UTF-8", "1.0", "sha512", not_utf8, INVALID, "UTF-8" },
  { "name of a device", "1.0", "sha512", windows_name, WARNING, "device" },
  { "package-info", "0.95", "md5", old_package, INVALID, "package-info.txt" },
  { "ISO 8859-1", "0.97", "md5", latin, WARNING, "UTF-8" },
  { "UTF-16", "0.97", "md5", utf16, WARNING, "UTF-8" },
  { "UTF-16 without a mark", "0.97", "md5", utf16_no_mark, WARNING, "UTF-8" },
  { "not in the encoding", "1.0", "sha512", not_in_encoding, INVALID, "encoding" },
};

static void
test_rules (void)
{
  g_test_summary ("One change to a right bag each: what stays valid, what warns, what makes it invalid");
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    {
      g_autofree char *root = maker_folder ();

      maker_bag (root, all[i].version, all[i].algorithms);
      all[i].act (root);
      assert_verdict (root, all[i].what, all[i].expected, all[i].words);
      ws_file_remove_tree (root, NULL);
    }
}

/* The same bags, packed by Info-ZIP's zip, which stores links as links. */
static void
test_zipped (void)
{
  g_autofree char *zip = g_find_program_in_path ("zip");

  g_test_summary ("The same bags in a zip made by Info-ZIP have the same verdict");
  if (zip == NULL)
    {
      g_test_skip ("zip (Info-ZIP) is not installed");
      return;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    {
      g_autofree char *folder = maker_folder (), *root = g_build_filename (folder, "bag", NULL);
      g_autofree char *packed = g_build_filename (folder, "bag.zip", NULL);
      const char *argv[] = { zip, "-qry", packed, "bag", NULL };
      int status;

      if (all[i].act == pipe_there || all[i].act == not_utf8)  /* zip waits for the one and renames the other */
        {
          ws_file_remove_tree (folder, NULL);
          continue;
        }
      maker_bag (root, all[i].version, all[i].algorithms);
      all[i].act (root);
      g_assert_true (g_spawn_sync (folder, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, NULL));
      g_assert_cmpint (status, ==, 0);
      assert_verdict (packed, all[i].what, all[i].expected, all[i].words);
      ws_file_remove_tree (folder, NULL);
    }
}

static void
test_tops (void)
{
  static const struct { const char *one, *two, *words; } tops[] = {
    { "bag/bagit.txt", "other/x", "one folder" },
    { "bagit.txt", "data/x", "one folder" },
    { "bag/bagit.txt", "stray.txt", "one folder" },
  };
  g_autofree char *folder = maker_folder (), *path = g_build_filename (folder, "a.zip", NULL);
  g_autoptr (GBytes) empty = maker_zip (NULL, 0, NULL);

  g_test_summary ("A zip holds one bag in one top folder");
  for (gsize i = 0; i < G_N_ELEMENTS (tops); i++)
    {
      MakerEntry entries[] = { MAKER_ENTRY (tops[i].one, "x"), MAKER_ENTRY (tops[i].two, "x") };
      g_autoptr (GBytes) zip = maker_zip (entries, 2, NULL);

      maker_put (folder, "a.zip", g_bytes_get_data (zip, NULL), (gssize) g_bytes_get_size (zip));
      assert_verdict (path, tops[i].one, INVALID, tops[i].words);
    }
  maker_put (folder, "a.zip", g_bytes_get_data (empty, NULL), (gssize) g_bytes_get_size (empty));
  assert_verdict (path, "empty", INVALID, "empty");
  ws_file_remove_tree (folder, NULL);
}

static void
test_neither (void)
{
  g_autofree char *folder = maker_folder (), *none = g_build_filename (folder, "none", NULL);
  g_autofree char *text = g_build_filename (folder, "a.txt", NULL), *pipe = g_build_filename (folder, "pipe", NULL);
  struct { const char *path; int code; } cases_[] = { { none, WS_ERROR_NOT_FOUND }, { text, WS_ERROR_UNREADABLE }, { pipe, WS_ERROR_UNREADABLE } };

  g_test_summary ("What is missing, or neither folder nor zip, is an error and no verdict");
  maker_put (folder, "a.txt", "text", -1);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (cases_); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsBagVerdict) verdict = ws_bag_verify (cases_[i].path, NULL, &error);

      g_assert_null (verdict);
      g_assert_error (error, WS_ERROR, cases_[i].code);
      g_assert_nonnull (strstr (error->message, cases_[i].path));
    }
  ws_file_remove_tree (folder, NULL);
}

static void
test_limits (void)
{
  g_autofree char *root = maker_folder ();
  g_autoptr (GString) deep = g_string_new ("data/");

  g_test_summary ("A folder deeper than 32, and a manifest without end, are refused");
  maker_bag (root, "1.0", "sha512");
  for (int i = 0; i < 40; i++)
    g_string_append (deep, "d/");
  g_string_append (deep, "x");
  maker_put (root, deep->str, "x", -1);
  assert_verdict (root, "deep", INVALID, "32 deep");
  ws_file_remove_tree (root, NULL);

  maker_bag (root, "1.0", "sha512");
  {
    g_autofree char *lines = g_strnfill (5 << 20, '\n');

    maker_put (root, "manifest-sha512.txt", lines, -1);
  }
  assert_verdict (root, "lines", INVALID, "more than 20000 lines");
  ws_file_remove_tree (root, NULL);
}

static void
test_hostile_names (void)
{
  g_autofree char *root = maker_folder ();
  g_autoptr (WsBagVerdict) verdict = NULL;
  g_autofree char *text = NULL;

  g_test_summary ("Control and direction characters of a name do not reach the messages");
  maker_bag (root, "1.0", "sha512");
  maker_put (root, "data/\033[2J\xe2\x80\xae" "gpj.exe", "x", -1);
  verdict = ws_bag_verify (root, NULL, NULL);
  text = text_of (verdict);
  g_assert_false (verdict->valid);
  g_assert_null (strchr (text, '\033'));
  g_assert_null (strstr (text, "\xe2\x80\xae"));
  g_assert_nonnull (strstr (text, "\\u{1b}"));
  ws_file_remove_tree (root, NULL);
}

static void
test_read_file (void)
{
  g_autofree char *root = maker_folder (), *link = g_build_filename (root, "data/link", NULL);
  g_autofree char *zip = g_build_filename (root, "a.zip", NULL);
  MakerEntry entries[] = { MAKER_ENTRY ("bag/data/one.txt", "one\n"), MAKER_ENTRY ("bag/data/two.txt", "two\n") };
  g_autoptr (GBytes) packed = maker_zip (entries, 2, NULL);
  const char *paths[] = { root, zip };

  g_test_summary ("One file of a bag is read within its limit, and none outside");
  maker_bag (root, "1.0", "sha512");
  maker_put (root, "a.zip", g_bytes_get_data (packed, NULL), (gssize) g_bytes_get_size (packed));
  g_assert_cmpint (symlink ("/etc/hostname", link), ==, 0);
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = ws_bag_read_file (paths[i], "data/one.txt", 4, &error);
      const char *outside[] = { "../x", "/etc/hostname", "data/link", "data/link/x", "data", "data/none" };

      g_assert_no_error (error);
      g_assert_cmpmem (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), "one\n", 4);
      g_assert_null (ws_bag_read_file (paths[i], "data/one.txt", 3, &error));
      g_assert_error (error, WS_ERROR, WS_ERROR_TOO_LARGE);
      for (gsize j = 0; j < G_N_ELEMENTS (outside); j++)
        g_assert_null (ws_bag_read_file (paths[i], outside[j], 1000, NULL));
    }
  ws_file_remove_tree (root, NULL);
}

static void
test_cancel (void)
{
  g_autofree char *root = maker_folder ();
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_test_summary ("A cancelled check gives no verdict");
  maker_bag (root, "1.0", "sha512");
  g_cancellable_cancel (cancellable);
  g_assert_null (ws_bag_verify (root, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  ws_file_remove_tree (root, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/request/bag/rules", test_rules);
  g_test_add_func ("/request/bag/zipped", test_zipped);
  g_test_add_func ("/request/bag/tops", test_tops);
  g_test_add_func ("/request/bag/neither", test_neither);
  g_test_add_func ("/request/bag/limits", test_limits);
  g_test_add_func ("/request/bag/hostile-names", test_hostile_names);
  g_test_add_func ("/request/bag/read-file", test_read_file);
  g_test_add_func ("/request/bag/cancel", test_cancel);
  return g_test_run ();
}
