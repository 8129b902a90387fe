/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-desktop.h"
#include "ws-intl.h"

typedef struct
{
  WsDesktopPages pages;
  WsDesktopFailed failed;
  gpointer user_data;
} Printing;

static void
printing_free (gpointer data, GClosure *closure)
{
  Printing *printing = data;

  if (printing->pages.free_data != NULL)
    printing->pages.free_data (printing->pages.data);
  g_free (printing);
}

static void
begin_cb (GtkPrintOperation *operation, GtkPrintContext *context, gpointer user_data)
{
  Printing *printing = user_data;
  int n = printing->pages.paginate (gtk_print_context_get_cairo_context (context),
                                    gtk_print_context_get_width (context),
                                    gtk_print_context_get_height (context), printing->pages.data);

  gtk_print_operation_set_n_pages (operation, MAX (n, 1));
}

static void
draw_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, gpointer user_data)
{
  Printing *printing = user_data;

  printing->pages.draw_page (gtk_print_context_get_cairo_context (context), page,
                             gtk_print_context_get_width (context),
                             gtk_print_context_get_height (context), printing->pages.data);
}

static void
done_cb (GtkPrintOperation *operation, GtkPrintOperationResult result, gpointer user_data)
{
  Printing *printing = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *message = NULL;

  if (result != GTK_PRINT_OPERATION_RESULT_ERROR || printing->failed == NULL)
    return;
  gtk_print_operation_get_error (operation, &error);
  message = g_strdup_printf (_("It could not be printed: %s"), error != NULL ? error->message : "");
  printing->failed (message, printing->user_data);
}

void
ws_desktop_print (GtkWindow *parent, const char *title, const WsDesktopPages *pages, const char *file_path,
                  WsDesktopFailed failed, gpointer user_data)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  Printing *printing = g_new0 (Printing, 1);

  printing->pages = *pages;
  printing->failed = failed;
  printing->user_data = user_data;
  gtk_print_operation_set_job_name (operation, title);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect (operation, "begin-print", G_CALLBACK (begin_cb), printing);
  g_signal_connect (operation, "draw-page", G_CALLBACK (draw_cb), printing);
  g_signal_connect_data (operation, "done", G_CALLBACK (done_cb), printing, printing_free, 0);
  if (file_path != NULL)
    gtk_print_operation_set_export_filename (operation, file_path);
  gtk_print_operation_run (operation, file_path != NULL ? GTK_PRINT_OPERATION_ACTION_EXPORT
                                                        : GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG,
                           parent, NULL);
}
