/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Else fcntl.h would give open() the name of open64(), and both are defined here. */
#undef _FILE_OFFSET_BITS

#include "thread-guard.h"

#include <dirent.h>
#include <dlfcn.h>
#include <fcntl.h>
#include <gcrypt.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/types.h>

static char *folder;
static GThread *watched;
static GHashTable *seen;      /* set of char*; only the watched thread touches it */
static gboolean paused;
static gint elsewhere;        /* atomic */

void
thread_guard_watch (const char *path)
{
  g_free (folder);
  folder = g_strdup (path);
  seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  paused = FALSE;
  g_atomic_int_set (&elsewhere, 0);
  g_atomic_pointer_set (&watched, g_thread_self ());
}

char *
thread_guard_end (void)
{
  g_autoptr (GList) all = NULL;
  GString *text = g_string_new (NULL);

  g_atomic_pointer_set (&watched, NULL);
  all = g_list_sort (g_hash_table_get_keys (seen), (GCompareFunc) strcmp);
  for (GList *link = all; link != NULL; link = link->next)
    g_string_append_printf (text, "%s; ", (char *) link->data);
  g_clear_list (&all, NULL);
  g_clear_pointer (&seen, g_hash_table_unref);
  return g_string_free (text, FALSE);
}

void
thread_guard_pause (gboolean pause)
{
  paused = pause;
}

guint
thread_guard_count_elsewhere (void)
{
  return (guint) g_atomic_int_get (&elsewhere);
}

static void
note (const char *what, const char *path)
{
  GThread *thread = g_atomic_pointer_get (&watched);

  /* Before something watches, GLib may not even be ready. */
  if (thread == NULL || (path != NULL && !g_str_has_prefix (path, folder)))
    return;
  if (thread != g_thread_self ())
    g_atomic_int_inc (&elsewhere);
  else if (!paused)
    g_hash_table_add (seen, path != NULL ? g_strdup_printf ("%s %s", what, path) : g_strdup (what));
}

/* The real function of that name, of the type of our own. */
#define REAL(name) (__extension__ (__typeof__ (&name)) dlsym (RTLD_NEXT, #name))

/* --- Files --------------------------------------------------------------------------------------------------- */

#define OPENS(name) \
  int name (const char *path, int flags, ...); \
  int name (const char *path, int flags, ...) \
  { \
    mode_t mode = 0; \
    va_list args; \
\
    if (flags & (O_CREAT | O_TMPFILE)) \
      { \
        va_start (args, flags); \
        mode = va_arg (args, mode_t); \
        va_end (args); \
      } \
    note ("open", path); \
    return REAL (name) (path, flags, mode); \
  }

#define OPENS_AT(name) \
  int name (int at, const char *path, int flags, ...); \
  int name (int at, const char *path, int flags, ...) \
  { \
    mode_t mode = 0; \
    va_list args; \
\
    if (flags & (O_CREAT | O_TMPFILE)) \
      { \
        va_start (args, flags); \
        mode = va_arg (args, mode_t); \
        va_end (args); \
      } \
    note ("open", path); \
    return REAL (name) (at, path, flags, mode); \
  }

OPENS (open)
OPENS (open64)
OPENS_AT (openat)
OPENS_AT (openat64)

DIR *
opendir (const char *path)
{
  note ("list", path);
  return REAL (opendir) (path);
}

/* --- Pixels and digests -------------------------------------------------------------------------------------- */

/* As jpeglib.h has them, but for the types of their arguments. */
int jpeg_start_decompress (void *info);
void jpeg_start_compress (void *info, int all_tables);

int
jpeg_start_decompress (void *info)
{
  note ("decode", NULL);
  return REAL (jpeg_start_decompress) (info);
}

void
jpeg_start_compress (void *info, int all_tables)
{
  note ("encode", NULL);
  REAL (jpeg_start_compress) (info, all_tables);
}

void
gcry_md_write (gcry_md_hd_t handle, const void *data, size_t size)
{
  note ("hash", NULL);
  REAL (gcry_md_write) (handle, data, size);
}
