/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Profiles for files that say in other ways than by a profile which colours their numbers mean. Private to the photo
 * layer. */
#pragma once

#include "ws-photo-facts.h"

/* The ICC profile of these colours, made once by lcms2; NULL for sRGB. Borrowed. */
GBytes *ws_assumed_profile (WsColours colours);
