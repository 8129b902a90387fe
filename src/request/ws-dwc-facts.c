/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Field notes, sizes and spores as measurements or facts. */
#include "ws-dwc-private.h"

#include "ws-quantities.h"

const char *const ws_dwc_fact_terms[] = {
  "dwc:measurementID", "dwc:measurementType", "dwc:verbatimMeasurementType", "dwc:measurementValue",
  "dwc:measurementAccuracy", "dwc:measurementUnit", "dwc:measurementMethod", "dwc:measurementDeterminedBy",
  "dwc:measurementRemarks", NULL
};

/* Begins a row with what all have. */
static WsDwcTable *
begin (const WsDwcFind *adding, const char *id, const char *kind, const char *type, const char *observer)
{
  WsDwcTable *table = adding->archive->facts;
  g_autofree char *urn = g_strconcat ("urn:uuid:", id, NULL);

  ws_dwc_table_begin (table, adding->id);
  ws_dwc_table_put (table, "dwc:measurementID", urn);
  ws_dwc_table_put (table, "dwc:measurementType", ws_dwc_word (adding->archive, kind, type));
  ws_dwc_table_put (table, "dwc:verbatimMeasurementType", type);
  ws_dwc_table_put (table, "dwc:measurementDeterminedBy", observer);
  return table;
}

static void
put_remarks (const WsDwcFind *adding, const char *sure, const char *specimen, const char *remark)
{
  GString *text = g_string_new (sure);

  if (*specimen != '\0')
    g_string_append_printf (text, "%s%s %s", text->len > 0 ? " | " : "", ws_dwc_phrase (adding->archive, "specimen"), specimen);
  if (*remark != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? " | " : "", remark);
  ws_dwc_table_put (adding->archive->facts, "dwc:measurementRemarks", text->str);
  g_string_free (text, TRUE);
}

static void
add_note (const WsDwcFind *adding, const WsNote *note)
{
  const WsDwcArchive *archive = adding->archive;
  WsDwcTable *table = begin (adding, note->id, "character", note->character, note->observer);
  const WsCharacter *character = ws_knowledge_find_character (archive->knowledge, note->character);
  gboolean sure = note->sure && !note->off_photo;
  g_autoptr (GString) value = g_string_new (NULL);

  for (guint i = 0; note->states[i] != NULL; i++)
    g_string_append_printf (value, "%s%s", i > 0 ? " | " : "",
                            character == NULL || character->free_text
                            ? note->states[i]
                            : ws_knowledge_state_text (archive->knowledge, archive->language, note->character, note->states[i]));
  ws_dwc_table_put (table, "dwc:measurementValue", value->str);
  ws_dwc_table_put (table, "dwc:measurementMethod", ws_dwc_phrase (archive, note->off_photo ? "off_photo" : "dwc_on_specimen"));
  put_remarks (adding, ws_dwc_phrase (archive, sure ? "sure" : "unsure"), note->specimen, "");
  ws_dwc_table_end (table);
}

static void
add_measurement (const WsDwcFind *adding, const WsMeasurement *measurement)
{
  const WsQuantity *quantity = ws_knowledge_find_quantity (adding->archive->knowledge, measurement->quantity);
  WsDwcTable *table = begin (adding, measurement->id, "quantity", measurement->quantity, measurement->observer);

  ws_dwc_table_put_number (table, "dwc:measurementValue", measurement->value, 3);
  ws_dwc_table_put_number (table, "dwc:measurementAccuracy", measurement->error, 3);
  ws_dwc_table_put (table, "dwc:measurementUnit", quantity != NULL && quantity->is_length ? "mm"
                                                  : quantity != NULL ? quantity->unit : NULL);
  ws_dwc_table_put (table, "dwc:measurementMethod",
                    ws_dwc_phrase (adding->archive, measurement->photo_id != NULL ? "dwc_by_photo" : "dwc_by_ruler"));
  put_remarks (adding, "", measurement->specimen, measurement->remark);
  ws_dwc_table_end (table);
}

static void
add_spores (const WsDwcFind *adding, const WsSporeList *list)
{
  WsSporeSizes sizes = ws_spore_sizes_of (list->spores, list->n_spores, list->n_specimens, 0, list->rule);
  g_autofree char *text = list->n_spores > 0 ? ws_spore_sizes_to_text (&sizes) : g_strdup (list->verbatim);
  WsDwcTable *table = begin (adding, list->id, "page", "dwc_spores", list->observer);

  ws_dwc_table_put (table, "dwc:measurementValue", text);
  ws_dwc_table_put (table, "dwc:measurementUnit", "µm");
  ws_dwc_table_put (table, "dwc:measurementMethod", list->mount);
  put_remarks (adding, "", list->specimen, list->remark);
  ws_dwc_table_end (table);
}

void
ws_dwc_add_facts (const WsDwcFind *adding)
{
  for (guint i = 0; i < adding->find->notes->len; i++)
    add_note (adding, g_ptr_array_index (adding->find->notes, i));
  for (guint i = 0; i < adding->find->measurements->len; i++)
    add_measurement (adding, g_ptr_array_index (adding->find->measurements, i));
  for (guint i = 0; i < adding->find->spores->len; i++)
    add_spores (adding, g_ptr_array_index (adding->find->spores, i));
}
