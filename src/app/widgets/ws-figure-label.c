/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-figure-label.h"

#include "ws-intl.h"

#define CROP_SIZE 36
/* The middle of the first line of the name, px: where a leader arrives. */
#define PORT 16

struct _WsFigureLabel
{
  GtkButton parent_instance;

  char *view;
  GtkLabel *name;
  GtkLabel *words;
  GtkWidget *crops;
  char *name_text;
  gboolean toward_right;
  guint key;
};

G_DEFINE_FINAL_TYPE (WsFigureLabel, ws_figure_label, GTK_TYPE_BUTTON)

static void
show_name (WsFigureLabel *self)
{
  g_autofree char *text = self->key > 0 ? g_strdup_printf ("%u  %s", self->key, self->name_text)
                                        : g_strdup (self->name_text);

  gtk_label_set_label (self->name, text);
}

/* "weak: blurred: about 5 px". What is merely not marked needs no more words than missing. */
static char *
state_words (const WsEvidenceLine *line, const WsKnowledge *knowledge, const char *language)
{
  const char *state = ws_knowledge_text (knowledge, language, "evidence_state", ws_evidence_state_id (line->state));

  if (line->state == WS_EVIDENCE_SHOWN || line->detail == NULL || *line->detail == '\0' ||
      g_str_equal (line->reason, "not_marked"))
    return g_strdup (state);
  return g_strdup_printf ("%s: %s", state, line->detail);
}

static void
set_class (WsFigureLabel *self, const char *class, gboolean on)
{
  if (on)
    gtk_widget_add_css_class (GTK_WIDGET (self), class);
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), class);
}

void
ws_figure_label_set_line (WsFigureLabel *self, const WsEvidenceLine *line, const WsKnowledge *knowledge,
                          const char *language, gboolean technical)
{
  const char *need = ws_knowledge_text (knowledge, language, "need", ws_need_id (line->need));
  g_autofree char *state = state_words (line, knowledge, language);
  g_autofree char *words = NULL, *spoken = NULL;

  g_return_if_fail (WS_IS_FIGURE_LABEL (self));
  g_free (self->name_text);
  self->name_text = ws_knowledge_dup_view_name (knowledge, language, line->view->id, technical);
  words = line->excuse != NULL ? g_strdup_printf ("%s · %s · %s", state, need, line->excuse)
                               : g_strdup_printf ("%s · %s", state, need);
  spoken = g_strdup_printf ("%s: %s", self->name_text, words);
  show_name (self);
  gtk_label_set_label (self->words, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  set_class (self, "shown", line->state == WS_EVIDENCE_SHOWN);
  set_class (self, "weak", line->state == WS_EVIDENCE_WEAK);
  set_class (self, "missing", line->state == WS_EVIDENCE_MISSING);
  set_class (self, "required", line->need == WS_NEED_REQUIRED);
  set_class (self, "base", line->view->is_base);
}

void
ws_figure_label_set_crops (WsFigureLabel *self, GdkPaintable *const *crops, guint n_crops)
{
  GtkWidget *child;

  g_return_if_fail (WS_IS_FIGURE_LABEL (self));
  while ((child = gtk_widget_get_first_child (self->crops)) != NULL)
    gtk_box_remove (GTK_BOX (self->crops), child);
  for (guint i = 0; i < MIN (n_crops, WS_FIGURE_LABEL_MAX_CROPS); i++)
    {
      GtkWidget *picture = gtk_picture_new_for_paintable (crops[i]);

      gtk_picture_set_content_fit (GTK_PICTURE (picture), GTK_CONTENT_FIT_COVER);
      gtk_widget_set_size_request (picture, CROP_SIZE, CROP_SIZE);
      gtk_widget_set_overflow (picture, GTK_OVERFLOW_HIDDEN);
      gtk_widget_set_can_target (picture, FALSE);
      gtk_box_append (GTK_BOX (self->crops), picture);
    }
  gtk_widget_set_visible (self->crops, n_crops > 0);
}

void
ws_figure_label_set_armed (WsFigureLabel *self, gboolean armed)
{
  g_return_if_fail (WS_IS_FIGURE_LABEL (self));
  set_class (self, "armed", armed);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_PRESSED,
                               armed ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
}

void
ws_figure_label_set_place (WsFigureLabel *self, gboolean toward_right, guint key)
{
  g_return_if_fail (WS_IS_FIGURE_LABEL (self));
  if (self->toward_right != toward_right)
    {
      GtkJustification justify = toward_right ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT;

      self->toward_right = toward_right;
      set_class (self, "toward-right", toward_right);
      gtk_label_set_xalign (self->name, toward_right);
      gtk_label_set_justify (self->name, justify);
      gtk_label_set_xalign (self->words, toward_right);
      gtk_label_set_justify (self->words, justify);
      gtk_widget_set_halign (self->crops, toward_right ? GTK_ALIGN_END : GTK_ALIGN_START);
    }
  if (self->key != key)
    {
      self->key = key;
      if (self->name_text != NULL)
        show_name (self);
    }
}

const char *
ws_figure_label_get_view (WsFigureLabel *self)
{
  g_return_val_if_fail (WS_IS_FIGURE_LABEL (self), NULL);
  return self->view;
}

double
ws_figure_label_get_port (WsFigureLabel *self)
{
  return PORT;
}

static void
ws_figure_label_finalize (GObject *object)
{
  WsFigureLabel *self = WS_FIGURE_LABEL (object);

  g_free (self->view);
  g_free (self->name_text);
  G_OBJECT_CLASS (ws_figure_label_parent_class)->finalize (object);
}

static void
ws_figure_label_class_init (WsFigureLabelClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ws_figure_label_finalize;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "figure-label");
}

static GtkLabel *
new_label (GtkWidget *box, const char *class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars (GTK_LABEL (label), 8);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 24);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, class);
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

/* States by the edge that faces the words: a rule, a hatched rule, a dashed frame. The sheet of the program may say
 * otherwise. */
static const char style[] =
  "figure-label { padding: 4px 8px; border: 1px solid transparent; border-radius: 3px; }"
  "figure-label .name { font-weight: bold; }"
  "figure-label .words { font-size: 0.88em; }"
  "figure-label .crops { margin-top: 3px; }"
  "figure-label .crops picture { border: 1px solid alpha(currentColor, 0.5); border-radius: 2px; }"
  "figure-label.shown { border-bottom: 1px solid alpha(currentColor, 0.55); }"
  "figure-label.weak { padding-bottom: 8px; background: repeating-linear-gradient(-45deg, alpha(currentColor, 0.7) 0,"
  " alpha(currentColor, 0.7) 1px, transparent 1px, transparent 4px) bottom / 100% 5px no-repeat; }"
  "figure-label.missing { border: 1px dashed alpha(currentColor, 0.6); }"
  "figure-label.missing:not(.required) { border-color: alpha(currentColor, 0.3); }"
  "figure-label.base .name { font-size: 1.25em; font-weight: 800; }"
  "figure-label.base.missing, figure-label.base.weak { border: 2px dashed currentColor; }"
  "figure-label.base .words { font-size: 1em; }"
  "figure-label:hover { background-color: alpha(currentColor, 0.07); }"
  "figure-label:active { background-color: alpha(currentColor, 0.14); }"
  "figure-label.armed { background-color: alpha(currentColor, 0.12); }"
  "figure-label.armed .name { text-decoration: underline; }"
  "figure-label:focus:focus-visible { outline: 2px solid currentColor; outline-offset: 1px; }"
  "figure-view > label.caption { font-style: italic; padding: 2px 4px; background: @window_bg_color; }";

static void
load_style (void)
{
  static gboolean loaded;
  g_autoptr (GtkCssProvider) provider = NULL;

  if (loaded)
    return;
  loaded = TRUE;
  provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_data (provider, style, -1);
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION - 1);
}

static void
ws_figure_label_init (WsFigureLabel *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  load_style ();
  self->name = new_label (box, "name");
  self->words = new_label (box, "words");
  self->crops = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  gtk_widget_add_css_class (self->crops, "crops");
  gtk_widget_set_visible (self->crops, FALSE);
  gtk_box_append (GTK_BOX (box), self->crops);
  gtk_widget_set_halign (self->crops, GTK_ALIGN_START);
  gtk_button_set_child (GTK_BUTTON (self), box);
}

GtkWidget *
ws_figure_label_new (const char *view)
{
  WsFigureLabel *self = g_object_new (WS_TYPE_FIGURE_LABEL, NULL);

  self->view = g_strdup (view);
  return GTK_WIDGET (self);
}
