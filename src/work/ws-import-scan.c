/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ws-import-scan.h"

#include "ws-blocking.h"
#include "ws-intl.h"
#include "ws-photo-read.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

/* Bounds a walk that was pointed at a whole disk. */
#define MAX_DEPTH 24
#define MAX_FILES 200000

void
ws_import_file_free (WsImportFile *file)
{
  g_free (file->path);
  g_free (file->companion);
  g_free (file);
}

void
ws_import_pass_over (GPtrArray *passed_over, const char *path, const char *why)
{
  WsPassedOver *entry = g_new0 (WsPassedOver, 1);

  entry->path = g_strdup (path);
  entry->why = g_strdup (why);
  g_ptr_array_add (passed_over, entry);
}

static gboolean
has_extension (const char *name, const char *const *extensions)
{
  const char *dot = strrchr (name, '.');
  g_autofree char *lower = dot != NULL ? g_ascii_strdown (dot + 1, -1) : NULL;

  return lower != NULL && g_strv_contains (extensions, lower);
}

/* Clips that cameras and telephones write beside a picture of the same name. */
static gboolean
is_clip (const char *name)
{
  static const char *const extensions[] = { "mov", "mp4", "m4v", NULL };

  return has_extension (name, extensions);
}

/* Files that belong to a photo or to the system, not worth a line in "passed over". */
static gboolean
is_silent (const char *name)
{
  static const char *const extensions[] = { "xmp", "thm", "aae", "db", "ini", "txt", NULL };

  return name[0] == '.' || has_extension (name, extensions);
}

typedef struct
{
  GPtrArray *files;         /* WsImportFile */
  GPtrArray *companions;    /* char*: paths */
  GPtrArray *passed_over;
  GCancellable *cancellable;
  GHashTable *seen;         /* path: a file that was given twice is read once */
} Scan;

static WsImportFile *
add_file (Scan *scan, const char *path)
{
  WsImportFile *file = g_new0 (WsImportFile, 1);

  file->path = g_strdup (path);
  g_ptr_array_add (scan->files, file);
  return file;
}

static void
take_file (Scan *scan, const char *path)
{
  g_autofree char *name = g_path_get_basename (path);

  if (!g_hash_table_add (scan->seen, g_strdup (path)))
    return;
  if (ws_photo_name_is_picture (name))
    add_file (scan, path);
  else if (ws_photo_name_is_raw (name) || is_clip (name))
    g_ptr_array_add (scan->companions, g_strdup (path));
  else if (!is_silent (name))
    ws_import_pass_over (scan->passed_over, path, _("not a picture of a kind that is read here"));
}

static void scan_path (Scan *scan, const char *path, guint depth, gboolean given);

static void
scan_folder (Scan *scan, const char *path, guint depth)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (path, 0, &error);
  const char *name;

  if (dir == NULL)
    {
      ws_import_pass_over (scan->passed_over, path, error->message);
      return;
    }
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (name[0] != '.')
        scan_path (scan, child, depth + 1, FALSE);
    }
}

static void
scan_path (Scan *scan, const char *path, guint depth, gboolean given)
{
  struct stat info;

  if (g_cancellable_is_cancelled (scan->cancellable) || scan->files->len >= MAX_FILES)
    return;
  if (lstat (path, &info) != 0)
    ws_import_pass_over (scan->passed_over, path, g_strerror (errno));
  else if (S_ISLNK (info.st_mode) && given && stat (path, &info) == 0 && S_ISREG (info.st_mode))
    take_file (scan, path);
  else if (S_ISLNK (info.st_mode))
    ws_import_pass_over (scan->passed_over, path, _("a link; add the file itself"));
  else if (S_ISDIR (info.st_mode) && depth < MAX_DEPTH)
    scan_folder (scan, path, depth);
  else if (S_ISREG (info.st_mode))
    take_file (scan, path);
  else
    ws_import_pass_over (scan->passed_over, path, _("neither a file nor a folder that can be read"));
}

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* "folder/IMG_1": what the two files of a pair share. */
static char *
stem_of (const char *path)
{
  const char *dot = strrchr (path, '.');

  return g_strndup (path, (gsize) (dot - path));
}

/* A raw file or a clip belongs to the picture of its name. A raw file without one is a photo itself, shown by its preview. */
static void
join_pairs (Scan *scan)
{
  g_autoptr (GHashTable) by_stem = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < scan->files->len; i++)
    {
      WsImportFile *file = g_ptr_array_index (scan->files, i);

      g_hash_table_insert (by_stem, stem_of (file->path), file);
    }
  /* Of two raw files with one name the same is the photo each time. */
  g_ptr_array_sort (scan->companions, by_text);
  for (guint i = 0; i < scan->companions->len; i++)
    {
      const char *path = g_ptr_array_index (scan->companions, i);
      g_autofree char *stem = stem_of (path);
      WsImportFile *file = g_hash_table_lookup (by_stem, stem);

      if (file == NULL && ws_photo_name_is_raw (path))
        g_hash_table_insert (by_stem, g_steal_pointer (&stem), add_file (scan, path));
      else if (file == NULL)
        ws_import_pass_over (scan->passed_over, path, _("a clip without a picture of the same name; save a still picture of it and "
                                                        "add that"));
      else if (file->companion == NULL)
        file->companion = g_strdup (path);
    }
}

static int
by_path (gconstpointer a, gconstpointer b)
{
  return strcmp ((*(WsImportFile *const *) a)->path, (*(WsImportFile *const *) b)->path);
}

GPtrArray *
ws_import_scan (const char *const *paths, GPtrArray *passed_over, GCancellable *cancellable)
{
  g_autoptr (GPtrArray) companions = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Scan scan = { g_ptr_array_new_with_free_func ((GDestroyNotify) ws_import_file_free), companions, passed_over,
                cancellable, seen };

  ws_blocking ("looking for photos");
  for (guint i = 0; paths[i] != NULL; i++)
    {
      g_autofree char *absolute = g_canonicalize_filename (paths[i], NULL);

      scan_path (&scan, absolute, 0, TRUE);
    }
  join_pairs (&scan);
  g_ptr_array_sort (scan.files, by_path);
  return scan.files;
}
