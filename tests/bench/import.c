/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Taking photos in, with a warm cache. */
#include "bench.h"

#include "ws-file.h"

#include <glib/gstdio.h>

typedef struct { const Bench *bench; char *folder; double peak_mb; } Data;

static void
import (gpointer data)
{
  Data *d = data;
  g_autofree char *library = g_build_filename (d->folder, "library", NULL);
  const char *argv[] = { d->bench->tool, "import", "--library", library, d->bench->photos, NULL };
  double peak;

  ws_file_remove_tree (library, NULL);
  bench_spawn (argv, &peak);
  d->peak_mb = MAX (d->peak_mb, peak);
}

/* A hundred files a process, two processes at a time, each with one thread of libvips. */
static void
hash_and_shrink (gpointer data)
{
  Data *d = data;
  g_autofree char *out = g_build_filename (d->folder, "shrunk", NULL);
  g_autofree char *script = g_strdup_printf (
      "printf '%%s\\0' \"$1\"/*.JPG | VIPS_CONCURRENCY=1 xargs -0 -P2 -n100 sh -c "
      "'sha512sum \"$@\" >/dev/null && vipsthumbnail --size 512 -o \"%s/%%s.jpg\" \"$@\"' sh", out);
  const char *argv[] = { "sh", "-c", script, "sh", d->bench->photos, NULL };

  g_mkdir_with_parents (out, 0700);
  bench_spawn (argv, NULL);
}

static void
facts (gpointer data)
{
  Data *d = data;
  const char *before[] = { d->bench->tool, "photo", "--json", NULL };
  g_auto (GStrv) argv = bench_photo_argv (d->bench, before);

  bench_spawn ((const char *const *) argv, NULL);
}

static void
facts_of_exiv2 (gpointer data)
{
  Data *d = data;
  const char *before[] = { "exiv2", NULL };
  g_auto (GStrv) argv = bench_photo_argv (d->bench, before);

  bench_spawn ((const char *const *) argv, NULL);
}

static void
warm (const Bench *bench)
{
  const char *before[] = { "cat", NULL };
  g_auto (GStrv) argv = bench_photo_argv (bench, before);

  bench_spawn ((const char *const *) argv, NULL);
}

static void
run (Bench *bench)
{
  Data data = { bench, g_build_filename (bench->folder, "import", NULL), 0 };
  double ours, theirs;

  g_mkdir_with_parents (data.folder, 0700);
  warm (bench);
  bench_side_by_side (bench->rounds, import, hash_and_shrink, &data, &ours, &theirs);
  bench_tell_ratio ("import: hash, facts, thumbnail, stored", "sha512sum + vipsthumbnail", ours, theirs, 1.0);
  bench_tell_value ("peak memory of that import", data.peak_mb, "MB", 300);
  bench_side_by_side (MAX (bench->rounds, 5), facts, facts_of_exiv2, &data, &ours, &theirs);
  bench_tell_ratio ("facts alone", "exiv2", ours, theirs, 0.5);
  g_free (data.folder);
}

const BenchGroup bench_import = { "import", run };
