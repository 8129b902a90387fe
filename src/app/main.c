/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-application.h"
#include "ws-blocking.h"
#include "ws-intl.h"
#include "ws-picture.h"

#include <stdlib.h>

int
main (int argc, char **argv)
{
  g_autoptr (WsApplication) application = NULL;
  g_autoptr (GError) error = NULL;

  ws_intl_init ();
  g_set_application_name ("Wholestem");
  if (!ws_picture_init (argv[0], &error))
    {
      g_printerr ("%s\n", error->message);
      return EXIT_FAILURE;
    }
  ws_blocking_forbid_here ();
  application = ws_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
