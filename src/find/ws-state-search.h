/* SPDX-License-Identifier: GPL-3.0-or-later */
/* States found by a few letters of their plain or their technical name, for quick entry. */
#pragma once

#include "ws-knowledge.h"

typedef struct
{
  const WsCharacter *character;
  const char *state;            /* id */
} WsStateMatch;

/* Each word of @letters must begin a word of the state's plain name in the language, of its technical term, or of the
 * character's name; accents and case do not count. Best first: by the character, by the plain name, by the term, by all together; of these the
 * characters that apply to @growth_form ("" unknown) before the others. At most @limit. Array of WsStateMatch, empty for no
 * letters. (transfer full) */
GArray *ws_state_search (const WsKnowledge *knowledge, const char *language, const char *letters, const char *growth_form,
                         guint limit) G_GNUC_WARN_UNUSED_RESULT;
