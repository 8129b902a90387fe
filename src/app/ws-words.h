/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How dates, places and photos are written on the pages. All translated, all (transfer full). */
#pragma once

#include "ws-knowledge.h"
#include "ws-values.h"

/* "Saturday, 4 October 2025"; "Date not known" for "". */
char *ws_words_date (const char *date) G_GNUC_WARN_UNUSED_RESULT;
/* "4 October 2025, 14:03" of a UTC time, on this computer's clock. */
char *ws_words_when (gint64 utc_us) G_GNUC_WARN_UNUSED_RESULT;
/* "Old beech wood, with Ada"; "" when neither is known. @foray (nullable). */
char *ws_words_place_people (const WsForay *foray) G_GNUC_WARN_UNUSED_RESULT;
/* "14:03 · under beeches · 7 photos". */
char *ws_words_find_details (const WsFind *find) G_GNUC_WARN_UNUSED_RESULT;
/* "25-101, grey one by the stump". */
char *ws_words_find_title (const WsFind *find) G_GNUC_WARN_UNUSED_RESULT;
/* "cup, saucer-like; grey below": the states of a note in the language of the knowledge, and what was written of it. */
char *ws_words_note (const WsNote *note, const WsKnowledge *knowledge, const char *language) G_GNUC_WARN_UNUSED_RESULT;
/* TRUE when both say the same, whoever stored them when. */
gboolean ws_words_notes_are_same (const WsNote *a, const WsNote *b);
/* "IMG_0102.JPG, 4 October 2025, 14:03". */
char *ws_words_photo (const WsPhoto *photo) G_GNUC_WARN_UNUSED_RESULT;
