/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page's insides, shared by ws-finds-page.c and ws-finds-page-actions.c only. */
#pragma once

#include "ws-finds-lines.h"
#include "ws-finds-page.h"
#include "ws-photo-shelf.h"

struct _WsFindsPage
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkStack *pages;
  GtkSearchBar *search_bar;
  GtkSearchEntry *search_entry;
  WsPhotoShelf *shelf;
  GtkListView *list;
  GtkBox *empty_cautions;
  GtkRevealer *taken_bar;
  GtkLabel *taken;

  WsSession *session;
  WsFindsLines *lines;
  GtkMultiSelection *selection;
  guint search_serial;
  gboolean had_lines;     /* before the last change */
};

void ws_finds_page_install_actions (GtkWidgetClass *widget_class);
/* What can be done with the lines that are taken. */
void ws_finds_page_update_actions (WsFindsPage *self);
void ws_finds_page_emit_open (WsFindsPage *self, const char *id);
void ws_finds_page_emit_ask (WsFindsPage *self, const char *id);
