/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Format 1 of the database.
 *
 * Undo works on changesets (SQLite's session extension), which shapes the tables:
 * - No ON DELETE CASCADE or SET NULL between them: a changeset holds every row that an action has
 *   changed, and a cascade would delete a row before the changeset comes to it. Actions delete
 *   what belongs together row by row.
 * - Foreign keys are checked at the end of the transaction, so that order inside it does not matter.
 * - What undo must not touch is kept apart and refers to nothing: photo_file (where the file was last
 *   seen), measure, request, setting. Its rows outlive the undo of an import or a mark, and
 *   are there again after the redo.
 * - "seq" keeps the order in which marks and notes were made, since one action may make several in
 *   the same microsecond and row ids do not survive undo and redo.
 *
 * Kinds are numbers of the enumerations in ws-values.h, ws-moment.h and ws-position.h; truth values are 0 and 1;
 * times ending in _us are microseconds, of the local clock for taken_us and when_us, else UTC;
 * unknown numbers are NULL. */
#include "ws-library-private.h"

/* A stored number must go on to mean the same. */
G_STATIC_ASSERT (WS_PHOTO_PLAIN == 0 && WS_PHOTO_COPY == 1 && WS_PHOTO_SCREENSHOT == 2);
G_STATIC_ASSERT (WS_OFFSET_UNKNOWN == 0 && WS_OFFSET_EXIF == 1 && WS_OFFSET_GPS == 2 && WS_OFFSET_TOLD == 3);
G_STATIC_ASSERT (WS_POSITION_NONE == 0 && WS_POSITION_PHOTO == 1 && WS_POSITION_TRACK == 2 &&
                 WS_POSITION_TYPED == 3);

#define REFERENCES(target) " REFERENCES " target " DEFERRABLE INITIALLY DEFERRED"

static const char photos[] =
  "CREATE TABLE photo (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  digest TEXT NOT NULL,\n"
  "  companion TEXT,\n"
  "  media_type TEXT NOT NULL,\n"
  "  width INTEGER NOT NULL,\n"
  "  height INTEGER NOT NULL,\n"
  "  orientation INTEGER NOT NULL,\n"
  "  taken_us INTEGER,\n"
  "  taken_decimals INTEGER NOT NULL,\n"
  "  taken_offset INTEGER NOT NULL,\n"
  "  taken_offset_source INTEGER NOT NULL,\n"
  "  taken_correction INTEGER NOT NULL,\n"
  "  latitude REAL,\n"
  "  longitude REAL,\n"
  "  error_m REAL,\n"
  "  altitude REAL,\n"
  "  position_source INTEGER NOT NULL,\n"
  "  direction REAL,\n"
  "  make TEXT NOT NULL,\n"
  "  model TEXT NOT NULL,\n"
  "  kind INTEGER NOT NULL,\n"
  "  copy_of TEXT" REFERENCES ("photo (id)") ",\n"
  "  set_aside INTEGER NOT NULL,\n"
  "  warnings TEXT NOT NULL,\n"
  "  likeness INTEGER NOT NULL\n"
  ") STRICT;\n"
  "CREATE UNIQUE INDEX photo_digest ON photo (digest) WHERE digest <> '';\n"
  "CREATE INDEX photo_copy_of ON photo (copy_of) WHERE copy_of IS NOT NULL;\n"
  "CREATE INDEX photo_likeness ON photo (likeness, width, height) WHERE likeness <> 0;\n"
  "CREATE TABLE photo_file (\n"
  "  photo_id TEXT PRIMARY KEY NOT NULL,\n"
  "  path TEXT NOT NULL,\n"
  "  file_size INTEGER NOT NULL,\n"
  "  file_time_us INTEGER NOT NULL\n"
  ") STRICT;\n"
  "CREATE TABLE cover (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  photo_id TEXT NOT NULL" REFERENCES ("photo (id)") ",\n"
  "  shape TEXT NOT NULL\n"
  ") STRICT;\n"
  "CREATE INDEX cover_photo ON cover (photo_id);\n";

static const char finds[] =
  "CREATE TABLE foray (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  date TEXT NOT NULL,\n"
  "  place TEXT NOT NULL,\n"
  "  people TEXT NOT NULL\n"
  ") STRICT;\n"
  "CREATE TABLE find (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  number TEXT NOT NULL CHECK (number <> ''),\n"
  "  foray_id TEXT" REFERENCES ("foray (id)") ",\n"
  "  field_name TEXT NOT NULL,\n"
  "  when_us INTEGER,\n"
  "  when_decimals INTEGER NOT NULL,\n"
  "  when_offset INTEGER NOT NULL,\n"
  "  when_offset_source INTEGER NOT NULL,\n"
  "  when_correction INTEGER NOT NULL,\n"
  "  latitude REAL,\n"
  "  longitude REAL,\n"
  "  error_m REAL,\n"
  "  altitude REAL,\n"
  "  position_source INTEGER NOT NULL,\n"
  "  locality TEXT NOT NULL,\n"
  "  remarks TEXT NOT NULL,\n"
  "  only_mine TEXT NOT NULL,\n"
  "  specimen_is TEXT NOT NULL,\n"
  "  created_us INTEGER NOT NULL\n"
  ") STRICT;\n"
  "CREATE INDEX find_number ON find (number);\n"
  "CREATE INDEX find_foray ON find (foray_id);\n"
  "CREATE TABLE find_photo (\n"
  "  find_id TEXT NOT NULL" REFERENCES ("find (id)") ",\n"
  "  photo_id TEXT NOT NULL" REFERENCES ("photo (id)") ",\n"
  "  position INTEGER NOT NULL,\n"
  "  specimen TEXT NOT NULL,\n"
  "  visit TEXT NOT NULL,\n"
  "  PRIMARY KEY (find_id, photo_id)\n"
  ") STRICT, WITHOUT ROWID;\n"
  "CREATE INDEX find_photo_photo ON find_photo (photo_id);\n"
  "CREATE TABLE excuse (\n"
  "  find_id TEXT NOT NULL" REFERENCES ("find (id)") ",\n"
  "  view TEXT NOT NULL,\n"
  "  reason TEXT NOT NULL,\n"
  "  PRIMARY KEY (find_id, view)\n"
  ") STRICT, WITHOUT ROWID;\n";

/* A mark lies on a photo of its own find. The rules of safety stand here too, so that no program
 * can write around them. */
static const char marks[] =
  "CREATE TABLE mark (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  find_id TEXT NOT NULL,\n"
  "  photo_id TEXT NOT NULL,\n"
  "  seq INTEGER NOT NULL,\n"
  "  part TEXT NOT NULL,\n"
  "  views TEXT NOT NULL,\n"
  "  shape TEXT NOT NULL,\n"
  "  whole_photo INTEGER NOT NULL,\n"
  "  specimen TEXT NOT NULL,\n"
  "  base_kind TEXT NOT NULL,\n"
  "  remark TEXT NOT NULL,\n"
  "  created_us INTEGER NOT NULL,\n"
  "  CHECK (NOT (whole_photo AND base_kind <> '')),\n"
  "  FOREIGN KEY (find_id, photo_id)" REFERENCES ("find_photo (find_id, photo_id)") "\n"
  ") STRICT;\n"
  "CREATE INDEX mark_find ON mark (find_id, photo_id);\n"
  "CREATE TABLE note (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  find_id TEXT NOT NULL" REFERENCES ("find (id)") ",\n"
  "  seq INTEGER NOT NULL,\n"
  "  character TEXT NOT NULL,\n"
  "  states TEXT NOT NULL,\n"
  "  sure INTEGER NOT NULL,\n"
  "  off_photo INTEGER NOT NULL,\n"
  "  specimen TEXT NOT NULL,\n"
  "  observer TEXT NOT NULL,\n"
  "  mark_id TEXT" REFERENCES ("mark (id)") ",\n"
  "  created_us INTEGER NOT NULL,\n"
  "  CHECK (NOT (off_photo AND sure))\n"
  ") STRICT;\n"
  "CREATE INDEX note_find ON note (find_id);\n"
  "CREATE INDEX note_mark ON note (mark_id) WHERE mark_id IS NOT NULL;\n"
  "CREATE TABLE measure (\n"
  "  mark_id TEXT NOT NULL,\n"
  "  photo_digest TEXT NOT NULL,\n"
  "  shape TEXT NOT NULL,\n"
  "  method INTEGER NOT NULL,\n"
  "  width_px INTEGER NOT NULL,\n"
  "  height_px INTEGER NOT NULL,\n"
  "  blur_sigma REAL,\n"
  "  burnt_out REAL,\n"
  "  blocked_up REAL,\n"
  "  mm_per_pixel REAL,\n"
  "  PRIMARY KEY (mark_id, photo_digest, shape)\n"
  ") STRICT, WITHOUT ROWID;\n";

static const char others[] =
  "CREATE TABLE request (\n"
  "  id TEXT PRIMARY KEY NOT NULL,\n"
  "  find_id TEXT NOT NULL,\n"
  "  number TEXT NOT NULL,\n"
  "  whom TEXT NOT NULL,\n"
  "  question TEXT NOT NULL,\n"
  "  digest TEXT NOT NULL,\n"
  "  package TEXT NOT NULL,\n"
  "  replaces TEXT,\n"
  "  made_us INTEGER NOT NULL,\n"
  "  sent_us INTEGER NOT NULL\n"
  ") STRICT;\n"
  "CREATE TABLE setting (\n"
  "  key TEXT PRIMARY KEY NOT NULL,\n"
  "  value TEXT NOT NULL\n"
  ") STRICT;\n"
  /* AUTOINCREMENT: a step's number is never used again, so that "made since I opened" can be told. */
  "CREATE TABLE undo_log (\n"
  "  step INTEGER PRIMARY KEY AUTOINCREMENT,\n"
  "  origin TEXT NOT NULL,\n"
  "  label TEXT NOT NULL,\n"
  "  made_us INTEGER NOT NULL,\n"
  "  undone INTEGER NOT NULL,\n"
  "  changes BLOB NOT NULL\n"
  ") STRICT;\n";

gboolean
ws_store_make_format_1 (WsStore *store, GError **error)
{
  return ws_store_execute (store, photos, error) && ws_store_execute (store, finds, error) &&
         ws_store_execute (store, marks, error) && ws_store_execute (store, others, error);
}
