/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "request-maker.h"

#include "ws-answer-json.h"
#include "ws-error.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

static WsKnowledge *knowledge;

#define DIGEST "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"

static WsAnswer *
make_answer (void)
{
  WsAnswer *answer = ws_answer_new ();
  WsOpinion *opinion = ws_opinion_new ();
  WsReason *reason = ws_reason_new ();
  WsWish *view = ws_wish_new (), *words = ws_wish_new ();

  ws_set_string (&answer->id, "aaaaaaaa-aaaa-4aaa-8aaa-aaaaaaaaaaaa");
  answer->replaces = g_strdup ("bbbbbbbb-bbbb-4bbb-8bbb-bbbbbbbbbbbb");
  ws_set_string (&answer->request_id, "77777777-7777-4777-8777-777777777777");
  ws_set_string (&answer->request_digest, DIGEST);
  ws_set_string (&answer->by, "Dr. Ä " MAKER_SCRIPT);
  ws_set_string (&answer->language, "de");
  ws_set_string (&answer->remarks, "line one\nline two \"quoted\"");
  answer->made_us = G_GINT64_CONSTANT (1759651200) * G_USEC_PER_SEC;
  answer->deadly = TRUE;
  ws_set_string (&opinion->name, "Amanita cf. phalloides");
  opinion->certainty = WS_CERTAINTY_PROBABLE;
  opinion->on = WS_NAMED_ON_PHOTOS;
  ws_set_string (&reason->text, "bag");
  reason->photo_id = g_strdup ("11111111-1111-4111-8111-111111111111");
  ws_set_string (&reason->part, "stem_base");
  g_ptr_array_add (opinion->reasons, reason);
  g_ptr_array_add (answer->opinions, opinion);
  ws_set_string (&view->view, "v_base");
  ws_set_string (&view->part, "stem_base");
  ws_set_string (&words->text, "the whole group");
  g_ptr_array_add (answer->wishes, view);
  g_ptr_array_add (answer->wishes, words);
  return answer;
}

static void
assert_same (const WsAnswer *answer, const WsAnswer *back)
{
  g_autoptr (GBytes) one = ws_answer_to_json (answer, knowledge), two = ws_answer_to_json (back, knowledge);

  g_assert_cmpmem (g_bytes_get_data (one, NULL), g_bytes_get_size (one), g_bytes_get_data (two, NULL), g_bytes_get_size (two));
  g_assert_cmpint (back->kind, ==, WS_ANSWER_FILE);
}

static void
test_round (void)
{
  g_autoptr (WsAnswer) answer = make_answer (), back = NULL;
  g_autoptr (GBytes) json = ws_answer_to_json (answer, knowledge);
  g_autoptr (GError) error = NULL;
  const WsOpinion *opinion;

  g_test_summary ("What is written is read again, every member of it");
  back = ws_answer_from_json (json, NULL, &error);
  g_assert_no_error (error);
  assert_same (answer, back);
  opinion = g_ptr_array_index (back->opinions, 0);
  g_assert_cmpstr (opinion->name, ==, "Amanita cf. phalloides");
  g_assert_cmpstr (((WsReason *) g_ptr_array_index (opinion->reasons, 0))->part, ==, "stem_base");
  g_assert_cmpstr (back->replaces, ==, answer->replaces);
  g_assert_cmpstr (back->by, ==, answer->by);
  g_assert_true (back->deadly && !back->cannot_name && !back->phone_poison_service);
}

/* By the jsonschema of Python, as for request.json. */
static void
test_schema (void)
{
  g_autoptr (WsAnswer) answer = make_answer ();
  g_autoptr (GBytes) json = ws_answer_to_json (answer, knowledge);
  g_autofree char *schema = g_build_filename (g_getenv ("WS_SOURCE_ROOT"), "data", "schema", "answer-0.1.schema.json", NULL);
  g_autofree char *path = NULL, *err = NULL;
  const char *script = "import json, sys, jsonschema\nschema = json.load(open(sys.argv[1]))\njsonschema.Draft202012Validator.check_schema(schema)\n"
                       "jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker()).validate(json.load(open(sys.argv[2])))\n";
  const char *probe[] = { "python3", "-c", "import jsonschema; jsonschema.Draft202012Validator", NULL };
  int status, fd = g_file_open_tmp ("ws-answer-XXXXXX", &path, NULL);
  const char *argv[] = { "python3", "-c", script, schema, path, NULL };

  g_test_summary ("An answer of ours fits its schema (jsonschema of Python)");
  g_close (fd, NULL);
  if (!g_spawn_sync (NULL, (char **) probe, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL, &status, NULL)
      || status != 0)
    g_test_skip ("python3-jsonschema is not installed");
  else
    {
      g_assert_true (g_file_set_contents (path, g_bytes_get_data (json, NULL), (gssize) g_bytes_get_size (json), NULL));
      g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &err, &status, NULL));
      if (status != 0)
        g_error ("%s", err);
    }
  remove (path);
}

static void
test_faults (void)
{
  static const struct { const char *from, *to; int code; const char *words; } cases[] = {
    { "\"kind\" : \"answer\"", "\"kind\" : \"letter\"", WS_ERROR_UNREADABLE, "no answer" },
    { "\"format\" : \"0.1\"", "\"format\" : \"1.0\"", WS_ERROR_NEWER_FORMAT, "newer program" },
    { "\"format\" : \"0.1\"", "\"format\" : \"0.9\"", 0, NULL },
    { "\"format\" : \"0.1\"", "\"format\" : \"one\"", WS_ERROR_INVALID, "format" },
    { "\"format\" : \"0.1\"", "\"format\" : 0.1", WS_ERROR_INVALID, "format" },
    { "\"remarks\" : ", "\"more\" : [{\"a\" : [1]}],\n \"remarks\" : ", 0, NULL },
    { "aaaaaaaa-aaaa-4aaa", "aaaaaaaa-aaaa-4aaZ", WS_ERROR_INVALID, "id" },
    { "77777777-7777", "7777-7777", WS_ERROR_INVALID, "request" },
    { DIGEST, "0011", WS_ERROR_INVALID, "requestSha512" },
    { "\"probable\"", "\"firm\"", WS_ERROR_INVALID, "opinions[0].certainty" },
    { "\"Amanita cf. phalloides\"", "\"  \"", WS_ERROR_INVALID, "opinions[0].name" },
    { "\"deadly\" : true", "\"deadly\" : \"yes\"", WS_ERROR_INVALID, "deadly" },
    { "\"the whole group\"", "\"\"", WS_ERROR_INVALID, "wishes[1]" },
    { "\"v_base\"", "\"V BASE\"", WS_ERROR_INVALID, "wishes[0].view" },
    { "05T08:00:00Z", "05T08:00:00+02:00", WS_ERROR_INVALID, "made" },
  };
  g_autoptr (WsAnswer) answer = make_answer ();
  g_autoptr (GBytes) json = ws_answer_to_json (answer, knowledge);
  g_autofree char *text = g_strndup (g_bytes_get_data (json, NULL), g_bytes_get_size (json));

  g_test_summary ("Each fault has its own message, a newer major number a clear one, and what is not known is passed over");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GString) changed = g_string_new (text);
      g_autoptr (GBytes) bytes = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (WsAnswer) back = NULL;

      g_test_message ("%s -> %s", cases[i].from, cases[i].to);
      g_assert_cmpuint (g_string_replace (changed, cases[i].from, cases[i].to, 1), ==, 1);
      bytes = g_bytes_new (changed->str, changed->len);
      back = ws_answer_from_json (bytes, NULL, &error);
      if (cases[i].words == NULL)
        {
          g_assert_no_error (error);
          g_assert_nonnull (back);
          continue;
        }
      g_assert_null (back);
      g_assert_error (error, WS_ERROR, cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].words));
    }
}

static void
test_many (void)
{
  g_autoptr (WsAnswer) answer = make_answer (), back = NULL;
  g_autoptr (GBytes) json = NULL;
  g_autoptr (GError) error = NULL;

  g_test_summary ("More wishes than anybody writes are refused");
  while (answer->wishes->len <= WS_ANSWER_MAX_ITEMS)
    g_ptr_array_add (answer->wishes, ws_wish_copy (g_ptr_array_index (answer->wishes, 1)));
  json = ws_answer_to_json (answer, knowledge);
  back = ws_answer_from_json (json, NULL, &error);
  g_assert_null (back);
  g_assert_error (error, WS_ERROR, WS_ERROR_INVALID);
}

/* As mail programs hand a text on. */
static void
test_block (void)
{
  g_autoptr (WsAnswer) answer = make_answer ();
  g_autoptr (GBytes) json = ws_answer_to_json (answer, knowledge);
  g_autofree char *block = ws_answer_to_block (json);
  g_auto (GStrv) lines = g_strsplit (block, "\n", -1);
  g_autoptr (GString) quoted = g_string_new ("On Monday somebody wrote:\r\n> Hello,\r\n> \r\n");
  g_autoptr (GString) damaged = g_string_new (block);
  struct { const char *text; int code; } cases[] = {
    { block, 0 }, { NULL, 0 }, { "no block here", WS_ERROR_NOT_FOUND }, { "", WS_ERROR_NOT_FOUND }, { NULL, WS_ERROR_UNREADABLE },
    { "-----BEGIN WHOLESTEM ANSWER-----\nAAAA\n", WS_ERROR_UNREADABLE },
    { "-----BEGIN WHOLESTEM ANSWER-----\n-----END WHOLESTEM ANSWER-----", WS_ERROR_UNREADABLE },
    { "-----BEGIN WHOLESTEM ANSWER-----\nAAAA\ncrc32 00000000\n-----END WHOLESTEM ANSWER-----", WS_ERROR_UNREADABLE },
    { "-----BEGIN WHOLESTEM ANSWER-----\n;;;;\ncrc32 00000000\n-----END WHOLESTEM ANSWER-----", WS_ERROR_UNREADABLE },
    /* "123456789" and its CRC-32 by the catalogue of CRC algorithms: cbf43926. */
    { "-----BEGIN WHOLESTEM ANSWER-----\nMTIzNDU2Nzg5\ncrc32 CBF43926\n-----END WHOLESTEM ANSWER-----", 0 },
  };

  g_test_summary ("The block comes out of a mail, quoted and with other line ends too; one changed letter is noticed; lines have 64 letters");
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_assert_cmpuint (strlen (lines[i]), <=, 64);
      g_string_append_printf (quoted, "> > %s  \r\n", lines[i]);
    }
  damaged->str[100] = damaged->str[100] == 'A' ? 'B' : 'A';
  cases[1].text = quoted->str;
  cases[4].text = damaged->str;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) text = g_bytes_new (cases[i].text, strlen (cases[i].text)), back = NULL;
      g_autoptr (GError) error = NULL;

      back = ws_answer_from_block (text, &error);
      if (cases[i].code != 0)
        {
          g_assert_null (back);
          g_assert_error (error, WS_ERROR, cases[i].code);
          continue;
        }
      g_assert_no_error (error);
      if (i < 2)
        g_assert_true (g_bytes_equal (back, json));
      else
        g_assert_cmpmem (g_bytes_get_data (back, NULL), g_bytes_get_size (back), "123456789", 9);
    }
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = maker_knowledge ();
  g_test_add_func ("/request/answer-json/round", test_round);
  g_test_add_func ("/request/answer-json/schema", test_schema);
  g_test_add_func ("/request/answer-json/faults", test_faults);
  g_test_add_func ("/request/answer-json/many", test_many);
  g_test_add_func ("/request/answer-json/block", test_block);
  status = g_test_run ();
  ws_knowledge_unref (knowledge);
  return status;
}
