/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tool as a person calls it: words, exit statuses, JSON. */
#include "ws-test-library.h"

#include "ws-picture.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

static char *tool;

/* Runs the tool; @line is split at blanks, with %L the library, %P the photos, %O the folder of the test. */
static int
run (TestDesk *test, const char *line, char **out, char **err)
{
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) words = NULL;
  g_autoptr (GPtrArray) argv = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *library = g_build_filename (test->folder, "library", NULL);
  char *ignored_out = NULL, *ignored_err = NULL;
  int status;

  g_assert_true (g_shell_parse_argv (line[0] != '\0' ? line : "--", NULL, &words, &error));
  g_ptr_array_add (argv, g_strdup (tool));
  for (guint i = 0; line[0] != '\0' && words[i] != NULL; i++)
    {
      g_autoptr (GString) word = g_string_new (words[i]);

      g_string_replace (word, "%L", library, 0);
      g_string_replace (word, "%P", test->photos, 0);
      g_string_replace (word, "%O", test->folder, 0);
      g_ptr_array_add (argv, g_strdup (word->str));
    }
  g_ptr_array_add (argv, NULL);
  g_spawn_sync (NULL, (char **) argv->pdata, NULL, G_SPAWN_DEFAULT, NULL, NULL, out != NULL ? out : &ignored_out,
                err != NULL ? err : &ignored_err, &status, &error);
  g_assert_no_error (error);
  g_free (ignored_out);
  g_free (ignored_err);
  g_assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

static TestDesk
begin (void)
{
  TestDesk test = test_begin ();
  g_autofree char *broken = g_build_filename (test.photos, "broken.jpg", NULL);

  g_free (test_photo (&test, "a1.jpg", 1, 1600, "2025-10-04T14:00:00", 51.2345678, -30.5));
  g_free (test_photo (&test, "a2.jpg", 2, 900, "2025-10-04T14:01:00", 51.2345678, -30.5));
  g_assert_true (g_file_set_contents (broken, "no picture", -1, NULL));
  return test;
}

static void
test_statuses (void)
{
  /* In this order: the later ones stand on the earlier. */
  static const struct { const char *line; int status; } cases[] = {
    { "", 2 },
    { "--help", 0 },
    { "--version", 0 },
    { "juggle", 2 },
    { "photo", 2 },
    { "photo --help", 0 },
    { "photo %P/a1.jpg", 0 },
    { "photo %P/a1.jpg %P/broken.jpg", 3 },
    { "photo %P/nothing.jpg", 3 },
    { "photo --sideways %P/a1.jpg", 2 },
    { "clarity %P/a1.jpg 0.1,0.1,0.5,0.5", 0 },
    { "clarity %P/a1.jpg 0.1,0.1,1.5,0.5", 2 },
    { "clarity %P/a1.jpg -0.1,0.1,0.5,0.5", 2 },
    { "clarity %P/broken.jpg 0.1,0.1,0.5,0.5", 3 },
    { "name", 2 },
    { "name 'Amanita cf. phalloides' --json", 0 },
    { "groups", 0 },
    { "groups growth_form=egg --met all", 0 },
    { "groups growth_form=umbrella", 2 },
    { "groups growth_form", 2 },
    { "groups growth_form=egg --met magic", 2 },
    { "finds --library %L", 0 },
    { "import --library %L %P/nothing", 3 },
    { "import --library %L --gap 0 %P", 2 },
    { "import --library %L %P", 0 },
    { "finds --library %L 25-001", 0 },
    { "check --library %L 25-001", 1 },
    { "check --library %L 25-777", 3 },
    { "check --library %L", 2 },
    { "mark --library %L 25-001 a1.jpg stem_base 0.3,0.3,0.5,0.5 --base-kind cleaned", 0 },
    { "mark --library %L 25-001 a1.jpg stem_base whole --base-kind cleaned", 2 },
    { "mark --library %L 25-001 a1.jpg leg 0.3,0.3,0.5,0.5", 2 },
    { "mark --library %L 25-001 a9.jpg cap 0.3,0.3,0.5,0.5", 3 },
    { "mark --library %L 25-001 a1.jpg cap 0.3,0.3,0.5", 2 },
    { "note --library %L 25-001 growth_form=gilled_stem?", 0 },
    { "note --library %L 25-001 growth_form", 2 },
    { "note --library %L 25-001 growth_form=umbrella", 2 },
    { "note --library %L 25-001 taste=mild", 2 },
    { "set --library %L 25-001 field-name=grey place=51.25,-30.25,8", 0 },
    { "set --library %L 25-001 place=-95,0", 2 },
    { "set --library %L 25-001 'cannot:v_print=no cap left'", 0 },
    { "set --library %L 25-001 cannot:v_nothing=x", 2 },
    { "check --library %L 25-001", 1 },
    { "ask --library %L 25-001", 2 },
    { "ask --library %L 25-001 -o %O/out.zip --place nearby", 2 },
    { "ask --library %L 25-001 -o %O/none/out.zip", 3 },
    { "ask --library %L 25-001 -o %O/out.zip --page --question What?", 0 },
    { "verify %O/out.zip", 0 },
    { "verify %O/library", 1 },
    { "verify %O/nothing.zip", 3 },
    { "verify %P/a1.jpg", 3 },
    { "verify", 2 },
  };
  TestDesk test = begin ();

  g_test_summary ("Each verb ends with 0 done, 1 the answer is no, 2 wrong usage, 3 input missing or unreadable");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *err = NULL;
      int status = run (&test, cases[i].line, NULL, &err);

      g_test_message ("%s -> %d (%d) %s", cases[i].line, status, cases[i].status, status != 0 ? err : "");
      g_assert_cmpint (status, ==, cases[i].status);
      if (status != 0 && status != 1)
        g_assert_cmpstr (err, !=, "");
    }
  test_end (&test);
}

static void
test_without_base (void)
{
  TestDesk test = begin ();
  g_autofree char *err = NULL, *package = g_build_filename (test.folder, "out.zip", NULL);

  g_test_summary ("Asking without the base is refused with 1 and says why; with a reason it is made");
  g_assert_cmpint (run (&test, "import --library %L %P", NULL, NULL), ==, 0);
  g_assert_cmpint (run (&test, "ask --library %L 25-001 -o %O/out.zip", NULL, &err), ==, 1);
  g_assert_nonnull (strstr (err, "25-001"));
  g_assert_false (g_file_test (package, G_FILE_TEST_EXISTS));
  g_assert_cmpint (run (&test, "ask --library %L 25-001 -o %O/out.zip --without-base 'broke off'", NULL, NULL), ==, 0);
  g_assert_cmpint (run (&test, "verify %O/out.zip", NULL, NULL), ==, 0);
  test_end (&test);
}

static JsonNode *
run_json (TestDesk *test, const char *line)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *out = NULL;
  JsonNode *node;

  run (test, line, &out, NULL);
  node = json_from_string (out, &error);
  g_assert_no_error (error);
  return node;
}

static void
assert_members (JsonObject *object, const char *const *names)
{
  g_autoptr (GList) members = json_object_get_members (object);

  for (guint i = 0; names[i] != NULL; i++)
    {
      g_test_message ("%s", names[i]);
      g_assert_true (json_object_has_member (object, names[i]));
    }
  g_assert_cmpuint (g_list_length (members), ==, g_strv_length ((char **) names));
}

static void
test_photo_json (void)
{
  static const char *const names[] = {
    "file", "mediaType", "width", "height", "orientation", "takenLocal", "takenOffset", "offsetSource", "latitude", "longitude",
    "altitude", "horizontalError", "direction", "directionReference", "gpsUtc", "make", "model", "focalLength",
    "focalLength35", "iso", "exposureTime", "fNumber", "warnings", NULL };
  TestDesk test = begin ();
  g_autoptr (JsonNode) node = run_json (&test, "photo --json %P/a1.jpg %P/broken.jpg");
  JsonArray *array = json_node_get_array (node);
  JsonObject *first = json_array_get_object_element (array, 0), *second = json_array_get_object_element (array, 1);

  g_test_summary ("photo --json has the keys of the contract; unknown is null; an unreadable file has an error and the rest go on");
  assert_members (first, names);
  g_assert_cmpstr (json_object_get_string_member (first, "takenLocal"), ==, "2025-10-04T14:00:00");
  g_assert_cmpfloat (fabs (json_object_get_double_member (first, "latitude") - 51.2345678), <, 1e-7);
  g_assert_cmpfloat (fabs (json_object_get_double_member (first, "longitude") + 30.5), <, 1e-7);
  g_assert_true (json_object_get_null_member (first, "takenOffset"));
  g_assert_cmpint (json_object_get_int_member (first, "width"), ==, 1600);
  g_assert_true (json_object_has_member (second, "error"));
  test_end (&test);
}

static void
test_check_json (void)
{
  static const char *const names[] = { "find", "growthForm", "evidence", "baseShown", "stillOpen", "goBack", NULL };
  TestDesk test = begin ();
  g_autoptr (JsonNode) before = NULL, after = NULL;
  JsonObject *object;

  g_test_summary ("check --json tells base and views; nothing that is not marked counts as shown");
  run (&test, "import --library %L %P", NULL, NULL);
  before = run_json (&test, "check --json --library %L 25-001");
  object = json_node_get_object (before);
  for (guint i = 0; names[i] != NULL; i++)
    g_assert_true (json_object_has_member (object, names[i]));
  g_assert_false (json_object_get_boolean_member (object, "baseShown"));
  g_assert_true (json_object_get_null_member (object, "growthForm"));
  for (guint i = 0; i < json_array_get_length (json_object_get_array_member (object, "evidence")); i++)
    g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (
                       json_object_get_array_member (object, "evidence"), i), "state"), ==, "missing");
  run (&test, "mark --library %L 25-001 a1.jpg stem_base 0.3,0.3,0.5,0.5 --base-kind cleaned", NULL, NULL);
  after = run_json (&test, "check --json --library %L 25-001");
  g_assert_true (json_object_get_boolean_member (json_node_get_object (after), "baseShown"));
  test_end (&test);
}

static void
test_verify_json (void)
{
  static const char *const names[] = { "path", "bag", "request", "errors", "warnings", NULL };
  TestDesk test = begin ();
  g_autoptr (JsonNode) node = NULL;
  JsonObject *object;

  g_test_summary ("verify --json tells bag and request");
  run (&test, "import --library %L %P", NULL, NULL);
  run (&test, "ask --library %L 25-001 -o %O/out.zip --without-base gone", NULL, NULL);
  node = run_json (&test, "verify --json %O/out.zip");
  object = json_node_get_object (node);
  assert_members (object, names);
  g_assert_cmpstr (json_object_get_string_member (object, "bag"), ==, "valid");
  g_assert_cmpstr (json_object_get_string_member (object, "request"), ==, "valid");
  test_end (&test);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_true (ws_picture_init (argv[0], NULL));
  tool = g_build_filename (g_getenv ("WS_BUILD_ROOT"), "src", "command", "wholestem-tool", NULL);
  g_test_add_func ("/command/tool/statuses", test_statuses);
  g_test_add_func ("/command/tool/without-base", test_without_base);
  g_test_add_func ("/command/tool/photo-json", test_photo_json);
  g_test_add_func ("/command/tool/check-json", test_check_json);
  g_test_add_func ("/command/tool/verify-json", test_verify_json);
  return g_test_run ();
}
