/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-error.h"

G_DEFINE_QUARK (wholestem-error-quark, ws_error)
