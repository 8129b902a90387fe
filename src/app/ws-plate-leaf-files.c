/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plate leaves the window: saved, printed. */
#include "ws-plate-leaf-private.h"

#include "ws-desktop.h"
#include "ws-intl.h"
#include "ws-plate-crops.h"
#include "ws-wrap-box.h"

static GtkWindow *
window_of (WsPlateLeaf *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

/* --- Saving ---------------------------------------------------------------------------------------- */

typedef struct { char *find_id; WsPlateOptions options; char *path; } SaveWish;

static void
save_wish_free (gpointer data)
{
  SaveWish *wish = data;

  g_free (wish->find_id);
  g_free (wish->path);
  g_free (wish);
}

static gpointer
save (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  const SaveWish *wish = data;

  return ws_plate_save (desk, wish->find_id, &wish->options, wish->path, cancellable, error) ? g_strdup (wish->path) : NULL;
}

static void
saved_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  WsPlateLeaf *self = owner;
  g_autofree char *name = result != NULL ? g_filename_display_basename (result) : NULL, *text = NULL;

  if (result == NULL)
    {
      ws_session_report (self->session, error);
      return;
    }
  text = g_strdup_printf (_("The plate lies in “%s”"), name);
  ws_session_say (self->session, text);
}

typedef struct { WsPlateLeaf *self; SaveWish *wish; } Choice;

static void
file_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Choice *choice = data;
  g_autoptr (WsPlateLeaf) self = choice->self;
  g_autoptr (GFile) file = ws_desktop_save_file_finish (result, NULL);
  SaveWish *wish = choice->wish;

  g_free (choice);
  wish->path = file != NULL ? g_file_get_path (file) : NULL;
  if (wish->path == NULL || self->session == NULL)
    {
      save_wish_free (wish);
      return;
    }
  ws_session_say (self->session, _("The plate is being made…"));
  ws_task_run (ws_session_get_desk (self->session), save, wish, save_wish_free, NULL, self, saved_cb, NULL, g_free);
}

static void
ask_where (WsPlateLeaf *self, WsPlateFormat format)
{
  const WsFind *find = self->item != NULL ? ws_find_item_get_find (self->item) : NULL;
  g_autofree char *name = NULL;
  Choice *choice;

  if (find == NULL)
    return;
  choice = g_new0 (Choice, 1);
  choice->self = g_object_ref (self);
  choice->wish = g_new0 (SaveWish, 1);
  choice->wish->find_id = g_strdup (find->id);
  choice->wish->options = (WsPlateOptions) { format, ws_plate_usual_paper (), gtk_toggle_button_get_active (self->sideways),
                                             ws_plate_leaf_get_tell (self) };
  name = g_strdup_printf (format == WS_PLATE_PDF ? "%s.pdf" : "%s.png", find->number);
  ws_desktop_save_file_async (window_of (self), _("Save the plate"), g_strdelimit (name, "/", '-'), file_chosen_cb, choice);
}

static void
pdf_cb (GtkButton *button, WsPlateLeaf *self)
{
  ask_where (self, WS_PLATE_PDF);
}

static void
png_cb (GtkButton *button, WsPlateLeaf *self)
{
  ask_where (self, WS_PLATE_PNG);
}

/* --- Printing ---------------------------------------------------------------------------------------- */

static int
paginate (cairo_t *cr, double width, double height, gpointer data)
{
  WsPlateSheet sheet = ws_plate_sheet_of_paper (ws_plate_usual_paper (), width > height);

  /* The printer's own margins lie outside. */
  sheet.width = width;
  sheet.height = height;
  sheet.margin = 16;
  for (guint i = 0; i < 3 && !ws_plate_lay_out (data, &sheet); i++)
    sheet.em *= 0.85;
  return 1;
}

static void
draw_page (cairo_t *cr, int page, double width, double height, gpointer data)
{
  WsPlateInk ink = WS_PLATE_INK_PRINT;

  ws_plate_draw (data, cr, &ink);
}

static void
crops_cut_cb (gpointer owner, gpointer result, GError *error, gpointer data)
{
  WsPlateLeaf *self = owner;
  WsCrops *crops = result;
  WsDesktopPages pages = { paginate, draw_page, NULL, (GDestroyNotify) ws_plate_free };
  g_autofree char *title = NULL;

  if (crops == NULL || self->item == NULL)
    {
      if (error != NULL)
        ws_session_report (self->session, error);
      return;
    }
  for (guint i = 0; i < crops->surfaces->len; i++)
    ws_plate_set_crop (crops->plate, i, g_ptr_array_index (crops->surfaces, i));
  pages.data = g_steal_pointer (&crops->plate);
  title = g_strdup_printf (_("Plate of %s"), ws_find_item_get_find (self->item)->number);
  ws_desktop_print (window_of (self), title, &pages, NULL, ws_session_failed, g_object_ref (self->session));
}

/* A plate of its own, since the dialogue stays open while the one on the screen may change. */
static void
print_cb (GtkButton *button, WsPlateLeaf *self)
{
  WsPlateSheet sheet = ws_plate_sheet_of_paper (ws_plate_usual_paper (), gtk_toggle_button_get_active (self->sideways));
  const char *form = self->request != NULL ? ws_find_get_growth_form (self->request->find) : "";
  WsFigure *figure = ws_session_get_figure (self->session, form);
  WsCropsWish *wish;
  WsPlate *plate;

  if (self->item == NULL || self->request == NULL || figure == NULL)
    return;
  plate = ws_plate_new (self->request, ws_session_get_knowledge (self->session), figure, self->choices);
  (void) ws_plate_lay_out (plate, &sheet);
  wish = ws_crops_wish_new (self->request, plate, WS_PLATE_PRINT_DPI, -1);
  wish->plate = plate;
  ws_task_run (ws_session_get_desk (self->session), ws_crops_cut, wish, (GDestroyNotify) ws_crops_wish_free, self->cancellable,
               self, crops_cut_cb, NULL, ws_crops_free);
}

/* --- The bar -------------------------------------------------------------------------------------------- */

static void
add (GtkWidget *box, const char *label, const char *tip, GCallback pressed, WsPlateLeaf *self)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_set_tooltip_text (button, tip);
  g_signal_connect_object (button, "clicked", pressed, self, 0);
  ws_wrap_box_append (WS_WRAP_BOX (box), button);
}

void
ws_plate_leaf_fill_bar (WsPlateLeaf *self)
{
  GtkWidget *box = ws_wrap_box_new (), *sideways = gtk_toggle_button_new_with_mnemonic (_("On its si_de"));

  add (box, _("P_DF…"), _("Save the plate as one page to print"), G_CALLBACK (pdf_cb), self);
  add (box, _("P_icture…"), _("Save the plate as a picture"), G_CALLBACK (png_cb), self);
  add (box, _("P_rint…"), _("Print the plate"), G_CALLBACK (print_cb), self);
  gtk_widget_set_tooltip_text (sideways, _("Saved and printed pages lie on their side"));
  self->sideways = GTK_TOGGLE_BUTTON (sideways);
  ws_wrap_box_append (WS_WRAP_BOX (box), sideways);
  gtk_widget_set_hexpand (box, TRUE);
  gtk_box_append (self->bar, box);
}
