/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes the bytes of one file of a bag as they are read: works out the digests wanted, and keeps the text
 * of a tag file that has a meaning. */
#pragma once

#include "ws-bag-tree.h"

typedef struct _WsBagIntake WsBagIntake;

WsBagIntake *ws_bag_intake_new (WsBagTree *tree, WsBagEntry *entry) G_GNUC_WARN_UNUSED_RESULT;
void ws_bag_intake_take (WsBagIntake *intake, gconstpointer data, gsize size);
/* Puts digests and text into the entry; without it the entry has none. */
void ws_bag_intake_finish (WsBagIntake *intake);
void ws_bag_intake_free (WsBagIntake *intake);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WsBagIntake, ws_bag_intake_free)
