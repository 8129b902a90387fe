/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Judging 20,000 finds whose measurements are stored, as the lists do that show them live; one thread. */
#include "bench.h"

#include "ws-desk.h"
#include "ws-still-open.h"

#define N_FINDS 20000

/* Every part in turn, as sharp as photos are: a mark has its numbers from when it was made. */
static WsMark *
mark (const WsKnowledge *knowledge, guint seed, guint i)
{
  GPtrArray *parts = ws_knowledge_get_parts (knowledge), *kinds = ws_knowledge_get_base_kinds (knowledge);
  const WsPart *part = g_ptr_array_index (parts, (seed + 3 * i) % parts->len);
  WsMark *mark = ws_mark_new ();
  g_autofree char *id = g_strdup_printf ("%u/%u", seed, i);

  ws_set_string (&mark->id, id);
  ws_set_string (&mark->photo_id, "photo");
  ws_set_string (&mark->part, part->id);
  g_strfreev (mark->views);
  mark->views = g_strdupv ((char **) part->views);
  g_clear_pointer (&mark->shape, ws_shape_free);
  mark->shape = ws_shape_new_box (&(WsRect) { 0.2, 0.2, 0.4, 0.4 });
  if (g_str_equal (part->id, "stem_base"))
    ws_set_string (&mark->base_kind, ((const WsBaseKind *) g_ptr_array_index (kinds, seed % kinds->len))->id);
  mark->measure.measured = TRUE;
  mark->measure.width_px = mark->measure.height_px = 200 + (int) (seed % 7) * 200;
  mark->measure.blur_sigma = 0.6 + (seed + i) % 9;
  mark->measure.burnt_out = mark->measure.blocked_up = 0.01;
  return mark;
}

/* The states of the tables in turn, one of three unsure. */
static WsNote *
note (const WsKnowledge *knowledge, guint seed, guint i)
{
  GPtrArray *characters = ws_knowledge_get_characters (knowledge);
  const WsCharacter *character = g_ptr_array_index (characters, (seed * 5 + i * 3) % characters->len);
  WsNote *note = ws_note_new ();
  g_autofree char *id = g_strdup_printf ("%u/%u", seed, i);

  if (i == 0)
    character = ws_knowledge_find_character (knowledge, "growth_form");
  ws_set_string (&note->id, id);
  ws_set_string (&note->character, character->id);
  g_strfreev (note->states);
  note->states = g_new0 (char *, 2);
  note->states[0] = character->states != NULL && character->states->len > 0
                        ? g_strdup (g_ptr_array_index (character->states, seed % character->states->len)) : g_strdup ("oak");
  note->sure = i % 3 != 2;
  return note;
}

static GPtrArray *
make_finds (const WsKnowledge *knowledge)
{
  GPtrArray *finds = g_ptr_array_new_with_free_func ((GDestroyNotify) ws_find_unref);

  for (guint k = 0; k < N_FINDS; k++)
    {
      WsFind *find = ws_find_new ();
      WsFindPhoto *link = ws_find_photo_new ();

      ws_set_string (&link->photo->id, "photo");
      g_ptr_array_add (find->photos, link);
      for (guint i = 0; i < 6; i++)
        g_ptr_array_add (find->marks, mark (knowledge, k, i));
      for (guint i = 0; i < 8; i++)
        g_ptr_array_add (find->notes, note (knowledge, k, i));
      g_ptr_array_add (finds, find);
    }
  return finds;
}

static void
run (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WsKnowledge) knowledge = ws_desk_builtin_knowledge (&error);
  g_autoptr (GPtrArray) finds = NULL;
  double evidence = G_MAXDOUBLE, open = G_MAXDOUBLE;

  if (knowledge == NULL)
    g_error ("%s", error->message);
  finds = make_finds (knowledge);
  for (guint round = 0; round < bench->rounds; round++)
    {
      double start = bench_now (), middle;

      for (guint k = 0; k < finds->len; k++)
        ws_evidence_free (ws_evidence_judge (g_ptr_array_index (finds, k), knowledge, "en"));
      middle = bench_now ();
      for (guint k = 0; k < finds->len; k++)
        ws_still_open_free (ws_still_open_judge (g_ptr_array_index (finds, k), knowledge, NULL));
      evidence = MIN (evidence, middle - start);
      open = MIN (open, bench_now () - middle);
    }
  bench_tell_value ("evidence and still open of 20,000 finds", evidence + open, "s", 1);
  g_printerr ("of it evidence %.2f s, still open %.2f s\n", evidence, open);
}

const BenchGroup bench_lists = { "lists", run };
