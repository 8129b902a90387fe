-- Format 1 of the library as it was published, with one find. Never changed again: every later format
-- is tested by migrating this. (The order is that of src/library/ws-library-format-1.c.)
PRAGMA application_id = 0x5753746d;
PRAGMA user_version = 1;
PRAGMA journal_mode = WAL;
CREATE TABLE photo (
  id TEXT PRIMARY KEY NOT NULL,
  digest TEXT NOT NULL,
  companion TEXT,
  media_type TEXT NOT NULL,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  orientation INTEGER NOT NULL,
  taken_us INTEGER,
  taken_decimals INTEGER NOT NULL,
  taken_offset INTEGER NOT NULL,
  taken_offset_source INTEGER NOT NULL,
  taken_correction INTEGER NOT NULL,
  latitude REAL,
  longitude REAL,
  error_m REAL,
  altitude REAL,
  position_source INTEGER NOT NULL,
  direction REAL,
  make TEXT NOT NULL,
  model TEXT NOT NULL,
  kind INTEGER NOT NULL,
  copy_of TEXT REFERENCES photo (id) DEFERRABLE INITIALLY DEFERRED,
  set_aside INTEGER NOT NULL,
  warnings TEXT NOT NULL,
  likeness INTEGER NOT NULL
) STRICT;
CREATE UNIQUE INDEX photo_digest ON photo (digest) WHERE digest <> '';
CREATE INDEX photo_copy_of ON photo (copy_of) WHERE copy_of IS NOT NULL;
CREATE INDEX photo_likeness ON photo (likeness, width, height) WHERE likeness <> 0;
CREATE TABLE photo_file (
  photo_id TEXT PRIMARY KEY NOT NULL,
  path TEXT NOT NULL,
  file_size INTEGER NOT NULL,
  file_time_us INTEGER NOT NULL
) STRICT;
CREATE TABLE cover (
  id TEXT PRIMARY KEY NOT NULL,
  photo_id TEXT NOT NULL REFERENCES photo (id) DEFERRABLE INITIALLY DEFERRED,
  shape TEXT NOT NULL
) STRICT;
CREATE INDEX cover_photo ON cover (photo_id);
CREATE TABLE foray (
  id TEXT PRIMARY KEY NOT NULL,
  date TEXT NOT NULL,
  place TEXT NOT NULL,
  people TEXT NOT NULL
) STRICT;
CREATE TABLE find (
  id TEXT PRIMARY KEY NOT NULL,
  number TEXT NOT NULL CHECK (number <> ''),
  foray_id TEXT REFERENCES foray (id) DEFERRABLE INITIALLY DEFERRED,
  field_name TEXT NOT NULL,
  when_us INTEGER,
  when_decimals INTEGER NOT NULL,
  when_offset INTEGER NOT NULL,
  when_offset_source INTEGER NOT NULL,
  when_correction INTEGER NOT NULL,
  latitude REAL,
  longitude REAL,
  error_m REAL,
  altitude REAL,
  position_source INTEGER NOT NULL,
  locality TEXT NOT NULL,
  remarks TEXT NOT NULL,
  only_mine TEXT NOT NULL,
  specimen_is TEXT NOT NULL,
  created_us INTEGER NOT NULL
) STRICT;
CREATE INDEX find_number ON find (number);
CREATE INDEX find_foray ON find (foray_id);
CREATE TABLE find_photo (
  find_id TEXT NOT NULL REFERENCES find (id) DEFERRABLE INITIALLY DEFERRED,
  photo_id TEXT NOT NULL REFERENCES photo (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  specimen TEXT NOT NULL,
  visit TEXT NOT NULL,
  PRIMARY KEY (find_id, photo_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX find_photo_photo ON find_photo (photo_id);
CREATE TABLE excuse (
  find_id TEXT NOT NULL REFERENCES find (id) DEFERRABLE INITIALLY DEFERRED,
  view TEXT NOT NULL,
  reason TEXT NOT NULL,
  PRIMARY KEY (find_id, view)
) STRICT, WITHOUT ROWID;
CREATE TABLE mark (
  id TEXT PRIMARY KEY NOT NULL,
  find_id TEXT NOT NULL,
  photo_id TEXT NOT NULL,
  seq INTEGER NOT NULL,
  part TEXT NOT NULL,
  views TEXT NOT NULL,
  shape TEXT NOT NULL,
  whole_photo INTEGER NOT NULL,
  specimen TEXT NOT NULL,
  base_kind TEXT NOT NULL,
  remark TEXT NOT NULL,
  created_us INTEGER NOT NULL,
  CHECK (NOT (whole_photo AND base_kind <> '')),
  FOREIGN KEY (find_id, photo_id) REFERENCES find_photo (find_id, photo_id) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE INDEX mark_find ON mark (find_id, photo_id);
CREATE TABLE note (
  id TEXT PRIMARY KEY NOT NULL,
  find_id TEXT NOT NULL REFERENCES find (id) DEFERRABLE INITIALLY DEFERRED,
  seq INTEGER NOT NULL,
  character TEXT NOT NULL,
  states TEXT NOT NULL,
  sure INTEGER NOT NULL,
  off_photo INTEGER NOT NULL,
  specimen TEXT NOT NULL,
  observer TEXT NOT NULL,
  mark_id TEXT REFERENCES mark (id) DEFERRABLE INITIALLY DEFERRED,
  created_us INTEGER NOT NULL,
  CHECK (NOT (off_photo AND sure))
) STRICT;
CREATE INDEX note_find ON note (find_id);
CREATE INDEX note_mark ON note (mark_id) WHERE mark_id IS NOT NULL;
CREATE TABLE measure (
  mark_id TEXT NOT NULL,
  photo_digest TEXT NOT NULL,
  shape TEXT NOT NULL,
  method INTEGER NOT NULL,
  width_px INTEGER NOT NULL,
  height_px INTEGER NOT NULL,
  blur_sigma REAL,
  burnt_out REAL,
  blocked_up REAL,
  mm_per_pixel REAL,
  PRIMARY KEY (mark_id, photo_digest, shape)
) STRICT, WITHOUT ROWID;
CREATE TABLE request (
  id TEXT PRIMARY KEY NOT NULL,
  find_id TEXT NOT NULL,
  number TEXT NOT NULL,
  whom TEXT NOT NULL,
  question TEXT NOT NULL,
  digest TEXT NOT NULL,
  package TEXT NOT NULL,
  replaces TEXT,
  made_us INTEGER NOT NULL,
  sent_us INTEGER NOT NULL
) STRICT;
CREATE TABLE setting (
  key TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;
CREATE TABLE undo_log (
  step INTEGER PRIMARY KEY AUTOINCREMENT,
  origin TEXT NOT NULL,
  label TEXT NOT NULL,
  made_us INTEGER NOT NULL,
  undone INTEGER NOT NULL,
  changes BLOB NOT NULL
) STRICT;
INSERT INTO foray VALUES ('00000000-0000-4000-8000-00000000000f', '2025-10-04', 'an invented wood', 'Ada Beispiel');
INSERT INTO find VALUES ('00000000-0000-4000-8000-000000000007', '25-007', '00000000-0000-4000-8000-00000000000f',
  'the pale one', 1759586602500000, 1, 120, 1, 0, 51.25, -30.5, 12.0, NULL, 1, 'under the third beech', 'smells of radish',
  'my best spot', 'kept', 1759600000000000);
INSERT INTO photo VALUES ('00000000-0000-4000-8000-00000000000a', 'abcdef01', NULL, 'image/jpeg', 4000, 3000, 1,
  1759586602500000, 1, 120, 1, 0, 51.25, -30.5, 12.0, NULL, 1, 90.0, 'Nocam', 'One', 0, NULL, 0, '', 81985529216486895);
INSERT INTO photo_file VALUES ('00000000-0000-4000-8000-00000000000a', '/nowhere/1.jpg', 1000, 1759586602000000);
INSERT INTO find_photo VALUES ('00000000-0000-4000-8000-000000000007', '00000000-0000-4000-8000-00000000000a', 0, 'a', '');
INSERT INTO cover VALUES ('00000000-0000-4000-8000-00000000000c', '00000000-0000-4000-8000-00000000000a',
  'oval 0 0 0.25 0.25');
INSERT INTO mark VALUES ('00000000-0000-4000-8000-00000000000b', '00000000-0000-4000-8000-000000000007',
  '00000000-0000-4000-8000-00000000000a', 1, 'stem-base', 'stem-base' || char (31), 'box 0.25 0.5 0.25 0.25', 0, 'a',
  'cleaned', '', 1759600000000001);
INSERT INTO measure VALUES ('00000000-0000-4000-8000-00000000000b', 'abcdef01', 'box 0.25 0.5 0.25 0.25', 1, 1000, 750,
  1.5, 0.0, 0.0, NULL);
INSERT INTO note VALUES ('00000000-0000-4000-8000-000000000001', '00000000-0000-4000-8000-000000000007', 1, 'trees',
  'beech' || char (31), 1, 0, '', 'Ada', NULL, 1759600000000002);
INSERT INTO excuse VALUES ('00000000-0000-4000-8000-000000000007', 'spore-print', 'it dried up');
INSERT INTO request VALUES ('00000000-0000-4000-8000-000000000002', '00000000-0000-4000-8000-000000000007', '25-007',
  'a group', 'what is it?', 'abcdef02', '25-007 2025-10-04.zip', NULL, 1759600000000003, 0);
INSERT INTO setting VALUES ('name', 'Ada Beispiel');
