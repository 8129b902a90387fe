/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program asks of the desktop it runs on, one function per wish. Toolkit calls that later toolkits drop
 * or rename stand behind these and nowhere else. */
#pragma once

#include <gtk/gtk.h>

/* --- Files. The finishing functions fail with G_IO_ERROR_CANCELLED when the person changed their mind. ------ */

/* Several photos. (transfer full): GListModel of GFile */
void ws_desktop_choose_photos_async (GtkWindow *parent, GAsyncReadyCallback callback, gpointer user_data);
GListModel *ws_desktop_choose_photos_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* A folder with photos, or a memory card. (transfer full) */
void ws_desktop_choose_folder_async (GtkWindow *parent, const char *title, GAsyncReadyCallback callback,
                                     gpointer user_data);
GFile *ws_desktop_choose_folder_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Where a request package or a page is to lie; @name is offered as the file's name. (transfer full) */
void ws_desktop_save_file_async (GtkWindow *parent, const char *title, const char *name,
                                 GAsyncReadyCallback callback, gpointer user_data);
GFile *ws_desktop_save_file_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- Questions -------------------------------------------------------------------------------------------------- */

typedef struct
{
  const char *id;
  const char *label;      /* translated, with a mnemonic */
  gboolean standard;      /* what Enter answers */
  gboolean removes;       /* something is taken away by it */
} WsDesktopAnswer;

/* Asks one question. @answers end with an id of NULL; the first one is also what Escape answers. */
void ws_desktop_ask_async (GtkWindow *parent, const char *heading, const char *body,
                           const WsDesktopAnswer *answers, GAsyncReadyCallback callback, gpointer user_data);
/* The id of the answer. (transfer full) */
char *ws_desktop_ask_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- Handing over ------------------------------------------------------------------------------------------------ */

/* Opens "tel:…" or "https:…" with what the desktop has for it; @failed (nullable) is called, with a sentence, when
 * there is nothing that does. */
typedef void (*WsDesktopFailed) (const char *message, gpointer user_data);
void ws_desktop_open_uri (const char *uri, WsDesktopFailed failed, gpointer user_data);
/* Opens the folder that holds @path. */
void ws_desktop_open_folder_of (const char *path, WsDesktopFailed failed, gpointer user_data);

/* Prints through the system's dialogue. */
typedef struct
{
  /* Lays out for a page of that size, points; returns the number of pages. */
  int (*paginate) (cairo_t *cr, double width, double height, gpointer data);
  void (*draw_page) (cairo_t *cr, int page, double width, double height, gpointer data);
  gpointer data;
  GDestroyNotify free_data;   /* when printed, or not */
} WsDesktopPages;
/* @file_path (nullable): writes a PDF there instead of asking. Takes @pages->data. */
void ws_desktop_print (GtkWindow *parent, const char *title, const WsDesktopPages *pages, const char *file_path,
                       WsDesktopFailed failed, gpointer user_data);

/* --- Windows of the program that every desktop draws its own way -------------------------------------------- */

void ws_desktop_show_about (GtkWindow *parent);

typedef struct
{
  const char *group;   /* title of the group, untranslated; the same pointer or text for its members */
  const char *title;   /* untranslated */
  const char *keys;    /* as gtk_accelerator_parse() takes them, separated by blanks */
} WsDesktopShortcut;
/* @shortcuts end with a title of NULL. */
void ws_desktop_show_shortcuts (GtkWindow *parent, const WsDesktopShortcut *shortcuts);
