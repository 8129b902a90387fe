/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bag-maker.h"
#include "request-maker.h"

#include "ws-file.h"
#include "ws-request-page.h"

#include <string.h>

static WsKnowledge *knowledge;

static char *
write_page_with (const WsRequest *request, const WsPageExtras *extras)
{
  g_autoptr (GPtrArray) photos = maker_package_photos (request);
  g_autoptr (GPtrArray) crops = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_package_crop_free);
  g_autoptr (GBytes) page = NULL;

  for (guint i = 0; i < request->find->marks->len; i++)
    {
      WsPackageCrop *crop = g_new0 (WsPackageCrop, 1);

      crop->mark = g_ptr_array_index (request->find->marks, i);
      crop->jpeg = g_bytes_new ("crop", 4);
      crop->width = 400;
      crop->height = 300;
      if (crop->mark->whole_photo)
        ws_package_crop_free (crop);
      else
        g_ptr_array_add (crops, crop);
    }
  page = ws_request_page (request, photos, crops, knowledge, extras);
  return g_strndup (g_bytes_get_data (page, NULL), g_bytes_get_size (page));
}

static char *
write_page (const WsRequest *request)
{
  return write_page_with (request, NULL);
}

/* Each of @marks stands in the page, behind the one before. */
static void
assert_order (const char *page, const char *const *marks)
{
  const char *at = page;

  for (guint i = 0; marks[i] != NULL; i++)
    {
      const char *found = strstr (at, marks[i]);

      if (found == NULL)
        g_error ("“%s” is not in the page behind “%s”", marks[i], i > 0 ? marks[i - 1] : "its begin");
      at = found + 1;
    }
}

static void
test_escaped (void)
{
  static const WsTellPlace tells[] = { WS_TELL_EXACT, WS_TELL_HUNDREDTH };

  g_test_summary ("A script in a note, remark, reason or name shows as text, and no script is in the page");
  for (guint i = 0; i < G_N_ELEMENTS (tells); i++)
    {
      g_autoptr (WsRequest) request = maker_request (FALSE, tells[i], "en");
      g_autofree char *page = NULL;
      guint n = 0;

      ws_set_string (&request->from, MAKER_SCRIPT);
      ws_set_string (&request->to, MAKER_SCRIPT);
      ws_set_string (&request->call_back, MAKER_SCRIPT);
      ws_set_string (&request->find->number, MAKER_SCRIPT);
      ws_set_string (&request->find->field_name, MAKER_SCRIPT);
      ws_set_string (&request->find->locality, MAKER_SCRIPT);
      request->emergency = i == 0;
      page = write_page (request);
      g_assert_null (strstr (page, "<script"));
      g_assert_null (strstr (page, "alert('x')"));
      g_assert_null (strstr (page, "<b onload"));
      for (const char *at = page; (at = strstr (at, "&lt;script&gt;alert(&apos;x&apos;)&lt;/script&gt;&amp;&lt;b onload=&quot;y&quot;&gt;")) != NULL; at++)
        n++;
      g_assert_cmpuint (n, >=, 10);
      g_assert_true (g_utf8_validate (page, -1, NULL));
    }
}

static void
test_alone (void)
{
  static const char *const never[] = { "http:", "https:", "//www", "<link", "<script", "<iframe", "<object", "<form", "url(", "@import", "srcset" };
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_EXACT, "en");
  g_autofree char *page = write_page (request);
  g_autoptr (GRegex) source = g_regex_new ("src=\"(?!data:image/jpeg;base64,)", 0, 0, NULL);
  g_autoptr (GRegex) handler = g_regex_new ("<[^>]*\\son[a-z]+=", 0, 0, NULL);

  g_test_summary ("The page names no address, holds every picture, and forbids what it does not need");
  for (guint i = 0; i < G_N_ELEMENTS (never); i++)
    if (strstr (page, never[i]) != NULL)
      g_error ("“%s” is in the page: %.80s", never[i], strstr (page, never[i]));
  g_assert_false (g_regex_match (source, page, 0, NULL));
  g_assert_false (g_regex_match (handler, page, 0, NULL));
  g_assert_nonnull (strstr (page, "content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\""));
  g_assert_nonnull (strstr (page, "data:image/jpeg;base64,Y3JvcA=="));  /* "crop", by the base64 of coreutils */
  g_assert_nonnull (strstr (page, "name=\"viewport\""));
  g_assert_nonnull (strstr (page, "prefers-color-scheme:dark"));
  g_assert_nonnull (strstr (page, "@media print"));
}

#define DIGEST "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"

static void
test_form (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  WsPageExtras extras = { .json_digest = DIGEST };
  g_autofree char *page = NULL, *script = NULL, *sum = NULL, *policy = NULL;
  const char *data, *begin, *end;
  guchar digest[32];
  gsize n = sizeof digest;
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);

  g_test_summary ("With the form there is one script, which the policy names by its digest; hostile text cannot end the data before it");
  ws_set_string (&request->find->number, "</script><script>alert(1)</script><!--");
  page = write_page_with (request, &extras);
  data = strstr (page, "<script type=\"application/json\" id=\"data\">");
  g_assert_nonnull (data);
  g_assert_null (strstr (data, "<!--"));
  begin = strstr (data, "</script>");
  g_assert_nonnull (begin);
  g_assert_true (g_str_has_prefix (begin, "</script>\n<script>"));
  begin += strlen ("</script>\n<script>");
  end = strstr (begin, "</script>");
  g_assert_nonnull (end);
  g_assert_null (strstr (end, "<script"));
  g_checksum_update (checksum, (const guchar *) begin, end - begin);
  g_checksum_get_digest (checksum, digest, &n);
  sum = g_base64_encode (digest, n);
  policy = g_strdup_printf ("content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'sha256-%s'; base-uri 'none'; "
                            "form-action 'none'\"", sum);
  g_assert_nonnull (strstr (page, policy));
  g_assert_nonnull (strstr (data, "\"requestSha512\":\"" DIGEST "\""));
  g_assert_nonnull (strstr (page, "<section id=\"answer\" hidden>"));
}

/* What the links write, by the decoder of GLib. */
static void
test_quick (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autofree char *page = NULL;
  guint n = 0;

  g_test_summary ("The quick answers are links that write a mail with the request's code; in an emergency the poison service is first");
  ws_set_string (&request->find->number, "25&101?cc=x%0a\"");
  ws_set_string (&request->from, "eva@example.org");
  request->emergency = TRUE;
  page = write_page (request);
  for (const char *at = page; (at = strstr (at, "href=\"mailto:")) != NULL; n++)
    {
      g_autofree char *link = g_strndup (at + 6, strcspn (at + 6, "\"")), *plain = NULL;

      at++;
      g_assert_true (g_str_has_prefix (link, "mailto:eva@example.org?subject="));
      plain = g_uri_unescape_string (strstr (link, "&amp;body=") + strlen ("&amp;body="), NULL);
      g_assert_nonnull (strstr (plain, "7777-7777"));
      /* Only the two parts of ours: a number cannot add another. */
      g_assert_true (strchr (link, '&') == strstr (link, "&amp;body="));
      g_assert_null (strchr (strstr (link, "&amp;body=") + 5, '&'));
      if (n == 0)
        g_assert_true (g_str_has_prefix (plain, ws_knowledge_text (knowledge, "en", "page", "quick_phone")));
    }
  g_assert_cmpuint (n, ==, 4);
}

static void
test_order (void)
{
  g_autoptr (WsRequest) request = maker_request (FALSE, WS_TELL_HUNDREDTH, "en");
  g_autofree char *page = write_page (request);
  const char *order[] = { "<body>", "id=\"no-base\"", "not marked on any photo", "It was gone when I came back", "<h1>", "id=\"new\"",
                          "<h3>Stem base</h3>", "class=\"gap\"", "<h3>Underside</h3>", "<h3>Whole stem from the side</h3>",
                          /* The order of issue 6: size, smell and stain, trees, country and date, the specimen, the question, who else, the answers. */
                          "Size", "Smell", "Trees", "oak", "51.99, 9.12", "kept", "What is it?", "nobody", "data-quick=\"cannot\"", "data-quick=\"deadly\"",
                          "data-quick=\"think\"", "id=\"evidence\"", "<b>Stem base</b>", "<b>Underside</b>", "id=\"notes\"",
                          "id=\"photos\"", "id=\"place\"", "51.99, 9.12", "id=\"still-open\"", "id=\"guess\"", "<details>",
                          "Verdacht", "id=\"cautions\"", "id=\"eaten\"", NULL };
  const char *guess = strstr (page, "Verdacht");

  g_test_summary ("The missing base stands above everything, the sender's guess stands folded behind all evidence");
  assert_order (page, order);
  g_assert_null (strstr (guess + 1, "Verdacht"));
  g_assert_null (strstr (page, "<details open"));
}

static void
test_base_shown (void)
{
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_HUNDREDTH, "en");
  g_autofree char *page = write_page (request);

  g_test_summary ("With the base shown there is no warning of it, and the claim stands as the sender's");
  g_assert_null (strstr (page, "id=\"no-base\""));
  g_assert_nonnull (strstr (page, "The sender says: <q>Yes: dug out whole and cleaned on one side</q>"));
}

/* Safety laws 4 and 5: whatever the request is. */
static void
test_cautions (void)
{
  static const char *const cautions[] = { "photos_never", "doubt", "touch", "law" };
  static const char *const eaten[] = { "title", "call", "no_wait", "better", "say_who", "say_when", "say_how_much", "say_illness", "keep_1", "keep_2", "keep_3" };
  static const char *const languages[] = { "en", "de", "xx" };

  g_test_summary ("Cautions and what to do when it was eaten are on every page, empty requests included");
  for (guint i = 0; i < 6; i++)
    {
      const char *language = languages[i % 3];
      g_autoptr (WsRequest) request = i < 3 ? maker_request (TRUE, WS_TELL_WITHHELD, language) : ws_request_new ();
      g_autofree char *page = NULL;

      ws_set_string (&request->language, language);
      request->emergency = i == 1;
      page = write_page (request);
      for (guint j = 0; j < G_N_ELEMENTS (cautions); j++)
        {
          g_autofree char *text = g_markup_escape_text (ws_knowledge_text (knowledge, language, "caution", cautions[j]), -1);

          g_assert_nonnull (strstr (page, text));
        }
      for (guint j = 0; j < G_N_ELEMENTS (eaten); j++)
        {
          g_autofree char *text = g_markup_escape_text (ws_knowledge_text (knowledge, language, "eaten", eaten[j]), -1);

          g_assert_nonnull (strstr (page, text));
        }
      g_assert_nonnull (strstr (page, "href=\"#eaten\""));
    }
}

static void
test_emergency (void)
{
  g_autoptr (WsRequest) request = maker_request (FALSE, WS_TELL_HUNDREDTH, "de");
  g_autofree char *page = NULL, *other = NULL;
  const char *order[] = { "<body>", "id=\"emergency\"", "href=\"tel:+49301234567\"", "id=\"eaten\"", "id=\"no-base\"", "<header>", NULL };

  g_test_summary ("An emergency leads with the number to call back, then what to do now");
  request->emergency = TRUE;
  ws_set_string (&request->call_back, "+49 (30) 1234-567");
  page = write_page (request);
  assert_order (page, order);
  ws_set_string (&request->call_back, "javascript:x");
  other = write_page (request);
  g_assert_null (strstr (other, "href=\"tel:"));
  g_assert_null (strstr (other, "href=\"javascript"));
}

static void
test_private (void)
{
  static const WsTellPlace tells[] = { WS_TELL_HUNDREDTH, WS_TELL_WITHHELD };
  static const char *const never[] = { "Heidelbeerwinkel", "IMG_4711", "Knipsomat", "14:03", "51.987", "51.98", "9.1234", "234.5" };

  g_test_summary ("Neither only-mine text nor what was not to be told is in the page, even of a request put together wrongly");
  for (guint i = 0; i < 2 * G_N_ELEMENTS (tells); i++)
    {
      g_autoptr (WsRequest) request = maker_request (TRUE, tells[i / 2], "en");
      g_autofree char *page = NULL;

      if (i % 2)
        {
          ws_find_unref (request->find);
          request->find = maker_find (TRUE);
          request->place = request->find->where;
        }
      page = write_page (request);
      for (guint j = 0; j < G_N_ELEMENTS (never); j++)
        if (strstr (page, never[j]) != NULL)
          g_error ("“%s” is in the page: %.80s", never[j], strstr (page, never[j]) - 30);
      g_assert_true ((strstr (page, "51.99, 9.12") != NULL) == (tells[i / 2] == WS_TELL_HUNDREDTH));
      g_assert_true ((strstr (page, "invented brook") != NULL) == (tells[i / 2] == WS_TELL_HUNDREDTH));
    }
}

/* Safety law 2, over every phrase of the page in every language. */
static void
test_words (void)
{
  static const char *const forbidden[] = { "edible", "harmless", "essbar", "genießbar", "speisepilz", "unbedenklich", "ungefährlich", "harmlos", "complete", "vollständig" };
  static const char *const languages[] = { "en", "de" };

  g_test_summary ("The page has no word for edible, harmless or complete; with everything missing and with everything shown");
  for (guint i = 0; i < 4; i++)
    {
      g_autoptr (WsRequest) request = maker_request (i % 2 == 0, WS_TELL_HUNDREDTH, languages[i / 2]);
      g_autofree char *page = write_page (request), *small = g_utf8_strdown (page, -1);

      for (guint j = 0; j < G_N_ELEMENTS (forbidden); j++)
        if (strstr (small, forbidden[j]) != NULL)
          g_error ("“%s” is in the page: %.80s", forbidden[j], strstr (small, forbidden[j]) - 30);
    }
}

static void
test_phrases (void)
{
  g_autofree char *root = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "knowledge", NULL);
  g_autofree char *en = g_build_filename (root, "en", "page.tsv", NULL), *de = g_build_filename (root, "de", "page.tsv", NULL);
  g_autofree char *one = NULL, *two = NULL;
  g_auto (GStrv) lines = NULL;

  g_test_summary ("Every phrase of the page is there in German too, and none holds a per cent sign");
  g_assert_true (g_file_get_contents (en, &one, NULL, NULL));
  g_assert_true (g_file_get_contents (de, &two, NULL, NULL));
  lines = g_strsplit (one, "\n", -1);
  for (guint i = 3; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", -1);
      g_autofree char *key = g_strdup_printf ("\npage\t%s\t", cells[1]);

      g_assert_nonnull (strstr (two, key));
      g_assert_null (strchr (cells[2], '%'));
      g_assert_cmpstr (ws_knowledge_text (knowledge, "de", "page", cells[1]), !=, cells[2]);
    }
}

/* An outside parser, which is strict about tags and attributes. */
static void
test_parsed (void)
{
  static const char script[] =
    "import sys, html.parser\n"
    "void = {'meta','img','br','input','hr'}\n"
    "class P(html.parser.HTMLParser):\n"
    "    stack, ids, links, bad = [], set(), [], []\n"
    "    def handle_starttag(self, t, a):\n"
    "        d = dict(a)\n"
    "        if 'id' in d:\n"
    "            if d['id'] in self.ids: self.bad.append('twice ' + d['id'])\n"
    "            self.ids.add(d['id'])\n"
    "        if t == 'a': self.links.append(d['href'])\n"
    "        if t == 'img' and not d.get('alt'): self.bad.append('img without alt')\n"
    "        if t not in void: self.stack.append(t)\n"
    "    def handle_startendtag(self, t, a): pass\n"
    "    def handle_endtag(self, t):\n"
    "        if not self.stack or self.stack.pop() != t: self.bad.append('end ' + t)\n"
    "p = P()\n"
    "p.feed(open(sys.argv[1], encoding='utf-8').read())\n"
    "p.bad += [l for l in p.links if l.startswith('#') and l[1:] not in p.ids]\n"
    "sys.exit(str(p.bad + p.stack) if p.bad or p.stack else 0)\n";
  g_autofree char *folder = maker_folder (), *path = g_build_filename (folder, "page.html", NULL), *err = NULL;
  g_autoptr (WsRequest) request = maker_request (TRUE, WS_TELL_EXACT, "de");
  g_autofree char *page = write_page (request), *python = g_find_program_in_path ("python3");
  const char *argv[] = { "python3", "-c", script, path, NULL };
  int status;

  g_test_summary ("Python's HTML parser finds every tag closed, every id once, every link inside the page met");
  if (python == NULL)
    g_test_skip ("python3 is not installed");
  else
    {
      maker_put (folder, "page.html", page, -1);
      g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &err, &status, NULL));
      g_assert_cmpstr (err, ==, "");
      g_assert_cmpint (status, ==, 0);
    }
  ws_file_remove_tree (folder, NULL);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = maker_knowledge ();
  g_test_add_func ("/request/page/escaped", test_escaped);
  g_test_add_func ("/request/page/alone", test_alone);
  g_test_add_func ("/request/page/form", test_form);
  g_test_add_func ("/request/page/quick", test_quick);
  g_test_add_func ("/request/page/order", test_order);
  g_test_add_func ("/request/page/base-shown", test_base_shown);
  g_test_add_func ("/request/page/cautions", test_cautions);
  g_test_add_func ("/request/page/emergency", test_emergency);
  g_test_add_func ("/request/page/private", test_private);
  g_test_add_func ("/request/page/words", test_words);
  g_test_add_func ("/request/page/phrases", test_phrases);
  g_test_add_func ("/request/page/parsed", test_parsed);
  status = g_test_run ();
  ws_knowledge_unref (knowledge);
  return status;
}
