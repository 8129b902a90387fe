/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of pages share: a library with an open session, a window to put a page in, and hands. */
#pragma once

#include <adwaita.h>

#include "ws-session.h"
#include "ws-test-library.h"

typedef struct
{
  TestDesk test;
  WsSession *session;
  GtkWidget *window;     /* (nullable) */
  GString *said;         /* what the session said: "text|", errors "!text|" */
} Shell;

/* Toolkit, resources and pictures; once, from main(). */
void shell_init (int *argc, char ***argv);
/* Opens a session on a library that @fill (nullable) was called on first, and waits until it is loaded. */
void shell_begin (Shell *shell, void (*fill) (TestDesk *test));
void shell_end (Shell *shell);
/* Two finds with a photo each on 4 October 2025, and one photo without time. */
void shell_fill_finds (TestDesk *test);

/* Shows @page in a window of @width x @height and waits until it is drawn. A window is shown as it is. */
void shell_show (Shell *shell, GtkWidget *page, int width, int height);
/* Runs the loop until nothing is under way. */
void shell_settle (Shell *shell);
/* Runs the loop until @text is on the page, at most 20 seconds. */
void shell_wait_for (Shell *shell, GtkWidget *root, const char *text);

/* The first widget of @type below @root whose label (of a button, label or expander, without mnemonics) is @text; of any label
 * when @text is NULL. Only what is mapped. */
GtkWidget *shell_find (GtkWidget *root, GType type, const char *text);
/* Clicks the button with that label; fails when it is not there or cannot be clicked. */
void shell_click (Shell *shell, GtkWidget *root, const char *text);
/* All mapped label texts, joined by "|". (transfer full) */
char *shell_texts (GtkWidget *root);
/* @text is, or is not, part of those. */
void shell_assert_says (GtkWidget *root, const char *text);
void shell_assert_silent (GtkWidget *root, const char *text);
