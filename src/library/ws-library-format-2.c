/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Format 2 of the database: sizes, names, answers, timed notes. What ws-library-format-1.c says of the tables holds
 * here too.
 *
 * Names and answers are rows that only ever come. To which find they belong stands apart in find_name and find_answer,
 * so that a merge or a division of finds can be undone while the rows stay; like requests, these refer to nothing,
 * because what somebody said outlives the find. */
#include "ws-library-private.h"

/* A stored number must go on to mean the same. */
G_STATIC_ASSERT (WS_OBSERVED_UNKNOWN == 0 && WS_OBSERVED_FRESH == 1 && WS_OBSERVED_AFTER == 2 && WS_OBSERVED_DRIED == 3);
G_STATIC_ASSERT (WS_SPORES_FROM_UNKNOWN == 0 && WS_SPORES_FROM_PRINT == 1 && WS_SPORES_FROM_GILLS == 2);
G_STATIC_ASSERT (WS_PERCENTILES_UNSAID == 0 && WS_PERCENTILES_LINEAR == 1 && WS_PERCENTILES_NEAREST == 2);
G_STATIC_ASSERT (WS_CERTAINTY_OPEN == 0 && WS_CERTAINTY_PROBABLE == 1 && WS_CERTAINTY_SURE == 2);
G_STATIC_ASSERT (WS_NAMED_ON_UNKNOWN == 0 && WS_NAMED_ON_PHOTOS == 1 && WS_NAMED_ON_SPECIMEN == 2 &&
                 WS_NAMED_ON_BOTH == 3);
G_STATIC_ASSERT (WS_NAME_BY_FINDER == 0 && WS_NAME_BY_ANSWER == 1 && WS_NAME_TOLD == 2);
G_STATIC_ASSERT (WS_ANSWER_FILE == 0 && WS_ANSWER_TOLD == 1);

#define REFERENCES(target) " REFERENCES " target " DEFERRABLE INITIALLY DEFERRED"

static const char columns[] =
  "ALTER TABLE find ADD COLUMN name_in_force TEXT;\n"
  "ALTER TABLE note ADD COLUMN observed INTEGER NOT NULL DEFAULT 0;\n"
  "ALTER TABLE note ADD COLUMN minutes REAL;\n"
  "ALTER TABLE note ADD COLUMN text TEXT NOT NULL DEFAULT '';\n"
  "ALTER TABLE note ADD COLUMN answers TEXT NOT NULL DEFAULT '';\n";

static const char sizes[] =
  "CREATE TABLE scale (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  photo_id TEXT NOT NULL" REFERENCES ("photo (id)") ",\n"
  "  seq INTEGER NOT NULL,\n"
  "  a_x REAL NOT NULL,\n"
  "  a_y REAL NOT NULL,\n"
  "  b_x REAL NOT NULL,\n"
  "  b_y REAL NOT NULL,\n"
  "  mm REAL NOT NULL,\n"
  "  mm_error REAL,\n"
  "  point_error REAL,\n"
  "  tilt REAL,\n"
  "  created_us INTEGER NOT NULL\n"
  ") STRICT;\n"
  "CREATE INDEX scale_photo ON scale (photo_id);\n"
  "CREATE TABLE measurement (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  find_id TEXT NOT NULL" REFERENCES ("find (id)") ",\n"
  "  seq INTEGER NOT NULL,\n"
  "  quantity TEXT NOT NULL,\n"
  "  specimen TEXT NOT NULL,\n"
  "  value REAL NOT NULL,\n"
  "  error REAL,\n"
  "  photo_id TEXT,\n"
  "  a_x REAL,\n"
  "  a_y REAL,\n"
  "  b_x REAL,\n"
  "  b_y REAL,\n"
  "  observer TEXT NOT NULL,\n"
  "  remark TEXT NOT NULL,\n"
  "  created_us INTEGER NOT NULL,\n"
  "  FOREIGN KEY (find_id, photo_id)" REFERENCES ("find_photo (find_id, photo_id)") "\n"
  ") STRICT;\n"
  "CREATE INDEX measurement_find ON measurement (find_id, photo_id);\n"
  "CREATE TABLE spore_list (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  find_id TEXT NOT NULL" REFERENCES ("find (id)") ",\n"
  "  seq INTEGER NOT NULL,\n"
  "  specimen TEXT NOT NULL,\n"
  "  spores TEXT NOT NULL,\n"
  "  n_specimens INTEGER NOT NULL,\n"
  "  taken_from INTEGER NOT NULL,\n"
  "  mount TEXT NOT NULL,\n"
  "  rule INTEGER NOT NULL,\n"
  "  verbatim TEXT NOT NULL,\n"
  "  observer TEXT NOT NULL,\n"
  "  remark TEXT NOT NULL,\n"
  "  created_us INTEGER NOT NULL\n"
  ") STRICT;\n"
  "CREATE INDEX spore_list_find ON spore_list (find_id);\n";

#define STAYS(table)                                                                          \
  "CREATE TRIGGER " table "_keeps BEFORE UPDATE ON " table " BEGIN\n"                         \
  "  SELECT RAISE (ABORT, 'what was said stays as it was said');\n"                           \
  "END;\n"                                                                                    \
  "CREATE TRIGGER " table "_stays BEFORE DELETE ON " table " BEGIN\n"                         \
  "  SELECT RAISE (ABORT, 'what was said stays as it was said');\n"                           \
  "END;\n"

static const char names[] =
  "CREATE TABLE name (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  verbatim TEXT NOT NULL,\n"
  "  certainty INTEGER NOT NULL,\n"
  "  by_whom TEXT NOT NULL,\n"
  "  date TEXT NOT NULL,\n"
  "  named_on INTEGER NOT NULL,\n"
  "  base_shown INTEGER NOT NULL,\n"
  "  reasons TEXT NOT NULL,\n"
  "  source INTEGER NOT NULL,\n"
  "  answer_id TEXT,\n"
  "  entered_by TEXT NOT NULL,\n"
  "  deadly INTEGER NOT NULL,\n"
  "  withdraws TEXT,\n"
  "  created_us INTEGER NOT NULL\n"
  ") STRICT;\n"
  STAYS ("name")
  "CREATE TABLE find_name (\n"
  "  find_id TEXT NOT NULL,\n"
  "  name_id TEXT NOT NULL,\n"
  "  PRIMARY KEY (find_id, name_id)\n"
  ") STRICT, WITHOUT ROWID;\n";

static const char answers[] =
  "CREATE TABLE answer (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  kind INTEGER NOT NULL,\n"
  "  request_id TEXT NOT NULL,\n"
  "  request_digest TEXT NOT NULL,\n"
  "  replaces TEXT,\n"
  "  by_whom TEXT NOT NULL,\n"
  "  made_us INTEGER NOT NULL,\n"
  "  language TEXT NOT NULL,\n"
  "  cannot_name INTEGER NOT NULL,\n"
  "  deadly INTEGER NOT NULL,\n"
  "  phone_poison_service INTEGER NOT NULL,\n"
  "  remarks TEXT NOT NULL,\n"
  "  verbatim TEXT NOT NULL,\n"
  "  entered_by TEXT NOT NULL,\n"
  "  received_us INTEGER NOT NULL,\n"
  "  given INTEGER NOT NULL,\n"
  "  file TEXT NOT NULL\n"
  ") STRICT;\n"
  "CREATE INDEX answer_request ON answer (request_id);\n"
  STAYS ("answer")
  "CREATE TABLE opinion (\n"
  "  answer_id TEXT NOT NULL REFERENCES answer (id),\n"
  "  place INTEGER NOT NULL,\n"
  "  name TEXT NOT NULL,\n"
  "  certainty INTEGER NOT NULL,\n"
  "  named_on INTEGER NOT NULL,\n"
  "  PRIMARY KEY (answer_id, place)\n"
  ") STRICT, WITHOUT ROWID;\n"
  STAYS ("opinion")
  "CREATE TABLE reason (\n"
  "  answer_id TEXT NOT NULL,\n"
  "  opinion INTEGER NOT NULL,\n"
  "  place INTEGER NOT NULL,\n"
  "  text TEXT NOT NULL,\n"
  "  photo_id TEXT,\n"
  "  part TEXT NOT NULL,\n"
  "  PRIMARY KEY (answer_id, opinion, place),\n"
  "  FOREIGN KEY (answer_id, opinion) REFERENCES opinion (answer_id, place)\n"
  ") STRICT, WITHOUT ROWID;\n"
  STAYS ("reason")
  "CREATE TABLE wish (\n"
  "  answer_id TEXT NOT NULL REFERENCES answer (id),\n"
  "  place INTEGER NOT NULL,\n"
  "  view TEXT NOT NULL,\n"
  "  character TEXT NOT NULL,\n"
  "  part TEXT NOT NULL,\n"
  "  text TEXT NOT NULL,\n"
  "  PRIMARY KEY (answer_id, place)\n"
  ") STRICT, WITHOUT ROWID;\n"
  STAYS ("wish")
  "CREATE TABLE find_answer (\n"
  "  find_id TEXT NOT NULL,\n"
  "  answer_id TEXT NOT NULL,\n"
  "  PRIMARY KEY (find_id, answer_id)\n"
  ") STRICT, WITHOUT ROWID;\n"
  "CREATE TABLE received (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  digest TEXT NOT NULL,\n"
  "  sender TEXT NOT NULL,\n"
  "  number TEXT NOT NULL,\n"
  "  question TEXT NOT NULL,\n"
  "  language TEXT NOT NULL,\n"
  "  package TEXT NOT NULL,\n"
  "  replaces TEXT,\n"
  "  emergency INTEGER NOT NULL,\n"
  "  made_us INTEGER NOT NULL,\n"
  "  received_us INTEGER NOT NULL\n"
  ") STRICT;\n";

gboolean
ws_store_make_format_2 (WsStore *store, GError **error)
{
  return ws_store_execute (store, columns, error) && ws_store_execute (store, sizes, error) &&
         ws_store_execute (store, names, error) && ws_store_execute (store, answers, error);
}
