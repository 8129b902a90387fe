/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An answer of a stranger: a file, or the text of a mail with a block in it. */
#include "fuzz.h"

#include "ws-answer-json.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size), block = NULL;
  GError *error = NULL;
  g_autoptr (WsAnswer) answer = NULL;

  block = ws_answer_from_block (bytes, &error);
  if (block == NULL)
    fuzz_check_error (g_steal_pointer (&error));
  answer = ws_answer_from_json (block != NULL ? block : bytes, NULL, &error);
  if (answer == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  g_assert_cmpuint (answer->opinions->len, <=, WS_ANSWER_MAX_ITEMS);
  g_assert_cmpuint (answer->wishes->len, <=, WS_ANSWER_MAX_ITEMS);
  g_assert_true (g_utf8_validate (answer->remarks, -1, NULL));
  return 0;
}
