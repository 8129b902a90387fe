/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-make.h"

#include "ws-blocking.h"
#include "ws-file.h"
#include "ws-record.h"

#include <langinfo.h>
#include <string.h>

/* Height of US Letter, mm; ISO and the rest use A4. */
#define LETTER_HEIGHT 279

/* --- What it is made of -------------------------------------------------------------------------- */

static GBytes *
figure_data (const char *form, char **name)
{
  *name = g_strdup_printf ("figures/%s.svg", form);
  return ws_desk_builtin_data (*name);
}

WsFigure *
ws_plate_load_figure (const char *growth_form, GError **error)
{
  g_autofree char *name = NULL, *unknown = NULL;
  g_autoptr (GBytes) bytes = *growth_form != '\0' ? figure_data (growth_form, &name) : NULL;

  if (bytes == NULL)
    {
      bytes = figure_data ("unknown", &unknown);
      return ws_figure_parse (unknown, bytes, error);
    }
  return ws_figure_parse (name, bytes, error);
}

WsRequest *
ws_plate_make_up (WsDesk *desk, const WsFind *find, WsTellPlace tell)
{
  WsRequest *request = ws_request_new ();

  request->made_us = g_get_real_time ();
  ws_set_string (&request->language, desk->language);
  ws_set_string (&request->knowledge_digest, ws_knowledge_get_digest (desk->knowledge));
  request->tell_place = tell;
  request->keep_time = TRUE;
  ws_find_unref (request->find);
  request->find = ws_request_dup_sendable_find (find, tell, TRUE, FALSE);
  request->place = request->find->where;
  return request;
}

GHashTable *
ws_plate_locate_photos (WsDesk *desk, const WsFind *find)
{
  GHashTable *paths = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;
      char *path = photo->set_aside ? NULL : ws_record_locate_photo (desk, photo, NULL);

      if (path != NULL)
        g_hash_table_insert (paths, g_strdup (photo->id), path);
    }
  return paths;
}

WsPaper
ws_plate_usual_paper (void)
{
  /* The C library hands the number over in the place of a pointer. */
  return GPOINTER_TO_INT (nl_langinfo (_NL_PAPER_HEIGHT)) == LETTER_HEIGHT ? WS_PAPER_LETTER : WS_PAPER_A4;
}

/* --- Crops that were chosen ------------------------------------------------------------------------ */

char *
ws_plate_choices_key (const char *find_id)
{
  return g_strconcat ("plate-crops:", find_id, NULL);
}

GHashTable *
ws_plate_choices_parse (const char *text)
{
  GHashTable *choices = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_auto (GStrv) words = g_strsplit (text != NULL ? text : "", " ", 64);

  for (guint i = 0; words[i] != NULL; i++)
    {
      char *sign = strchr (words[i], '=');

      if (sign != NULL && sign > words[i] && sign[1] != '\0')
        g_hash_table_insert (choices, g_strndup (words[i], (gsize) (sign - words[i])), g_strdup (sign + 1));
    }
  return choices;
}

char *
ws_plate_choices_to_text (GHashTable *choices)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GList) views = g_list_sort (g_hash_table_get_keys (choices), (GCompareFunc) strcmp);

  for (GList *l = views; l != NULL; l = l->next)
    g_string_append_printf (text, "%s%s=%s", text->len > 0 ? " " : "", (const char *) l->data,
                            (const char *) g_hash_table_lookup (choices, l->data));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

GHashTable *
ws_plate_load_choices (WsDesk *desk, const char *find_id)
{
  g_autofree char *key = ws_plate_choices_key (find_id), *text = ws_library_dup_setting (desk->library, key);

  return ws_plate_choices_parse (text);
}

/* --- Files ------------------------------------------------------------------------------------------ */

gboolean
ws_plate_save (WsDesk *desk, const char *find_id, const WsPlateOptions *options, const char *path, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsFigure) figure = find != NULL ? ws_plate_load_figure (ws_find_get_growth_form (find), error) : NULL;
  g_autoptr (WsRequest) request = NULL;
  g_autoptr (GHashTable) paths = NULL, choices = NULL;
  g_autoptr (GBytes) bytes = NULL;

  ws_blocking ("saving a plate");
  if (figure == NULL)
    return FALSE;
  request = ws_plate_make_up (desk, find, options->tell);
  paths = ws_plate_locate_photos (desk, find);
  choices = ws_plate_load_choices (desk, find->id);
  bytes = ws_plate_file_make (request, paths, desk->knowledge,
                              &(WsPlateWish) { figure, choices, options->paper, options->sideways }, options->format,
                              cancellable, error);
  return bytes != NULL && ws_file_write (path, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), error);
}
