/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of src/photo share: the folder of outside truth, a folder for files made
 * while testing, and the tools that make them. */
#pragma once

#include <gio/gio.h>

/* WS_CHECKS/@part, or NULL after g_test_skip() when it is not there. (transfer full) */
char *checks_folder (const char *part);
/* A path in a temporary folder, which is removed at exit. (transfer full) */
char *made_path (const char *name);
/* TRUE if the program is installed; else the test is skipped by its name. */
gboolean have_tool (const char *program);
/* Runs a command line, words separated by blanks are not split: give them one by one, NULL at
 * the end. Returns its output; a failure fails the test. (transfer full) */
char *run_tool (const char *program, ...) G_GNUC_NULL_TERMINATED;
/* The whole file, which has to be there. (transfer full) */
GBytes *read_bytes (const char *path);
/* Warnings of libvips, which are about files odd on purpose, do not end the running test. */
void let_libvips_warn (void);
