/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A find as an occurrence, with the history of its names. */
#include "ws-dwc-private.h"

#include "ws-json-build.h"
#include "ws-name-parse.h"

#include <math.h>
#include <string.h>

const char *const ws_dwc_occurrence_terms[] = {
  "dwc:basisOfRecord", "dwc:occurrenceID", "dwc:occurrenceStatus", "dwc:recordNumber", "dwc:recordedBy",
  "dwc:eventDate", "dwc:habitat", "dwc:decimalLatitude", "dwc:decimalLongitude", "dwc:geodeticDatum",
  "dwc:coordinateUncertaintyInMeters", "dwc:coordinatePrecision", "dwc:georeferenceRemarks",
  "dwc:minimumElevationInMeters", "dwc:maximumElevationInMeters", "dwc:verticalDatum", "dwc:higherGeography",
  "dwc:locality", "dwc:dataGeneralizations", "dwc:informationWithheld", "dwc:occurrenceRemarks",
  "dwc:dynamicProperties", "dwc:kingdom", "dwc:verbatimIdentification", "dwc:scientificName", "dwc:taxonRank",
  "dwc:identificationQualifier", "dwc:identifiedBy", "dwc:dateIdentified", "dwc:identificationRemarks", NULL
};

const char *const ws_dwc_identification_terms[] = {
  "dwc:identificationID", "dwc:verbatimIdentification", "dwc:scientificName", "dwc:taxonRank",
  "dwc:identificationQualifier", "dwc:nomenclaturalCode", "dwc:identifiedBy", "dwc:dateIdentified",
  "dwc:identificationType", "dwc:identificationVerificationStatus", "dwc:isAcceptedIdentification",
  "dwc:identificationRemarks", NULL
};

static void
add_sentence (GString *text, const char *sentence)
{
  if (sentence != NULL && *sentence != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? " | " : "", sentence);
}

static void
put_sentences (WsDwcTable *table, const char *term, GString *text)
{
  ws_dwc_table_put (table, term, text->str);
  g_string_free (text, TRUE);
}

/* --- Place ----------------------------------------------------------------------------------------------- */

/* Six decimals of a degree are a tenth of a metre: all that an exact place can mean. */
#define EXACT_DECIMALS 6

static void
put_position (const WsDwcFind *adding, WsDwcTable *table)
{
  static const char *const sources[] = { NULL, "source_photo", "source_track", "source_typed" };
  WsTellPlace tell = adding->request->tell_place;
  const WsPosition *place = &adding->request->place;
  gboolean exact = tell == WS_TELL_EXACT;
  int decimals = exact ? EXACT_DECIMALS : ws_tell_place_decimals (tell);

  if (!ws_position_is_known (place) || isnan (ws_tell_place_step (tell)))
    return;
  ws_dwc_table_put_number (table, "dwc:decimalLatitude", ws_tell_place_round (tell, place->latitude), decimals);
  ws_dwc_table_put_number (table, "dwc:decimalLongitude", ws_tell_place_round (tell, place->longitude), decimals);
  ws_dwc_table_put (table, "dwc:geodeticDatum", "EPSG:4326");
  ws_dwc_table_put_number (table, "dwc:coordinatePrecision", exact ? pow (10, -EXACT_DECIMALS) : ws_tell_place_step (tell),
                           decimals);
  /* Nought is not valid; what is not known stays empty. */
  if (place->error_m > 0)
    ws_dwc_table_put_number (table, "dwc:coordinateUncertaintyInMeters", ceil (place->error_m), 0);
  if (sources[place->source] != NULL)
    ws_dwc_table_put (table, "dwc:georeferenceRemarks", ws_dwc_phrase (adding->archive, sources[place->source]));
  if (!exact || !isfinite (place->altitude))
    return;
  ws_dwc_table_put_number (table, "dwc:minimumElevationInMeters", place->altitude, 0);
  ws_dwc_table_put_number (table, "dwc:maximumElevationInMeters", place->altitude, 0);
  ws_dwc_table_put (table, "dwc:verticalDatum", "not recorded");
}

/* What was blurred or kept back is said; a text that is kept back leaves words in its place (Chapman 2020). */
static void
put_place (const WsDwcFind *adding, WsDwcTable *table)
{
  WsTellPlace tell = adding->request->tell_place;
  const WsDwcArchive *archive = adding->archive;
  GString *blurred = g_string_new (NULL), *withheld = g_string_new (NULL);

  put_position (adding, table);
  if (tell == WS_TELL_REGION)
    ws_dwc_table_put (table, "dwc:higherGeography", adding->request->region);
  ws_dwc_table_put (table, "dwc:locality", ws_tell_place_has_locality (tell) ? adding->find->locality
                                                                           : ws_dwc_phrase (archive, "dwc_locality_withheld"));
  if (isnan (ws_tell_place_step (tell)))
    add_sentence (withheld, ws_dwc_phrase (archive, "dwc_place_withheld"));
  else if (ws_tell_place_step (tell) > 0)
    {
      g_autofree char *step = g_strdup_printf ("%s: %s", ws_dwc_phrase (archive, "dwc_grid"),
                                               ws_dwc_word (archive, "tell_place", ws_tell_place_id (tell)));

      add_sentence (blurred, step);
      add_sentence (withheld, ws_dwc_phrase (archive, "dwc_finer_withheld"));
    }
  if (!ws_tell_place_has_locality (tell))
    add_sentence (withheld, ws_dwc_phrase (archive, "dwc_locality_withheld"));
  if (!adding->request->keep_time)
    add_sentence (blurred, ws_dwc_phrase (archive, "dwc_time_withheld"));
  put_sentences (table, "dwc:dataGeneralizations", blurred);
  put_sentences (table, "dwc:informationWithheld", withheld);
}

/* --- Names ----------------------------------------------------------------------------------------------- */

/* TRUE if what the parser holds for certain is the name itself, however wide its sense. */
static gboolean
is_taken_as_given (const WsNameParts *parts)
{
  return *parts->identification_qualifier == '\0'
         || (*parts->epithet != '\0' && strstr (parts->scientific_name, parts->epithet) != NULL);
}

/* A name whose giver is not sure of it, without a sign of doubt: certain is only what is one rank above. */
static void
put_unsure (WsDwcTable *table, const WsNameParts *parts)
{
  gboolean species = *parts->epithet != '\0' && *parts->genus != '\0';
  g_autofree char *below = *parts->infraspecific != '\0' ? g_strconcat (parts->epithet, " ", parts->infraspecific, NULL)
                                                          : g_strdup (parts->epithet);
  g_autofree char *qualifier = species ? g_strconcat (below, *parts->qualifier != '\0' ? " " : "", parts->qualifier, " sp. inc.", NULL)
                                       : g_strconcat (parts->verbatim, " inc.", NULL);

  ws_dwc_table_put (table, "dwc:scientificName", species ? parts->genus : "Fungi");
  ws_dwc_table_put (table, "dwc:taxonRank", species ? "genus" : "kingdom");
  ws_dwc_table_put (table, "dwc:identificationQualifier", qualifier);
}

void
ws_dwc_put_name (WsDwcTable *table, const WsName *name)
{
  g_autoptr (WsNameParts) parts = ws_name_parse (name != NULL ? name->verbatim : "");
  gboolean nothing = name == NULL || *name->verbatim == '\0';

  if (nothing)
    {
      ws_dwc_table_put (table, "dwc:scientificName", "Fungi");
      ws_dwc_table_put (table, "dwc:taxonRank", "kingdom");
    }
  else if (name->certainty != WS_CERTAINTY_SURE && is_taken_as_given (parts))
    put_unsure (table, parts);
  else
    {
      ws_dwc_table_put (table, "dwc:scientificName", parts->scientific_name);
      ws_dwc_table_put (table, "dwc:taxonRank", parts->taxon_rank);
      ws_dwc_table_put (table, "dwc:identificationQualifier", parts->identification_qualifier);
    }
  if (name == NULL)
    return;
  ws_dwc_table_put (table, "dwc:verbatimIdentification", name->verbatim);
  ws_dwc_table_put (table, "dwc:identifiedBy", name->by);
  ws_dwc_table_put (table, "dwc:dateIdentified", name->date);
}

/* Who gave it is not verified, and how sure and on what it was given is said beside it. */
static void
put_name_remarks (const WsDwcFind *adding, WsDwcTable *table, const WsName *name)
{
  const WsDwcArchive *archive = adding->archive;
  GString *text = g_string_new (NULL);

  if (name->deadly)
    add_sentence (text, ws_dwc_phrase (archive, "dwc_deadly"));
  add_sentence (text, ws_dwc_word (archive, "page", name->certainty == WS_CERTAINTY_SURE ? "dwc_sure"
                                                    : name->certainty == WS_CERTAINTY_PROBABLE ? "dwc_probable" : "dwc_open"));
  if (name->base_shown == 0)
    add_sentence (text, ws_dwc_phrase (archive, "base_not_shown"));
  add_sentence (text, ws_dwc_phrase (archive, "dwc_unverified"));
  add_sentence (text, name->reasons);
  put_sentences (table, "dwc:identificationRemarks", text);
}

void
ws_dwc_add_identifications (const WsDwcFind *adding)
{
  static const char *const types[] = { "unknown", "media", "features", "features" };
  const WsName *in_force = ws_find_get_name_in_force (adding->find);
  WsDwcTable *table = adding->archive->identifications;

  for (guint i = 0; i < adding->find->names->len; i++)
    {
      const WsName *name = g_ptr_array_index (adding->find->names, i);
      g_autofree char *id = g_strconcat ("urn:uuid:", name->id, NULL);

      /* What was taken back is no opinion of anybody any more. */
      if (name->withdraws != NULL || ws_find_is_name_withdrawn (adding->find, name->id))
        continue;
      ws_dwc_table_begin (table, adding->id);
      ws_dwc_table_put (table, "dwc:identificationID", id);
      ws_dwc_put_name (table, name);
      ws_dwc_table_put (table, "dwc:nomenclaturalCode", "ICN");
      ws_dwc_table_put (table, "dwc:identificationType", types[name->on]);
      ws_dwc_table_put (table, "dwc:identificationVerificationStatus", "0");
      ws_dwc_table_put (table, "dwc:isAcceptedIdentification", name == in_force ? "true" : "false");
      put_name_remarks (adding, table, name);
      ws_dwc_table_end (table);
    }
}

/* --- The occurrence ------------------------------------------------------------------------------------------ */

static void
put_habitat (const WsDwcFind *adding, WsDwcTable *table)
{
  static const char *const characters[] = { "habitat", "substrate", "trees" };
  const WsDwcArchive *archive = adding->archive;
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < adding->find->notes->len; i++)
    {
      const WsNote *note = g_ptr_array_index (adding->find->notes, i);
      const WsCharacter *character = ws_knowledge_find_character (archive->knowledge, note->character);

      for (gsize k = 0; k < G_N_ELEMENTS (characters); k++)
        for (guint j = 0; g_str_equal (note->character, characters[k]) && note->states[j] != NULL; j++)
          {
            const char *state = character == NULL || character->free_text
                                ? note->states[j]
                                : ws_knowledge_state_text (archive->knowledge, archive->language, note->character, note->states[j]);
            g_autofree char *pair = g_strdup_printf ("%s: %s%s", ws_dwc_word (archive, "character", note->character), state,
                                                     note->sure && !note->off_photo ? "" : " ?");

            add_sentence (text, pair);
          }
    }
  put_sentences (table, "dwc:habitat", text);
}

/* What has no term: where the specimen is, and the finder's working name, which is no determination. */
static char *
dup_properties (const WsFind *find)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;

  ws_json_begin_object (json, NULL);
  ws_json_add_text (json, "specimen", ws_specimen_is_id (find->specimen_is));
  ws_json_add_optional (json, "growthForm", ws_find_get_growth_form (find));
  ws_json_add_optional (json, "workingName", find->field_name);
  json_builder_end_object (json);
  root = json_builder_get_root (json);
  return json_to_string (root, FALSE);
}

void
ws_dwc_add_occurrence (const WsDwcFind *adding)
{
  WsDwcTable *table = adding->archive->occurrences;
  const WsFind *find = adding->find;
  const WsName *name = ws_find_get_name_in_force (find);
  g_autofree char *when = adding->request->keep_time ? ws_moment_iso (&find->when) : ws_moment_date (&find->when);
  g_autofree char *properties = dup_properties (find);

  ws_dwc_table_begin (table, adding->id);
  ws_dwc_table_put (table, "dwc:basisOfRecord", "HumanObservation");
  ws_dwc_table_put (table, "dwc:occurrenceID", adding->id);
  /* "detected" since 2026-05-26; the registered core still has the older word. */
  ws_dwc_table_put (table, "dwc:occurrenceStatus", "present");
  ws_dwc_table_put (table, "dwc:recordNumber", find->number);
  ws_dwc_table_put (table, "dwc:recordedBy", adding->request->from);
  ws_dwc_table_put (table, "dwc:eventDate", when);
  put_habitat (adding, table);
  put_place (adding, table);
  ws_dwc_table_put (table, "dwc:occurrenceRemarks", find->remarks);
  ws_dwc_table_put (table, "dwc:dynamicProperties", properties);
  ws_dwc_table_put (table, "dwc:kingdom", "Fungi");
  ws_dwc_put_name (table, name);
  if (name != NULL)
    put_name_remarks (adding, table, name);
  ws_dwc_table_end (table);
}
