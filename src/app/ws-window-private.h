/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's insides, shared by ws-window.c and ws-window-actions.c only. */
#pragma once

#include "ws-ask-window.h"
#include "ws-find-sheet.h"
#include "ws-finds-page.h"
#include "ws-go-back-page.h"
#include "ws-if-room.h"
#include "ws-import-page.h"
#include "ws-margin-note.h"
#include "ws-requests-page.h"
#include "ws-thumb-index.h"
#include "ws-window.h"

struct _WsWindow
{
  AdwApplicationWindow parent_instance;

  GtkLabel *title;
  GtkWidget *back, *undo, *redo, *lens;
  GtkBox *content;
  GtkStack *places;         /* "finds", "requests" */
  GtkStack *finds_leaves;   /* "page", "go-back", "import", "sheet" */
  WsThumbIndex *index;
  WsMarginNote *note;
  WsFindsPage *finds_page;
  WsGoBackPage *go_back_page;
  WsImportPage *import_page;
  WsFindSheet *sheet;
  WsRequestsPage *requests_page;

  WsSession *session;
  char *open_find;          /* (nullable): id of the find whose sheet was opened last */
  char *open_when_there;    /* (nullable): id of a new find, to be opened once it is loaded */
  gboolean show_top;        /* once the finds of an import are loaded */
  gboolean mirrored;
  gboolean asked_first;
};

void ws_window_install_actions (GtkWidgetClass *widget_class);
/* Title, buttons and commands as they fit where we are. */
void ws_window_update (WsWindow *self);
/* Opens one of the leaves of the place Finds. */
void ws_window_show_leaf (WsWindow *self, const char *leaf);
/* At the very first start asks once for name and number. */
void ws_window_ask_first_time (WsWindow *self);
