/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a request under work: escaping, and the phrases of its language. Shared by the files
 * ws-page-*.c and ws-request-page.c only. */
#pragma once

#include "ws-request-page.h"

typedef struct
{
  GString *html;
  const WsRequest *request;
  const WsKnowledge *knowledge;
  const char *language;
  GPtrArray *photos;      /* WsPackagePhoto */
  GPtrArray *crops;       /* WsPackageCrop */
  WsEvidence *evidence;
  const WsPageExtras *extras;   /* never NULL here */
  GHashTable *done;       /* marks whose close-up stands on the page already */
} WsPage;

/* Markup as it is. Never hand text of a person to this. */
void ws_page_raw (WsPage *page, const char *markup);
/* Text of anybody, escaped for content and attributes alike. */
void ws_page_text (WsPage *page, const char *text);
/* A phrase of the page, or any text of the knowledge tables; borrowed. */
const char *ws_page_phrase (const WsPage *page, const char *id);
const char *ws_page_word (const WsPage *page, const char *kind, const char *id);
/* <TAG CLASS>text</TAG>; @css_class may be NULL. */
void ws_page_element (WsPage *page, const char *tag, const char *css_class, const char *text);
/* A section with its heading, to be ended by ws_page_raw ("</section>\n"). */
void ws_page_begin_section (WsPage *page, const char *id, const char *heading);
/* One line of a definition list; nothing when @text is "". */
void ws_page_row (WsPage *page, const char *term, const char *text);
/* A number, whole or with two decimals, with a decimal point whatever the locale. */
void ws_page_number (WsPage *page, double number, int decimals);
/* "data:image/jpeg;base64,…" */
void ws_page_picture (WsPage *page, GBytes *jpeg);
/* Width in px of a close-up's region on the original photo; 0 where the close-up has them all. */
int ws_page_width_on_original (const WsPage *page, const WsPackageCrop *crop);
/* A link to a mark by its letter. */
void ws_page_mark_link (WsPage *page, const WsMark *mark);

/* The states of a note, with commas between. */
void ws_page_states (WsPage *page, const WsNote *note);

/* The blocks, in ws-page-*.c. */
void ws_page_add_new (WsPage *page);
void ws_page_add_first (WsPage *page);
void ws_page_add_still_open (WsPage *page);
void ws_page_add_form (WsPage *page);
void ws_page_add_script (WsPage *page);
void ws_page_add_base_warning (WsPage *page);
void ws_page_add_evidence (WsPage *page);
void ws_page_add_notes (WsPage *page);
void ws_page_add_place (WsPage *page);
void ws_page_add_guess (WsPage *page);
void ws_page_add_cautions (WsPage *page);
void ws_page_add_eaten (WsPage *page);
void ws_page_add_first_closeups (WsPage *page);
void ws_page_add_other_closeups (WsPage *page);
void ws_page_add_photos (WsPage *page);

/* The script of the form, and what a Content-Security-Policy calls it: 'sha256-…'. (transfer full) */
GBytes *ws_page_load_script (void) G_GNUC_WARN_UNUSED_RESULT;
char *ws_page_dup_script_source (void) G_GNUC_WARN_UNUSED_RESULT;

/* The style sheet. */
extern const char ws_page_style[];
