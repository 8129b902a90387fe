/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-text-sheet.h"

#include <pango/pangocairo.h>

#define GAP 8.0            /* points between blocks */
#define PICTURE_SHARE 0.32 /* of the page's height, at most */

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

struct _WsTextSheet
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

WsTextSheet *
ws_text_sheet_new (void)
{
  WsTextSheet *sheet = g_new0 (WsTextSheet, 1);

  sheet->blocks = g_ptr_array_new_with_free_func (block_free);
  return sheet;
}

void
ws_text_sheet_free (WsTextSheet *sheet)
{
  g_ptr_array_unref (sheet->blocks);
  g_free (sheet);
}

void
ws_text_sheet_add_text (WsTextSheet *sheet, const char *text, double size, gboolean bold)
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

void
ws_text_sheet_add_picture (WsTextSheet *sheet, cairo_surface_t *picture)
{
  Block *block = g_new0 (Block, 1);

  block->picture = picture;
  g_ptr_array_add (sheet->blocks, block);
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
ws_text_sheet_paginate (cairo_t *cr, double width, double height, gpointer data)
{
  WsTextSheet *sheet = data;
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
ws_text_sheet_draw (cairo_t *cr, int page, double width, double height, gpointer data)
{
  WsTextSheet *sheet = data;

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
