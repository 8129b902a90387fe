/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of src/draw share: figures, knowledge and finds to draw. */
#pragma once

#include "ws-figure.h"

/* Growth forms of trade.md, NULL-terminated, without "unknown". */
extern const char *const rig_forms[];

char *rig_read_figure_text (const char *form);
WsFigure *rig_load_figure (const char *form);
WsKnowledge *rig_load_knowledge (void);
/* A find with a growth form; "" for none. */
WsFind *rig_new_find (const char *growth_form);
void rig_add_note (WsFind *find, const char *character, const char *state);
void rig_add_mark (WsFind *find, const char *part, const char *view);
/* The figure drawn black on white into an image of w x h; 8 bits, darkness 0-255 of pixel (x, y) at y * w + x. */
guint8 *rig_draw (const WsFigure *figure, int w, int h, WsFigureLook *look);
