/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of tag files: encodings, lines, and the lines of each kind (RFC 8493, section 2). Pure. */
#pragma once

#include <gio/gio.h>

/* Versions of BagIt in hundredths. */
#define WS_BAG_V1_0 100
#define WS_BAG_OLDEST 93
#define WS_BAG_NEWEST_OLD 97

/* The text of a tag file in UTF-8. NULL with a translated @fault (borrowed). (transfer full) */
char *ws_bag_text_decode (GBytes *bytes, const char *encoding, const char **fault) G_GNUC_WARN_UNUSED_RESULT;

/* Cuts the next line off: ends it in place, whatever ends lines in it, and moves *@at behind. NULL at the
 * end of the text. */
char *ws_bag_text_next_line (char **at);

/* Reads the two lines of bagit.txt. FALSE with a translated @fault. @encoding: (transfer full). */
gboolean ws_bag_text_parse_declaration (GBytes *bytes, int *version, char **encoding, const char **fault);

/* Takes "CHECKSUM PATH" apart in place. FALSE with a translated @fault. *@star: a "*" stood before the path. */
gboolean ws_bag_text_split_entry (char *line, char **checksum, char **path, gboolean *star, const char **fault);

/* Takes "URL LENGTH PATH" of fetch.txt apart in place. FALSE with a translated @fault. */
gboolean ws_bag_text_split_fetch (char *line, char **path, const char **fault);

/* Takes "Label: value" apart in place, as strictly as @version is. FALSE with a translated @fault. */
gboolean ws_bag_text_split_info (char *line, int version, char **label, char **value, const char **fault);

/* %0A, %0D and %25 undone, nothing else. *@stray: another "%" stood in it. (transfer full) */
char *ws_bag_text_unescape (const char *path, gboolean *stray) G_GNUC_WARN_UNUSED_RESULT;
/* LF, CR and "%" as they are written in a manifest. (transfer full) */
char *ws_bag_text_escape (const char *path) G_GNUC_WARN_UNUSED_RESULT;
