-- A rehearsal is one sitting of one or more brewers; a run is what one of them did in it.
-- Times of day are milliseconds since 1970 in UTC; times within a run are nanoseconds from its start;
-- masses are nanograms.

CREATE TABLE rehearsal (
  id            INTEGER PRIMARY KEY AUTOINCREMENT,
  key           TEXT    NOT NULL UNIQUE, -- the same in every copy, so that nothing is imported twice
  started_at    INTEGER NOT NULL,
  program       TEXT    NOT NULL,
  is_simulated  INTEGER NOT NULL CHECK (is_simulated IN (0, 1)),
  feedback      TEXT    NOT NULL,
  faded_run     INTEGER NOT NULL,
  ended         TEXT,                    -- empty while it is recorded, or when that was cut short
  length        INTEGER,
  owner_process INTEGER,                 -- who records it now
  owner_since   INTEGER
) STRICT;

CREATE TABLE run (
  id           INTEGER PRIMARY KEY AUTOINCREMENT,
  rehearsal    INTEGER NOT NULL REFERENCES rehearsal ON DELETE CASCADE,
  lane         INTEGER NOT NULL,
  brewer       TEXT    NOT NULL,
  rig          TEXT    NOT NULL,
  title        TEXT,
  plan         TEXT,                     -- as it stood in the file
  is_void      INTEGER NOT NULL DEFAULT 0 CHECK (is_void IN (0, 1)),
  note         TEXT    NOT NULL DEFAULT '',
  deleted_at   INTEGER,
  judgement    INTEGER,                  -- the one that counts; older ones stay
  UNIQUE (rehearsal, lane)
) STRICT;

CREATE TABLE scale (
  run     INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  place   TEXT    NOT NULL,
  address TEXT    NOT NULL,
  profile TEXT    NOT NULL,
  PRIMARY KEY (run, place)
) STRICT, WITHOUT ROWID;

-- What came over the wire, before anyone interpreted it. Many small parts while a run is recorded,
-- one when it is over.
CREATE TABLE raw (
  run   INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  place TEXT    NOT NULL,
  part  INTEGER NOT NULL,
  tape  BLOB    NOT NULL,
  PRIMARY KEY (run, place, part)
) STRICT;

-- What it weighed; in parts like raw.
CREATE TABLE trace (
  run      INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  place    TEXT    NOT NULL,
  part     INTEGER NOT NULL,
  readings INTEGER NOT NULL,
  tape     BLOB    NOT NULL,
  PRIMARY KEY (run, place, part)
) STRICT;

-- As announced live.
CREATE TABLE event (
  run      INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  part     INTEGER NOT NULL,
  detector INTEGER NOT NULL,
  event    TEXT    NOT NULL,
  PRIMARY KEY (run, part)
) STRICT;

-- What the brewer told the program during the run.
CREATE TABLE told (
  rehearsal INTEGER NOT NULL REFERENCES rehearsal ON DELETE CASCADE,
  part      INTEGER NOT NULL,
  at        INTEGER NOT NULL,
  word      TEXT    NOT NULL,
  lane      INTEGER,
  pour      INTEGER,
  mass      INTEGER,
  PRIMARY KEY (rehearsal, part)
) STRICT;

CREATE TABLE judgement (
  id              INTEGER PRIMARY KEY AUTOINCREMENT,
  run             INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  detector        INTEGER NOT NULL,
  made_at         INTEGER NOT NULL,
  announced       TEXT    NOT NULL,
  findings        TEXT    NOT NULL,
  comparison      TEXT,
  pours           INTEGER NOT NULL,
  planned         INTEGER,
  inside          INTEGER,
  deviation_index REAL
) STRICT;

CREATE INDEX judgement_of_run ON judgement (run);

CREATE TABLE strength (
  id          INTEGER PRIMARY KEY AUTOINCREMENT,
  run         INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  at          INTEGER NOT NULL,
  percent     REAL    NOT NULL,
  uncertainty REAL,
  instrument  TEXT    NOT NULL
) STRICT;

CREATE INDEX strength_of_run ON strength (run);

CREATE TABLE tasting (
  id     INTEGER PRIMARY KEY AUTOINCREMENT,
  run    INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  at     INTEGER NOT NULL,
  taster TEXT    NOT NULL,
  note   TEXT    NOT NULL
) STRICT;

CREATE INDEX tasting_of_run ON tasting (run);

CREATE TABLE score (
  tasting INTEGER NOT NULL REFERENCES tasting ON DELETE CASCADE,
  item    TEXT    NOT NULL,
  points  REAL    NOT NULL,
  PRIMARY KEY (tasting, item)
) STRICT, WITHOUT ROWID;

-- What the brewer believed to have poured.
CREATE TABLE estimate (
  run    INTEGER NOT NULL REFERENCES run ON DELETE CASCADE,
  pour   INTEGER NOT NULL,
  poured INTEGER NOT NULL,
  PRIMARY KEY (run, pour)
) STRICT, WITHOUT ROWID;
