/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-intl.h"

#include <locale.h>

void
ws_intl_init (void)
{
  const char *dir = g_getenv ("WS_LOCALEDIR_OVERRIDE");

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, dir != NULL ? dir : WS_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}
