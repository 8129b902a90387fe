/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-eaten-sheet.h"

#include "ws-intl.h"
#include "ws-record.h"
#include "ws-told-copy.h"
#include "ws-words.h"

/* Longer edge of a printed photo, px: 250 dpi over half a page. */
#define PHOTO_EDGE 1000
/* More would not be looked at on the way to the hospital. */
#define MAX_PHOTOS 24

const char *const ws_eaten_say[] = { "say_who", "say_when", "say_how_much", "say_illness", NULL };
const char *const ws_eaten_keep[] = { "keep_1", "keep_2", "keep_3", NULL };

void
ws_eaten_wish_free (WsEatenWish *wish)
{
  g_free (wish->find_id);
  g_free (wish->number);
  g_free (wish);
}

/* --- Making -------------------------------------------------------------------------------------- */

static void
add_texts (WsTextSheet *sheet, WsDesk *desk, const char *title, const char *const *ids)
{
  ws_text_sheet_add_text (sheet, title, 12, TRUE);
  for (guint i = 0; ids[i] != NULL; i++)
    ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "eaten", ids[i]), 10, FALSE);
}

/* A copy as it would leave: what is covered is painted over. NULL with an error. */
static cairo_surface_t *
copy_photo (WsDesk *desk, const WsFind *find, const WsPhoto *photo, GCancellable *cancellable, GError **error)
{
  g_autoptr (GHashTable) paths = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  const WsCopyOptions options = { .max_edge = PHOTO_EDGE, .quality = 85 };
  char *path = ws_record_locate_photo (desk, photo, error);

  if (path == NULL)
    return NULL;
  g_hash_table_insert (paths, photo->id, path);
  return ws_told_copy_load (find, photo, paths, options, cancellable, error);
}

static void
add_photo (WsTextSheet *sheet, WsDesk *desk, const WsFind *find, const WsPhoto *photo, GCancellable *cancellable)
{
  g_autoptr (GError) error = NULL;
  cairo_surface_t *picture = copy_photo (desk, find, photo, cancellable, &error);

  if (picture == NULL)
    ws_text_sheet_add_text (sheet, error->message, 9, FALSE);
  else
    ws_text_sheet_add_picture (sheet, picture);
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
add_find (WsTextSheet *sheet, WsDesk *desk, const WsFind *find, GCancellable *cancellable)
{
  g_autofree char *title = ws_words_find_title (find);
  g_autofree char *heading = g_strdup_printf (_("The find: %s"), title);
  g_autofree char *details = ws_words_find_details (find);
  g_autofree char *notes = ws_eaten_dup_notes (desk, find);
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  g_autofree char *lacking = ws_evidence_dup_summary (evidence, desk->knowledge, desk->language);

  ws_text_sheet_add_text (sheet, heading, 12, TRUE);
  ws_text_sheet_add_text (sheet, details, 10, FALSE);
  ws_text_sheet_add_text (sheet, lacking, 10, TRUE);
  ws_text_sheet_add_text (sheet, notes, 10, FALSE);
  ws_text_sheet_add_text (sheet, find->remarks, 10, FALSE);
  for (guint i = 0; i < MIN (find->photos->len, MAX_PHOTOS); i++)
    add_photo (sheet, desk, find, ((WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo, cancellable);
}

gpointer
ws_eaten_sheet_make (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsEatenWish *wish = data;
  g_autoptr (WsFind) find = wish->find_id != NULL ? ws_library_load_find (desk->library, wish->find_id, error) : NULL;
  WsTextSheet *sheet;
  const char *const firsts[] = { "call", "no_wait", "better" };

  if (wish->find_id != NULL && find == NULL)
    return NULL;
  sheet = ws_text_sheet_new ();
  ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "eaten", "title"), 18, TRUE);
  ws_text_sheet_add_text (sheet, wish->number, 22, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (firsts); i++)
    ws_text_sheet_add_text (sheet, ws_knowledge_text (desk->knowledge, desk->language, "eaten", firsts[i]), 11, i == 0);
  add_texts (sheet, desk, _("What to say"), ws_eaten_say);
  add_texts (sheet, desk, _("What to keep"), ws_eaten_keep);
  if (find != NULL)
    add_find (sheet, desk, find, cancellable);
  return sheet;
}
