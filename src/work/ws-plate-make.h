/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making the plate of a find, for a file or for the screen. */
#pragma once

#include "ws-desk.h"
#include "ws-plate-file.h"

/* --- What it is made of --------------------------------------------------------------------------- */

/* The figure of a growth form, "" or one without a figure: that of an unknown one. Blocks. */
WsFigure *ws_plate_load_figure (const char *growth_form, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The find as somebody else would be told it, for a plate that is not part of a request; in the desk's language. @photo_paths
 * of the plate's functions are those of the find itself: ws_plate_locate_photos(). */
WsRequest *ws_plate_make_up (WsDesk *desk, const WsFind *find, WsTellPlace tell) G_GNUC_WARN_UNUSED_RESULT;
/* Photo id to path, of those that are where they were or are found again; the rest is left out. Blocks. */
GHashTable *ws_plate_locate_photos (WsDesk *desk, const WsFind *find) G_GNUC_WARN_UNUSED_RESULT;
/* The paper that is usual where the user lives. */
WsPaper ws_plate_usual_paper (void);

/* --- Crops that were chosen ------------------------------------------------------------------------- */

/* Where a find's chosen crops are kept in the library's settings. (transfer full) */
char *ws_plate_choices_key (const char *find_id) G_GNUC_WARN_UNUSED_RESULT;
/* "v_base=MARK v_top=MARK" to view id -> mark id and back; NULL is none, what is not of this form is left out. */
GHashTable *ws_plate_choices_parse (const char *text) G_GNUC_WARN_UNUSED_RESULT;
char *ws_plate_choices_to_text (GHashTable *choices) G_GNUC_WARN_UNUSED_RESULT;
/* Those of a find, from the library. Blocks. */
GHashTable *ws_plate_load_choices (WsDesk *desk, const char *find_id) G_GNUC_WARN_UNUSED_RESULT;

/* --- Files ------------------------------------------------------------------------------------------- */

typedef struct
{
  WsPlateFormat format;
  WsPaper paper;
  gboolean sideways;
  WsTellPlace tell;
} WsPlateOptions;

/* Saves the plate of a find at @path. Nothing is there when it fails or is cancelled. Blocks. */
gboolean ws_plate_save (WsDesk *desk, const char *find_id, const WsPlateOptions *options, const char *path,
                        GCancellable *cancellable, GError **error);
