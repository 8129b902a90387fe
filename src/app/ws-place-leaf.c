/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-place-leaf.h"

#include "ws-edits.h"
#include "ws-intl.h"
#include "ws-text-field.h"

#include <math.h>

/* The fields that are texts: each stores under its key, of the find or of its foray. */
enum { NUMBER, TIME, PLACE, LOCALITY, FORAY_DATE, FORAY_PLACE, FORAY_PEOPLE, N_FIELDS };

static const struct { const char *key; const char *name; gboolean of_foray; } fields[N_FIELDS] = {
  [NUMBER] = { "number", N_("Collecting number"), FALSE },
  [TIME] = { "time", N_("When found (2025-10-04T14:03)"), FALSE },
  [PLACE] = { "place", N_("Latitude, longitude, uncertainty in metres"), FALSE },
  [LOCALITY] = { "locality", N_("Place in words, for the identifier"), FALSE },
  [FORAY_DATE] = { "date", N_("Date of the outing"), TRUE },
  [FORAY_PLACE] = { "place", N_("Where the outing went"), TRUE },
  [FORAY_PEOPLE] = { "people", N_("Who was there"), TRUE },
};

struct _WsPlaceLeaf
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *inputs[N_FIELDS];     /* WsTextField */
  GtkWidget *foray_box;
  GtkWidget *specimen_is;          /* GtkDropDown */

  WsSession *session;
  WsFindItem *item;
  gulong item_changed;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (WsPlaceLeaf, ws_place_leaf, GTK_TYPE_WIDGET)

static const WsFind *
get_find (WsPlaceLeaf *self)
{
  return self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
}

static void
edited_cb (WsTextField *field, const char *text, WsPlaceLeaf *self)
{
  const WsFind *find = get_find (self);

  for (guint i = 0; find != NULL && i < N_FIELDS; i++)
    if (self->inputs[i] == GTK_WIDGET (field))
      {
        if (!fields[i].of_foray)
          ws_edit_set (self->session, find->id, fields[i].key, text);
        else if (find->foray_id != NULL)
          ws_edit_set_foray (self->session, find->foray_id, fields[i].key, text);
      }
}

static void
specimen_chosen_cb (GtkDropDown *drop, GParamSpec *pspec, WsPlaceLeaf *self)
{
  const WsFind *find = get_find (self);
  guint i = gtk_drop_down_get_selected (drop);

  if (!self->filling && find != NULL && i <= WS_SPECIMEN_GONE && i != (guint) find->specimen_is)
    ws_edit_set (self->session, find->id, "specimen-is", ws_specimen_is_id ((WsSpecimenIs) i));
}

/* --- Showing ---------------------------------------------------------------------------------------------- */

static char *
position_text (const WsFind *find)
{
  g_autofree char *pair = NULL;

  if (!ws_position_is_known (&find->where))
    return g_strdup ("");
  pair = ws_position_to_text (&find->where, 6);
  return isfinite (find->where.error_m) ? g_strdup_printf ("%s, %.0f", pair, ceil (find->where.error_m)) : g_steal_pointer (&pair);
}

/* What others will read unless the person chooses otherwise. */
static char *
told_text (const WsFind *find)
{
  WsPosition told = ws_position_told (&find->where, WS_TELL_HUNDREDTH);
  g_autofree char *pair = NULL;

  if (!ws_position_is_known (&told))
    return g_strdup (_("No place is recorded. Nothing is told, and nothing is guessed."));
  pair = ws_position_to_text (&told, 2);
  return g_strdup_printf (_("Only you see this. Told to others, unless you choose otherwise, rounded: %s, within %.0f m."),
                          pair, told.error_m);
}

static void
set_input (WsPlaceLeaf *self, guint i, const char *text)
{
  ws_text_field_set_text (WS_TEXT_FIELD (self->inputs[i]), text != NULL ? text : "");
}

static void
item_changed_cb (WsFindItem *item, WsPlaceLeaf *self)
{
  const WsFind *find = get_find (self);
  const WsForay *foray = self->item != NULL ? ws_find_item_get_foray (self->item) : NULL;
  g_autofree char *time = NULL, *position = NULL, *told = NULL;

  gtk_widget_set_sensitive (GTK_WIDGET (self), find != NULL);
  if (find == NULL)
    return;
  time = ws_moment_local_text (&find->when);
  position = position_text (find);
  told = told_text (find);
  set_input (self, NUMBER, find->number);
  set_input (self, TIME, time);
  set_input (self, PLACE, position);
  set_input (self, LOCALITY, find->locality);
  ws_text_field_set_remark (WS_TEXT_FIELD (self->inputs[PLACE]), told);
  gtk_widget_set_visible (self->foray_box, foray != NULL);
  if (foray != NULL)
    {
      set_input (self, FORAY_DATE, foray->date);
      set_input (self, FORAY_PLACE, foray->place);
      set_input (self, FORAY_PEOPLE, foray->people);
    }
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->specimen_is), (guint) find->specimen_is);
  self->filling = FALSE;
}

void
ws_place_leaf_set_item (WsPlaceLeaf *self, WsFindItem *item)
{
  if (self->item == item)
    return;
  for (guint i = 0; i < N_FIELDS; i++)
    ws_text_field_flush (WS_TEXT_FIELD (self->inputs[i]));
  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_set_object (&self->item, item);
  if (item != NULL)
    self->item_changed = g_signal_connect (item, "changed", G_CALLBACK (item_changed_cb), self);
  item_changed_cb (item, self);
}

/* --- Making ------------------------------------------------------------------------------------------------- */

static GtkWidget *
make_field (WsPlaceLeaf *self, guint i)
{
  self->inputs[i] = ws_text_field_new (_(fields[i].name), FALSE);
  g_signal_connect_object (self->inputs[i], "edited", G_CALLBACK (edited_cb), self, 0);
  return self->inputs[i];
}

static GtkWidget *
make_specimen_is (WsPlaceLeaf *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *name = gtk_label_new (_("Where the specimen is now"));
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);

  for (guint i = 0; i <= WS_SPECIMEN_GONE; i++)
    gtk_string_list_append (list, ws_session_text (self->session, "specimen_is", ws_specimen_is_id ((WsSpecimenIs) i)));
  self->specimen_is = gtk_drop_down_new (G_LIST_MODEL (g_object_ref (list)), NULL);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_widget_add_css_class (name, "ws-field-name");
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->specimen_is), GTK_ACCESSIBLE_RELATION_LABELLED_BY, name, NULL, -1);
  g_signal_connect_object (self->specimen_is, "notify::selected", G_CALLBACK (specimen_chosen_cb), self, 0);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), self->specimen_is);
  return box;
}

static void
ws_place_leaf_dispose (GObject *object)
{
  WsPlaceLeaf *self = WS_PLACE_LEAF (object);

  if (self->item != NULL)
    g_clear_signal_handler (&self->item_changed, self->item);
  g_clear_object (&self->item);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (ws_place_leaf_parent_class)->dispose (object);
}

static void
ws_place_leaf_class_init (WsPlaceLeafClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = ws_place_leaf_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
ws_place_leaf_init (WsPlaceLeaf *self)
{
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
}

GtkWidget *
ws_place_leaf_new (WsSession *session)
{
  WsPlaceLeaf *self = g_object_new (WS_TYPE_PLACE_LEAF, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  self->session = g_object_ref (session);
  gtk_widget_add_css_class (box, "ws-form");
  self->foray_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  for (guint i = 0; i < N_FIELDS; i++)
    gtk_box_append (GTK_BOX (fields[i].of_foray ? self->foray_box : box), make_field (self, i));
  gtk_box_append (GTK_BOX (box), make_specimen_is (self));
  gtk_box_append (GTK_BOX (box), self->foray_box);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), box);
  item_changed_cb (NULL, self);
  return GTK_WIDGET (self);
}
