/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-view-keys.h"

/* Letters of the English words, so that they stay put whatever the language of the texts is. */
static const struct { const char *view; char key; } keys[] = {
  { "v_insitu", 'i' },  { "v_habitat", 'h' }, { "v_substrate", 'w' }, { "v_top", 't' },   { "v_margin", 'e' },
  { "v_under", 'u' },   { "v_attach", 'a' },  { "v_stem", 's' },      { "v_ring", 'r' },  { "v_base", 'b' },
  { "v_section", 'c' }, { "v_change", 'g' },  { "v_latex", 'm' },     { "v_print", 'p' }, { "v_scale", 'k' },
  { "v_ages", 'y' },    { "v_slip", 'n' } };

char
ws_view_key (const char *view)
{
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (g_str_equal (keys[i].view, view))
      return keys[i].key;
  return 0;
}

const char *
ws_view_of_key (guint keyval)
{
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if ((guint) keys[i].key == keyval)
      return keys[i].view;
  return NULL;
}
