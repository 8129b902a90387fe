/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is measured by hand on a find. Every function is one undo step. */
#pragma once

#include "ws-desk.h"

/* Lays a scale on a photo, or changes the one with that id (id "": a new one). What it does not tell of its limits is as
 * in ws-measurement.h. Returns its id. WS_ERROR_INVALID when the points are too close for what they may be off
 * by, see ws_measurement_check_scale(). */
char *ws_record_scale (WsDesk *desk, const WsScale *scale, GError **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean ws_record_remove_scale (WsDesk *desk, const char *scale_id, GError **error);

/* Measures a quantity (id "": a new one). By ruler (photo_id NULL): value and error as given. On a photo of the find: both
 * are worked out from its two points and the photo's scale; WS_ERROR_NOT_FOUND when the photo has none. An observer
 * "" is the user. Returns its id. */
char *ws_record_measurement (WsDesk *desk, const char *find_id, const WsMeasurement *measurement,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean ws_record_remove_measurement (WsDesk *desk, const char *measurement_id, GError **error);

/* Records spores (id "": a new list). Without measured spores the verbatim text is read, as a list spore by spore or as
 * a published notation; what can be read as neither is WS_ERROR_INVALID with the reason. Returns its id. */
char *ws_record_spore_list (WsDesk *desk, const char *find_id, const WsSporeList *list,
                            GError **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean ws_record_remove_spore_list (WsDesk *desk, const char *list_id, GError **error);
