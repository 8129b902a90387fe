/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Not a test: takes the pictures of each page for data/screens, from a library that data/demo/load has filled.
 *
 *   WS_SHOTS=FOLDER [ADW_DEBUG_COLOR_SCHEME=prefer-dark] screens LIBRARY */
#include "window-rig.h"

#include "ws-find-row.h"

static void
close_top (WindowRig *rig)
{
  window_rig_key (rig, "Escape");
  window_rig_settle ();
}

static void
pages (WindowRig *rig)
{
  GtkWidget *questions;

  window_rig_wait (3000);
  questions = window_rig_look ("Not now");
  if (questions != NULL)
    window_rig_click (rig, questions);
  window_rig_settle ();
  window_rig_wait (2500);
  window_rig_shoot ("finds");
  window_rig_click (rig, window_rig_find_type (WS_TYPE_FIND_ROW));
  window_rig_settle ();
  window_rig_wait (4000);
  window_rig_key (rig, "Page_Down");
  window_rig_key (rig, "Page_Down");
  window_rig_key (rig, "Page_Down");
  window_rig_key (rig, "Page_Down");
  window_rig_wait (2500);
  window_rig_shoot ("find-sheet");
  window_rig_click_text (rig, "Plate");
  window_rig_settle ();
  window_rig_wait (2500);
  window_rig_shoot ("plate");
  window_rig_click_text (rig, "Plate");
  window_rig_settle ();
  window_rig_click_text (rig, "Notes");
  window_rig_settle ();
  window_rig_shoot ("notes");
  window_rig_click_text (rig, "Still open");
  window_rig_settle ();
  window_rig_shoot ("still-open");
  window_rig_click_text (rig, "Place");
  window_rig_settle ();
  window_rig_shoot ("place");
  window_rig_click_text (rig, "Names");
  window_rig_settle ();
  window_rig_shoot ("names");
  window_rig_click_text (rig, "win.ask");
  window_rig_settle ();
  window_rig_wait (1500);
  window_rig_shoot ("ask");
  window_rig_click_text (rig, "On to the last look");
  window_rig_settle ();
  window_rig_wait (3000);
  window_rig_shoot ("last-look");
  close_top (rig);
  window_rig_hover (GTK_WIDGET (window_rig_get_window ()));
  window_rig_key (rig, "ctrl+g");
  window_rig_settle ();
  window_rig_wait (2500);
  window_rig_shoot ("go-back");
  window_rig_click_text (rig, "Requests");
  window_rig_settle ();
  window_rig_shoot ("requests");
  window_rig_click_text (rig, "win.eaten");
  window_rig_settle ();
  window_rig_wait (800);
  window_rig_shoot ("eaten");
}

int
main (int argc, char **argv)
{
  WindowRig rig = { NULL, argc > 1 ? argv[1] : NULL, 0 };

  if (argc != 2 || g_getenv ("WS_SHOTS") == NULL)
    {
      g_printerr ("WS_SHOTS=FOLDER screens LIBRARY\n");
      return 2;
    }
  window_rig_start ();
  window_rig_run (&rig, 0, 0, pages);
  return 0;
}
