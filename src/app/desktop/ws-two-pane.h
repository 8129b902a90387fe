/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two leaves side by side, like an open book; one at a time where there is not room for both. The only
 * place that knows which toolkit widget folds. */
#pragma once

#include <gtk/gtk.h>

#define WS_TYPE_TWO_PANE (ws_two_pane_get_type ())
G_DECLARE_FINAL_TYPE (WsTwoPane, ws_two_pane, WS, TWO_PANE, GtkWidget)

GtkWidget *ws_two_pane_new (void) G_GNUC_WARN_UNUSED_RESULT;

/* The two leaves. In a template: <child type="start"> and <child type="content">. The leaves share the width in
 * proportion to their natural widths unless they do not expand (hexpand). */
void ws_two_pane_set_start (WsTwoPane *self, GtkWidget *start);
void ws_two_pane_set_content (WsTwoPane *self, GtkWidget *content);

/* Property "folded" (read only): TRUE while only one leaf is seen. Notified shortly after folding, when widgets may
 * be shown and hidden. */
gboolean ws_two_pane_get_folded (WsTwoPane *self);
/* Folded, shows that leaf; otherwise both are seen anyway, and it is the one that will be seen on folding. */
void ws_two_pane_show_start (WsTwoPane *self);
void ws_two_pane_show_content (WsTwoPane *self);
/* Property "content-shown" (read only): the leaf shown last was the content. */
gboolean ws_two_pane_get_content_shown (WsTwoPane *self);

/* Property "mirrored": the leaves change sides, for the left hand. */
gboolean ws_two_pane_get_mirrored (WsTwoPane *self);
void ws_two_pane_set_mirrored (WsTwoPane *self, gboolean mirrored);
