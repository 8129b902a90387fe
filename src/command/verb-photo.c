/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-intl.h"
#include "ws-photo-facts.h"

#include <stdio.h>

static void
add_time (JsonBuilder *builder, const WsMoment *taken)
{
  static const char *const sources[] = { NULL, "exif", "gps", NULL };
  g_autofree char *local = ws_moment_local_text (taken);
  g_autofree char *offset = taken->offset_source != WS_OFFSET_UNKNOWN ? ws_offset_to_text (taken->offset_minutes) : NULL;

  ws_json_text (builder, "takenLocal", local);
  ws_json_text (builder, "takenOffset", offset);
  ws_json_text (builder, "offsetSource", sources[taken->offset_source]);
}

static void
add_facts (JsonBuilder *builder, const char *file, const WsPhotoFacts *facts)
{
  char reference[2] = { facts->direction_reference, '\0' };

  json_builder_begin_object (builder);
  ws_json_text (builder, "file", file);
  ws_json_text (builder, "mediaType", facts->media_type);
  ws_json_integer (builder, "width", facts->width);
  ws_json_integer (builder, "height", facts->height);
  if (facts->orientation != 0)
    ws_json_integer (builder, "orientation", facts->orientation);
  else
    ws_json_text (builder, "orientation", NULL);
  add_time (builder, &facts->taken);
  ws_json_number (builder, "latitude", facts->position.latitude);
  ws_json_number (builder, "longitude", facts->position.longitude);
  ws_json_number (builder, "altitude", facts->position.altitude);
  ws_json_number (builder, "horizontalError", facts->position.error_m);
  ws_json_number (builder, "direction", facts->direction);
  ws_json_text (builder, "directionReference", reference);
  ws_json_text (builder, "gpsUtc", facts->gps_utc);
  ws_json_text (builder, "make", facts->make);
  ws_json_text (builder, "model", facts->model);
  ws_json_number (builder, "focalLength", facts->focal_length);
  ws_json_number (builder, "focalLength35", facts->focal_length_35);
  ws_json_number (builder, "iso", facts->iso);
  ws_json_number (builder, "exposureTime", facts->exposure_time);
  ws_json_number (builder, "fNumber", facts->f_number);
  ws_json_texts (builder, "warnings", facts->warnings);
  json_builder_end_object (builder);
}

static void
print_facts (const char *file, const WsPhotoFacts *facts)
{
  g_autofree char *local = ws_moment_local_text (&facts->taken);
  g_autofree char *place = ws_position_is_known (&facts->position) ? ws_position_to_text (&facts->position, 6) : NULL;

  printf ("%s\n  %s, %d × %d px\n", file, facts->media_type, facts->width, facts->height);
  if (ws_photo_origin_text (facts->media_type) != NULL)
    printf ("  %s\n", ws_photo_origin_text (facts->media_type));
  printf (_("  taken: %s\n"), local != NULL ? local : _("not said"));
  printf (_("  place: %s\n"), place != NULL ? place : _("not said"));
  printf (_("  camera: %s %s\n"), facts->make != NULL ? facts->make : "", facts->model != NULL ? facts->model : "");
  for (guint i = 0; i < facts->warnings->len; i++)
    printf ("  ! %s\n", (char *) g_ptr_array_index (facts->warnings, i));
}

static void
add_failure (JsonBuilder *builder, const char *file, const GError *error)
{
  json_builder_begin_object (builder);
  ws_json_text (builder, "file", file);
  ws_json_text (builder, "error", error->message);
  json_builder_end_object (builder);
}

static int
run (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  int exit = ws_command_parse (&ws_verb_photo, NULL, TRUE, argc, argv, 1, -1, &options);

  if (exit >= 0)
    return exit;
  exit = WS_EXIT_DONE;
  json_builder_begin_array (builder);
  for (guint i = 0; options.rest[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read_file (options.rest[i], &error);
      g_autofree char *file = g_filename_display_name (options.rest[i]);

      if (facts == NULL)
        {
          exit = WS_EXIT_INPUT;
          fprintf (stderr, "%s: %s\n", file, error->message);
          add_failure (builder, file, error);
        }
      else if (options.json)
        add_facts (builder, file, facts);
      else
        print_facts (file, facts);
    }
  json_builder_end_array (builder);
  if (options.json)
    ws_json_print (builder);
  return exit;
}

const WsVerb ws_verb_photo = { "photo", "FILE…", N_("What each photo says of itself."), run, TRUE };
