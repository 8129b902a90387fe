/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-eaten-sheet.h"

#include <pango/pangocairo.h>

#include "ws-intl.h"
#include "ws-photo-copy.h"
#include "ws-picture.h"
#include "ws-record.h"
#include "ws-words.h"

/* Longer edge of a printed photo, px: 250 dpi over half a page. */
#define PHOTO_EDGE 1000
/* More would not be looked at on the way to the hospital. */
#define MAX_PHOTOS 24
#define GAP 8.0           /* points between blocks */
#define PICTURE_SHARE 0.32 /* of the page's height, at most */

const char *const ws_eaten_say[] = { "say_who", "say_when", "say_how_much", "say_illness", NULL };
const char *const ws_eaten_keep[] = { "keep_1", "keep_2", "keep_3", NULL };

/* A paragraph or a photo, and where it came to lie. */
typedef struct
{
  char *text;
  double size;              /* points; of a paragraph */
  gboolean bold;
  cairo_surface_t *picture; /* (nullable) */
  int page;
  double x, y, width, height;
} Block;

struct _WsEatenSheet
{
  GPtrArray *blocks;
};

static void
block_free (gpointer data)
{
  Block *block = data;

  g_clear_pointer (&block->picture, cairo_surface_destroy);
  g_free (block->text);
  g_free (block);
}

void
ws_eaten_wish_free (WsEatenWish *wish)
{
  g_free (wish->find_id);
  g_free (wish->number);
  g_free (wish);
}

void
ws_eaten_sheet_free (WsEatenSheet *sheet)
{
  g_ptr_array_unref (sheet->blocks);
  g_free (sheet);
}

/* --- Making -------------------------------------------------------------------------------------- */

static void
add_text (WsEatenSheet *sheet, const char *text, double size, gboolean bold)
{
  Block *block;

  if (*text == '\0')
    return;
  block = g_new0 (Block, 1);
  block->text = g_strdup (text);
  block->size = size;
  block->bold = bold;
  g_ptr_array_add (sheet->blocks, block);
}

static void
add_texts (WsEatenSheet *sheet, WsDesk *desk, const char *title, const char *const *ids)
{
  add_text (sheet, title, 12, TRUE);
  for (guint i = 0; ids[i] != NULL; i++)
    add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "eaten", ids[i]), 10, FALSE);
}

static cairo_surface_t *
make_surface (const WsPicture *picture)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, picture->width, picture->height);
  const guint8 *from = g_bytes_get_data (picture->pixels, NULL);
  guint8 *to = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  for (int y = 0; to != NULL && y < picture->height; y++)
    for (int x = 0; x < picture->width; x++, from += 3)
      ((guint32 *) (gpointer) (to + (gsize) y * stride))[x]
        = (guint32) from[0] << 16 | (guint32) from[1] << 8 | from[2];
  cairo_surface_mark_dirty (surface);
  return surface;
}

/* A copy as it would leave: what is covered is painted over. NULL with an error. */
static cairo_surface_t *
copy_photo (WsDesk *desk, const WsFind *find, const WsPhoto *photo, GCancellable *cancellable, GError **error)
{
  g_autofree char *path = ws_record_locate_photo (desk, photo, error);
  g_autoptr (GPtrArray) covers = g_ptr_array_new ();
  const WsCopyOptions options = { .max_edge = PHOTO_EDGE, .quality = 85, .covers = covers };
  g_autoptr (WsPhotoCopy) copy = NULL;
  g_autoptr (WsPicture) picture = NULL;
  cairo_surface_t *surface;
  gsize size;
  gconstpointer jpeg;

  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);

      if (g_str_equal (cover->photo_id, photo->id))
        g_ptr_array_add (covers, cover->shape);
    }
  if (path == NULL
      || (copy = ws_photo_copy_make (path, &options, cancellable, error)) == NULL
      || (picture = ws_picture_decode (copy->jpeg, path, 0, cancellable, error)) == NULL)
    return NULL;
  surface = make_surface (picture);
  /* A PDF takes the JPEG as it is and stays small. */
  jpeg = g_bytes_get_data (copy->jpeg, &size);
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, jpeg, size, (cairo_destroy_func_t) g_bytes_unref,
                               g_bytes_ref (copy->jpeg));
  return surface;
}

static void
add_photo (WsEatenSheet *sheet, WsDesk *desk, const WsFind *find, const WsPhoto *photo, GCancellable *cancellable)
{
  g_autoptr (GError) error = NULL;
  cairo_surface_t *picture = copy_photo (desk, find, photo, cancellable, &error);
  Block *block;

  if (picture == NULL)
    {
      add_text (sheet, error->message, 9, FALSE);
      return;
    }
  block = g_new0 (Block, 1);
  block->picture = picture;
  g_ptr_array_add (sheet->blocks, block);
}

char *
ws_eaten_dup_notes (WsDesk *desk, const WsFind *find)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (find->notes, i);

      g_string_append_printf (text, "%s%s: ", text->len > 0 ? "\n" : "",
                              ws_knowledge_text (desk->knowledge, desk->language, "character", note->character));
      for (guint j = 0; note->states[j] != NULL; j++)
        g_string_append_printf (text, "%s%s", j > 0 ? ", " : "",
                                ws_knowledge_state_text (desk->knowledge, desk->language, note->character,
                                                         note->states[j]));
      if (!note->sure)
        g_string_append_printf (text, " (%s)", _("unsure"));
    }
  return g_string_free (text, FALSE);
}

static void
add_find (WsEatenSheet *sheet, WsDesk *desk, const WsFind *find, GCancellable *cancellable)
{
  g_autofree char *title = ws_words_find_title (find);
  g_autofree char *heading = g_strdup_printf (_("The find: %s"), title);
  g_autofree char *details = ws_words_find_details (find);
  g_autofree char *notes = ws_eaten_dup_notes (desk, find);
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  g_autofree char *lacking = ws_evidence_dup_summary (evidence, desk->knowledge, desk->language);

  add_text (sheet, heading, 12, TRUE);
  add_text (sheet, details, 10, FALSE);
  add_text (sheet, lacking, 10, TRUE);
  add_text (sheet, notes, 10, FALSE);
  add_text (sheet, find->remarks, 10, FALSE);
  for (guint i = 0; i < MIN (find->photos->len, MAX_PHOTOS); i++)
    add_photo (sheet, desk, find, ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo, cancellable);
}

gpointer
ws_eaten_sheet_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsEatenWish *wish = data;
  g_autoptr (WsFind) find = wish->find_id != NULL ? ws_library_load_find (desk->library, wish->find_id, error) : NULL;
  WsEatenSheet *sheet;
  const char *const firsts[] = { "call", "no_wait", "better" };

  if (wish->find_id != NULL && find == NULL)
    return NULL;
  sheet = g_new0 (WsEatenSheet, 1);
  sheet->blocks = g_ptr_array_new_with_free_func (block_free);
  add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "eaten", "title"), 18, TRUE);
  add_text (sheet, wish->number, 22, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (firsts); i++)
    add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "eaten", firsts[i]), 11, i == 0);
  add_texts (sheet, desk, _("What to say"), ws_eaten_say);
  add_texts (sheet, desk, _("What to keep"), ws_eaten_keep);
  if (find != NULL)
    add_find (sheet, desk, find, cancellable);
  return sheet;
}

/* --- Laying out and drawing ----------------------------------------------------------------------- */

static PangoLayout *
make_layout (cairo_t *cr, const Block *block, double width)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string ("Serif");

  pango_font_description_set_absolute_size (font, block->size * PANGO_SCALE);
  pango_font_description_set_weight (font, block->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_text (layout, block->text, -1);
  return layout;
}

static void
measure (cairo_t *cr, Block *block, double width, double height)
{
  if (block->picture != NULL)
    {
      double w = cairo_image_surface_get_width (block->picture), h = cairo_image_surface_get_height (block->picture);
      double scale = MIN ((width - GAP) / 2 / w, height * PICTURE_SHARE / h);

      block->width = w * scale;
      block->height = h * scale;
    }
  else
    {
      g_autoptr (PangoLayout) layout = make_layout (cr, block, width);
      int h;

      pango_layout_get_size (layout, NULL, &h);
      block->width = width;
      block->height = (double) h / PANGO_SCALE;
    }
}

/* Paragraphs below each other, photos two by two. */
int
ws_eaten_sheet_paginate (cairo_t *cr, double width, double height, gpointer data)
{
  WsEatenSheet *sheet = data;
  double x = 0, y = 0, row = 0;   /* row: height of the row of photos begun */
  int page = 0;

  for (guint i = 0; i < sheet->blocks->len; i++)
    {
      Block *block = g_ptr_array_index (sheet->blocks, i);

      measure (cr, block, width, height);
      if (x > 0 && (block->picture == NULL || x + block->width > width + 0.5))
        {
          y += row + GAP;
          x = row = 0;
        }
      if (y > 0 && y + block->height > height)
        {
          page++;
          x = y = row = 0;
        }
      block->page = page;
      block->x = x;
      block->y = y;
      if (block->picture != NULL)
        {
          x += block->width + GAP;
          row = MAX (row, block->height);
        }
      else
        y += block->height + GAP / 2;
    }
  return page + 1;
}

void
ws_eaten_sheet_draw (cairo_t *cr, int page, double width, double height, gpointer data)
{
  WsEatenSheet *sheet = data;

  for (guint i = 0; i < sheet->blocks->len; i++)
    {
      Block *block = g_ptr_array_index (sheet->blocks, i);

      if (block->page != page)
        continue;
      cairo_save (cr);
      cairo_translate (cr, block->x, block->y);
      if (block->picture != NULL)
        {
          cairo_scale (cr, block->width / cairo_image_surface_get_width (block->picture),
                       block->height / cairo_image_surface_get_height (block->picture));
          cairo_set_source_surface (cr, block->picture, 0, 0);
          cairo_paint (cr);
        }
      else
        {
          g_autoptr (PangoLayout) layout = make_layout (cr, block, width);

          cairo_set_source_rgb (cr, 0, 0, 0);
          pango_cairo_show_layout (cr, layout);
        }
      cairo_restore (cr);
    }
}
