/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command.h"

#include "ws-error.h"
#include "ws-intl.h"
#include "ws-record.h"

#include <stdio.h>
#include <string.h>

/* PHOTO is an id, a path, or the name of a file that only one photo of the find has. */
static const WsPhoto *
pick_photo (const WsFind *find, const char *word, GError **error)
{
  const WsPhoto *found = ws_find_get_photo (find, word);
  g_autofree char *absolute = g_canonicalize_filename (word, NULL);

  for (guint i = 0; found == NULL && i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;

      if (g_str_equal (photo->path, absolute))
        return photo;
    }
  for (guint i = 0; i < find->photos->len; i++)
    {
      const WsPhoto *photo = ((const WsFindPhoto *) g_ptr_array_index (find->photos, i))->photo;
      g_autofree char *name = g_path_get_basename (photo->path);

      if (!g_str_equal (name, word))
        continue;
      if (found != NULL && found != photo)
        {
          g_set_error (error, WS_ERROR, WS_ERROR_CONFLICT, _("Several photos of %s are called %s; give the id"), find->number, word);
          return NULL;
        }
      found = photo;
    }
  if (found == NULL)
    g_set_error (error, WS_ERROR, WS_ERROR_NOT_FOUND, _("The find %s has no photo %s"), find->number, word);
  return found;
}

static int
run (int argc, char **argv)
{
  g_autofree char *base_kind = NULL, *views = NULL, *id = NULL;
  GOptionEntry entries[] = {
    { "base-kind", 0, 0, G_OPTION_ARG_STRING, &base_kind, N_("How the base is shown: cleaned, with_soil, washed, cut, broken, in_ground, left_in_hole, from_below, cannot_tell"), "KIND" },
    { "views", 0, 0, G_OPTION_ARG_STRING, &views, N_("The views the mark serves, separated by commas (default: those of the part)"), "VIEW,…" },
    { NULL } };
  g_auto (WsCommonOptions) options = { 0 };
  g_auto (GStrv) view_list = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WsDesk) desk = NULL;
  g_autoptr (WsFind) find = NULL;
  g_autoptr (WsShape) shape = NULL;
  const WsPhoto *photo;
  WsRect rect;
  int exit = ws_command_parse (&ws_verb_mark, entries, FALSE, argc, argv, 4, 4, &options);

  if (exit >= 0)
    return exit;
  if (strcmp (options.rest[3], "whole") != 0)
    {
      if (!ws_rect_parse (options.rest[3], &rect))
        return ws_command_usage (&ws_verb_mark, _("X,Y,W,H are four fractions between 0 and 1, inside the photo; or the word “whole”"));
      shape = ws_shape_new_box (&rect);
    }
  desk = ws_command_open (&options, &exit);
  if (desk == NULL)
    return exit;
  find = ws_library_load_find (desk->library, options.rest[0], &error);
  photo = find != NULL ? pick_photo (find, options.rest[1], &error) : NULL;
  view_list = views != NULL ? g_strsplit (views, ",", -1) : NULL;
  if (photo != NULL)
    id = ws_record_mark (desk, find->id, photo->id, options.rest[2], (const char *const *) view_list, shape, base_kind, &error);
  if (id == NULL)
    return ws_command_fail (error);
  puts (id);
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_mark = { "mark", "FIND PHOTO PART X,Y,W,H", N_("Marks a part on a photo of a find; X,Y,W,H are fractions of the upright picture."), run };
