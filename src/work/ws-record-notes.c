/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Notes. */
#include "ws-record.h"

#include "ws-error.h"
#include "ws-groups.h"
#include "ws-id.h"
#include "ws-intl.h"
#include "ws-record-private.h"

static gboolean
check_states (const WsCharacter *character, const char *const *states, GError **error)
{
  if (character->free_text)
    return TRUE;
  if (states[0] != NULL && states[1] != NULL && !character->several)
    return ws_record_invalid (error, _("%s takes one state; of two observations record each with its specimen"),
                              character->id);
  for (guint i = 0; states[i] != NULL; i++)
    if (!ws_character_has_state (character, states[i]))
      {
        g_autoptr (GPtrArray) known = g_ptr_array_copy (character->states, NULL, NULL);
        g_autofree char *list = NULL;

        g_ptr_array_add (known, NULL);
        list = g_strjoinv (", ", (char **) known->pdata);
        return ws_record_invalid (error, _("%s has no state “%s”; the states are %s"), character->id, states[i], list);
      }
  return TRUE;
}

static const WsCharacter *
find_character (WsDesk *desk, const char *id, GError **error)
{
  const WsCharacter *character = ws_knowledge_find_character (desk->knowledge, id);

  if (character == NULL)
    {
      GString *list = g_string_new (NULL);
      GPtrArray *all = ws_knowledge_get_characters (desk->knowledge);

      for (guint i = 0; i < all->len; i++)
        g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", ((WsCharacter *) g_ptr_array_index (all, i))->id);
      ws_record_invalid (error, _("There is no character “%s”; there are %s"), id, list->str);
      g_string_free (list, TRUE);
    }
  return character;
}

/* A free text is one state, bars and all. */
static char **
free_states (const char *text)
{
  const char *one[] = { text, NULL };

  return g_strdupv ((char **) one);
}

/* Whoever does not see colours reliably notes them as unsure, and says who noted them. */
static gboolean
doubt_colours (WsDesk *desk, const WsCharacter *character, const char *me, WsNote *note, GError **error)
{
  g_autofree char *setting = ws_library_dup_setting (desk->library, "colours-unsure");

  if (!character->colour || g_strcmp0 (setting, "yes") != 0 || !g_str_equal (note->observer, me))
    return TRUE;
  note->sure = FALSE;
  return note->observer[0] != '\0' ||
         ws_record_invalid (error, _("A note of a colour names who saw it, because you do not see colours reliably: "
                                     "enter your name in the settings"));
}

/* TRUE when the note can stand as it is; a mark it was read off is one of the find. */
static gboolean
check_note (WsDesk *desk, const WsFind *find, const WsCharacter *character, const WsNote *note, GError **error)
{
  if (!check_states (character, (const char *const *) note->states, error))
    return FALSE;
  if (note->mark_id != NULL && ws_find_get_mark (find, note->mark_id) == NULL)
    return ws_record_invalid (error, _("The find %s has no mark %s"), find->number, note->mark_id);
  for (guint i = 0; note->answers[i] != NULL; i++)
    if (ws_knowledge_find_means (desk->knowledge, note->answers[i]) == NULL)
      return ws_record_invalid (error, _("There is no question “%s”"), note->answers[i]);
  return TRUE;
}

static const WsNote *
note_with_id (const WsFind *find, const char *id)
{
  for (guint i = 0; i < find->notes->len; i++)
    if (g_str_equal (((const WsNote *) g_ptr_array_index (find->notes, i))->id, id))
      return g_ptr_array_index (find->notes, i);
  return NULL;
}

/* The note that @note replaces: the one with its id, else the one taken at the same time. */
static const WsNote *
note_before (const WsFind *find, const WsNote *note)
{
  return note->id[0] != '\0' ? note_with_id (find, note->id)
                             : ws_find_get_note_at (find, note->character, note->specimen, note->observer,
                                                    note->observed, note->minutes);
}

/* The note as it is stored. NULL with @error set. */
static WsNote *
complete_note (WsDesk *desk, const WsFind *find, const WsNote *given, GError **error)
{
  g_autofree char *my_name = ws_library_dup_setting (desk->library, "my-name");
  const char *me = my_name != NULL ? my_name : "";
  const WsCharacter *character = find_character (desk, given->character, error);
  g_autoptr (WsNote) note = ws_note_copy (given);
  const WsNote *before;
  g_autofree char *id = ws_id_new ();

  if (character == NULL)
    return NULL;
  if (note->observer[0] == '\0')
    ws_set_string (&note->observer, me);
  /* An empty free text is no state. */
  if (note->states[0] != NULL && note->states[0][0] == '\0')
    g_clear_pointer (&note->states[0], g_free);
  note->sure = note->sure && !note->off_photo;
  if (!doubt_colours (desk, character, me, note, error) || !check_note (desk, find, character, note, error))
    return NULL;
  before = note_before (find, note);
  ws_set_string (&note->id, before != NULL ? before->id : id);
  note->created_us = g_get_real_time ();
  return g_steal_pointer (&note);
}

char *
ws_record_whole_note (WsDesk *desk, const char *find_id, const WsNote *given, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (WsNote) note = find != NULL ? complete_note (desk, find, given, error) : NULL;
  g_autofree char *label = NULL;
  gboolean remove;
  WsAction *action;

  if (note == NULL)
    return NULL;
  remove = note->states[0] == NULL && note->text[0] == '\0';
  label = g_strdup_printf (_("Note: %s"),
                           ws_knowledge_text (desk->knowledge, desk->language, "character", note->character));
  action = ws_action_new (label);
  if (!remove)
    ws_action_put_note (action, find->id, note);
  else if (note_with_id (find, note->id) != NULL)
    ws_action_remove_note (action, note->id);
  if (!ws_library_apply (desk->library, action, error))
    return NULL;
  return g_strdup (remove ? "" : note->id);
}

gboolean
ws_record_note (WsDesk *desk, const char *find_id, const char *character_id, const char *states, gboolean sure,
                gboolean off_photo, const char *specimen, GError **error)
{
  g_autoptr (WsNote) note = ws_note_new ();
  const WsCharacter *character = find_character (desk, character_id, error);
  g_autofree char *id = NULL;

  if (character == NULL)
    return FALSE;
  g_strfreev (note->states);
  note->states = character->free_text ? free_states (states) : g_strsplit (states, "|", -1);
  ws_set_string (&note->character, character_id);
  ws_set_string (&note->specimen, specimen);
  note->off_photo = off_photo;
  note->sure = sure;
  id = ws_record_whole_note (desk, find_id, note, error);
  return id != NULL;
}

gboolean
ws_record_remove_note (WsDesk *desk, const char *note_id, GError **error)
{
  WsAction *action = ws_action_new (_("Remove a note"));

  ws_action_remove_note (action, note_id);
  return ws_library_apply (desk->library, action, error);
}

static const char *const habitat_characters[] = { "habitat", "substrate", "trees" };

static void
copy_notes (WsAction *action, const WsFind *from, const WsFind *to)
{
  for (guint i = 0; i < from->notes->len; i++)
    {
      const WsNote *source = g_ptr_array_index (from->notes, i);
      g_autoptr (WsNote) note = NULL;
      g_autofree char *id = ws_id_new ();

      for (gsize c = 0; c < G_N_ELEMENTS (habitat_characters); c++)
        if (g_str_equal (source->character, habitat_characters[c]) &&
            ws_find_get_state (to, source->character)[0] == '\0')
          note = ws_note_copy (source);
      if (note == NULL)
        continue;
      ws_set_string (&note->id, id);
      ws_set_string (&note->specimen, "");
      g_clear_pointer (&note->mark_id, g_free);
      note->sure = FALSE;
      note->created_us = g_get_real_time ();
      ws_action_put_note (action, to->id, note);
    }
}

/* The find before in time, of the same foray if it can be. */
static WsFind *
load_find_before (WsDesk *desk, const char *find_id, GError **error)
{
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_id, error);
  g_autoptr (GPtrArray) finds = find != NULL ? ws_library_load_finds (desk->library, NULL, error) : NULL;
  const WsFind *best = NULL;
  gint64 time = find != NULL ? ws_moment_sort_key (&find->when) : 0;

  for (guint i = 0; finds != NULL && i < finds->len; i++)
    {
      const WsFind *other = g_ptr_array_index (finds, i);
      gint64 other_time = ws_moment_sort_key (&other->when);

      if (other_time < time && (best == NULL || other_time > ws_moment_sort_key (&best->when)))
        best = other;
    }
  if (best == NULL && finds != NULL)
    g_set_error_literal (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("There is no earlier find to copy the habitat from"));
  return best != NULL ? ws_find_ref (best) : NULL;
}

gboolean
ws_record_copy_habitat (WsDesk *desk, const char *from, const char *const *find_ids, GError **error)
{
  WsAction *action;

  if (find_ids[0] == NULL)
    return ws_record_invalid (error, _("No find is chosen to copy the habitat to"));
  {
    g_autoptr (WsFind) source = from != NULL ? ws_library_load_find (desk->library, from, error)
                                             : load_find_before (desk, find_ids[0], error);

    if (source == NULL)
      return FALSE;
    action = ws_action_new (_("Copy habitat and trees"));
    for (guint i = 0; find_ids[i] != NULL; i++)
      {
        g_autoptr (WsFind) find = ws_library_load_find (desk->library, find_ids[i], error);

        if (find == NULL)
          {
            ws_action_free (action);
            return FALSE;
          }
        if (!g_str_equal (find->id, source->id))
          copy_notes (action, source, find);
      }
  }
  return ws_library_apply (desk->library, action, error);
}
