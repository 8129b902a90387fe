/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The row's insides, shared by ws-note-row.c and ws-note-row-make.c only. */
#pragma once

#include "ws-note-row.h"

struct _WsNoteRow
{
  GtkWidget parent_instance;

  GtkWidget *column, *box, *name, *sure, *more, *details, *remark, *others;
  GtkWidget *button, *summary, *choices;   /* characters with states */
  GtkWidget *entry;                        /* free text */

  WsSession *session;
  const WsCharacter *character;
  WsNote *note;                            /* that is shown and changed; without an id: a new one */
  gboolean another;                        /* a further observation was asked for, and is not made yet */
  gboolean filling;
};

/* Says what the row says, unless that is what is noted already. */
void ws_note_row_say (WsNoteRow *self);
/* A further observation of the character is wanted. */
void ws_note_row_begin_another (WsNoteRow *self);
GtkWidget *ws_note_row_make_states (WsNoteRow *self) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *ws_note_row_make_entry (WsNoteRow *self, const char *name) G_GNUC_WARN_UNUSED_RESULT;
GtkWidget *ws_note_row_make_more (WsNoteRow *self) G_GNUC_WARN_UNUSED_RESULT;
/* Ticks the choices that are made already as the note has them. */
void ws_note_row_show_chosen (WsNoteRow *self);
