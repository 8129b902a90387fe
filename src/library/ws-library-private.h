/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared inside the library layer only: the store (the database handle and what belongs to it,
 * seen by the library's thread alone), statements, and the parts of an action. */
#pragma once

/* Debian's SQLite is built with both; the session functions are declared only when asked for. */
#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <sqlite3.h>

#include "ws-library.h"

/* --- Store: ws-library-schema.c, -format-N.c, -store.c --------------------------------------- */

typedef struct
{
  sqlite3 *db;
  char *path;             /* of the database */
  GHashTable *statements; /* SQL text -> sqlite3_stmt, prepared once */
  char *origin;           /* UUID of this opening, stands on its steps of undo */
  gint64 version;         /* of the tables that this program works with; 0 while they are being made */
  gint64 steps_at_open;   /* the last step of undo that was there when this store was opened */
  gboolean wrote;         /* set by each committed write; the thread clears it when it has told */
} WsStore;

/* "WStm": the application id in the header of a database of ours. */
#define WS_STORE_APPLICATION_ID 0x5753746d

/* One step of the schema: from the version before to its place in the list, counted from 1.
 * Runs in a transaction with foreign keys off; they are checked before it is committed. */
typedef gboolean (*WsMigration) (WsStore *store, GError **error);

gboolean ws_store_make_format_1 (WsStore *store, GError **error);
gboolean ws_store_make_format_2 (WsStore *store, GError **error);
/* The list that makes format WS_LIBRARY_FORMAT. */
extern const WsMigration ws_store_migrations[WS_LIBRARY_FORMAT];

/* Opens the database at @path, making it when absent, and brings it to version @n_migrations. Errors
 * as ws_library_open(). */
WsStore *ws_store_open (const char *path, const WsMigration *migrations, int n_migrations, GError **error);
/* NULL-safe. */
void ws_store_close (WsStore *store);

/* Runs @sql (several statements, without results). */
gboolean ws_store_execute (WsStore *store, const char *sql, GError **error);

/* Sets @error by SQLite's last error and returns FALSE. */
gboolean ws_store_fail (WsStore *store, GError **error);

typedef gboolean (*WsStoreFunc) (WsStore *store, gpointer data, GError **error);

/* Runs @func in one transaction: rolled back when it returns FALSE or cannot be committed. A reading
 * one sees one state of the database throughout. */
gboolean ws_store_read (WsStore *store, WsStoreFunc func, gpointer data, GError **error);
gboolean ws_store_write (WsStore *store, WsStoreFunc func, gpointer data, GError **error);

/* What a row of a table is called in a message: "a mark". */
const char *ws_store_word_for_table (const char *table);

/* --- Statements: ws-library-statement.c ------------------------------------------------ */

/* A prepared statement in use. Parameters are bound, and columns taken, one after the other in the
 * order in which the SQL names them. A failure sticks and comes out of the next step. */
typedef struct
{
  WsStore *store;
  sqlite3_stmt *stmt;
  int at;     /* parameters bound or columns taken so far */
  int rc;
} WsStatement;

/* @sql must be a string literal or outlive the store: it is prepared once and kept. */
WsStatement ws_statement (WsStore *store, const char *sql);
/* Resets it for the next user. */
void ws_statement_end (WsStatement *statement);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WsStatement, ws_statement_end)

/* Strings must stay as they are until the statement ends. NULL is stored as NULL. */
void ws_statement_bind_text (WsStatement *statement, const char *text);
void ws_statement_bind_int (WsStatement *statement, gint64 number);
/* NAN is stored as NULL. */
void ws_statement_bind_double (WsStatement *statement, double number);
void ws_statement_bind_blob (WsStatement *statement, gconstpointer data, gsize size);
/* As one text, see ws_strv_to_text(). */
void ws_statement_bind_strv (WsStatement *statement, char **strings);
/* Five parameters: local time, decimals, offset, its source, correction. */
void ws_statement_bind_moment (WsStatement *statement, const WsMoment *moment);
/* Five parameters: latitude, longitude, error, altitude, source. */
void ws_statement_bind_position (WsStatement *statement, const WsPosition *position);

/* TRUE with a row; FALSE at the end, or with @error set. */
gboolean ws_statement_next (WsStatement *statement, GError **error);
/* TRUE if the last ws_statement_next() came to the end and did not fail. */
gboolean ws_statement_ended (const WsStatement *statement);
/* Runs a statement without a result. */
gboolean ws_statement_run (WsStatement *statement, GError **error);
/* The same; @n_changed: rows that were inserted, updated or deleted. */
gboolean ws_statement_run_counted (WsStatement *statement, int *n_changed, GError **error);

/* (transfer full) (nullable): NULL for NULL. */
char *ws_statement_take_text (WsStatement *statement);
/* Frees *@field and puts the column's text there, "" for NULL. */
void ws_statement_take_into (WsStatement *statement, char **field);
/* Borrowed until the next row, "" for NULL. */
const char *ws_statement_peek_text (WsStatement *statement);
gint64 ws_statement_take_int (WsStatement *statement);
/* A number from 0 to @last; 0, which means unknown or plain for each of our kinds, for any other. */
int ws_statement_take_kind (WsStatement *statement, int last);
double ws_statement_take_double (WsStatement *statement);
char **ws_statement_take_strv (WsStatement *statement);
void ws_statement_take_moment (WsStatement *statement, WsMoment *moment);
void ws_statement_take_position (WsStatement *statement, WsPosition *position);

/* Each string ended by U+001F; a backslash or U+001F inside a string is written as "\\" or "\u". Any
 * array of strings reads back as it was. */
char *ws_strv_to_text (char **strings);
char **ws_strv_from_text (const char *text);

/* --- Rows to values: ws-library-rows.c ------------------------------------------------- */

/* Columns for ws_row_take_photo(), from the tables named here. */
#define WS_PHOTO_COLUMNS                                                                        \
  "p.id, l.path, l.file_size, l.file_time_us, p.digest, p.companion, p.media_type, p.width, "   \
  "p.height, p.orientation, p.taken_us, p.taken_decimals, p.taken_offset, "                     \
  "p.taken_offset_source, p.taken_correction, p.latitude, p.longitude, p.error_m, p.altitude, " \
  "p.position_source, p.direction, p.make, p.model, p.kind, p.copy_of, p.set_aside, p.warnings "
#define WS_PHOTO_TABLES "photo AS p LEFT JOIN photo_file AS l ON l.photo_id = p.id "
WsPhoto *ws_row_take_photo (WsStatement *statement);

#define WS_FIND_COLUMNS                                                                         \
  "f.id, f.number, f.foray_id, f.field_name, f.when_us, f.when_decimals, f.when_offset, "       \
  "f.when_offset_source, f.when_correction, f.latitude, f.longitude, f.error_m, f.altitude, "   \
  "f.position_source, f.locality, f.remarks, f.only_mine, f.specimen_is, f.created_us, "          \
  "f.name_in_force "
WsFind *ws_row_take_find (WsStatement *statement);

/* The measure is valid for one shape and one photo's bytes. */
#define WS_MARK_COLUMNS                                                                         \
  "m.id, m.photo_id, m.part, m.views, m.shape, m.whole_photo, m.specimen, m.base_kind, "        \
  "m.remark, m.created_us, s.mark_id IS NOT NULL, s.width_px, s.height_px, s.blur_sigma, "      \
  "s.burnt_out, s.blocked_up, s.mm_per_pixel, s.method "
#define WS_MARK_TABLES                                                                          \
  "mark AS m JOIN photo AS p ON p.id = m.photo_id "                                             \
  "LEFT JOIN measure AS s ON s.mark_id = m.id AND s.photo_digest = p.digest AND s.shape = m.shape "
/* (nullable): NULL with WS_ERROR_UNREADABLE when its shape cannot be read. */
WsMark *ws_row_take_mark (WsStatement *statement, GError **error);

#define WS_NOTE_COLUMNS                                                                         \
  "n.id, n.character, n.states, n.sure, n.off_photo, n.specimen, n.observer, n.mark_id, "        \
  "n.observed, n.minutes, n.text, n.answers, n.created_us "
WsNote *ws_row_take_note (WsStatement *statement);

#define WS_COVER_COLUMNS "c.id, c.photo_id, c.shape "
WsCover *ws_row_take_cover (WsStatement *statement, GError **error);

#define WS_SCALE_COLUMNS                                                                        \
  "c.id, c.photo_id, c.a_x, c.a_y, c.b_x, c.b_y, c.mm, c.mm_error, c.point_error, c.tilt, c.created_us "
WsScale *ws_row_take_scale (WsStatement *statement);

#define WS_MEASUREMENT_COLUMNS                                                                  \
  "m.id, m.quantity, m.specimen, m.value, m.error, m.photo_id, m.a_x, m.a_y, m.b_x, m.b_y, "        \
  "m.observer, m.remark, m.created_us "
WsMeasurement *ws_row_take_measurement (WsStatement *statement);

#define WS_SPORE_LIST_COLUMNS                                                                   \
  "s.id, s.specimen, s.spores, s.n_specimens, s.taken_from, s.mount, s.rule, s.verbatim, "      \
  "s.observer, s.remark, s.created_us "
/* NULL with WS_ERROR_UNREADABLE when its numbers cannot be read. */
WsSporeList *ws_row_take_spore_list (WsStatement *statement, GError **error);

#define WS_NAME_COLUMNS                                                                         \
  "n.id, n.verbatim, n.certainty, n.by_whom, n.date, n.named_on, n.base_shown, n.reasons, "     \
  "n.source, n.answer_id, n.entered_by, n.deadly, n.withdraws, n.created_us "
WsName *ws_row_take_name (WsStatement *statement);

/* Its own fields; opinions and wishes are rows of their own: ws_answer_fill(). */
#define WS_ANSWER_COLUMNS                                                                       \
  "a.id, a.kind, a.request_id, a.request_digest, a.replaces, a.by_whom, a.made_us, a.language, " \
  "a.cannot_name, a.deadly, a.phone_poison_service, a.remarks, a.verbatim, a.entered_by, a.received_us "
WsAnswer *ws_row_take_answer (WsStatement *statement);
/* ws-library-answers.c */
gboolean ws_answer_fill (WsStore *store, WsAnswer *answer, GError **error);

/* --- Search: ws-library-search.c --------------------------------------------------------- */

/* Adds the SQL function ws_matches (WORDS, TEXT…). */
gboolean ws_search_register (WsStore *store, GError **error);
/* TRUE if every word of @words occurs in @text, whatever the case and accents. */
gboolean ws_search_matches (const char *words, const char *text);

/* --- Actions: ws-library-action.c, -rules.c, -write.c, -undo.c ---------------------------- */

typedef struct _WsStep WsStep;
typedef gboolean (*WsStepRun) (WsStore *store, const WsStep *step, GError **error);
typedef gboolean (*WsStepCheck) (const WsStep *step, GError **error);

/* One put or remove of an action. */
struct _WsStep
{
  WsStepRun run;
  WsStepCheck check;      /* (nullable): removes break no rule */
  WsStepRun finish;       /* (nullable): what undo does not touch, when all steps have run */
  gpointer value;         /* (nullable): what is put */
  GDestroyNotify release; /* of value */
  char *id;               /* (nullable): of the find it goes to, or of what is removed */
  char *other;            /* (nullable): photo or view */
  guint64 likeness;
};

struct _WsAction
{
  char *label;
  GPtrArray *steps;       /* WsStep */
};

/* Sets WS_ERROR_INVALID with the rule, translated; FALSE. */
gboolean ws_rules_refuse (GError **error, const char *rule);
/* UTF-8 all of them; NULL-terminated. */
gboolean ws_rules_check_texts (const char *const *texts, GError **error);
gboolean ws_rules_check_foray (const WsStep *step, GError **error);
gboolean ws_rules_check_find (const WsStep *step, GError **error);
gboolean ws_rules_check_photo (const WsStep *step, GError **error);
gboolean ws_rules_check_find_photo (const WsStep *step, GError **error);
gboolean ws_rules_check_mark (const WsStep *step, GError **error);
gboolean ws_rules_check_note (const WsStep *step, GError **error);
gboolean ws_rules_check_excuse (const WsStep *step, GError **error);
gboolean ws_rules_check_cover (const WsStep *step, GError **error);
gboolean ws_rules_check_scale (const WsStep *step, GError **error);
gboolean ws_rules_check_measurement (const WsStep *step, GError **error);
gboolean ws_rules_check_spore_list (const WsStep *step, GError **error);
gboolean ws_rules_check_name (const WsName *name, GError **error);
gboolean ws_rules_check_answer (const WsAnswer *answer, GError **error);
/* Sets WS_ERROR_INVALID unless @id is a UUID in lower case; @what names it. */
gboolean ws_rules_check_id (const char *id, const char *what, GError **error);

/* All in the transaction of the caller. */
gboolean ws_write_foray (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_find (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_photo (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_find_photo (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_mark (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_note (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_excuse (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_cover (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_scale (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_measurement (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_spore_list (WsStore *store, const WsStep *step, GError **error);
/* Adds it and links it to the find, both there or not. */
gboolean ws_write_name (WsStore *store, const char *find_id, const WsName *name, GError **error);
gboolean ws_write_shared_names (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_foray (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_find (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_find_photo (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_mark (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_note (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_excuse (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_cover (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_scale (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_measurement (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_no_spore_list (WsStore *store, const WsStep *step, GError **error);
/* The measure of the mark that is put, if it has one; the file of the photo that is put. */
gboolean ws_write_mark_measure (WsStore *store, const WsStep *step, GError **error);
gboolean ws_write_photo_file_of (WsStore *store, const WsStep *step, GError **error);
/* @n_written 0: the mark's photo is not there. */
gboolean ws_write_measure (WsStore *store, const WsMark *mark, const WsMeasure *measure, int *n_written,
                           GError **error);
gboolean ws_write_photo_file (WsStore *store, const char *photo_id, const char *path, gint64 size,
                              gint64 modified_us, GError **error);

/* --- Library: ws-library.c ----------------------------------------------------------------- */

/* Runs @func in a transaction on the library's thread and waits for it. */
gboolean ws_library_read (WsLibrary *library, WsStoreFunc func, gpointer data, GError **error);
gboolean ws_library_write (WsLibrary *library, WsStoreFunc func, gpointer data, GError **error);
