/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How every value is declared: see ws-values.h. */
#pragma once

#include <glib-object.h>

/* For every value T: ws_t_new() with empty strings, unknowns and empty arrays;
 * ws_t_copy(), deep for its own fields (members of arrays are shared); ref and unref,
 * NULL-safe unref; a boxed GType WS_TYPE_T. */
#define WS_DECLARE_VALUE(Type, prefix)                                   \
  GType prefix##_get_type (void);                                        \
  Type *prefix##_new (void) G_GNUC_WARN_UNUSED_RESULT;                   \
  Type *prefix##_copy (const Type *value) G_GNUC_WARN_UNUSED_RESULT;     \
  Type *prefix##_ref (const Type *value);                                \
  void prefix##_unref (Type *value);                                     \
  G_DEFINE_AUTOPTR_CLEANUP_FUNC (Type, prefix##_unref)

/* Replaces a string field: frees the old one, copies the new one ("" for NULL). */
void ws_set_string (char **field, const char *value);
