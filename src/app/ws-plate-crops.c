/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-plate-crops.h"

#include "ws-record.h"

WsCropsWish *
ws_crops_wish_new (const WsRequest *request, const WsPlate *plate, double dpi, int part)
{
  WsCropsWish *wish = g_new0 (WsCropsWish, 1);

  wish->request = ws_request_ref ((WsRequest *) request);
  wish->marks = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_mark_unref);
  wish->edges = g_array_new (FALSE, FALSE, sizeof (int));
  for (guint i = 0; i < ws_plate_get_n_parts (plate); i++)
    {
      const WsMark *mark = ws_plate_get_mark (plate, i);
      int edge = ws_plate_get_crop_edge (plate, i, dpi);

      if (part >= 0 && (guint) part != i)
        continue;
      g_ptr_array_add (wish->marks, mark != NULL ? ws_mark_ref ((WsMark *) mark) : NULL);
      g_array_append_val (wish->edges, edge);
    }
  return wish;
}

void
ws_crops_wish_free (WsCropsWish *wish)
{
  ws_request_unref (wish->request);
  g_ptr_array_unref (wish->marks);
  g_array_unref (wish->edges);
  ws_plate_free (wish->plate);
  g_free (wish->key);
  g_free (wish);
}

static void
surface_free (gpointer data)
{
  if (data != NULL)
    cairo_surface_destroy (data);
}

void
ws_crops_free (gpointer data)
{
  WsCrops *crops = data;

  g_ptr_array_unref (crops->surfaces);
  ws_plate_free (crops->plate);
  g_free (crops->key);
  g_free (crops);
}

static gboolean
cut (const WsCropsWish *wish, GHashTable *paths, GPtrArray *surfaces, GCancellable *cancellable, GError **error)
{
  for (guint i = 0; i < wish->marks->len; i++)
    {
      const WsMark *mark = g_ptr_array_index (wish->marks, i);
      g_autoptr (GError) trouble = NULL;

      g_ptr_array_add (surfaces, mark != NULL ? ws_plate_crop_load (wish->request, mark, paths,
                                                                    g_array_index (wish->edges, int, i), cancellable, &trouble)
                                              : NULL);
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      /* A photo that cannot be read leaves its place hatched. */
      if (trouble != NULL)
        g_message ("%s", trouble->message);
    }
  return TRUE;
}

gpointer
ws_crops_cut (WsDesk *desk, gpointer data, GCancellable *cancellable, GError **error)
{
  WsCropsWish *wish = data;
  g_autoptr (GPtrArray) surfaces = g_ptr_array_new_with_free_func (surface_free);
  g_autoptr (WsFind) find = ws_library_load_find (desk->library, wish->request->find->id, error);
  g_autoptr (GHashTable) paths = find != NULL ? ws_plate_locate_photos (desk, find) : NULL;
  WsCrops *crops;

  if (paths == NULL || !cut (wish, paths, surfaces, cancellable, error))
    return NULL;
  crops = g_new0 (WsCrops, 1);
  crops->surfaces = g_steal_pointer (&surfaces);
  crops->key = g_steal_pointer (&wish->key);
  crops->plate = g_steal_pointer (&wish->plate);
  return crops;
}
