/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a photo says of itself, in every container. */
#include "fuzz.h"

#include "ws-photo-facts.h"

#include <math.h>

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  GError *error = NULL;
  g_autoptr (WsPhotoFacts) facts = ws_photo_facts_read (bytes, "fuzz", &error);

  if (facts == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  g_assert_cmpint (facts->orientation, >=, 0);
  g_assert_cmpint (facts->orientation, <=, 8);
  /* A value that cannot be trusted is unknown, never a guess. */
  g_assert_true (isnan (facts->position.latitude) || fabs (facts->position.latitude) <= 90);
  g_assert_true (isnan (facts->position.longitude) || fabs (facts->position.longitude) <= 180);
  return 0;
}
