/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words that the program does not say, as patterns without case. They are a choice (judgement); a word that is not listed
 * is not allowed by that. */
#pragma once

/* In no text at all, string literals of the source included. */
#define HOUSE_NOWHERE \
  "\\b(edib\\w*|inedib\\w*|eatable|harmless\\w*|delicious\\w*|tast(e|y|es|ed|ing)\\b|flavou?r\\w*|palatab\\w*|culinary|recipes?|cook(ing|book)?s?\\b|" \
  "non-?toxic|non-?poisonous|not (poisonous|toxic|dangerous|deadly)|safe (to|for)|good to eat|fit to eat|" \
  "e(ss|ß)bar\\w*|(un)?genie(ß|ss)bar\\w*|ungefährlich\\w*|unbedenklich\\w*|harmlos\\w*|\\w*speisepilz\\w*|ungiftig\\w*|" \
  "lecker\\w*|köstlich\\w*|\\w*schmackhaft\\w*|\\w*schmecken\\w*|schmeckt\\w*|geschmack\\w*|bekömmlich\\w*|nicht giftig|kochrezept\\w*)"

/* In nothing that a person reads: words that say all is well, or that a group is out of the question. */
#define HOUSE_NOT_READ \
  "\\b(safe|safely|complete|completed|completely|completeness|ready|finished|ruled out|excluded|excludes|verified|all (clear|set)|" \
  "vollständig\\w*|komplett\\w*|fertig\\w*|bereit|abgeschlossen\\w*|ausgeschlossen\\w*|sicher zu|verifiziert\\w*)\\b"

/* Of eating only the cautions speak, to warn. */
#define HOUSE_EATING "\\b(eat|eats|eaten|eating|ate|essen|isst|esse|gegessen\\w*|gefressen|verzehr\\w*|mahlzeit\\w*|meals?)\\b"
