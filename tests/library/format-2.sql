-- Format 2 of the library as it was published, with one find. Never changed again: every later format
-- is tested by migrating this. (Format 1 with its rows, then what format 2 adds, in the order of
-- src/library/ws-library-format-2.c.)
PRAGMA application_id = 0x5753746d;
PRAGMA user_version = 2;
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
ALTER TABLE find ADD COLUMN name_in_force TEXT;
ALTER TABLE note ADD COLUMN observed INTEGER NOT NULL DEFAULT 0;
ALTER TABLE note ADD COLUMN minutes REAL;
ALTER TABLE note ADD COLUMN text TEXT NOT NULL DEFAULT '';
ALTER TABLE note ADD COLUMN answers TEXT NOT NULL DEFAULT '';
CREATE TABLE scale (
  id TEXT PRIMARY KEY NOT NULL,
  photo_id TEXT NOT NULL REFERENCES photo (id) DEFERRABLE INITIALLY DEFERRED,
  seq INTEGER NOT NULL,
  a_x REAL NOT NULL,
  a_y REAL NOT NULL,
  b_x REAL NOT NULL,
  b_y REAL NOT NULL,
  mm REAL NOT NULL,
  mm_error REAL,
  point_error REAL,
  tilt REAL,
  created_us INTEGER NOT NULL
) STRICT;
CREATE INDEX scale_photo ON scale (photo_id);
CREATE TABLE measurement (
  id TEXT PRIMARY KEY NOT NULL,
  find_id TEXT NOT NULL REFERENCES find (id) DEFERRABLE INITIALLY DEFERRED,
  seq INTEGER NOT NULL,
  quantity TEXT NOT NULL,
  specimen TEXT NOT NULL,
  value REAL NOT NULL,
  error REAL,
  photo_id TEXT,
  a_x REAL,
  a_y REAL,
  b_x REAL,
  b_y REAL,
  observer TEXT NOT NULL,
  remark TEXT NOT NULL,
  created_us INTEGER NOT NULL,
  FOREIGN KEY (find_id, photo_id) REFERENCES find_photo (find_id, photo_id) DEFERRABLE INITIALLY DEFERRED
) STRICT;
CREATE INDEX measurement_find ON measurement (find_id, photo_id);
CREATE TABLE spore_list (
  id TEXT PRIMARY KEY NOT NULL,
  find_id TEXT NOT NULL REFERENCES find (id) DEFERRABLE INITIALLY DEFERRED,
  seq INTEGER NOT NULL,
  specimen TEXT NOT NULL,
  spores TEXT NOT NULL,
  n_specimens INTEGER NOT NULL,
  taken_from INTEGER NOT NULL,
  mount TEXT NOT NULL,
  rule INTEGER NOT NULL,
  verbatim TEXT NOT NULL,
  observer TEXT NOT NULL,
  remark TEXT NOT NULL,
  created_us INTEGER NOT NULL
) STRICT;
CREATE INDEX spore_list_find ON spore_list (find_id);
CREATE TABLE name (
  id TEXT PRIMARY KEY NOT NULL,
  verbatim TEXT NOT NULL,
  certainty INTEGER NOT NULL,
  by_whom TEXT NOT NULL,
  date TEXT NOT NULL,
  named_on INTEGER NOT NULL,
  base_shown INTEGER NOT NULL,
  reasons TEXT NOT NULL,
  source INTEGER NOT NULL,
  answer_id TEXT,
  entered_by TEXT NOT NULL,
  deadly INTEGER NOT NULL,
  withdraws TEXT,
  created_us INTEGER NOT NULL
) STRICT;
CREATE TRIGGER name_keeps BEFORE UPDATE ON name BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TRIGGER name_stays BEFORE DELETE ON name BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TABLE find_name (
  find_id TEXT NOT NULL,
  name_id TEXT NOT NULL,
  PRIMARY KEY (find_id, name_id)
) STRICT, WITHOUT ROWID;
CREATE TABLE answer (
  id TEXT PRIMARY KEY NOT NULL,
  kind INTEGER NOT NULL,
  request_id TEXT NOT NULL,
  request_digest TEXT NOT NULL,
  replaces TEXT,
  by_whom TEXT NOT NULL,
  made_us INTEGER NOT NULL,
  language TEXT NOT NULL,
  cannot_name INTEGER NOT NULL,
  deadly INTEGER NOT NULL,
  phone_poison_service INTEGER NOT NULL,
  remarks TEXT NOT NULL,
  verbatim TEXT NOT NULL,
  entered_by TEXT NOT NULL,
  received_us INTEGER NOT NULL,
  given INTEGER NOT NULL,
  file TEXT NOT NULL
) STRICT;
CREATE INDEX answer_request ON answer (request_id);
CREATE TRIGGER answer_keeps BEFORE UPDATE ON answer BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TRIGGER answer_stays BEFORE DELETE ON answer BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TABLE opinion (
  answer_id TEXT NOT NULL REFERENCES answer (id),
  place INTEGER NOT NULL,
  name TEXT NOT NULL,
  certainty INTEGER NOT NULL,
  named_on INTEGER NOT NULL,
  PRIMARY KEY (answer_id, place)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER opinion_keeps BEFORE UPDATE ON opinion BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TRIGGER opinion_stays BEFORE DELETE ON opinion BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TABLE reason (
  answer_id TEXT NOT NULL,
  opinion INTEGER NOT NULL,
  place INTEGER NOT NULL,
  text TEXT NOT NULL,
  photo_id TEXT,
  part TEXT NOT NULL,
  PRIMARY KEY (answer_id, opinion, place),
  FOREIGN KEY (answer_id, opinion) REFERENCES opinion (answer_id, place)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER reason_keeps BEFORE UPDATE ON reason BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TRIGGER reason_stays BEFORE DELETE ON reason BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TABLE wish (
  answer_id TEXT NOT NULL REFERENCES answer (id),
  place INTEGER NOT NULL,
  view TEXT NOT NULL,
  character TEXT NOT NULL,
  part TEXT NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (answer_id, place)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER wish_keeps BEFORE UPDATE ON wish BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TRIGGER wish_stays BEFORE DELETE ON wish BEGIN
  SELECT RAISE (ABORT, 'what was said stays as it was said');
END;
CREATE TABLE find_answer (
  find_id TEXT NOT NULL,
  answer_id TEXT NOT NULL,
  PRIMARY KEY (find_id, answer_id)
) STRICT, WITHOUT ROWID;
CREATE TABLE received (
  id TEXT PRIMARY KEY NOT NULL,
  digest TEXT NOT NULL,
  sender TEXT NOT NULL,
  number TEXT NOT NULL,
  question TEXT NOT NULL,
  language TEXT NOT NULL,
  package TEXT NOT NULL,
  replaces TEXT,
  emergency INTEGER NOT NULL,
  made_us INTEGER NOT NULL,
  received_us INTEGER NOT NULL
) STRICT;
INSERT INTO scale VALUES ('00000000-0000-4000-8000-000000000010', '00000000-0000-4000-8000-00000000000a', 1, 0.25, 0.5, 0.75, 0.5, 50, 0.5,
  NULL, 10, 1759600000123460);
INSERT INTO measurement VALUES ('00000000-0000-4000-8000-000000000011', '00000000-0000-4000-8000-000000000007', 1, 'cap_width', 'a', 52.5,
  1.5, '00000000-0000-4000-8000-00000000000a', 0.25, 0.25, 0.75, 0.25, 'Ada Beispiel', '', 1759600000123461);
INSERT INTO spore_list VALUES ('00000000-0000-4000-8000-000000000012', '00000000-0000-4000-8000-000000000007', 1, 'a',
  '8.1999999999999993 5.4000000000000004 8.5 5.5999999999999996', 1, 1, 'water', 1, '8.2x5.4 8.5x5.6', 'Ada Beispiel', '', 1759600000123462);
INSERT INTO name VALUES ('00000000-0000-4000-8000-000000000013', 'Amanita cf. phalloides', 1, 'B. O''Nobody', '2025-10-06', 1, 0, 'the bag', 1,
  '00000000-0000-4000-8000-000000000014', '', 1, NULL, 1759700000000000);
INSERT INTO find_name VALUES ('00000000-0000-4000-8000-000000000007', '00000000-0000-4000-8000-000000000013');
INSERT INTO answer VALUES ('00000000-0000-4000-8000-000000000014', 0, '00000000-0000-4000-8000-000000000002', 'abcdef02', NULL,
  'B. O''Nobody', 1759690000000000, 'en', 0, 1, 0, 'keep it', '', '', 1759700000000000, 0, 'answer.json');
INSERT INTO opinion VALUES ('00000000-0000-4000-8000-000000000014', 0, 'Amanita cf. phalloides', 1, 1);
INSERT INTO reason VALUES ('00000000-0000-4000-8000-000000000014', 0, 0, 'the bag', '00000000-0000-4000-8000-00000000000a', 'stem_base');
INSERT INTO wish VALUES ('00000000-0000-4000-8000-000000000014', 0, 'v_base', '', '', '');
INSERT INTO find_answer VALUES ('00000000-0000-4000-8000-000000000007', '00000000-0000-4000-8000-000000000014');
INSERT INTO received VALUES ('00000000-0000-4000-8000-000000000015', 'abcdef03', 'Clara Muster', '24-001', 'which one?', 'de', '24-001.zip', NULL,
  0, 1759600000000000, 1759700000000000);
UPDATE find SET name_in_force = '00000000-0000-4000-8000-000000000013';
UPDATE note SET observed = 2, minutes = 5, text = 'slowly', answers = 'fresh_cut' || x'1f';
