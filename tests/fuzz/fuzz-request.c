/* SPDX-License-Identifier: GPL-3.0-or-later */
/* request.json of a stranger. */
#include "fuzz.h"

#include "ws-request-json.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func (g_free);
  GError *error = NULL;
  g_autoptr (WsRequest) request = ws_request_from_json (bytes, faults, &error);

  if (request == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  g_assert_cmpuint (faults->len, ==, 0);
  /* Every mark lies in its photo, whatever was told. */
  for (guint i = 0; i < request->find->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (request->find->marks, i);

      g_assert_true (ws_rect_is_valid (&mark->shape->bounds));
      g_assert_nonnull (ws_find_get_photo (request->find, mark->photo_id));
    }
  return 0;
}
