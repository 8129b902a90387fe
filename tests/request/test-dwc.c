/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Darwin Core archive, held against the term lists, the schema of meta.xml (shared/reference) and a CSV reader that
 * nobody here wrote. */
#include "bag-maker.h"
#include "request-maker.h"

#include "ws-dwc.h"
#include "ws-file.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static WsKnowledge *knowledge;
static char *folder;

/* Ways of the hostile: quotes, separators, line ends, formulas of spreadsheets, markup. */
#define FORMULA "=HYPERLINK(\"x\",\"y\")"
#define HOSTILE "+1, \"two\"; 'three'\r\n@four\t-five | six <b>&amp;"

static WsName *
add_name (WsFind *find, const char *id, const char *verbatim, WsCertainty certainty)
{
  WsName *name = ws_name_new ();

  ws_set_string (&name->id, id);
  ws_set_string (&name->verbatim, verbatim);
  ws_set_string (&name->by, FORMULA);
  ws_set_string (&name->date, "2025-10-05");
  ws_set_string (&name->reasons, HOSTILE);
  name->certainty = certainty;
  name->on = WS_NAMED_ON_PHOTOS;
  g_ptr_array_add (find->names, name);
  return name;
}

/* The archive as files in a folder. @change (nullable): what is done to the find first. */
static char *
write_archive (WsTellPlace tell, const char *language, void (*change) (WsFind *find))
{
  g_autoptr (WsRequest) request = maker_request (TRUE, tell, language);
  g_autoptr (GPtrArray) photos = NULL, files = NULL;
  g_autoptr (WsDwcArchive) archive = ws_dwc_archive_new (knowledge, language);
  char *path = g_build_filename (folder, "dwc", NULL);

  ws_set_string (&request->region, "Hesse, Germany");
  if (change != NULL)
    change (request->find);
  photos = maker_package_photos (request);
  for (guint i = 0; i < photos->len; i++)
    {
      ((WsPackagePhoto *) photos->pdata[i])->width = 2526;
      ((WsPackagePhoto *) photos->pdata[i])->height = 2112;
    }
  ws_dwc_archive_add (archive, request, photos, "../photos/");
  files = ws_dwc_archive_dup_files (archive, "urn:uuid:1 <&\">", request->from, request->made_us);
  ws_file_remove_tree (path, NULL);
  g_mkdir_with_parents (path, 0755);
  for (guint i = 0; i < files->len; i++)
    {
      const WsDwcFile *file = g_ptr_array_index (files, i);
      gsize size;
      const char *data = g_bytes_get_data (file->bytes, &size);

      maker_put (path, file->name, data, (gssize) size);
    }
  return path;
}

/* Runs Python over the archive: it has tables T["occurrence.csv"] as lists of dictionaries by IRI ("id" for the first
 * column), made by its csv module, strictly, as meta.xml says. */
static void
assert_python (const char *path, const char *script)
{
  static const char reader[] =
    "import csv, os, sys\n"
    "import xml.etree.ElementTree as E\n"
    "N = '{http://rs.tdwg.org/dwc/text/}'\n"
    "here = sys.argv[1]\n"
    "meta = E.parse(os.path.join(here, 'meta.xml')).getroot()\n"
    "T, kinds, terms = {}, {}, []\n"
    "for part in meta:\n"
    "    name = part.find(N + 'files/' + N + 'location').text\n"
    "    fields = {int(f.get('index')): f.get('term') for f in part.findall(N + 'field')}\n"
    "    terms += fields.values()\n"
    "    fields[int((part.find(N + 'id') if part.find(N + 'id') is not None else part.find(N + 'coreid')).get('index'))] = 'id'\n"
    "    raw = open(os.path.join(here, name), encoding='utf-8', newline='').read()\n"
    "    rows = list(csv.reader(raw.splitlines(), strict=True))\n"
    "    assert len(rows) == raw.count('\\n'), 'a record on several lines'\n"
    "    assert all(len(r) == len(fields) for r in rows), name\n"
    "    T[name] = [{fields[i]: c for i, c in enumerate(r)} for r in rows[1:]]\n"
    "    kinds[name] = (part.tag[len(N):], part.get('rowType'))\n"
    "D, A = 'http://rs.tdwg.org/dwc/terms/', 'http://rs.tdwg.org/ac/terms/'\n"
    "O, I, F, M = (T[n + '.csv'] for n in ('occurrence', 'identification', 'measurement', 'media'))\n";
  g_autofree char *text = g_strconcat (reader, script, NULL), *err = NULL;
  const char *argv[] = { "python3", "-c", text, path, g_getenv ("WS_CHECKS") != NULL ? g_getenv ("WS_CHECKS") : "", NULL };
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &err, &status, NULL));
  if (status != 0)
    g_error ("%s", err);
}

static gboolean
have_python (void)
{
  g_autofree char *python = g_find_program_in_path ("python3");

  if (python == NULL)
    g_test_skip ("python3 is not installed");
  return python != NULL;
}

/* "…/shared/reference/NAME", or NULL after a skip. */
static char *
reference (const char *name)
{
  const char *checks = g_getenv ("WS_CHECKS");
  g_autofree char *path = checks != NULL && *checks != '\0' ? g_build_filename (checks, "..", "reference", name, NULL) : NULL;

  if (path == NULL || !g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_autofree char *text = g_strdup_printf ("shared/reference/%s is not there", name);

      g_test_skip (text);
      return NULL;
    }
  return g_steal_pointer (&path);
}

static void
make_rich (WsFind *find)
{
  WsMeasurement *measurement = ws_measurement_new ();
  WsSporeList *list = ws_spore_list_new ();
  const WsSpore spores[] = { { 8, 6 }, { 9, 6.5 }, { 10, 7 } };

  add_name (find, "99999999-9999-4999-8999-999999999991", "Amanita cf. phalloides", WS_CERTAINTY_PROBABLE);
  add_name (find, "99999999-9999-4999-8999-999999999992", FORMULA, WS_CERTAINTY_OPEN)->deadly = TRUE;
  find->name_in_force = g_strdup ("99999999-9999-4999-8999-999999999991");
  ws_set_string (&find->remarks, HOSTILE);
  ws_set_string (&find->number, FORMULA);
  ws_set_string (&((WsNote *) g_ptr_array_index (find->notes, 1))->observer, "-2+3");
  ws_set_string (&measurement->id, "99999999-9999-4999-8999-999999999993");
  ws_set_string (&measurement->quantity, "cap_width");
  measurement->value = 52.5;
  measurement->error = 3;
  g_ptr_array_add (find->measurements, measurement);
  ws_set_string (&list->id, "99999999-9999-4999-8999-999999999994");
  ws_spore_list_set (list, spores, G_N_ELEMENTS (spores));
  g_ptr_array_add (find->spores, list);
}

static void
test_schema (void)
{
  g_autofree char *schema = reference ("tdwg_dwc_text.xsd"), *xmllint = g_find_program_in_path ("xmllint"), *path = NULL;
  g_autofree char *meta = NULL, *eml = NULL;
  int status;

  g_test_summary ("meta.xml is valid against tdwg_dwc_text.xsd, eml.xml is well-formed and has the five members in order (xmllint)");
  if (schema == NULL)
    return;
  if (xmllint == NULL)
    {
      g_test_skip ("xmllint is not installed");
      return;
    }
  path = write_archive (WS_TELL_HUNDREDTH, "en", make_rich);
  meta = g_build_filename (path, "meta.xml", NULL);
  eml = g_build_filename (path, "eml.xml", NULL);
  {
    const char *valid[] = { xmllint, "--nonet", "--noout", "--schema", schema, meta, NULL };
    const char *order[] = { xmllint, "--nonet", "--xpath",
                            "string(/*[local-name()='eml' and namespace-uri()='https://eml.ecoinformatics.org/eml-2.2.0' and @packageId and @system]"
                            "/dataset[title/following-sibling::*[1][self::creator]/following-sibling::*[1][self::pubDate]"
                            "/following-sibling::*[1][self::abstract/para]/following-sibling::*[1][self::contact]]/title)", eml, NULL };
    g_autofree char *title = NULL, *err = NULL;

    g_assert_true (g_spawn_sync (NULL, (char **) valid, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, &err, &status, NULL));
    g_test_message ("%s", err);
    g_assert_cmpint (status, ==, 0);
    g_assert_true (g_spawn_sync (NULL, (char **) order, NULL, G_SPAWN_DEFAULT, NULL, NULL, &title, NULL, &status, NULL));
    g_assert_cmpint (status, ==, 0);
    g_assert_cmpuint (strlen (g_strstrip (title)), >, 10);
  }
}

static void
test_terms (void)
{
  g_autofree char *terms = reference ("dwc-terms.csv"), *path = NULL;

  g_test_summary ("Every term is in the published lists of Darwin Core and Audiovisual Core, and none of the deprecated classes is a field");
  if (terms == NULL || !have_python ())
    return;
  path = write_archive (WS_TELL_EXACT, "en", make_rich);
  assert_python (path,
    "known = set()\n"
    "for f in ('dwc-terms.csv', 'ac-terms.csv'):\n"
    "    for row in csv.DictReader(open(os.path.join(sys.argv[2], '..', 'reference', f), encoding='utf-8')):\n"
    "        if row['kind'] == 'property': known.add(row['iri'])\n"
    "assert len(known) > 300\n"
    "assert not [t for t in terms if t not in known], [t for t in terms if t not in known]\n"
    "assert kinds == {'occurrence.csv': ('core', D + 'Occurrence'), 'identification.csv': ('extension', D + 'Identification'),\n"
    "    'measurement.csv': ('extension', D + 'MeasurementOrFact'), 'media.csv': ('extension', A + 'Multimedia')}\n");
}

static void
test_rows (void)
{
  g_autofree char *path = NULL;

  g_test_summary ("Whatever is typed: rows keep their cells, point to the core, have what their type requires, and no cell is a formula (Python's csv)");
  if (!have_python ())
    return;
  for (int german = 0; german < 2; german++)
    {
      path = (g_free (path), write_archive (german ? WS_TELL_EXACT : WS_TELL_HUNDREDTH, german ? "de" : "en", make_rich));
      assert_python (path,
        "assert len(O) == 1 and len(I) == 2 and len(F) == 5 and len(M) == 6\n"
        "assert all(r['id'] == O[0]['id'] for t in T.values() for r in t)\n"
        "assert O[0][D + 'occurrenceID'] == O[0]['id'] == 'urn:uuid:33333333-3333-4333-8333-333333333333'\n"
        "assert O[0][D + 'basisOfRecord'] == 'HumanObservation'\n"
        "assert all(r[D + 'measurementType'] for r in F)\n"
        "assert all(r['http://purl.org/dc/terms/identifier'] for r in M)\n"
        "assert len({r['http://purl.org/dc/terms/identifier'] for r in M}) == len(M)\n"
        "assert len({r[D + 'measurementID'] for r in F}) == len(F)\n"
        "for t in T.values():\n"
        "    for r in t:\n"
        "        for c in r.values():\n"
        "            if c[:1] in '=+-@' and c: float(c)\n"
        "            assert not any(ord(x) < 32 for x in c), c\n"
        "assert O[0][D + 'occurrenceRemarks'] == \"'+1, \\\"two\\\"; 'three'  @four -five | six <b>&amp;\", O[0][D + 'occurrenceRemarks']\n"
        "assert O[0][D + 'recordNumber'] == \"'=HYPERLINK(\\\"x\\\",\\\"y\\\")\"\n"
        "size = [r for r in F if r[D + 'measurementUnit'] == 'mm'][0]\n"
        "assert float(size[D + 'measurementValue']) == 52.5 and float(size[D + 'measurementAccuracy']) == 3\n"
        "assert [r for r in F if r[D + 'measurementUnit'] == 'µm'][0][D + 'measurementValue']\n");
    }
}

/* --- Names ------------------------------------------------------------------------------------------------------ */

static const struct { const char *verbatim; WsCertainty certainty; const char *scientific, *rank, *qualifier; } names[] = {
  /* standards.md 5.2, form B (OBIS, Horton et al. 2021). */
  { "Amanita cf. phalloides", WS_CERTAINTY_SURE, "Amanita", "genus", "cf. phalloides" },
  { "Russula sp.", WS_CERTAINTY_SURE, "Russula", "genus", "sp." },
  { "Cortinarius aff. rubellus", WS_CERTAINTY_OPEN, "Cortinarius", "genus", "aff. rubellus" },
  { "Galerina marginata ?", WS_CERTAINTY_PROBABLE, "Galerina", "genus", "marginata ?" },
  { "Amanita phalloides", WS_CERTAINTY_SURE, "Amanita phalloides", "species", "" },
  /* Horton's rule for pictures: "I think so, but not certain" of a species is Genus, with Genus epithet sp. inc. */
  { "Amanita phalloides", WS_CERTAINTY_PROBABLE, "Amanita", "genus", "phalloides sp. inc." },
  { "Amanita phalloides (Vaill. ex Fr.) Link", WS_CERTAINTY_OPEN, "Amanita", "genus", "phalloides sp. inc." },
  { "Galerina marginata s.l.", WS_CERTAINTY_SURE, "Galerina marginata", "species", "s.l." },
  { "Galerina marginata s.l.", WS_CERTAINTY_PROBABLE, "Galerina", "genus", "marginata s.l. sp. inc." },
  { "Amanita", WS_CERTAINTY_OPEN, "Fungi", "kingdom", "Amanita inc." },
  { "", WS_CERTAINTY_SURE, "Fungi", "kingdom", "" },
};
static guint at_name;

static void
set_name (WsFind *find)
{
  add_name (find, "99999999-9999-4999-8999-999999999991", names[at_name].verbatim, names[at_name].certainty);
  find->name_in_force = g_strdup ("99999999-9999-4999-8999-999999999991");
}

static void
test_names (void)
{
  g_test_summary ("SAFETY: nothing uncertain is written as firm, in the core and in the history alike");
  if (!have_python ())
    return;
  for (at_name = 0; at_name < G_N_ELEMENTS (names); at_name++)
    {
      g_autofree char *path = write_archive (WS_TELL_HUNDREDTH, "en", set_name);
      g_autofree char *script = g_strdup_printf (
        "for r in (O[0], I[0]):\n"
        "    got = [r[D + k] for k in ('verbatimIdentification', 'scientificName', 'taxonRank', 'identificationQualifier')]\n"
        "    assert got == ['%s', '%s', '%s', '%s'], got\n"
        "    assert '%s' in r[D + 'identificationRemarks']\n",
        names[at_name].verbatim, names[at_name].scientific, names[at_name].rank, names[at_name].qualifier,
        ws_knowledge_text (knowledge, "en", "page", "dwc_unverified"));

      g_test_message ("%s, %s", names[at_name].verbatim, ws_certainty_id (names[at_name].certainty));
      assert_python (path, script);
    }
}

static void
take_back (WsFind *find)
{
  WsName *back;

  add_name (find, "99999999-9999-4999-8999-999999999991", "Amanita rubescens", WS_CERTAINTY_SURE);
  back = add_name (find, "99999999-9999-4999-8999-999999999992", "", WS_CERTAINTY_OPEN);
  back->withdraws = g_strdup ("99999999-9999-4999-8999-999999999991");
  find->name_in_force = g_strdup ("99999999-9999-4999-8999-999999999991");
}

static void
test_withdrawn (void)
{
  g_autofree char *path = NULL;

  g_test_summary ("A name taken back is in neither table; the sender's guess is no identification");
  if (!have_python ())
    return;
  path = write_archive (WS_TELL_HUNDREDTH, "en", take_back);
  assert_python (path, "assert I == [] and O[0][D + 'scientificName'] == 'Fungi' and O[0][D + 'verbatimIdentification'] == ''\n");
}

/* --- Place ------------------------------------------------------------------------------------------------------ */

static void
test_place (void)
{
  /* The place of maker_find() is 51.987654321, 9.123456789 with 12 m. Uncertainty: standards.md 6.1, 6.3 (Wieczorek
     2004): 12 m and the precision at that latitude by the paper's formula, summed, rounded up. */
  static const struct { WsTellPlace tell; const char *script; } cases[] = {
    { WS_TELL_EXACT, "assert [o[k] for k in keys] == ['51.987654', '9.123457', 'EPSG:4326', '12', '0.000001', '', ''], [o[k] for k in keys]\n"
                     "assert o[D + 'locality'] == 'near the invented brook, \"left\" side' and o[D + 'minimumElevationInMeters']\n" },
    { WS_TELL_THOUSANDTH, "p, step = ('51.988', '9.123', '0.001'), 0.001\n" },
    { WS_TELL_HUNDREDTH, "p, step = ('51.99', '9.12', '0.01'), 0.01\n" },
    { WS_TELL_TENTH, "p, step = ('52.0', '9.1', '0.1'), 0.1\nassert o[D + 'locality'] == 'The place in words is kept by the finder'\n" },
    { WS_TELL_REGION, "assert [o[k] for k in keys[:6]] == [''] * 5 + ['Times of day left out'] and o[keys[6]]\n"
                      "assert o[D + 'higherGeography'] == 'Hesse, Germany' and o[D + 'locality'] == 'The place in words is kept by the finder'\n" },
    { WS_TELL_WITHHELD, "assert [o[k] for k in keys[:6]] == [''] * 5 + ['Times of day left out'] and o[keys[6]]\n"
                        "assert o[D + 'higherGeography'] == '' and o[D + 'locality'] == 'The place in words is kept by the finder'\n" },
  };

  g_test_summary ("Position, precision and uncertainty by how the place is told; what is blurred or kept back is said, and a text kept back leaves words");
  if (!have_python ())
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = write_archive (cases[i].tell, "en", NULL);
      g_autofree char *script = g_strconcat (
        "import math\n"
        "o = O[0]\n"
        "keys = [D + k for k in ('decimalLatitude', 'decimalLongitude', 'geodeticDatum', 'coordinateUncertaintyInMeters',\n"
        "                        'coordinatePrecision', 'dataGeneralizations', 'informationWithheld')]\n",
        cases[i].script,
        "if 'step' in dir():\n"
        "    a, f = 6378137, 1 / 298.257223563\n"
        "    e2, s = 2 * f - f * f, math.sin(math.radians(float(p[0])))\n"
        "    R, X = a * (1 - e2) / (1 - e2 * s * s) ** 1.5, a / math.sqrt(1 - e2 * s * s) * math.cos(math.radians(float(p[0])))\n"
        "    u = math.ceil(12 + math.pi * step / 180 * math.hypot(R, X))\n"
        "    assert [o[k] for k in keys[:5]] == [p[0], p[1], 'EPSG:4326', str(u), p[2]], [o[k] for k in keys]\n"
        "    assert p[2] + '°' in o[keys[5]] and o[keys[6]] and o[D + 'minimumElevationInMeters'] == ''\n", NULL);

      g_test_message ("%s", ws_tell_place_id (cases[i].tell));
      assert_python (path, script);
    }
}

/* --- Media ------------------------------------------------------------------------------------------------------- */

static GArray *pixels;   /* of int[4] */

static void
add_regions (WsFind *find)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  const WsMark *like = g_ptr_array_index (find->marks, 0);
  char *photo = g_strdup (like->photo_id);

  pixels = g_array_new (FALSE, FALSE, 4 * sizeof (int));
  g_ptr_array_set_size (find->marks, 0);
  for (int i = 0; i < 200; i++)
    {
      /* The first is recipe 1.1 of the AC ROI recipes. */
      int x = i == 0 ? 731 : g_rand_int_range (random, 0, 2526), y = i == 0 ? 500 : g_rand_int_range (random, 0, 2112);
      int rectangle[] = { x, y, i == 0 ? 229 : g_rand_int_range (random, 1, 2526 - x + 1), i == 0 ? 557 : g_rand_int_range (random, 1, 2112 - y + 1) };
      WsMark *mark = ws_mark_new ();
      g_autofree char *id = g_strdup_printf ("44444444-4444-4444-8444-%012d", i);

      ws_set_string (&mark->id, id);
      ws_set_string (&mark->photo_id, photo);
      ws_set_string (&mark->part, i % 2 ? "cap" : "stem_base");
      ws_shape_free (mark->shape);
      mark->shape = ws_shape_new_box (&(WsRect) { x / 2526.0, y / 2112.0, rectangle[2] / 2526.0, rectangle[3] / 2112.0 });
      g_ptr_array_add (find->marks, mark);
      g_array_append_vals (pixels, rectangle, 1);
    }
  g_free (photo);
}

static void
test_regions (void)
{
  g_autofree char *path = NULL;
  g_autoptr (GString) script = NULL;

  g_test_summary ("The fractions of a region give back the pixels it was chosen by (AC: the lower right corner too), and stay inside");
  if (!have_python ())
    return;
  path = write_archive (WS_TELL_HUNDREDTH, "en", add_regions);
  script = g_string_new ("want = [");
  for (guint i = 0; i < pixels->len; i++)
    {
      const int *r = (const int *) (gpointer) pixels->data + i * 4;

      g_string_append_printf (script, "(%d,%d,%d,%d),", r[0], r[1], r[2], r[3]);
    }
  g_array_unref (pixels);
  g_string_append (script,
    "]\n"
    "ids = {r['http://purl.org/dc/terms/identifier']: r for r in M}\n"
    "regions = [r for r in M if r[A + 'isROIOf']]\n"
    "assert len(regions) == len(want) == 200\n"
    "for r, (x, y, w, h) in zip(regions, want):\n"
    "    photo = ids[r[A + 'isROIOf']]\n"
    "    assert r['http://purl.org/dc/terms/identifier'] in photo[A + 'hasROI'].split('|')\n"
    "    W, H = (int(photo['http://ns.adobe.com/exif/1.0/Pixel%sDimension' % a]) for a in 'XY')\n"
    "    assert (W, H) == (2526, 2112)\n"
    "    fx, fy, fw, fh = (float(r[A + k + 'Frac']) for k in ('x', 'y', 'width', 'height'))\n"
    "    assert 0 <= fx <= 1 and 0 <= fy <= 1 and 0 < fx + fw <= 1 and 0 < fy + fh <= 1 and fw > 0 and fh > 0\n"
    "    assert (round(fx * W), round(fy * H)) == (x, y), (r, x, y)\n"
    "    assert (round((fx + fw) * W), round((fy + fh) * H)) == (x + w, y + h)\n"
    "assert [round(float(regions[0][A + k + 'Frac']), 5) for k in ('x', 'y', 'width', 'height')] == [0.28939, 0.23674, 0.09066, 0.26373]\n"
    "assert regions[0][A + 'subjectPart'] == '' and regions[0][A + 'subjectPartLiteral'] == 'stipe base'\n"
    "assert regions[1][A + 'subjectPart'] == 'http://purl.obolibrary.org/obo/FAO_0000009'\n"
    "for p in [r for r in M if not r[A + 'isROIOf']]:\n"
    "    assert p[A + 'accessURI'].startswith('../photos/') and len(p[A + 'hashValue']) == 128 and p[A + 'hashFunction'] == 'SHA-512'\n"
    "    for k in ('http://purl.org/dc/terms/type', 'http://purl.org/dc/elements/1.1/rights', A + 'metadataLanguage'): assert p[k]\n"
    "    assert p['http://ns.adobe.com/xap/1.0/CreateDate'] == '2025-10-04'\n");
  assert_python (path, script->str);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = maker_knowledge ();
  folder = g_dir_make_tmp ("ws-test-dwc-XXXXXX", NULL);
  g_test_add_func ("/request/dwc/schema", test_schema);
  g_test_add_func ("/request/dwc/terms", test_terms);
  g_test_add_func ("/request/dwc/rows", test_rows);
  g_test_add_func ("/request/dwc/names", test_names);
  g_test_add_func ("/request/dwc/withdrawn", test_withdrawn);
  g_test_add_func ("/request/dwc/place", test_place);
  g_test_add_func ("/request/dwc/regions", test_regions);
  status = g_test_run ();
  ws_file_remove_tree (folder, NULL);
  g_free (folder);
  ws_knowledge_unref (knowledge);
  return status;
}
