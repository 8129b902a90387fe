/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A library in a temporary folder and invented values with every field filled. */
#pragma once

#include "ws-error.h"
#include "ws-id.h"
#include "ws-library.h"

typedef struct
{
  char *folder;       /* temporary, removed by fixture_clear() */
  WsLibrary *library; /* "library" in it */
} Fixture;

void fixture_set_up (Fixture *fixture, gconstpointer data);
void fixture_clear (Fixture *fixture, gconstpointer data);
#define FIXTURE_TEST(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_clear)

/* Another handle on the same library. */
WsLibrary *fixture_open_again (Fixture *fixture);
/* Closes the library and opens it again. */
void fixture_reopen (Fixture *fixture);
/* Path of the database. (transfer full) */
char *fixture_dup_path (Fixture *fixture);

/* Every field is filled with something that a careless store would spoil: quotes, unit separators,
 * backslashes, letters beyond ASCII, whole numbers as doubles, numbers with all their digits. */
WsForay *sample_foray (void);
WsFind *sample_find (const char *number, const char *foray_id);
WsPhoto *sample_photo (void);
WsFindPhoto *sample_link (const WsPhoto *photo, int position);
WsMark *sample_mark (const char *photo_id);
WsNote *sample_note (const char *mark_id);
WsExcuse *sample_excuse (const char *view);
WsCover *sample_cover (const char *photo_id);
WsScale *sample_scale (const char *photo_id);
/* @photo_id NULL: by ruler. */
WsMeasurement *sample_measurement (const char *photo_id);
WsSporeList *sample_spore_list (void);
WsName *sample_name (void);
/* Two opinions with reasons, two wishes. */
WsAnswer *sample_answer (void);

/* A whole find in one action: foray, two photos, two marks (a box with a measure, an outline), two
 * notes, an excuse, a cover, a scale, two measurements and a list of spores. Names and answers are added by
 * functions of their own. */
WsFind *sample_whole_find (const char *number, const WsForay *foray);
void action_add_whole (WsAction *action, const WsForay *foray, const WsFind *find);
WsAction *action_put_whole (const char *label, const WsForay *foray, const WsFind *find);

/* The value as text, every field of it; equal texts are equal values. (transfer full) */
char *find_to_text (const WsFind *find);
char *photo_to_text (const WsPhoto *photo);
char *answer_to_text (const WsAnswer *answer);

/* SQL on the database behind the library's back, by a connection of its own; constraints and rules of the
 * tables are not checked. The second gives the first column of the first row. (transfer full) */
void fixture_execute (Fixture *fixture, const char *sql);
char *fixture_query (Fixture *fixture, const char *sql);
/* The same for any database file. */
void database_execute (const char *path, const char *sql);
char *database_query (const char *path, const char *sql);
/* Runs @sql with all constraints on and gives SQLite's message. (transfer full) (nullable): it was taken */
char *database_dup_refusal (const char *path, const char *sql);

/* Applies and fails the test on an error. */
void apply (WsLibrary *library, WsAction *action);
/* Applies, expects the error, and that nothing is written. */
void apply_fails (WsLibrary *library, WsAction *action, WsError code, const char *message_part);
/* The find as text, "gone" when it is not there. (transfer full) */
char *find_text (WsLibrary *library, const char *id);
/* Everything that undo covers, as text. (transfer full) */
char *library_text (WsLibrary *library);
