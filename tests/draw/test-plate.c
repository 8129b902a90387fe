/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-private.h"

#include "draw-rig.h"

#include <math.h>
#include <string.h>

static WsKnowledge *knowledge;

/* --- Finds ---------------------------------------------------------------------------------------- */

static WsRequest *
new_request (WsFind *find, const char *language)
{
  WsRequest *request = ws_request_new ();

  ws_set_string (&request->language, language);
  request->tell_place = WS_TELL_HUNDREDTH;
  ws_find_unref (request->find);
  request->find = ws_request_dup_sendable_find (find, WS_TELL_HUNDREDTH, TRUE, FALSE);
  request->place = request->find->where;
  return request;
}

static void
add_photo (WsFind *find, const char *id)
{
  WsFindPhoto *link = ws_find_photo_new ();

  ws_set_string (&link->photo->id, id);
  link->photo->width = 1000;
  link->photo->height = 800;
  g_ptr_array_add (find->photos, link);
}

/* A mark of its own on photo "p": sharp, @width px wide. */
static WsMark *
add_mark (WsFind *find, const char *id, const char *part, const char *view, int width)
{
  WsMark *mark = ws_mark_new ();
  WsRect box = { 0.1, 0.1, width / 1000.0, 0.25 };

  ws_set_string (&mark->id, id);
  ws_set_string (&mark->photo_id, "p");
  ws_set_string (&mark->part, part);
  ws_set_string (&mark->base_kind, g_str_equal (part, "stem_base") ? "cleaned" : "");
  g_strfreev (mark->views);
  mark->views = g_strdupv ((char *[]) { (char *) view, NULL });
  ws_shape_free (mark->shape);
  mark->shape = ws_shape_new_box (&box);
  mark->measure = (WsMeasure) { .measured = TRUE, .width_px = width, .height_px = 200, .blur_sigma = 0.5, .mm_per_pixel = NAN };
  g_ptr_array_add (find->marks, mark);
  return mark;
}

static WsPlate *
new_plate (WsFind *find, const char *language, GHashTable *choices)
{
  const char *form = ws_find_get_growth_form (find);
  g_autoptr (WsFigure) figure = rig_load_figure (*form != '\0' ? form : "unknown");
  g_autoptr (WsRequest) request = new_request (find, language);

  return ws_plate_new (request, knowledge, figure, choices);
}

static int
part_of (const WsPlate *plate, const char *view)
{
  for (guint i = 0; i < ws_plate_get_n_parts (plate); i++)
    if (g_str_equal (ws_plate_get_view (plate, i), view))
      return (int) i;
  return -1;
}

static cairo_surface_t *
draw (const WsPlate *plate, const WsPlateSheet *sheet, double scale)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) (sheet->width * scale),
                                                       (int) (ws_plate_get_height (plate) * scale));
  WsPlateInk ink = WS_PLATE_INK_PRINT;
  cairo_t *cr = cairo_create (image);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  ws_plate_draw (plate, cr, &ink);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

static guint32
pixel (cairo_surface_t *image, int x, int y)
{
  const guint8 *data = cairo_image_surface_get_data (image);

  g_assert_true (x >= 0 && x < cairo_image_surface_get_width (image) && y >= 0 && y < cairo_image_surface_get_height (image));
  return ((const guint32 *) (gconstpointer) (data + (gsize) y * (gsize) cairo_image_surface_get_stride (image)))[x] & 0xffffff;
}

/* --- Tests ------------------------------------------------------------------------------------------- */

static void
test_missing (void)
{
  g_test_summary ("16 forms without a mark: every required and recommended view is a frame with its name, on A4 and on Letter on "
                  "its side, in two languages; a base that is not shown is said in words");
  for (guint f = 0; rig_forms[f] != NULL; f++)
    for (guint k = 0; k < 2; k++)
      {
        g_autoptr (WsFind) find = rig_new_find (rig_forms[f]);
        g_autoptr (WsPlate) plate = new_plate (find, k % 2 ? "de" : "en", NULL);
        WsPlateSheet sheet = ws_plate_sheet_of_paper (k == 0 ? WS_PAPER_A4 : WS_PAPER_LETTER, k == 1);
        g_autofree char *warning = ws_plate_text_markup (plate, WS_PLATE_WARNING, 0);
        const WsEvidenceLine *base = ws_evidence_get_base (plate->evidence);
        guint n = 0;

        for (guint i = 0; i < plate->evidence->lines->len; i++)
          n += ((const WsEvidenceLine *) g_ptr_array_index (plate->evidence->lines, i))->need != WS_NEED_ONLY_IF;
        g_test_message ("%s: %u frames", rig_forms[f], n);
        g_assert_cmpuint (ws_plate_get_n_parts (plate), ==, n);
        g_assert_true (ws_plate_lay_out (plate, &sheet));
        for (guint i = 0; i < n; i++)
          {
            g_autofree char *caption = ws_plate_caption_markup (plate, &g_array_index (plate->parts, PlatePart, i));

            g_assert_null (ws_plate_get_mark (plate, i));
            g_assert_nonnull (strstr (caption, ws_plate_word (plate, "view", ws_plate_get_view (plate, i))));
            g_assert_nonnull (strstr (caption, ws_plate_word (plate, "evidence_state", "missing")));
          }
        g_assert_cmpint (*warning != '\0', ==, base != NULL);
        g_assert_true (base == NULL || strstr (warning, ws_plate_word (plate, "page", "base_not_shown")) != NULL);
        cairo_surface_destroy (draw (plate, &sheet, 0.5));
      }
}

static void
test_choice (void)
{
  g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
  g_autoptr (GHashTable) choices = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (WsPlate) best = NULL, chosen = NULL, gone = NULL;
  WsMark *blurred;

  g_test_summary ("the best crop of a part: sharp before large; another one when it is chosen; a chosen one that is gone is not missed");
  add_photo (find, "p");
  blurred = add_mark (find, "blurred", "cap", "v_top", 700);
  blurred->measure.blur_sigma = 15;
  (void) add_mark (find, "small", "cap", "v_top", 300);
  (void) add_mark (find, "large", "cap", "v_top", 400);
  best = new_plate (find, "en", NULL);
  g_assert_cmpstr (ws_plate_get_mark (best, (guint) part_of (best, "v_top"))->id, ==, "large");
  g_assert_cmpuint (ws_plate_get_n_marks (best, (guint) part_of (best, "v_top")), ==, 3);
  g_assert_cmpstr (ws_plate_get_other_mark (best, (guint) part_of (best, "v_top"), 1)->id, ==, "small");
  g_assert_cmpstr (ws_plate_get_other_mark (best, (guint) part_of (best, "v_top"), -1)->id, ==, "blurred");
  g_assert_null (ws_plate_get_other_mark (best, (guint) part_of (best, "v_base"), 1));
  g_hash_table_insert (choices, (gpointer) "v_top", (gpointer) "blurred");
  chosen = new_plate (find, "en", choices);
  {
    const PlatePart *part = &g_array_index (chosen->parts, PlatePart, part_of (chosen, "v_top"));
    g_autofree char *caption = ws_plate_caption_markup (chosen, part);

    g_assert_cmpstr (part->mark->id, ==, "blurred");
    /* What is worse about it is said. */
    g_assert_nonnull (strstr (caption, "blurred"));
  }
  g_hash_table_insert (choices, (gpointer) "v_top", (gpointer) "nowhere");
  gone = new_plate (find, "en", choices);
  g_assert_cmpstr (ws_plate_get_mark (gone, (guint) part_of (gone, "v_top"))->id, ==, "large");
}

static void
test_one_crop_for_two (void)
{
  g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
  g_autoptr (WsPlate) plate = NULL;
  g_autofree char *label = NULL;
  WsMark *slip;

  g_test_summary ("a slip that shows scale and number is one crop with both names");
  add_photo (find, "p");
  slip = add_mark (find, "slip", "slip", "v_slip", 300);
  g_strfreev (slip->views);
  slip->views = g_strdupv ((char *[]) { (char *) "v_slip", (char *) "v_scale", NULL });
  plate = new_plate (find, "en", NULL);
  g_assert_cmpint (part_of (plate, "v_slip"), ==, -1);
  label = ws_plate_dup_label (plate, (guint) part_of (plate, "v_scale"));
  g_assert_cmpstr (label, ==, "Scale in the picture · Field slip in the picture, shown");
}

/* A bar as long on paper as so many millimetres of the crop: measured on the drawing. */
static void
test_bar (void)
{
  static const struct { double mm_per_pixel; int width; double bar_mm; } cases[] = {
    { 0.1, 400, 10 }, { 0.05, 400, 5 }, { 0.25, 600, 50 }, { 0.005, 300, 0.5 } };

  g_test_summary ("scale bars of four scales: the longest 1, 2 or 5 that fits, as long as the crop says within 2 px of 4 for a point");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
      g_autoptr (WsPlate) plate = NULL;
      WsPlateSheet sheet = ws_plate_sheet_of_paper (WS_PAPER_A4, FALSE);
      const WsPlatePart *box;
      cairo_surface_t *image;
      double want;
      int y, run = 0, longest = 0;

      add_photo (find, "p");
      add_mark (find, "base", "stem_base", "v_base", cases[i].width)->measure.mm_per_pixel = cases[i].mm_per_pixel;
      plate = new_plate (find, "en", NULL);
      g_assert_true (ws_plate_lay_out (plate, &sheet));
      box = &plate->layout.parts[part_of (plate, "v_base")];
      want = cases[i].bar_mm / (cases[i].mm_per_pixel * cases[i].width) * box->picture.width * 4;
      image = draw (plate, &sheet, 4);
      y = (int) lround ((box->side == WS_PLATE_ABOVE ? box->caption.y + box->caption.height - 0.62 * sheet.em * plate->layout.scale
                                                     : box->caption.y + 0.62 * sheet.em * plate->layout.scale) * 4);
      for (int x = (int) (box->box.x * 4); x < (int) ((box->box.x + box->box.width) * 4); x++)
        {
          run = (pixel (image, x, y) & 0xff) < 0x40 ? run + 1 : 0;
          longest = MAX (longest, run);
        }
      g_test_message ("%g mm: %d px, wanted %g", cases[i].bar_mm, longest, want);
      g_assert_cmpfloat_with_epsilon (longest, want, 2);
      cairo_surface_destroy (image);
    }
}

static void
test_crop (void)
{
  g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
  cairo_surface_t *crop = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 400, 200), *image;
  WsPlateSheet sheet = ws_plate_sheet_of_paper (WS_PAPER_LETTER, TRUE);
  g_autoptr (WsPlate) plate = NULL;
  const WsPlateBox *picture;
  cairo_t *cr = cairo_create (crop);

  g_test_summary ("a crop fills its place from edge to edge and nothing else; a frame is empty");
  cairo_set_source_rgb (cr, 1, 0, 0);
  cairo_paint (cr);
  cairo_set_source_rgb (cr, 0, 0, 1);
  cairo_rectangle (cr, 200, 0, 200, 200);
  cairo_fill (cr);
  cairo_destroy (cr);
  add_photo (find, "p");
  (void) add_mark (find, "base", "stem_base", "v_base", 400);
  plate = new_plate (find, "en", NULL);
  ws_plate_set_crop (plate, (guint) part_of (plate, "v_base"), crop);
  cairo_surface_destroy (crop);
  g_assert_true (ws_plate_lay_out (plate, &sheet));
  picture = &plate->layout.parts[part_of (plate, "v_base")].picture;
  g_assert_cmpint (ws_plate_get_crop_edge (plate, (guint) part_of (plate, "v_base"), 300), ==,
                   (int) ceil (picture->width * 300 / 72));
  g_assert_cmpint (ws_plate_get_part_at (plate, picture->x + 1, picture->y + 1), ==, part_of (plate, "v_base"));
  g_assert_cmpint (ws_plate_get_part_at (plate, 1, 1), ==, -1);
  image = draw (plate, &sheet, 2);
  for (int k = 0; k < 5; k++)
    {
      int y = (int) ((picture->y + picture->height * (k + 0.5) / 5) * 2);

      g_assert_cmphex (pixel (image, (int) ((picture->x + 4) * 2), y), ==, 0xff0000);
      g_assert_cmphex (pixel (image, (int) ((picture->x + picture->width - 4) * 2), y), ==, 0x0000ff);
    }
  for (int y = 0; y < cairo_image_surface_get_height (image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (image); x++)
      {
        guint32 c = pixel (image, x, y);
        gboolean grey = (c >> 16) == (c >> 8 & 0xff) && (c & 0xff) == (c >> 16);

        if (!grey && (x < 2 * picture->x - 2 || x > 2 * (picture->x + picture->width) + 2 || y < 2 * picture->y - 2 ||
                      y > 2 * (picture->y + picture->height) + 2))
          g_error ("a colour at %d, %d, outside the crop", x, y);
      }
  cairo_surface_destroy (image);
}

static char *
all_words (const WsPlate *plate)
{
  GString *words = g_string_new (NULL);

  for (guint text = 0; text < WS_PLATE_N_TEXTS; text++)
    {
      g_autofree char *markup = ws_plate_text_markup (plate, text, 100);

      g_string_append_printf (words, "%s\n", markup);
    }
  for (guint i = 0; i < plate->parts->len; i++)
    {
      g_autofree char *caption = ws_plate_caption_markup (plate, &g_array_index (plate->parts, PlatePart, i));

      g_string_append_printf (words, "%s\n", caption);
    }
  return g_string_free (words, FALSE);
}

static void
test_place (void)
{
  static const struct { WsTellPlace tell; const char *has, *lacks; } cases[] = {
    { WS_TELL_EXACT, "51.23457, -30.54321", "withheld" },  { WS_TELL_HUNDREDTH, "51.23, -30.54", "51.234" },
    { WS_TELL_TENTH, "51.2, -30.5", "51.23" },             { WS_TELL_WITHHELD, "The place is not told", "51." },
    { WS_TELL_REGION, "Invented Shire", "51." },
  };

  g_test_summary ("the place stands on the plate as it is told and no closer; what is only for the finder is nowhere");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
      g_autoptr (WsFigure) figure = rig_load_figure ("gilled_stem");
      g_autoptr (WsRequest) request = ws_request_new ();
      g_autoptr (WsPlate) plate = NULL;
      g_autofree char *words = NULL;

      find->where = (WsPosition) { 51.234567, -30.543212, 8, NAN, WS_POSITION_TYPED };
      ws_set_string (&find->only_mine, "SECRET");
      ws_set_string (&find->locality, "behind the old mill");
      ws_set_string (&request->region, "Invented Shire");
      request->tell_place = cases[i].tell;
      ws_find_unref (request->find);
      request->find = ws_request_dup_sendable_find (find, cases[i].tell, TRUE, FALSE);
      request->place = request->find->where;
      plate = ws_plate_new (request, knowledge, figure, NULL);
      words = all_words (plate);
      g_assert_nonnull (strstr (words, cases[i].has));
      g_assert_null (strstr (words, cases[i].lacks));
      g_assert_null (strstr (words, "SECRET"));
      g_assert_cmpint (strstr (words, "old mill") != NULL, ==, ws_tell_place_has_locality (cases[i].tell));
    }
}

static void
test_cautions (void)
{
  static const char *const ids[] = { "photos_never", "poison", "touch", "law", "figure_ink" };
  static const char *const languages[] = { "en", "de" };

  g_test_summary ("the cautions stand on every plate whole, whatever is on it and however small the page");
  for (guint l = 0; l < G_N_ELEMENTS (languages); l++)
    for (guint f = 0; rig_forms[f] != NULL; f++)
      {
        g_autoptr (WsFind) find = rig_new_find (rig_forms[f]);
        g_autoptr (WsPlate) plate = new_plate (find, languages[l], NULL);
        WsPlateSheet narrow = { 300, 400, TRUE, 10, 13 };
        g_autofree char *words = all_words (plate);
        g_autoptr (PangoLayout) set = NULL;

        for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
          {
            g_autofree char *caution = ws_plate_escape (ws_knowledge_text (knowledge, languages[l], "caution", ids[i]));

            g_assert_nonnull (strstr (words, caution));
          }
        g_assert_true (ws_plate_lay_out (plate, &narrow));
        set = ws_plate_set_block (plate, WS_PLATE_CAUTIONS, plate->layout.texts[WS_PLATE_CAUTIONS].width, plate->layout.scale, 0);
        g_assert_false (pango_layout_is_ellipsized (set));
      }
}

/* Letters that mean something to markup, lines without end, bytes that are no text. */
static void
test_hostile (void)
{
  g_autofree char *novel = g_strnfill (20000, 'W'), *words = NULL;
  g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
  g_autoptr (WsPlate) plate = NULL;

  g_test_summary ("texts of 20,000 letters, markup and broken bytes: a plate on A4 and on Letter on its side, and nothing is taken for markup");
  add_photo (find, "p");
  ws_set_string (&find->number, "<span size='9999999'>&amp;\n\n\xff\xfe\"</b>");
  ws_set_string (&find->locality, novel);
  ws_set_string (&find->remarks, novel);
  for (guint i = 0; i < 60; i++)
    rig_add_note (find, "habitat", i % 2 ? novel : "</i><b>");
  for (guint i = 0; i < 60; i++)
    rig_add_note (find, "size", novel);
  {
    GPtrArray *views = ws_knowledge_get_views (knowledge);

    for (guint i = 0; i < views->len; i++)
      {
        WsExcuse *excuse = ws_excuse_new ();

        ws_set_string (&excuse->view, ((const WsView *) g_ptr_array_index (views, i))->id);
        ws_set_string (&excuse->reason, novel);
        g_ptr_array_add (find->excuses, excuse);
      }
  }
  plate = new_plate (find, "de", NULL);
  words = all_words (plate);
  g_assert_true (g_utf8_validate (words, -1, NULL));
  for (guint k = 0; k < 2; k++)
    {
      WsPlateSheet sheet = ws_plate_sheet_of_paper (k == 0 ? WS_PAPER_A4 : WS_PAPER_LETTER, k == 1);

      g_assert_true (ws_plate_lay_out (plate, &sheet));
      cairo_surface_destroy (draw (plate, &sheet, 0.5));
    }
}

static void
test_sizes (void)
{
  g_autoptr (WsFind) find = rig_new_find ("gilled_stem");
  WsSporeList *list = ws_spore_list_new ();
  WsSpore spores[40] = { { 8, 5 }, { 9, 6 }, { 8.5, 5.5 } };
  g_autoptr (WsPlate) many = NULL;
  g_autofree char *more = NULL;
  g_autoptr (WsPlate) plate = NULL;
  g_autofree char *words = NULL;

  g_test_summary ("sizes of several specimens and spores stand among the notes, the spores with their rule");
  for (guint i = 0; i < 3; i++)
    {
      WsMeasurement *one = ws_measurement_new ();

      ws_set_string (&one->quantity, "cap_width");
      one->value = 50 + 35 * i;
      g_ptr_array_add (find->measurements, one);
    }
  ws_spore_list_set (list, spores, 3);
  list->rule = WS_PERCENTILES_NEAREST;
  g_ptr_array_add (find->spores, list);
  plate = new_plate (find, "en", NULL);
  words = all_words (plate);
  g_assert_nonnull (strstr (words, "50–120 mm"));
  g_assert_nonnull (strstr (words, "8.0 - 9.0 × 5.0 - 6.0 µm"));
  g_assert_nonnull (strstr (words, "smallest to largest"));
  for (guint i = 3; i < 40; i++)
    spores[i] = (WsSpore) { 8 + i * 0.02, 5.5 };
  ws_spore_list_set (list, spores, 40);
  many = new_plate (find, "en", NULL);
  more = all_words (many);
  g_assert_nonnull (strstr (more, "quantile type 1"));
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  knowledge = rig_load_knowledge ();
  g_test_add_func ("/draw/plate/missing", test_missing);
  g_test_add_func ("/draw/plate/choice", test_choice);
  g_test_add_func ("/draw/plate/one-crop-for-two", test_one_crop_for_two);
  g_test_add_func ("/draw/plate/bar", test_bar);
  g_test_add_func ("/draw/plate/crop", test_crop);
  g_test_add_func ("/draw/plate/place", test_place);
  g_test_add_func ("/draw/plate/cautions", test_cautions);
  g_test_add_func ("/draw/plate/hostile", test_hostile);
  g_test_add_func ("/draw/plate/sizes", test_sizes);
  status = g_test_run ();
  ws_knowledge_unref (knowledge);
  return status;
}
