/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The close-ups: the base, the underside, the side view, then all other marks. */
#include "ws-page-writer.h"

#include <math.h>

static const WsPackageCrop *
find_crop (const WsPage *page, const WsMark *mark)
{
  for (guint i = 0; i < page->crops->len; i++)
    {
      const WsPackageCrop *crop = g_ptr_array_index (page->crops, i);

      if (g_str_equal (crop->mark->id, mark->id))
        return crop;
    }
  return NULL;
}

static void
add_size (WsPage *page, const WsMark *mark)
{
  const WsMeasure *measure = &mark->measure;

  if (!measure->measured)
    return;
  g_string_append_printf (page->html, " <span class=\"aside\">%d ", measure->width_px);
  ws_page_text (page, ws_page_phrase (page, "across"));
  if (isfinite (measure->mm_per_pixel) && measure->mm_per_pixel > 0)
    {
      ws_page_raw (page, ", ");
      ws_page_number (page, measure->mm_per_pixel * measure->width_px, 0);
      ws_page_raw (page, " ");
      ws_page_text (page, ws_page_phrase (page, "wide"));
      ws_page_raw (page, ", ");
      ws_page_number (page, measure->mm_per_pixel * measure->height_px, 0);
      ws_page_raw (page, " ");
      ws_page_text (page, ws_page_phrase (page, "tall"));
    }
  ws_page_raw (page, "</span>");
}

int
ws_page_width_on_original (const WsPage *page, const WsPackageCrop *crop)
{
  const WsPhoto *photo = ws_find_get_photo (page->request->find, crop->mark->photo_id);
  int x, y, w, h;

  if (photo == NULL || photo->width <= 0 || photo->height <= 0)
    return 0;
  ws_rect_to_pixels (&crop->mark->shape->bounds, photo->width, photo->height, &x, &y, &w, &h);
  return w > crop->width ? w : 0;
}

static gboolean
serves_base (const WsPage *page, const WsMark *mark)
{
  const WsEvidenceLine *base = ws_evidence_get_base (page->evidence);

  return base != NULL && ws_mark_serves (mark, base->view->id);
}

static void
add_base_claim (WsPage *page, const WsMark *mark)
{
  ws_page_raw (page, "<br>");
  ws_page_text (page, ws_page_phrase (page, "base_question"));
  ws_page_raw (page, " ");
  ws_page_element (page, "q", NULL, *mark->base_kind != '\0' ? ws_page_word (page, "base_kind", mark->base_kind)
                                                             : ws_page_phrase (page, "base_unanswered"));
}

static void
add_caption (WsPage *page, const WsMark *mark)
{
  g_autofree char *reason = NULL;
  WsClarity clarity = ws_clarity_judge (mark, page->knowledge, page->language, &reason);

  ws_page_raw (page, "<figcaption>");
  ws_page_mark_link (page, mark);
  ws_page_raw (page, " ");
  ws_page_element (page, "b", NULL, ws_page_word (page, "part", mark->part));
  if (*mark->specimen != '\0')
    {
      ws_page_raw (page, " <span class=\"aside\">");
      ws_page_text (page, ws_page_phrase (page, "specimen"));
      ws_page_raw (page, " ");
      ws_page_text (page, mark->specimen);
      ws_page_raw (page, "</span>");
    }
  if (mark->whole_photo)
    {
      ws_page_raw (page, " ");
      ws_page_element (page, "span", "aside", ws_page_phrase (page, "whole_photo"));
    }
  add_size (page, mark);
  ws_page_raw (page, "<br>");
  ws_page_text (page, ws_page_word (page, "clarity", ws_clarity_id (clarity)));
  if (reason != NULL)
    {
      ws_page_raw (page, ": ");
      ws_page_text (page, reason);
    }
  if (serves_base (page, mark))
    add_base_claim (page, mark);
  if (*mark->remark != '\0')
    {
      ws_page_raw (page, "<br>");
      ws_page_text (page, ws_page_phrase (page, "remark"));
      ws_page_raw (page, ": ");
      ws_page_element (page, "q", NULL, mark->remark);
    }
  ws_page_raw (page, "</figcaption>");
}

/* A tick box makes the picture as large as it is, without a script. */
static void
add_crop (WsPage *page, const WsMark *mark)
{
  const WsPackageCrop *crop = find_crop (page, mark);
  g_autofree char *letter = ws_find_dup_mark_letter (page->request->find, mark);

  g_string_append_printf (page->html, "<figure class=\"closeup\" id=\"close-%s\">\n", letter);
  if (crop != NULL)
    {
      g_string_append_printf (page->html, "<input type=\"checkbox\" id=\"full-%s\"><label for=\"full-%s\">",
                              letter, letter);
      ws_page_text (page, ws_page_phrase (page, "full_size"));
      g_string_append_printf (page->html,
                              "</label>\n<div class=\"frame\"><img width=\"%d\" height=\"%d\" alt=\"", crop->width,
                              crop->height);
      ws_page_text (page, ws_page_word (page, "part", mark->part));
      ws_page_raw (page, "\" src=\"");
      ws_page_picture (page, crop->jpeg);
      ws_page_raw (page, "\"></div>\n");
      if (ws_page_width_on_original (page, crop) > 0)
        {
          ws_page_raw (page, "<p class=\"reduced\">");
          ws_page_text (page, ws_page_phrase (page, "reduced_part"));
          g_string_append_printf (page->html, " %d</p>\n", ws_page_width_on_original (page, crop));
        }
    }
  add_caption (page, mark);
  ws_page_raw (page, "\n</figure>\n");
}

/* The marks that serve @view, unless they stand on the page already. */
static void
add_view (WsPage *page, const char *view, GHashTable *done)
{
  const WsEvidenceLine *line = ws_evidence_get_line (page->evidence, view);

  if (line == NULL)
    return;
  ws_page_raw (page, "<div>\n");
  ws_page_element (page, "h3", NULL, ws_page_word (page, "view", view));
  if (line->marks->len == 0)
    ws_page_element (page, "p", "gap", ws_page_phrase (page, "not_marked"));
  for (guint i = 0; i < line->marks->len; i++)
    {
      WsMark *mark = g_ptr_array_index (line->marks, i);

      if (g_hash_table_add (done, mark))
        add_crop (page, mark);
    }
  ws_page_raw (page, "</div>\n");
}

static void
add_others (WsPage *page, GHashTable *done)
{
  GPtrArray *marks = page->request->find->marks;
  gboolean begun = FALSE;

  for (guint i = 0; i < marks->len; i++)
    {
      WsMark *mark = g_ptr_array_index (marks, i);

      if (!g_hash_table_add (done, mark))
        continue;
      if (!begun)
        {
          ws_page_begin_section (page, "other-parts", ws_page_phrase (page, "other_parts"));
          ws_page_raw (page, "<div class=\"closeups\">\n");
        }
      begun = TRUE;
      add_crop (page, mark);
    }
  if (begun)
    ws_page_raw (page, "</div>\n</section>\n");
}

void
ws_page_add_first_closeups (WsPage *page)
{
  const WsEvidenceLine *base = ws_evidence_get_base (page->evidence);

  ws_page_begin_section (page, "closeups", ws_page_phrase (page, "closeups"));
  ws_page_element (page, "p", "hint", ws_page_phrase (page, "hint_full_size"));
  ws_page_raw (page, "\n<div class=\"closeups telling\">\n");
  if (base != NULL)
    add_view (page, base->view->id, page->done);
  add_view (page, "v_under", page->done);
  add_view (page, "v_stem", page->done);
  ws_page_raw (page, "</div>\n</section>\n");
}

void
ws_page_add_other_closeups (WsPage *page)
{
  add_others (page, page->done);
}
