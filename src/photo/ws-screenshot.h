/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tells what is probably a picture of a screen and not a photo. Private to the photo layer. */
#pragma once

#include "ws-exif.h"
#include "ws-photo-facts.h"

/* A judgement, not a fact: PNG or JPEG with no camera and no exposure that has the exact size
 * of a common screen, or any that calls itself a screenshot. */
gboolean ws_screenshot_is_likely (const WsPhotoFacts *facts, const WsExif *exif);
