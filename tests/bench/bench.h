/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the groups of rows of the bench share: photos that were made for this run, timing side by side, and the table. A
 * group is one file with one BenchGroup, named in bench.c and in meson.build. */
#pragma once

#include <glib.h>

typedef struct
{
  const char *program;   /* this one, for what needs a process of its own */
  char *folder;          /* of this run; removed at the end */
  char *photos;          /* FOLDER/photos: 24 megapixels each, all different */
  guint n_photos;
  guint rounds;          /* how often each thing is done; the quickest counts */
  const char *tool;      /* wholestem-tool of this build */
} Bench;

typedef struct
{
  const char *name;
  void (*run) (Bench *bench);
} BenchGroup;

extern const BenchGroup bench_import, bench_screen, bench_stall, bench_clarity, bench_lists;

/* --- Photos (photos.c) ----------------------------------------------------------------------------------------- */

/* Makes the photos; takes about half a second for each. */
void bench_make_photos (Bench *bench);
/* A photo of @width x @height px, other than all others by @seed. */
void bench_make_photo (const char *path, int width, int height, guint seed, int quality);
/* One of 12,600 x 8000 px, 100 megapixels, of six of the photos. */
void bench_make_large (const Bench *bench, const char *path);
/* Path of photo number @i. (transfer full) */
char *bench_photo (const Bench *bench, guint i);
/* All paths, NULL at the end, with @before (nullable: NULL-terminated) in front. (transfer container): free the strings too */
char **bench_photo_argv (const Bench *bench, const char *const *before);

/* --- Timing (bench.c) -------------------------------------------------------------------------------------------- */

typedef void (*BenchFunc) (gpointer data);

/* Does @ours and @theirs in turns, @rounds times each; gives the quickest of each in seconds. */
void bench_side_by_side (guint rounds, BenchFunc ours, BenchFunc theirs, gpointer data, double *our_seconds,
                         double *their_seconds);
/* Seconds on the clock, or of processor time with --processor. */
double bench_now (void);
/* Runs a program, what it prints thrown away; ends the bench when it fails. @peak_mb (out) (optional): its largest
 * resident size. */
void bench_spawn (const char *const *argv, double *peak_mb);

/* --- The table (bench.c) -------------------------------------------------------------------------------------------- */

/* One line: how long ours takes, how long the other, the ratio beside what is aimed at. */
void bench_tell_ratio (const char *work, const char *beside, double our_seconds, double their_seconds, double aim);
/* One line of a number with a bound. */
void bench_tell_value (const char *work, double value, const char *unit, double aim);
