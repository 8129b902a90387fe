/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes bags in folders, and zips byte by byte, right and wrong, for the tests of src/request. */
#pragma once

#include <gio/gio.h>

/* A new temporary folder. (transfer full): remove it with ws_file_remove_tree() */
char *maker_folder (void);
/* Writes @text (of @size bytes, -1: a text) to @inside below @root, with the folders above it. */
void maker_put (const char *root, const char *inside, const char *text, gssize size);
/* A right bag: two payload files in two folders, its digests by GLib's GChecksum and not by the code under
 * test. @algorithms: "sha512 sha256", of "md5", "sha1", "sha256", "sha384", "sha512". */
void maker_bag (const char *root, const char *version, const char *algorithms);
/* Writes the tag manifest over all tag files there. */
void maker_tag_manifest (const char *root, const char *algorithm);
/* Appends "CHECKSUM  @listed\n" to a manifest; the sum is that of @text. */
void maker_list (const char *root, const char *manifest, const char *text, const char *listed);

/* One entry of a zip; a field below "lies" replaces what would be right, -1 (NULL) for none. */
typedef struct
{
  const char *name;
  const char *data;
  gssize size;              /* -1: a text */
  guint16 method;           /* 8: packed */
  guint16 flags;            /* bit 3: a descriptor is written behind */
  guint32 mode;             /* Unix; 0: a file */
  const char *extra;        /* of both headers */
  gsize extra_size;
  /* lies */
  const char *local_name;
  gint64 local_size, central_size, central_packed, local_crc, central_crc, offset, behind_size, local_method;
  gint64 local_flags;
  guint gap;                /* bytes of nothing behind the data */
} MakerEntry;
#define MAKER_ENTRY(n, d) { .name = n, .data = d, .size = -1, .local_size = -1, .central_size = -1,                 \
                            .central_packed = -1, .local_crc = -1, .central_crc = -1, .offset = -1,                  \
                            .behind_size = -1, .local_method = -1, .local_flags = -1 }

typedef struct
{
  const char *before, *after, *remark;
  gint64 n_entries, offset, size, disk;   /* lies of the end record; 0: none */
  gboolean wide;                          /* with a zip64 end, which then tells the lies */
} MakerEnd;

/* The bytes of a zip. (transfer full) */
GBytes *maker_zip (const MakerEntry *entries, guint n, const MakerEnd *end);
