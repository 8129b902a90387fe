/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-go-back-work.h"

#include "ws-file.h"
#include "ws-intl.h"
#include "ws-pocket-page.h"
#include "ws-words.h"

WsGoBackWish *
ws_go_back_wish_new (gint64 now_us, const char *path)
{
  WsGoBackWish *wish = g_new0 (WsGoBackWish, 1);

  wish->now_us = now_us;
  wish->path = g_strdup (path);
  return wish;
}

void
ws_go_back_wish_free (WsGoBackWish *wish)
{
  g_free (wish->path);
  g_free (wish);
}

gint64
ws_go_back_now (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  return g_date_time_to_unix (now) * G_USEC_PER_SEC + g_date_time_get_utc_offset (now);
}

static GPtrArray *
load_list (WsDesk *desk, gint64 now_us, GError **error)
{
  g_autoptr (GPtrArray) forays = ws_library_load_forays (desk->library, error);
  g_autoptr (GPtrArray) finds = forays != NULL ? ws_library_load_finds (desk->library, NULL, error) : NULL;

  return finds != NULL ? ws_go_back_list (finds, forays, desk->knowledge, desk->language, now_us) : NULL;
}

/* --- Words -------------------------------------------------------------------------------------------------- */

GPtrArray *
ws_go_back_dup_lines (const WsGoBackFind *find, gint64 now_us, const WsKnowledge *knowledge, const char *language)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *head = NULL;

  for (guint i = 0; i < find->lines->len; i++)
    {
      const WsGoBackLine *line = &g_array_index (find->lines, WsGoBackLine, i);
      g_autofree char *when = ws_go_back_dup_when (line, now_us, knowledge, language);
      g_autofree char *next = g_strdup_printf ("%s, %s", when, ws_knowledge_text (knowledge, language, "go_back",
                                                                                   line->where == WS_GO_BACK_KEPT ? "kept" : "spot"));
      const char *view = ws_knowledge_text (knowledge, language, "view", line->line->view->id);

      if (g_strcmp0 (head, next) == 0)
        {
          char *before = g_ptr_array_index (lines, lines->len - 1);

          g_ptr_array_index (lines, lines->len - 1) = g_strdup_printf ("%s, %s", before, view);
          g_free (before);
        }
      else
        g_ptr_array_add (lines, g_strdup_printf ("%s: %s", next, view));
      g_free (head);
      head = g_steal_pointer (&next);
    }
  return lines;
}

/* --- Paper --------------------------------------------------------------------------------------------------- */

static void
add_find (WsTextSheet *sheet, WsDesk *desk, const WsGoBackFind *entry, gint64 now_us)
{
  g_autofree char *title = ws_words_find_title (entry->evidence->find);
  g_autofree char *date = ws_moment_date (&entry->evidence->find->when);
  g_autofree char *details = ws_words_find_details (entry->evidence->find);
  g_autofree char *where = ws_words_place_people (entry->foray);
  g_autofree char *place = g_strjoin (" · ", date != NULL ? date : where, date != NULL && where[0] != '\0' ? where : NULL, NULL);
  g_autoptr (GPtrArray) lines = ws_go_back_dup_lines (entry, now_us, desk->knowledge, desk->language);

  ws_text_sheet_add_text (sheet, title, 12, TRUE);
  ws_text_sheet_add_text (sheet, place, 9, FALSE);
  ws_text_sheet_add_text (sheet, details, 9, FALSE);
  ws_text_sheet_add_text (sheet, ws_go_back_get_touch_warning (entry->evidence, desk->knowledge, desk->language), 10, TRUE);
  for (guint i = 0; i < lines->len; i++)
    {
      g_autofree char *line = g_strconcat ("— ", g_ptr_array_index (lines, i), NULL);

      ws_text_sheet_add_text (sheet, line, 10, FALSE);
    }
}

gpointer
ws_go_back_make_sheet (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const WsGoBackWish *wish = data;
  g_autoptr (GPtrArray) list = load_list (desk, wish->now_us, error);
  WsTextSheet *sheet;

  if (list == NULL)
    return NULL;
  sheet = ws_text_sheet_new ();
  ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "go_back", "title"), 18, TRUE);
  ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "go_back", list->len > 0 ? "intro" : "none"), 10, FALSE);
  for (guint i = 0; i < list->len; i++)
    add_find (sheet, desk, g_ptr_array_index (list, i), wish->now_us);
  ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "go_back", "keep"), 9, FALSE);
  ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "caution", "photos_never"), 9, FALSE);
  return sheet;
}

/* --- The pocket ------------------------------------------------------------------------------------------------ */

gpointer
ws_go_back_save_page (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const WsGoBackWish *wish = data;
  g_autoptr (GPtrArray) list = load_list (desk, wish->now_us, error);
  g_autoptr (GBytes) page = list != NULL ? ws_pocket_page (list, wish->now_us, desk->knowledge, desk->language) : NULL;

  if (page == NULL || !ws_file_write (wish->path, g_bytes_get_data (page, NULL), g_bytes_get_size (page), error))
    return NULL;
  return g_strdup (wish->path);
}
