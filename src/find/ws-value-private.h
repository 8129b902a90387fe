/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files that define values. */
#pragma once

#include "ws-value.h"

/* The boxed type without G_DEFINE_BOXED_TYPE, whose transparent unions -Wpedantic rejects. Needs a static
 * prefix_clear() before it. */
#define DEFINE_VALUE(Type, prefix)                                                          \
  GType                                                                                     \
  prefix##_get_type (void)                                                                  \
  {                                                                                         \
    static gsize type;                                                                      \
                                                                                            \
    if (g_once_init_enter (&type))                                                          \
      g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string (#Type), \
                                                              (GBoxedCopyFunc) prefix##_ref, \
                                                              (GBoxedFreeFunc) prefix##_unref)); \
    return type;                                                                            \
  }                                                                                         \
                                                                                            \
  Type *                                                                                    \
  prefix##_ref (const Type *value)                                                          \
  {                                                                                         \
    Type *shared = (Type *) value;                                                          \
                                                                                            \
    g_atomic_ref_count_inc (&shared->refs);                                                 \
    return shared;                                                                          \
  }                                                                                         \
                                                                                            \
  void                                                                                      \
  prefix##_unref (Type *value)                                                              \
  {                                                                                         \
    if (value == NULL || !g_atomic_ref_count_dec (&value->refs))                            \
      return;                                                                               \
    prefix##_clear (value);                                                                 \
    g_free (value);                                                                         \
  }

#define NEW_VALUE(Type) ws_value_new (sizeof (Type))
gpointer ws_value_new (gsize size);
/* The bytes of @value with a count of their own; what they point to is still shared. */
gpointer ws_value_dup (gconstpointer value, gsize size);

/* Sets every string of the list to "" (for a new value) or to a copy of itself (for a copied
 * one), so that no field is forgotten in one of the two. NULL-terminated. */
void ws_value_fill_strings (char **fields[]);
void ws_value_free_strings (char **fields[]);
char **ws_value_empty_strv (void);

/* A new array of the same members, each referenced. */
#define COPY_MEMBERS(array, prefix) \
  ws_value_copy_members (array, (gpointer (*) (gconstpointer)) prefix##_ref, (GDestroyNotify) prefix##_unref)
GPtrArray *ws_value_copy_members (GPtrArray *members, gpointer (*ref) (gconstpointer), GDestroyNotify unref);

/* The place of @text in @ids, -1 when it is none of them: how kinds are read back from their ids. */
#define ID_PLACE(ids, text) ws_value_find_id (ids, G_N_ELEMENTS (ids), text)
int ws_value_find_id (const char *const *ids, gsize n, const char *text);
