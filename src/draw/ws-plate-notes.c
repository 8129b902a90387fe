/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The field notes, sizes and spores of a plate. */
#include "ws-plate-private.h"

#include <math.h>
#include <string.h>

#include "ws-measurement.h"
#include "ws-quantities.h"

/* What a reader looks for first (judgement); the rest comes as it was noted. */
static const char *const telling[] = { "stem_base", "universal_veil", "ring", "fertile_surface", "gill_attachment", "gill_colour",
                                       "pore_colour", "spore_print", "bruising", "colour_change", "latex", "odour", "cap_surface",
                                       "cap_colour" };
/* These stand among the facts, or are the title. */
static const char *const elsewhere[] = { "habitat", "trees", "substrate", "weather", "growth_form", NULL };

static void
append_escaped (GString *markup, const char *before, const char *text, const char *after)
{
  g_autofree char *escaped = ws_plate_escape (text);

  g_string_append_printf (markup, "%s%s%s", before, escaped, after);
}

static void
append_states (const WsPlate *plate, const WsNote *note, GString *markup)
{
  const WsCharacter *character = ws_knowledge_find_character (plate->knowledge, note->character);

  for (guint i = 0; note->states[i] != NULL; i++)
    append_escaped (markup, i > 0 ? ", " : "", character == NULL || character->free_text ? note->states[i]
                    : ws_knowledge_state_text (plate->knowledge, plate->request->language, note->character,
                                               note->states[i]), "");
  if (*note->text != '\0')
    append_escaped (markup, note->states[0] != NULL ? "; " : "", note->text, "");
}

static void
append_aside (GString *markup, gboolean *begun, const char *text, const char *more)
{
  append_escaped (markup, *begun ? ", " : " <i>(", text, "");
  if (more != NULL)
    append_escaped (markup, " ", more, "");
  *begun = TRUE;
}

/* "after 5 min" */
static void
append_observed (const WsPlate *plate, const WsNote *note, GString *markup, gboolean *begun)
{
  const char *text = ws_plate_word (plate, "observed", ws_observed_id (note->observed)), *hole = strstr (text, "%s");
  g_autofree char *head = hole != NULL ? g_strndup (text, (gsize) (hole - text)) : g_strdup (text), *whole = NULL;
  char minutes[G_ASCII_DTOSTR_BUF_SIZE];

  if (note->observed == WS_OBSERVED_UNKNOWN)
    return;
  g_ascii_formatd (minutes, sizeof minutes, "%.4g", isfinite (note->minutes) ? note->minutes : 0);
  whole = hole != NULL ? g_strconcat (head, minutes, hole + 2, NULL) : g_strdup (text);
  append_aside (markup, begun, whole, NULL);
}

static char *
note_markup (const WsPlate *plate, const WsNote *note)
{
  g_autoptr (GString) markup = g_string_new (NULL);
  gboolean begun = FALSE;

  append_escaped (markup, "<i>", ws_plate_word (plate, "character", note->character), "</i>  ");
  append_states (plate, note, markup);
  append_observed (plate, note, markup, &begun);
  if (!note->sure || note->off_photo)
    append_aside (markup, &begun, ws_plate_word (plate, "page", "unsure"), NULL);
  if (note->off_photo)
    append_aside (markup, &begun, ws_plate_word (plate, "page", "off_photo"), NULL);
  if (*note->specimen != '\0')
    append_aside (markup, &begun, ws_plate_word (plate, "page", "specimen"), note->specimen);
  if (begun)
    g_string_append (markup, ")</i>");
  return g_string_free (g_steal_pointer (&markup), FALSE);
}

char *
ws_plate_dup_fact (const WsPlate *plate, const char *character)
{
  const GPtrArray *notes = plate->request->find->notes;
  const WsNote *last = NULL;

  for (guint i = 0; i < notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (notes, i);

      if (g_str_equal (note->character, character))
        last = note;
    }
  return last != NULL ? note_markup (plate, last) : NULL;
}

/* --- Sizes --------------------------------------------------------------------------------------- */

static void
collect_sizes (WsPlate *plate)
{
  GPtrArray *quantities = ws_knowledge_get_quantities (plate->knowledge);

  for (guint i = 0; i < quantities->len; i++)
    {
      const WsQuantity *quantity = g_ptr_array_index (quantities, i);
      WsRange range = ws_measurement_get_range (plate->request->find->measurements, quantity->id, WS_PERCENTILES_LINEAR);
      g_autofree char *text = ws_range_to_text (&range, WS_RANGE_SIZES, range.low < 10 ? 1 : 0, '.');
      g_autoptr (GString) markup = g_string_new (NULL);

      if (*text == '\0')
        continue;
      append_escaped (markup, "<i>", ws_plate_word (plate, "quantity", quantity->id), "</i>  ");
      append_escaped (markup, "", text, "");
      if (!g_str_equal (quantity->unit, "count"))
        append_escaped (markup, " ", ws_plate_word (plate, "unit", quantity->unit), "");
      g_ptr_array_add (plate->notes, g_string_free (g_steal_pointer (&markup), FALSE));
    }
}

/* Of few spores the range is not one of percentiles, whatever the rule. */
static const char *
rule_of (const WsSporeList *list)
{
  return list->n_spores == 0 ? "unsaid" : list->n_spores < WS_RANGE_MIN_FOR_TAILS ? "extremes" : ws_percentile_rule_id (list->rule);
}

static void
collect_spores (WsPlate *plate)
{
  const GPtrArray *lists = plate->request->find->spores;

  for (guint i = 0; i < lists->len; i++)
    {
      const WsSporeList *list = g_ptr_array_index (lists, i);
      WsSporeSizes sizes = ws_spore_sizes_of (list->spores, list->n_spores, list->n_specimens, 1, list->rule);
      g_autofree char *text = list->n_spores > 0 ? ws_spore_sizes_to_text (&sizes) : g_strdup (list->verbatim);
      g_autoptr (GString) markup = g_string_new (NULL);

      if (*text == '\0')
        continue;
      append_escaped (markup, "<i>", ws_plate_word (plate, "plate", "spores"), "</i>  ");
      append_escaped (markup, "", text, "");
      append_escaped (markup, " <i>(", ws_plate_word (plate, "percentiles", rule_of (list)), "");
      if (*list->mount != '\0')
        append_escaped (markup, ", ", list->mount, "");
      g_string_append (markup, ")</i>");
      g_ptr_array_add (plate->notes, g_string_free (g_steal_pointer (&markup), FALSE));
    }
}

/* --- All ------------------------------------------------------------------------------------------- */

static void
collect (WsPlate *plate, const char *character)
{
  const GPtrArray *notes = plate->request->find->notes;

  for (guint i = 0; i < notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (notes, i);
      gboolean is_telling = FALSE;

      for (guint k = 0; k < G_N_ELEMENTS (telling); k++)
        is_telling = is_telling || g_str_equal (telling[k], note->character);
      if (character != NULL ? g_str_equal (note->character, character)
                            : !is_telling && !g_strv_contains (elsewhere, note->character))
        g_ptr_array_add (plate->notes, note_markup (plate, note));
    }
}

void
ws_plate_collect_notes (WsPlate *plate)
{
  for (guint i = 0; i < G_N_ELEMENTS (telling); i++)
    collect (plate, telling[i]);
  collect_sizes (plate);
  collect_spores (plate);
  collect (plate, NULL);
  if (*plate->request->find->remarks != '\0')
    {
      g_autoptr (GString) markup = g_string_new (NULL);

      append_escaped (markup, "<i>", ws_plate_word (plate, "page", "remarks"), "</i>  ");
      append_escaped (markup, "", plate->request->find->remarks, "");
      g_ptr_array_add (plate->notes, g_string_free (g_steal_pointer (&markup), FALSE));
    }
}
