/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-command-json.h"
#include "ws-command.h"

#include "ws-clarity.h"
#include "ws-intl.h"
#include "ws-sharpness.h"

#include <math.h>
#include <stdio.h>

static void
add_size (JsonBuilder *builder, const WsSharpness *sharpness)
{
  json_builder_set_member_name (builder, "sizePx");
  json_builder_begin_array (builder);
  json_builder_add_int_value (builder, sharpness->width_px);
  json_builder_add_int_value (builder, sharpness->height_px);
  json_builder_end_array (builder);
}

static void
print_json (const WsSharpness *sharpness, WsClarity clarity, const char *reason)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  add_size (builder, sharpness);
  ws_json_number (builder, "blurSigma", sharpness->blur_sigma);
  ws_json_number (builder, "burntOut", sharpness->burnt_out);
  ws_json_number (builder, "blockedUp", sharpness->blocked_up);
  ws_json_number (builder, "mmPerPixel", NAN);
  ws_json_text (builder, "clarity", ws_clarity_id (clarity));
  ws_json_text (builder, "reason", reason);
  json_builder_end_object (builder);
  ws_json_print (builder);
}

static int
run (int argc, char **argv)
{
  g_auto (WsCommonOptions) options = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (WsKnowledge) knowledge = NULL;
  g_autoptr (WsMark) mark = ws_mark_new ();
  g_autofree char *reason = NULL;
  WsSharpness sharpness;
  WsClarity clarity;
  WsRect rect;
  int exit = ws_command_parse (&ws_verb_clarity, NULL, TRUE, argc, argv, 2, 2, &options);

  if (exit >= 0)
    return exit;
  if (!ws_rect_parse (options.rest[1], &rect))
    return ws_command_usage (&ws_verb_clarity, _("X,Y,W,H are four fractions between 0 and 1, inside the photo"));
  ws_shape_free (mark->shape);
  mark->shape = ws_shape_new_box (&rect);
  knowledge = ws_desk_builtin_knowledge (&error);
  if (knowledge == NULL || !ws_sharpness_measure_file (options.rest[0], mark->shape, &sharpness, NULL, &error))
    return ws_command_fail (error);
  mark->measure = (WsMeasure) { TRUE, sharpness.width_px, sharpness.height_px, sharpness.blur_sigma, sharpness.burnt_out,
                                sharpness.blocked_up, NAN, WS_SHARPNESS_METHOD };
  clarity = ws_clarity_judge (mark, knowledge, ws_knowledge_pick_language (knowledge, g_get_language_names ()), &reason);
  if (options.json)
    print_json (&sharpness, clarity, reason);
  else
    printf ("%s%s%s\n", ws_knowledge_text (knowledge, ws_knowledge_pick_language (knowledge, g_get_language_names ()),
                                           "clarity", ws_clarity_id (clarity)),
            reason != NULL ? ": " : "", reason != NULL ? reason : "");
  return WS_EXIT_DONE;
}

const WsVerb ws_verb_clarity = { "clarity", "PHOTO X,Y,W,H", N_("How usable that box of a photo is as evidence."), run };
