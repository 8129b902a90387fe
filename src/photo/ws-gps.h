/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The GPS directory of EXIF: position, direction, the satellites' time and what it says of the
 * time zone. Private to the photo layer. */
#pragma once

#include "ws-exif.h"
#include "ws-photo-facts.h"

/* Fills position, direction and gps_utc of @facts, and the offset of its time if that is
 * unknown and the satellites' stamp tells one. What is there and cannot be trusted is left
 * unknown with a warning. */
void ws_gps_read (WsPhotoFacts *facts, const WsExif *exif);

/* Adds a translated sentence. */
void ws_photo_facts_warn (WsPhotoFacts *facts, const char *format, ...) G_GNUC_PRINTF (2, 3);
