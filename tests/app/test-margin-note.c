/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-margin-note.h"

static void
test_note (void)
{
  g_autoptr (GtkWidget) widget = g_object_ref_sink (ws_margin_note_new ());
  WsMarginNote *note = WS_MARGIN_NOTE (widget);

  g_test_summary ("A note is seen from being said until it is put away; a later one takes its place");
  g_assert_false (gtk_widget_get_visible (widget));
  ws_margin_note_say (note, "first", FALSE);
  g_assert_true (gtk_widget_get_visible (widget));
  ws_margin_note_say (note, "second", TRUE);
  g_assert_cmpstr (ws_margin_note_get_text (note), ==, "second");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, "second");
  ws_margin_note_put_away (note);
  g_assert_false (gtk_widget_get_visible (widget));
  g_assert_cmpstr (ws_margin_note_get_text (note), ==, "");
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/margin-note/note", test_note);
  return g_test_run ();
}
