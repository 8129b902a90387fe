/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files ws-dwc*.c only. */
#pragma once

#include "ws-dwc-table.h"
#include "ws-dwc.h"

struct _WsDwcArchive
{
  const WsKnowledge *knowledge;
  char *language;
  WsDwcTable *occurrences, *identifications, *facts, *media;
};

/* What is being added. */
typedef struct
{
  WsDwcArchive *archive;
  const WsRequest *request;
  const WsFind *find;
  char *id;              /* of the occurrence: "urn:uuid:…" */
} WsDwcFind;

extern const char *const ws_dwc_occurrence_terms[], *const ws_dwc_identification_terms[], *const ws_dwc_fact_terms[],
  *const ws_dwc_media_terms[];

/* A phrase of the page's table, or any text; borrowed. */
const char *ws_dwc_phrase (const WsDwcArchive *archive, const char *id);
const char *ws_dwc_word (const WsDwcArchive *archive, const char *kind, const char *id);

void ws_dwc_add_occurrence (const WsDwcFind *adding);
void ws_dwc_add_identifications (const WsDwcFind *adding);
void ws_dwc_add_facts (const WsDwcFind *adding);
void ws_dwc_add_media (const WsDwcFind *adding, GPtrArray *photos, const char *photos_path);

/* Fills verbatimIdentification, scientificName, taxonRank, identificationQualifier, identifiedBy, dateIdentified of a
 * row of either table; @name NULL: nobody has given one. */
void ws_dwc_put_name (WsDwcTable *table, const WsName *name);
