/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-print.h"

#include "ws-list.h"
#include "ws-words.h"

GtkWidget *
ws_print_new (WsSession *session, const WsPhoto *photo, int size)
{
  GtkWidget *print = ws_thumbnail_new (ws_session_get_pictures (session), size);

  gtk_widget_set_valign (print, GTK_ALIGN_CENTER);
  if (photo != NULL)
    ws_print_show (WS_THUMBNAIL (print), session, photo);
  return print;
}

void
ws_print_show (WsThumbnail *print, WsSession *session, const WsPhoto *photo)
{
  g_autofree char *path = ws_library_dup_thumbnail_path (ws_session_get_desk (session)->library, photo->digest);
  g_autofree char *description = ws_words_photo (photo);

  ws_thumbnail_set_photo (print, path, photo->path, photo->digest, photo->width, photo->height, description);
}

/* --- In lists --------------------------------------------------------------------------------------- */

typedef struct { WsSession *session; int size; } Maker;

static void
maker_free (gpointer data, GClosure *closure)
{
  Maker *maker = data;

  g_object_unref (maker->session);
  g_free (maker);
}

static void
setup_cb (GtkListItemFactory *factory, GtkListItem *list_item, gpointer user_data)
{
  Maker *maker = user_data;
  GtkWidget *print = ws_print_new (maker->session, NULL, maker->size);

  gtk_widget_set_halign (print, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (print, "print");
  gtk_list_item_set_child (list_item, print);
}

static void
bind_cb (GtkListItemFactory *factory, GtkListItem *list_item, gpointer user_data)
{
  Maker *maker = user_data;
  const WsPhoto *photo = ws_photo_item_get_photo (gtk_list_item_get_item (list_item));
  g_autofree char *name = ws_words_photo (photo);

  ws_print_show (WS_THUMBNAIL (gtk_list_item_get_child (list_item)), maker->session, photo);
  ws_list_name_row (list_item, name);
}

GtkListItemFactory *
ws_print_factory_new (WsSession *session, int size)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  Maker *maker = g_new0 (Maker, 1);

  maker->session = g_object_ref (session);
  maker->size = size;
  g_signal_connect_data (factory, "setup", G_CALLBACK (setup_cb), maker, maker_free, 0);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), maker);
  return factory;
}

char **
ws_prints_dup_taken (GtkSelectionModel *selection)
{
  g_autoptr (GtkBitset) taken = gtk_selection_model_get_selection (selection);
  g_autoptr (GStrvBuilder) ids = g_strv_builder_new ();

  for (guint i = 0; i < gtk_bitset_get_size (taken); i++)
    {
      g_autoptr (WsPhotoItem) item = g_list_model_get_item (G_LIST_MODEL (selection), gtk_bitset_get_nth (taken, i));

      g_strv_builder_add (ids, ws_photo_item_get_photo (item)->id);
    }
  return g_strv_builder_end (ids);
}
