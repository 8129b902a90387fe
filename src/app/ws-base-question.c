/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-base-question.h"

#include "ws-intl.h"

struct _WsBaseQuestion
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GPtrArray *buttons;     /* GtkCheckButton, in the order of the knowledge; borrowed */
  GPtrArray *kinds;       /* const char*: borrowed ids beside buttons */
  gboolean setting;       /* the answer is being shown, not given */
};

enum { ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WsBaseQuestion, ws_base_question, GTK_TYPE_WIDGET)

static void
toggled_cb (GtkCheckButton *button, WsBaseQuestion *self)
{
  guint i;

  if (!self->setting && gtk_check_button_get_active (button) && g_ptr_array_find (self->buttons, button, &i))
    g_signal_emit (self, signals[ANSWERED], 0, g_ptr_array_index (self->kinds, i));
}

static void
ws_base_question_dispose (GObject *object)
{
  WsBaseQuestion *self = WS_BASE_QUESTION (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->buttons, g_ptr_array_unref);
  g_clear_pointer (&self->kinds, g_ptr_array_unref);
  G_OBJECT_CLASS (ws_base_question_parent_class)->dispose (object);
}

static void
ws_base_question_class_init (WsBaseQuestionClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_base_question_dispose;
  signals[ANSWERED] = g_signal_new ("answered", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                    G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "base-question");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_RADIO_GROUP);
}

static void
ws_base_question_init (WsBaseQuestion *self)
{
  self->buttons = g_ptr_array_new ();
  self->kinds = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

static void
add_answer (WsBaseQuestion *self, WsSession *session, const WsBaseKind *kind)
{
  g_autofree char *text = g_strdup_printf ("%u  %s", self->buttons->len + 1,
                                           ws_session_text (session, "base_kind", kind->id));
  GtkWidget *label = gtk_label_new (text);
  GtkWidget *button = gtk_check_button_new ();

  /* A label of our own wraps; the button's does not. */
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (button), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  if (self->buttons->len > 0)
    gtk_check_button_set_group (GTK_CHECK_BUTTON (button), g_ptr_array_index (self->buttons, 0));
  g_signal_connect (button, "toggled", G_CALLBACK (toggled_cb), self);
  g_ptr_array_add (self->buttons, button);
  g_ptr_array_add (self->kinds, (gpointer) kind->id);
  gtk_box_append (GTK_BOX (self->box), button);
}

GtkWidget *
ws_base_question_new (WsSession *session)
{
  WsBaseQuestion *self = g_object_new (WS_TYPE_BASE_QUESTION, NULL);
  GPtrArray *kinds = ws_knowledge_get_base_kinds (ws_session_get_knowledge (session));
  GtkWidget *question = gtk_label_new (_("Did the lowest tip come out of the soil whole?"));

  gtk_widget_add_css_class (question, "ws-question");
  gtk_label_set_wrap (GTK_LABEL (question), TRUE);
  gtk_label_set_xalign (GTK_LABEL (question), 0);
  gtk_box_append (GTK_BOX (self->box), question);
  for (guint i = 0; i < kinds->len; i++)
    add_answer (self, session, g_ptr_array_index (kinds, i));
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_RELATION_LABELLED_BY, question, NULL, -1);
  return GTK_WIDGET (self);
}

void
ws_base_question_set_answer (WsBaseQuestion *self, const char *base_kind)
{
  self->setting = TRUE;
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_check_button_set_active (g_ptr_array_index (self->buttons, i),
                                 g_str_equal (g_ptr_array_index (self->kinds, i), base_kind));
  self->setting = FALSE;
}

gboolean
ws_base_question_take_key (WsBaseQuestion *self, guint keyval)
{
  guint n = keyval >= GDK_KEY_1 && keyval <= GDK_KEY_9 ? keyval - GDK_KEY_1
            : keyval >= GDK_KEY_KP_1 && keyval <= GDK_KEY_KP_9 ? keyval - GDK_KEY_KP_1 : G_MAXUINT;

  if (n >= self->buttons->len)
    return FALSE;
  gtk_check_button_set_active (g_ptr_array_index (self->buttons, n), TRUE);
  return TRUE;
}
