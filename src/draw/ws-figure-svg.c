/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-svg.h"

#include "ws-figure-private.h"

#include <string.h>

static void
add_number (GString *svg, double number)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (text, sizeof text, "%.1f", number);
  if (g_str_has_suffix (text, ".0"))
    text[strlen (text) - 2] = '\0';
  g_string_append (svg, text);
}

static void
add_data (GString *svg, const FigurePath *path)
{
  for (guint i = 0; i < path->data->len;)
    {
      const cairo_path_data_t *item = &g_array_index (path->data, cairo_path_data_t, i);

      g_string_append_c (svg, "MLCZ"[item->header.type]);
      for (int k = 1; k < item->header.length; k++)
        {
          g_string_append (svg, k > 1 ? " " : "");
          add_number (svg, item[k].point.x);
          g_string_append_c (svg, ' ');
          add_number (svg, item[k].point.y);
        }
      i += (guint) item->header.length;
    }
}

static const char *
state_class (const WsFigureLook *look, const char *part)
{
  static const char *const classes[] = { "missing", "weak", "shown" };

  if (look->is_asked != NULL && !look->is_asked (part, look->data))
    return "faint";
  return look->state_of != NULL ? classes[look->state_of (part, look->data)] : "shown";
}

void
ws_figure_add_svg (const WsFigure *figure, const WsFigureLook *look, const char *label, GString *svg)
{
  g_autofree char *escaped = g_markup_escape_text (label, -1);
  const char *base = ws_figure_base_variant (figure, look->base);

  g_string_append (svg, "<svg class=\"specimen\" role=\"img\" aria-label=\"");
  g_string_append_printf (svg, "%s\" viewBox=\"0 0 ", escaped);
  add_number (svg, figure->width);
  g_string_append_c (svg, ' ');
  add_number (svg, figure->height);
  g_string_append (svg, "\">\n");
  for (guint i = 0; i < figure->paths->len; i++)
    {
      const FigurePath *path = g_ptr_array_index (figure->paths, i);
      const char *part = g_ptr_array_index (figure->names, path->part);

      if (!ws_figure_path_is_drawn (path, base))
        continue;
      g_string_append_printf (svg, "<path data-part=\"%s\" class=\"%s%s %s\" d=\"", part,
                              path->flags & FIGURE_OUTLINE ? "outline" : path->flags & FIGURE_EDGE ? "edge" : "detail",
                              path->flags & FIGURE_OPEN ? " open" : "", state_class (look, part));
      add_data (svg, path);
      g_string_append (svg, "\"/>\n");
    }
  g_string_append (svg, "</svg>\n");
}
