/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the house rules share. A rule is a function that reads a source tree and lists its faults; each test
 * runs it over this tree, and over a small made-up one with faults in it, to see that it finds them. */
#pragma once

#include <glib.h>

typedef void (*HouseRule) (const char *root, GPtrArray *faults);

/* Files below @folder of @root whose names end in one of @endings (NULL: all), as paths from @root, in order of
 * their names; folders that begin with a point or an underscore are passed over. (transfer full) */
GPtrArray *house_list (const char *root, const char *folder, const char *const *endings);
/* The text of a file; NULL when it is not UTF-8 text. (transfer full) (nullable) */
char *house_read (const char *root, const char *path);
/* The same text with C comments blanked; lines stay where they are. (transfer full) */
char *house_without_comments (const char *text);
int house_line_of (const char *text, const char *at);

void house_fault (GPtrArray *faults, const char *path, int line, const char *format, ...) G_GNUC_PRINTF (4, 5);

/* Fails with every fault named if the rule finds any in this tree. */
void house_check (HouseRule rule);
/* Makes a tree of @files (pairs of path and text, NULL-terminated), and asserts that the rule finds just the @faults, one a
 * line: "path:line: what". */
void house_check_sees (HouseRule rule, const char *const *files, const char *faults);
