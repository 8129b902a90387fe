/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a plate says. */
#include "ws-plate-private.h"

#include <math.h>
#include <string.h>

#include "ws-clarity.h"
#include "ws-measurement.h"

#define MAX_LETTERS 240

const char *
ws_plate_word (const WsPlate *plate, const char *kind, const char *id)
{
  return ws_knowledge_text (plate->knowledge, plate->request->language, kind, id);
}

char *
ws_plate_escape (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, (gssize) strnlen (text, 4 * MAX_LETTERS)), *cut = NULL;

  for (char *at = valid; *at != '\0'; at = g_utf8_next_char (at))
    if ((guchar) *at < ' ' || *at == 0x7f)
      *at = ' ';
  g_strstrip (valid);
  cut = g_utf8_substring (valid, 0, MIN (MAX_LETTERS, g_utf8_strlen (valid, -1)));
  return g_markup_escape_text (cut, -1);
}

/* --- Building ------------------------------------------------------------------------------------ */

static void
add (GString *markup, const char *before, const char *text, const char *after)
{
  g_autofree char *escaped = ws_plate_escape (text);

  g_string_append_printf (markup, "%s%s%s", before, escaped, after);
}

static void
add_row (GString *markup, const char *term, const char *text)
{
  if (text == NULL || *text == '\0')
    return;
  add (markup, markup->len > 0 ? "\n<i>" : "<i>", term, "</i>  ");
  add (markup, "", text, "");
}

static void
add_line (GString *markup, const char *line)
{
  if (line != NULL)
    g_string_append_printf (markup, "%s%s", markup->len > 0 ? "\n" : "", line);
}

/* --- Captions --------------------------------------------------------------------------------------- */

char *
ws_plate_dup_name (const PlatePart *part, const WsPlate *plate)
{
  g_autoptr (GString) name = g_string_new (NULL);

  for (guint i = 0; i < part->views->len; i++)
    g_string_append_printf (name, "%s%s", i > 0 ? " · " : "",
                            ws_plate_word (plate, "view", g_ptr_array_index (part->views, i)));
  return g_string_free (g_steal_pointer (&name), FALSE);
}

/* Whether a bulb is large stands in no other words; for the rest the bar has to do. */
static void
add_size (const WsPlate *plate, const PlatePart *part, GString *markup)
{
  const WsPhoto *photo = ws_find_get_photo (plate->request->find, part->mark->photo_id);
  const WsScale *scale = ws_find_get_scale (plate->request->find, part->mark->photo_id);
  g_autofree char *wide = NULL, *tall = NULL;
  WsLength across, up;

  if (photo == NULL || scale == NULL || part->mark->whole_photo
      || !ws_measurement_mark_size (scale, photo->width, photo->height, part->mark->shape, &across, &up, NULL))
    return;
  wide = ws_length_to_text (&across, '.');
  tall = ws_length_to_text (&up, '.');
  g_string_append_printf (markup, "\n<span size='86%%'>%s × %s</span>", wide, tall);
}

static void
add_base_claim (const WsPlate *plate, const WsMark *mark, GString *markup)
{
  const char *kind = *mark->base_kind != '\0' ? ws_plate_word (plate, "base_kind", mark->base_kind)
                                              : ws_plate_word (plate, "page", "base_unanswered");

  add (markup, "\n<span size='86%'>", ws_plate_word (plate, "page", "base_question"), " ");
  add (markup, "<i>", kind, "</i></span>");
}

/* How far the crop on the plate shows it: a crop that was swapped in may show less than the best one. */
static void
add_state (const WsPlate *plate, const PlatePart *part, GString *markup)
{
  g_autofree char *reason = NULL;
  WsClarity clarity = ws_clarity_judge (part->mark, plate->knowledge, plate->request->language, &reason);

  if (clarity == WS_CLARITY_ENOUGH)
    return;
  add (markup, "\n<span size='86%'>", ws_plate_word (plate, "clarity", ws_clarity_id (clarity)), "");
  if (reason != NULL)
    add (markup, ": ", reason, "");
  g_string_append (markup, "</span>");
}

static void
add_missing (const WsPlate *plate, const PlatePart *part, GString *markup)
{
  const WsEvidenceLine *line = part->line;

  add (markup, "\n<span size='86%'>", ws_plate_word (plate, "evidence_state", "missing"), "");
  add (markup, " · ", ws_plate_word (plate, "need", ws_need_id (line->need)), "</span>");
  if (line->excuse != NULL && *line->excuse != '\0')
    {
      add (markup, "\n<span size='86%'>", ws_plate_word (plate, "page", "excuse"), " ");
      add (markup, "<i>", line->excuse, "</i></span>");
    }
}

char *
ws_plate_caption_markup (const WsPlate *plate, const PlatePart *part)
{
  g_autoptr (GString) markup = g_string_new (NULL);
  g_autofree char *name = ws_plate_dup_name (part, plate), *letter = NULL;

  if (part->mark == NULL)
    {
      add (markup, part->line->view->is_base ? "<b><span size='125%'>" : "<b>", name,
           part->line->view->is_base ? "</span></b>" : "</b>");
      add_missing (plate, part, markup);
      return g_string_free (g_steal_pointer (&markup), FALSE);
    }
  letter = ws_find_dup_mark_letter (plate->request->find, part->mark);
  add (markup, "<b>", letter, "</b>  ");
  add (markup, part->line->view->is_base ? "<b>" : "", name, part->line->view->is_base ? "</b>" : "");
  if (*part->mark->specimen != '\0')
    {
      add (markup, "  <span size='86%'><i>", ws_plate_word (plate, "page", "specimen"), " ");
      add (markup, "", part->mark->specimen, "</i></span>");
    }
  add_state (plate, part, markup);
  if (part->line->view->is_base)
    {
      add_size (plate, part, markup);
      add_base_claim (plate, part->mark, markup);
    }
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

/* --- Texts ------------------------------------------------------------------------------------------- */

static char *
title_markup (const WsPlate *plate)
{
  g_autoptr (GString) markup = g_string_new (NULL);
  const WsFind *find = plate->request->find;
  g_autofree char *date = ws_moment_date (&find->when);

  add (markup, "<span size='80%'><i>", ws_plate_word (plate, "page", "number"), "</i></span> ");
  add (markup, "", find->number, "");
  add (markup, "<span size='60%'>    ", date != NULL ? date : ws_plate_word (plate, "page", "no_date"), "");
  if (*plate->evidence->growth_form != '\0')
    add (markup, " · <i>", ws_plate_word (plate, "growth_form", plate->evidence->growth_form), "</i>");
  g_string_append (markup, "</span>");
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

static char *
warning_markup (const WsPlate *plate)
{
  g_autoptr (GString) markup = g_string_new (NULL);
  const WsEvidenceLine *base = ws_evidence_get_base (plate->evidence);

  if (base == NULL || base->state == WS_EVIDENCE_SHOWN)
    return g_strdup ("");
  add (markup, "<b>", ws_plate_word (plate, "page", "base_not_shown"), ".</b> ");
  add (markup, "", ws_plate_word (plate, "page", "base_matters"), "");
  if (base->detail != NULL && base->marks->len > 0)
    add (markup, " (", base->detail, ")");
  if (*plate->request->without_base != '\0')
    {
      add (markup, " ", ws_plate_word (plate, "page", "base_reason"), " ");
      add (markup, "<i>", plate->request->without_base, "</i>");
    }
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

static void
add_place (const WsPlate *plate, GString *markup)
{
  const WsRequest *request = plate->request;
  const char *term = ws_plate_word (plate, "page", "place_told");
  const char *locality = ws_tell_place_has_locality (request->tell_place) ? request->find->locality : "";
  g_autofree char *position = NULL, *within = NULL, *told = NULL;

  if (request->tell_place == WS_TELL_WITHHELD)
    {
      add_row (markup, term, ws_plate_word (plate, "page", "place_withheld"));
      return;
    }
  if (request->tell_place == WS_TELL_REGION)
    {
      add_row (markup, term, *request->region != '\0' ? request->region : ws_plate_word (plate, "page", "no_region"));
      return;
    }
  if (!ws_position_is_known (&request->place))
    {
      add_row (markup, term, *locality != '\0' ? locality : ws_plate_word (plate, "page", "place_unknown"));
      return;
    }
  position = ws_position_to_text (&request->place, ws_tell_place_decimals (request->tell_place));
  within = isfinite (request->place.error_m) ? g_strdup_printf (" ± %.0f m", ceil (request->place.error_m)) : g_strdup ("");
  told = g_strdup_printf ("%s%s%s%s (WGS 84, %s)", locality, *locality != '\0' ? " · " : "", position, within,
                          ws_plate_word (plate, "tell_place", ws_tell_place_id (request->tell_place)));
  add_row (markup, term, told);
}

static char *
facts_markup (const WsPlate *plate)
{
  static const char *const characters[] = { "habitat", "trees", "substrate", "weather" };
  g_autoptr (GString) markup = g_string_new (NULL);
  const WsRequest *request = plate->request;

  add_place (plate, markup);
  for (guint i = 0; i < G_N_ELEMENTS (characters); i++)
    {
      g_autofree char *fact = ws_plate_dup_fact (plate, characters[i]);

      add_line (markup, fact);
    }
  if (request->find->specimen_is != WS_SPECIMEN_UNKNOWN)
    add_row (markup, ws_plate_word (plate, "page", "the_specimen"),
             ws_plate_word (plate, "specimen_is", ws_specimen_is_id (request->find->specimen_is)));
  add_row (markup, ws_plate_word (plate, "page", "from"), request->from);
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

static char *
notes_markup (const WsPlate *plate, guint n_notes)
{
  g_autoptr (GString) markup = g_string_new (NULL);

  for (guint i = 0; i < MIN (n_notes, plate->notes->len); i++)
    add_line (markup, g_ptr_array_index (plate->notes, i));
  if (plate->notes->len > n_notes)
    {
      g_autofree char *number = g_strdup_printf ("%u", plate->notes->len - n_notes);
      const char *more = ws_plate_word (plate, "plate", "more_notes"), *hole = strstr (more, "%s");
      g_autofree char *head = hole != NULL ? g_strndup (more, (gsize) (hole - more)) : g_strdup (more);

      add (markup, markup->len > 0 ? "\n<i>" : "<i>", head, "");
      add (markup, "", number, "");
      add (markup, "", hole != NULL ? hole + 2 : "", "</i>");
    }
  else if (plate->request->find->notes->len == 0 && plate->notes->len == 0)
    add (markup, "<i>", ws_plate_word (plate, "page", "no_notes"), "</i>");
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

static char *
cautions_markup (const WsPlate *plate)
{
  static const char *const ids[] = { "photos_never", "poison", "touch", "law" };
  g_autoptr (GString) markup = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    add (markup, i == 0 ? "<b>" : " ", ws_plate_word (plate, "caution", ids[i]), i == 0 ? "</b>" : "");
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

char *
ws_plate_text_markup (const WsPlate *plate, WsPlateText text, guint n_notes)
{
  g_autoptr (GString) ink = NULL;

  switch (text)
    {
    case WS_PLATE_TITLE:
      return title_markup (plate);
    case WS_PLATE_WARNING:
      return warning_markup (plate);
    case WS_PLATE_FACTS:
      return facts_markup (plate);
    case WS_PLATE_NOTES:
      return notes_markup (plate, n_notes);
    case WS_PLATE_CAUTIONS:
      return cautions_markup (plate);
    case WS_PLATE_INK:
    case WS_PLATE_N_TEXTS:
    default:
      ink = g_string_new (NULL);
      add (ink, "<i>", ws_plate_word (plate, "caution", "figure_ink"), "</i>");
      return g_string_free (g_steal_pointer (&ink), FALSE);
    }
}
