/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-id.h"

char *
ws_id_new (void)
{
  return g_uuid_string_random ();
}

gboolean
ws_id_is_valid (const char *text)
{
  return text != NULL && g_uuid_string_is_valid (text);
}
