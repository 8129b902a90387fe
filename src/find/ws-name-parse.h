/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A name taken apart: what of it is sure, and what the one who gave it was not sure of. Open nomenclature after
 * Sigovini et al. 2016 and, for what is written to others, Horton et al. 2021: the scientific name holds the lowest
 * rank that is certain, everything doubtful stands in the qualifier. A reader who ignores the qualifier never gets a
 * species that nobody was sure of. Ranks after the ICN, Art. 4, 21, 24. */
#pragma once

#include <glib.h>

/* Strings are never NULL, "" when there is none. */
typedef struct
{
  char *verbatim;                  /* as given */
  char *genus;                     /* "Amanita"; "" when there is none */
  char *rank;                      /* of the name as given: "species", "genus", "variety", "section", "speciesAggregate", …;
                                      "" when nothing could be read */
  char *epithet;                   /* the species epithet, sure or not: "phalloides" */
  char *infraspecific;             /* epithet below the species, sure or not: "alba" */
  char *author;                    /* of the name as given: "(Vaill. ex Fr.) Link" */
  char *qualifier;                 /* the sign of doubt as the trade writes it: "cf.", "aff.", "?", "sp.", "agg.", "s.l.", … */
  char *scientific_name;           /* with author; lowest rank that is certain; "Fungi" when not even the genus is */
  char *identification_qualifier;  /* "cf. phalloides", "sp.", "s.l.", …; "" when nothing is in doubt */
  char *taxon_rank;                /* of scientific_name: "genus", "species", "variety", "kingdom", … */
  gboolean firm;                   /* a species, or below, without any doubt in the name itself */
} WsNameParts;

/* Never fails: what cannot be read is all qualifier, with nothing certain. At most WS_NAME_MAX_BYTES are looked at;
 * a longer text is taken as one that cannot be read. */
#define WS_NAME_MAX_BYTES 400
WsNameParts *ws_name_parse (const char *text) G_GNUC_WARN_UNUSED_RESULT;
void ws_name_parts_free (WsNameParts *parts);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsNameParts, ws_name_parts_free)
