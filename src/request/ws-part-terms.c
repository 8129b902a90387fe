/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-part-terms.h"

#include <string.h>

#define FAO(n) "http://purl.obolibrary.org/obo/FAO_" n
#define AC_PART(n) "http://rs.tdwg.org/acpart/values/" n
#define AC_ORIENT(n) "http://rs.tdwg.org/acorient/values/" n
#define AC_CONTENT(n) "http://rs.tdwg.org/accd/values/" n
#define UPPER AC_ORIENT ("r0008"), "upper"
#define LOWER AC_ORIENT ("r0009"), "lower"
#define LATERAL AC_ORIENT ("r0003"), "lateral"
#define NO_VIEW NULL, NULL
#define ONE_PART AC_CONTENT ("c06")
#define WHOLE AC_PART ("p0001"), "entireOrganism"

/* FAO and the vocabularies were asked for every part: what has no concept has NULL. "upper" and "lower" are said of
 * fungi in the usage notes of the orientations; "stem" and "fruit" of the parts are those of plants and never used. */
static const WsPartTerms terms[] = {
  { "whole", FAO ("0000007"), "fruitbody", WHOLE, NO_VIEW, NULL },
  { "cap", FAO ("0000009"), "pileus", NULL, NULL, UPPER, ONE_PART },
  { "cap_margin", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "gills", NULL, NULL, NULL, NULL, LOWER, ONE_PART },
  { "pores", NULL, NULL, NULL, NULL, LOWER, ONE_PART },
  { "teeth", NULL, NULL, NULL, NULL, LOWER, ONE_PART },
  { "veins", NULL, NULL, NULL, NULL, LOWER, ONE_PART },
  { "fertile_surface", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "attachment", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "stem", FAO ("0000006"), "stipe", NULL, NULL, LATERAL, ONE_PART },
  { "ring", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "stem_base", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "flesh", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "body", FAO ("0000007"), "fruitbody", WHOLE, NO_VIEW, NULL },
  { "latex", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "change", NULL, NULL, NULL, NULL, NO_VIEW, ONE_PART },
  { "habitat", NULL, NULL, NULL, NULL, NO_VIEW, AC_CONTENT ("c02") },
  { "substrate", NULL, NULL, NULL, NULL, NO_VIEW, AC_CONTENT ("c02") },
  { "slip", NULL, NULL, NULL, NULL, NO_VIEW, AC_CONTENT ("c01") },
  { "scale", NULL, NULL, NULL, NULL, NO_VIEW, AC_CONTENT ("c03") },
};

const WsPartTerms *
ws_part_terms (const char *part)
{
  static const WsPartTerms none;

  for (gsize i = 0; i < G_N_ELEMENTS (terms); i++)
    if (g_strcmp0 (terms[i].part, part) == 0)
      return &terms[i];
  return &none;
}
