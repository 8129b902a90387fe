/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-actions.h"

#include "ws-desktop.h"
#include "ws-intl.h"

typedef struct
{
  const char *group, *title;
  const char *keys;     /* separated by blanks */
  const char *action;   /* (nullable): a key that a page handles itself */
} Command;

static const Command commands[] = {
  { N_("Photos"), N_("Add photos"), "<Control>o", "win.add-photos" },
  { N_("Photos"), N_("Open a folder or card"), "<Control><Shift>o", "win.open-folder" },
  { N_("Photos"), N_("Sort loose photos into finds"), "<Control>t", "win.sort-photos" },
  { N_("Photos"), N_("Two or four photos beside each other, or one"), "<Control>2 <Control>4 <Control>1", NULL },
  { N_("Photos"), N_("Photos beside each other move and zoom together"), "<Control>j", NULL },
  { N_("Photos"), N_("Take the next one in hand"), "F6", NULL },
  { N_("Finds"), N_("Search"), "<Control>f", "win.search" },
  { N_("Finds"), N_("New find without photos"), "<Control>n", "win.new-find" },
  { N_("Finds"), N_("Open the find"), "Return", NULL },
  { N_("Finds"), N_("Take a line with others"), "<Control>space", NULL },
  { N_("Finds"), N_("Remove what is taken"), "Delete", NULL },
  { N_("Finds"), N_("Ask somebody about the open find"), "<Control>Return", "win.ask" },
  { N_("Finds"), N_("What to go back for"), "<Control>g", "win.go-back" },
  { N_("Finds"), N_("Back to the page of finds"), "<Alt>Left", NULL },
  { N_("Marks"), N_("Mark with a box, an oval, an outline, along the edge"), "x o l f", NULL },
  { N_("Marks"), N_("Begin a mark, or set it"), "Return", NULL },
  { N_("Marks"), N_("Size a mark"), "<Control>Right <Control>Down", NULL },
  { N_("Marks"), N_("In fine steps"), "<Alt>Right <Alt>Down", NULL },
  { N_("Marks"), N_("Points of an outline"), "F2", NULL },
  { N_("Marks"), N_("The same mark on the next photo"), "<Control>d", NULL },
  { N_("Everywhere"), N_("Eaten, or perhaps eaten"), "<Control>e", "win.eaten" },
  { N_("Everywhere"), N_("Undo"), "<Control>z", "win.undo" },
  { N_("Everywhere"), N_("Redo"), "<Control><Shift>z <Control>y", "win.redo" },
  { N_("Everywhere"), N_("Finds"), "<Alt>1", "win.place::finds" },
  { N_("Everywhere"), N_("Requests"), "<Alt>2", "win.place::requests" },
  { N_("Everywhere"), N_("Settings"), "<Control>comma", "win.settings" },
  { N_("Everywhere"), N_("Shortcuts"), "<Control>question", "win.shortcuts" },
  { N_("Everywhere"), N_("Close the window"), "<Control>w", "window.close" },
};

void
ws_actions_set_keys (GtkApplication *application)
{
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      g_auto (GStrv) keys = g_strsplit (commands[i].keys, " ", -1);

      if (commands[i].action != NULL)
        gtk_application_set_accels_for_action (application, commands[i].action, (const char *const *) keys);
    }
}

void
ws_actions_show_shortcuts (GtkWindow *parent)
{
  WsDesktopShortcut shortcuts[G_N_ELEMENTS (commands) + 1] = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    shortcuts[i] = (WsDesktopShortcut) { commands[i].group, commands[i].title, commands[i].keys };
  ws_desktop_show_shortcuts (parent, shortcuts);
}
