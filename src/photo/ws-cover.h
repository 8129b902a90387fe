/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paints shapes over, so that nothing of what is under them is left. Private to the photo
 * layer. */
#pragma once

#include "ws-picture.h"

/* Every pixel that the shape touches becomes the same grey. @pixels: R8G8B8, rows without gaps. */
void ws_cover_paint (guint8 *pixels, int width, int height, const WsShape *shape);
