/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos with the marks drawn over them. */
#include "ws-page-writer.h"

/* The drawing over a photo is this wide, in units of its own. */
#define UNITS 1000.0

static void
add_attribute (WsPage *page, const char *name, double number)
{
  g_string_append_printf (page->html, " %s=\"", name);
  ws_page_number (page, number, 2);
  ws_page_raw (page, "\"");
}

static void
add_points (WsPage *page, const WsShape *shape, double height)
{
  ws_page_raw (page, "<polygon points=\"");
  for (guint i = 0; i < shape->n_points; i++)
    {
      ws_page_raw (page, i > 0 ? " " : "");
      ws_page_number (page, shape->points[i].x * UNITS, 2);
      ws_page_raw (page, ",");
      ws_page_number (page, shape->points[i].y * height, 2);
    }
  ws_page_raw (page, "\"/>");
}

static void
add_outline (WsPage *page, const WsShape *shape, double height)
{
  const WsRect *bounds = &shape->bounds;

  if (shape->kind == WS_SHAPE_OUTLINE)
    {
      add_points (page, shape, height);
      return;
    }
  ws_page_raw (page, shape->kind == WS_SHAPE_OVAL ? "<ellipse" : "<rect");
  if (shape->kind == WS_SHAPE_OVAL)
    {
      add_attribute (page, "cx", (bounds->x + bounds->width / 2) * UNITS);
      add_attribute (page, "cy", (bounds->y + bounds->height / 2) * height);
      add_attribute (page, "rx", bounds->width / 2 * UNITS);
      add_attribute (page, "ry", bounds->height / 2 * height);
    }
  else
    {
      add_attribute (page, "x", bounds->x * UNITS);
      add_attribute (page, "y", bounds->y * height);
      add_attribute (page, "width", bounds->width * UNITS);
      add_attribute (page, "height", bounds->height * height);
    }
  ws_page_raw (page, "/>");
}

/* The line twice: a broad pale one below, so that the thin dark one is seen on any ground. */
static void
add_mark (WsPage *page, const WsMark *mark, double height)
{
  g_autofree char *letter = ws_find_dup_mark_letter (page->request->find, mark);
  const WsRect *bounds = &mark->shape->bounds;

  g_string_append_printf (page->html, "<g id=\"mark-%s\">", letter);
  if (!mark->whole_photo)
    {
      ws_page_raw (page, "<g class=\"ground\">");
      add_outline (page, mark->shape, height);
      ws_page_raw (page, "</g><g class=\"line\">");
      add_outline (page, mark->shape, height);
      ws_page_raw (page, "</g>");
    }
  ws_page_raw (page, "<text");
  add_attribute (page, "x", CLAMP (bounds->x * UNITS + 12, 12, UNITS - 40));
  add_attribute (page, "y", CLAMP (bounds->y * height + 42, 42, height - 12));
  ws_page_raw (page, ">");
  ws_page_text (page, letter);
  ws_page_raw (page, "</text></g>");
}

static void
add_visit (WsPage *page, const WsPackagePhoto *sent)
{
  const WsFindPhoto *link = ws_package_photo_get_link (sent, page->request->find);

  if (link == NULL)
    return;
  if (*link->specimen != '\0')
    {
      ws_page_raw (page, " · ");
      ws_page_text (page, ws_page_phrase (page, "specimen"));
      ws_page_raw (page, " ");
      ws_page_text (page, link->specimen);
    }
  if (g_str_equal (link->visit, "same") || g_str_equal (link->visit, "another"))
    {
      ws_page_raw (page, " · ");
      ws_page_text (page, ws_page_phrase (page, link->visit[0] == 's' ? "visit_same" : "visit_another"));
    }
}

static void
add_photo_caption (WsPage *page, const WsPackagePhoto *sent, guint number)
{
  const WsPhoto *photo = sent->photo;
  g_autofree char *when = page->request->keep_time ? ws_moment_iso (&photo->taken) : ws_moment_date (&photo->taken);
  g_autofree char *file = g_path_get_basename (sent->name);
  GPtrArray *marks = page->request->find->marks;

  ws_page_raw (page, "<figcaption><b>");
  ws_page_text (page, ws_page_phrase (page, "photo"));
  g_string_append_printf (page->html, " %u</b> <span class=\"aside\">", number);
  ws_page_text (page, file);
  if (when != NULL)
    {
      ws_page_raw (page, " · ");
      ws_page_text (page, when);
    }
  add_visit (page, sent);
  if (page->request->keep_camera && *photo->model != '\0')
    {
      ws_page_raw (page, " · ");
      ws_page_text (page, ws_page_phrase (page, "camera"));
      ws_page_raw (page, " ");
      ws_page_text (page, photo->model);
    }
  ws_page_raw (page, "</span>");
  if (ws_package_photo_is_reduced (sent))
    {
      ws_page_raw (page, "<br><span class=\"reduced\">");
      ws_page_text (page, ws_page_phrase (page, "reduced_photo"));
      g_string_append_printf (page->html, " %d × %d px</span>", photo->width, photo->height);
    }
  for (guint i = 0; i < marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (marks, i);

      if (!g_str_equal (mark->photo_id, photo->id))
        continue;
      ws_page_raw (page, "<br>");
      ws_page_mark_link (page, mark);
      ws_page_raw (page, " ");
      ws_page_text (page, ws_page_word (page, "part", mark->part));
    }
  ws_page_raw (page, "</figcaption>");
}

/* Works without a script. */
static void
add_switch (WsPage *page, const char *css_class, guint number, const char *phrase)
{
  g_string_append_printf (page->html, "<input type=\"checkbox\" class=\"%s\" id=\"%s-%u\"><label for=\"%s-%u\">", css_class, css_class,
                          number, css_class, number);
  ws_page_text (page, ws_page_phrase (page, phrase));
  ws_page_raw (page, "</label>\n");
}

static void
add_photo (WsPage *page, const WsPackagePhoto *sent, guint number)
{
  double height = sent->width > 0 ? UNITS * sent->height / sent->width : UNITS;
  GPtrArray *marks = page->request->find->marks;

  ws_page_raw (page, "<figure class=\"photo\">\n");
  add_switch (page, "no-marks", number, "hide_marks");
  add_switch (page, "zoom", number, "zoom");
  ws_page_raw (page, "<div class=\"sheet\"><div class=\"inner\"><img alt=\"");
  ws_page_text (page, ws_page_phrase (page, "photo"));
  g_string_append_printf (page->html, " %u\" width=\"%d\" height=\"%d\" src=\"", number, sent->width, sent->height);
  ws_page_picture (page, sent->page_jpeg);
  ws_page_raw (page, "\">\n<svg viewBox=\"0 0 1000 ");
  ws_page_number (page, height, 2);
  ws_page_raw (page, "\" aria-hidden=\"true\">");
  for (guint i = 0; i < marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (marks, i);

      if (g_str_equal (mark->photo_id, sent->photo->id))
        add_mark (page, mark, height);
    }
  ws_page_raw (page, "</svg></div></div>\n");
  add_photo_caption (page, sent, number);
  ws_page_raw (page, "\n</figure>\n");
}

static gboolean
is_anything_reduced (const WsPage *page)
{
  for (guint i = 0; i < page->photos->len; i++)
    if (ws_package_photo_is_reduced (g_ptr_array_index (page->photos, i)))
      return TRUE;
  for (guint i = 0; i < page->crops->len; i++)
    if (ws_page_width_on_original (page, g_ptr_array_index (page->crops, i)) > 0)
      return TRUE;
  return FALSE;
}

void
ws_page_add_photos (WsPage *page)
{
  ws_page_begin_section (page, "photos", ws_page_phrase (page, "photos"));
  if (page->photos->len == 0)
    ws_page_element (page, "p", "gap", ws_page_phrase (page, "no_photos"));
  if (is_anything_reduced (page))
    ws_page_element (page, "p", "hint", ws_page_phrase (page, "reduced"));
  if (page->request->find->covers->len > 0)
    ws_page_element (page, "p", "hint", ws_page_phrase (page, "covered"));
  ws_page_raw (page, "\n<div class=\"photos\">\n");
  for (guint i = 0; i < page->photos->len; i++)
    add_photo (page, g_ptr_array_index (page->photos, i), i + 1);
  ws_page_raw (page, "</div>\n</section>\n");
}
