/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-session-load.h"

#include "ws-error.h"
#include "ws-session.h"

static const char *const setting_keys[] = {
  WS_SETTING_MY_NAME, WS_SETTING_POISON_NUMBER, WS_SETTING_MIRRORED, WS_SETTING_TECHNICAL,
  WS_SETTING_FIRST_ASKED, WS_SETTING_COLOURS_UNSURE, WS_SETTING_ASK_TO, WS_SETTING_TELL_PLACE, WS_SETTING_REGION,
};

void
ws_loaded_find_free (WsLoadedFind *loaded)
{
  g_clear_pointer (&loaded->evidence, ws_evidence_free);
  ws_find_unref (loaded->find);
  ws_foray_unref (loaded->foray);
  g_free (loaded->stamp);
  g_free (loaded);
}

void
ws_loaded_free (WsLoaded *loaded)
{
  g_clear_pointer (&loaded->finds, g_ptr_array_unref);
  g_clear_pointer (&loaded->unsorted, g_ptr_array_unref);
  g_clear_pointer (&loaded->requests, g_ptr_array_unref);
  g_clear_pointer (&loaded->settings, g_hash_table_unref);
  g_clear_pointer (&loaded->figures, g_hash_table_unref);
  g_free (loaded->undo);
  g_free (loaded->redo);
  g_free (loaded);
}

/* --- The stamp: whatever a page may show of a find goes in ------------------------------- */

static void
stamp_text (GChecksum *sum, const char *text)
{
  g_checksum_update (sum, (const guchar *) (text != NULL ? text : ""), -1);
  g_checksum_update (sum, (const guchar *) "\0", 1);
}

static void
stamp_texts (GChecksum *sum, char **texts)
{
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    stamp_text (sum, texts[i]);
  stamp_text (sum, NULL);
}

static void
stamp_number (GChecksum *sum, double number)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  stamp_text (sum, g_ascii_dtostr (buffer, sizeof buffer, number));
}

static void
stamp_moment (GChecksum *sum, const WsMoment *moment)
{
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT " %d %d %d", moment->local_us,
                                           moment->offset_minutes, moment->offset_source,
                                           moment->correction_seconds);

  stamp_text (sum, text);
}

static void
stamp_position (GChecksum *sum, const WsPosition *position)
{
  stamp_number (sum, position->latitude);
  stamp_number (sum, position->longitude);
  stamp_number (sum, position->error_m);
  stamp_number (sum, position->altitude);
  stamp_number (sum, position->source);
}

static void
stamp_photo (GChecksum *sum, const WsFindPhoto *link)
{
  const WsPhoto *photo = link->photo;

  stamp_text (sum, photo->id);
  stamp_text (sum, photo->path);
  stamp_text (sum, photo->digest);
  stamp_text (sum, photo->copy_of);
  stamp_text (sum, photo->warnings);
  stamp_number (sum, photo->kind);
  stamp_number (sum, photo->set_aside);
  stamp_moment (sum, &photo->taken);
  stamp_position (sum, &photo->position);
  stamp_number (sum, link->position);
  stamp_text (sum, link->specimen);
  stamp_text (sum, link->visit);
}

static void
stamp_mark (GChecksum *sum, const WsMark *mark)
{
  g_autofree char *shape = ws_shape_to_text (mark->shape);

  stamp_text (sum, mark->id);
  stamp_text (sum, mark->photo_id);
  stamp_text (sum, mark->part);
  stamp_texts (sum, mark->views);
  stamp_text (sum, shape);
  stamp_number (sum, mark->whole_photo);
  stamp_text (sum, mark->specimen);
  stamp_text (sum, mark->base_kind);
  stamp_text (sum, mark->remark);
  stamp_number (sum, mark->measure.measured);
  stamp_number (sum, mark->measure.width_px);
  stamp_number (sum, mark->measure.blur_sigma);
  stamp_number (sum, mark->measure.burnt_out);
  stamp_number (sum, mark->measure.blocked_up);
  stamp_number (sum, mark->measure.mm_per_pixel);
}

static void
stamp_note (GChecksum *sum, const WsNote *note)
{
  stamp_text (sum, note->id);
  stamp_text (sum, note->character);
  stamp_texts (sum, note->states);
  stamp_number (sum, note->sure);
  stamp_number (sum, note->off_photo);
  stamp_text (sum, note->specimen);
  stamp_text (sum, note->observer);
  stamp_text (sum, note->mark_id);
}

static void
stamp_arrays (GChecksum *sum, const WsFind *find)
{
  for (guint i = 0; i < find->photos->len; i++)
    stamp_photo (sum, g_ptr_array_index (find->photos, i));
  stamp_text (sum, "marks");
  for (guint i = 0; i < find->marks->len; i++)
    stamp_mark (sum, g_ptr_array_index (find->marks, i));
  stamp_text (sum, "notes");
  for (guint i = 0; i < find->notes->len; i++)
    stamp_note (sum, g_ptr_array_index (find->notes, i));
  stamp_text (sum, "excuses");
  for (guint i = 0; i < find->excuses->len; i++)
    {
      const WsExcuse *excuse = g_ptr_array_index (find->excuses, i);

      stamp_text (sum, excuse->view);
      stamp_text (sum, excuse->reason);
    }
  stamp_text (sum, "covers");
  for (guint i = 0; i < find->covers->len; i++)
    {
      const WsCover *cover = g_ptr_array_index (find->covers, i);
      g_autofree char *shape = ws_shape_to_text (cover->shape);

      stamp_text (sum, cover->id);
      stamp_text (sum, cover->photo_id);
      stamp_text (sum, shape);
    }
}

static char *
make_stamp (const WsFind *find, const WsForay *foray)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA1);
  const char *const texts[] = { find->id, find->number, find->foray_id, find->field_name, find->locality,
                                find->remarks, find->only_mine, foray != NULL ? foray->date : "",
                                foray != NULL ? foray->place : "", foray != NULL ? foray->people : "" };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    stamp_text (sum, texts[i]);
  stamp_moment (sum, &find->when);
  stamp_position (sum, &find->where);
  stamp_number (sum, find->specimen_is);
  stamp_arrays (sum, find);
  return g_strdup (g_checksum_get_string (sum));
}

/* --- Loading ----------------------------------------------------------------------------------- */

static WsLoadedFind *
judge (WsDesk *desk, const WsFind *find, const WsForay *foray)
{
  WsLoadedFind *loaded = g_new0 (WsLoadedFind, 1);

  loaded->find = ws_find_ref (find);
  loaded->foray = foray != NULL ? ws_foray_ref (foray) : NULL;
  loaded->evidence = ws_evidence_judge (find, desk->knowledge, desk->language);
  loaded->stamp = make_stamp (find, foray);
  return loaded;
}

static gboolean
load_finds (WsDesk *desk, WsLoaded *loaded, GError **error)
{
  g_autoptr (GPtrArray) forays = ws_library_load_forays (desk->library, error);
  g_autoptr (GPtrArray) finds = forays != NULL ? ws_library_load_finds (desk->library, NULL, error) : NULL;
  g_autoptr (GHashTable) by_id = g_hash_table_new (g_str_hash, g_str_equal);

  if (finds == NULL)
    return FALSE;
  for (guint i = 0; i < forays->len; i++)
    {
      WsForay *foray = g_ptr_array_index (forays, i);

      g_hash_table_insert (by_id, foray->id, foray);
    }
  for (guint i = 0; i < finds->len; i++)
    {
      const WsFind *find = g_ptr_array_index (finds, i);
      const WsForay *foray = find->foray_id != NULL ? g_hash_table_lookup (by_id, find->foray_id) : NULL;

      g_ptr_array_add (loaded->finds, judge (desk, find, foray));
    }
  return TRUE;
}

/* A figure that cannot be read leaves its place empty on the page; that is said in the log, not to the finder. */
static void
load_figure (GHashTable *figures, const char *form, const char *file)
{
  g_autofree char *name = g_strdup_printf ("figures/%s.svg", file);
  g_autoptr (GBytes) bytes = ws_desk_builtin_data (name);
  g_autoptr (GError) error = NULL;
  WsFigure *figure = bytes != NULL ? ws_figure_parse (name, bytes, &error) : NULL;

  if (figure != NULL)
    g_hash_table_insert (figures, g_strdup (form), figure);
  else
    g_message ("%s", error != NULL ? error->message : name);
}

static GHashTable *
load_figures (WsDesk *desk)
{
  GHashTable *figures = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) ws_figure_unref);
  GPtrArray *forms = ws_knowledge_get_growth_forms (desk->knowledge);

  load_figure (figures, "", "unknown");
  for (guint i = 0; i < forms->len; i++)
    {
      const char *id = ((WsGrowthForm *) g_ptr_array_index (forms, i))->id;

      load_figure (figures, id, id);
    }
  return figures;
}

gpointer
ws_loaded_load (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const WsLoadWish *wish = data;
  WsLoaded *loaded = g_new0 (WsLoaded, 1);

  loaded->edits = wish->edits;
  loaded->finds = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_loaded_find_free);
  loaded->settings = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  if (!load_finds (desk, loaded, error)
      || (loaded->unsorted = ws_library_load_unsorted (desk->library, error)) == NULL
      || (loaded->requests = ws_library_load_requests (desk->library, error)) == NULL)
    {
      ws_loaded_free (loaded);
      return NULL;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (setting_keys); i++)
    {
      char *value = ws_library_dup_setting (desk->library, setting_keys[i]);

      if (value != NULL)
        g_hash_table_insert (loaded->settings, g_strdup (setting_keys[i]), value);
    }
  ws_library_peek_undo (desk->library, &loaded->undo, &loaded->redo);
  if (wish->figures)
    loaded->figures = load_figures (desk);
  return loaded;
}

WsLoadedFind *
ws_loaded_find_load (WsDesk *desk, const char *id, WsForay *foray, GError **error)
{
  g_autoptr (GError) local = NULL;
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, id, &local);

  if (find != NULL)
    return judge (desk, find, foray);
  if (!g_error_matches (local, WS_ERROR, WS_ERROR_NOT_FOUND))
    g_propagate_error (error, g_steal_pointer (&local));
  return NULL;
}
