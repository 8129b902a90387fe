/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: one file a verb, each a thin front of work. */
#pragma once

#include "ws-desk.h"

typedef enum
{
  WS_EXIT_DONE = 0,
  WS_EXIT_NO = 1,      /* the answer is no: evidence missing, bag not valid */
  WS_EXIT_USAGE = 2,
  WS_EXIT_INPUT = 3,   /* input missing, unreadable, or not of the kind */
} WsExit;

typedef struct
{
  const char *name;
  const char *words;      /* "FIND PHOTO PART X,Y,W,H" */
  const char *does;       /* one sentence, marked for translation */
  int (*run) (int argc, char **argv);   /* argv[0] is the verb */
  gboolean no_pixels;     /* decodes nothing: the library that does need not start, which takes 30 ms */
} WsVerb;

extern const WsVerb ws_verb_photo, ws_verb_clarity, ws_verb_groups, ws_verb_import, ws_verb_finds, ws_verb_mark, ws_verb_note, ws_verb_set,
  ws_verb_check, ws_verb_ask, ws_verb_verify, ws_verb_name;

/* What every verb that uses the library takes; a verb adds its own entries. */
typedef struct
{
  char *library;          /* --library DIR */
  gboolean json;          /* --json */
  char **rest;            /* what is left of the words */
} WsCommonOptions;
void ws_common_options_clear (WsCommonOptions *options);

/* Parses @argv with @entries (nullable) and the common ones (@json: also --json). -1 to go on, else the exit status
 * (--help was printed, or the usage was wrong). @min, @max: how many words must be left, -1 for any. */
int ws_command_parse (const WsVerb *verb, const GOptionEntry *entries, gboolean json, int argc, char **argv,
                      int min, int max, WsCommonOptions *options);

/* Prints the message on standard error and gives the exit status that fits its code. */
int ws_command_fail (const GError *error);
int ws_command_usage (const WsVerb *verb, const char *message);
/* Opens the library; NULL after printing, with @exit set. */
WsDesk *ws_command_open (const WsCommonOptions *options, int *exit);
/* Reads KEY=VALUE; FALSE if there is no "=" or no key. Both (transfer full). */
gboolean ws_command_split (const char *word, char **key, char **value);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WsCommonOptions, ws_common_options_clear)
