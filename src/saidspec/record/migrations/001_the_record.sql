-- "said" in ASCII: tells a record from other SQLite files.
PRAGMA application_id = 1935763812;

-- Numbers that were said are TEXT, digit for digit as they were understood; the column `<name>_real` beside one holds the
-- same number as REAL for sorting, ranges and plots.  Offsets are characters of readings.text.  Dates are ISO 8601 text.
-- Times in a recording are seconds.  Columns named like another table in the singular hold its id.

-- A vehicle whose work is recorded.
CREATE TABLE vehicles (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE COLLATE NOCASE,
    year INTEGER,
    odometer_unit TEXT, -- mi, km or hour; null where not known
    volume_system TEXT CHECK (volume_system IN ('imperial', 'us')), -- what "a quart" means here
    options TEXT NOT NULL DEFAULT '[]', -- JSON list of words, compared with specifications.only
    sheet_path TEXT -- where its reference sheet was read from
) STRICT;

-- Other names by which a note may call a vehicle ("the van").
CREATE TABLE vehicle_names (
    name TEXT PRIMARY KEY COLLATE NOCASE,
    vehicle INTEGER NOT NULL REFERENCES vehicles ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX vehicle_names_of ON vehicle_names (vehicle);

-- A note: what somebody said on one occasion, whatever became of its file since.
CREATE TABLE notes (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- never given again
    name TEXT NOT NULL, -- of the file, without its folder
    sha256 TEXT NOT NULL UNIQUE, -- of the bytes last read: a note is its content
    format TEXT NOT NULL,
    day TEXT, -- the day it was spoken
    vehicle INTEGER REFERENCES vehicles, -- null: not known, a question to the user
    vehicle_from TEXT CHECK (vehicle_from IN ('option', 'heading', 'mention', 'person')) -- how the vehicle was found
) STRICT;
CREATE INDEX notes_of ON notes (vehicle, day);

-- Files in which a note was found; a changed file at a known place is an edit of its note.
CREATE TABLE places (
    place TEXT PRIMARY KEY, -- absolute path
    note INTEGER NOT NULL REFERENCES notes ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX places_of ON places (note);

-- The text of a note: one row for each text it had (edits), and for each transcription of its recording.
CREATE TABLE readings (
    id INTEGER PRIMARY KEY,
    note INTEGER NOT NULL REFERENCES notes ON DELETE CASCADE,
    current INTEGER NOT NULL CHECK (current IN (0, 1)), -- 1: utterances and facts of the note point into this text
    sha256 TEXT NOT NULL, -- of the bytes that were read
    text TEXT NOT NULL,
    model TEXT, -- name of the speech model; null for what was written
    model_sha256 TEXT,
    settings TEXT, -- JSON object: settings of the transcription
    transcript TEXT -- JSON: the recogniser's raw answer
) STRICT;
CREATE UNIQUE INDEX readings_current ON readings (note) WHERE current = 1;
CREATE INDEX readings_of ON readings (note);
CREATE INDEX readings_sha256 ON readings (sha256);

-- Words of a transcript, with how sure the recogniser was.
CREATE TABLE words (
    reading INTEGER NOT NULL REFERENCES readings ON DELETE CASCADE,
    position INTEGER NOT NULL,
    start INTEGER NOT NULL,
    "end" INTEGER NOT NULL,
    time REAL NOT NULL,
    time_end REAL NOT NULL,
    probability REAL,
    PRIMARY KEY (reading, position)
) STRICT, WITHOUT ROWID;

-- What one person said in one go.
CREATE TABLE utterances (
    id INTEGER PRIMARY KEY,
    note INTEGER NOT NULL REFERENCES notes ON DELETE CASCADE,
    position INTEGER NOT NULL, -- 0, 1, 2 ... within the note
    start INTEGER NOT NULL,
    "end" INTEGER NOT NULL,
    text TEXT NOT NULL,
    time REAL,
    time_end REAL,
    speaker TEXT,
    sent TEXT, -- date and time of a chat message
    heading INTEGER NOT NULL DEFAULT 0, -- level, 0 for none
    item INTEGER NOT NULL DEFAULT 0, -- 1: entry of a list
    continues INTEGER NOT NULL DEFAULT 0, -- 1: goes on with what the former one said
    vehicle INTEGER REFERENCES vehicles, -- what it is about, where known
    UNIQUE (note, position)
) STRICT;

-- Work done on one system of one vehicle on one day.
CREATE TABLE jobs (
    id INTEGER PRIMARY KEY,
    vehicle INTEGER REFERENCES vehicles,
    system TEXT NOT NULL, -- id of a system of patterns/components, or 'other'
    day TEXT,
    note INTEGER REFERENCES notes ON DELETE CASCADE, -- only where vehicle or day is not known: the note it is part of
    odometer TEXT,
    odometer_real REAL,
    odometer_unit TEXT
) STRICT;
CREATE UNIQUE INDEX jobs_one ON jobs (coalesce(vehicle, 0), coalesce(day, ''), system, coalesce(note, 0));
CREATE INDEX jobs_of ON jobs (vehicle, day);
CREATE INDEX jobs_note ON jobs (note);

-- One thing that a note says.  Its key is the note, the span of its words, its kind and its slot.
CREATE TABLE facts (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- never given again
    note INTEGER NOT NULL REFERENCES notes ON DELETE CASCADE,
    start INTEGER NOT NULL,
    "end" INTEGER NOT NULL,
    kind TEXT NOT NULL,
    slot INTEGER NOT NULL DEFAULT 0, -- 0, 1 ...: several parts that share the same words ("both at 88")
    number INTEGER NOT NULL, -- its id in the output of one reading of the note; the order of what was said
    utterance INTEGER REFERENCES utterances ON DELETE SET NULL,
    vehicle INTEGER REFERENCES vehicles,
    day TEXT, -- when it was said
    job INTEGER REFERENCES jobs ON DELETE SET NULL,
    component TEXT,
    value TEXT,
    value_real REAL,
    value_high TEXT,
    value_high_real REAL,
    unit TEXT,
    code TEXT,
    angle TEXT,
    role TEXT,
    action TEXT,
    finding TEXT,
    assertion TEXT NOT NULL,
    approximate INTEGER NOT NULL DEFAULT 0,
    replaced_by INTEGER REFERENCES facts ON DELETE SET NULL,
    quote TEXT NOT NULL,
    time REAL,
    time_end REAL,
    rule TEXT NOT NULL,
    cue TEXT,
    confidence REAL NOT NULL
) STRICT;
CREATE UNIQUE INDEX facts_key ON facts (note, start, "end", kind, slot);
CREATE INDEX facts_of ON facts (vehicle, kind, day);
CREATE INDEX facts_component ON facts (vehicle, component, day);
CREATE INDEX facts_job ON facts (job);
CREATE INDEX facts_utterance ON facts (utterance);
CREATE INDEX facts_replaced ON facts (replaced_by) WHERE replaced_by IS NOT NULL;
CREATE INDEX facts_unplaced ON facts (kind, day) WHERE vehicle IS NULL;

-- Numbers that no rule claims.
CREATE TABLE unclaimed (
    note INTEGER NOT NULL REFERENCES notes ON DELETE CASCADE,
    start INTEGER NOT NULL,
    "end" INTEGER NOT NULL,
    quote TEXT NOT NULL,
    time REAL,
    PRIMARY KEY (note, start, "end")
) STRICT, WITHOUT ROWID;

-- What of a note could not be read.
CREATE TABLE problems (
    note INTEGER NOT NULL REFERENCES notes ON DELETE CASCADE,
    position INTEGER NOT NULL,
    message TEXT NOT NULL,
    start INTEGER,
    "end" INTEGER,
    PRIMARY KEY (note, position)
) STRICT, WITHOUT ROWID;

-- The reference sheet of a vehicle as last read.
CREATE TABLE sheets (
    id INTEGER PRIMARY KEY,
    vehicle INTEGER NOT NULL UNIQUE REFERENCES vehicles ON DELETE CASCADE,
    path TEXT NOT NULL,
    sha256 TEXT NOT NULL
) STRICT;

-- One reference value of a sheet.
CREATE TABLE specifications (
    id INTEGER PRIMARY KEY,
    sheet INTEGER NOT NULL REFERENCES sheets ON DELETE CASCADE,
    position INTEGER NOT NULL, -- 0, 1, 2 ... within the sheet
    vehicle INTEGER NOT NULL REFERENCES vehicles ON DELETE CASCADE,
    component TEXT NOT NULL,
    kind TEXT NOT NULL,
    source TEXT NOT NULL,
    value TEXT,
    value_real REAL,
    value_high TEXT,
    value_high_real REAL,
    unit TEXT,
    code TEXT,
    angle TEXT,
    bound TEXT CHECK (bound IN ('min', 'max')), -- value is a service limit
    or_value TEXT,
    or_value_real REAL,
    or_unit TEXT,
    role TEXT,
    tolerance TEXT,
    tolerance_unit TEXT,
    only TEXT,
    replaces TEXT NOT NULL DEFAULT '[]', -- JSON list of superseded numbers
    place TEXT NOT NULL DEFAULT '',
    UNIQUE (sheet, position)
) STRICT;
CREATE INDEX specifications_of ON specifications (vehicle, kind, component);

-- A disagreement, as of the last time the record was compared with the sheets.
CREATE TABLE flags (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- never given again
    key TEXT NOT NULL UNIQUE, -- what it is about, so that a decision on it finds it again
    vehicle INTEGER REFERENCES vehicles ON DELETE CASCADE,
    note INTEGER REFERENCES notes ON DELETE CASCADE,
    fact INTEGER REFERENCES facts ON DELETE CASCADE,
    job INTEGER REFERENCES jobs ON DELETE SET NULL,
    "check" TEXT NOT NULL,
    severity TEXT NOT NULL,
    message TEXT NOT NULL,
    component TEXT,
    kind TEXT NOT NULL,
    said TEXT NOT NULL DEFAULT '{}', -- JSON object: value, value_high, unit, code (numbers as text)
    reference TEXT, -- JSON object: value, value_high, unit, code, source
    likely TEXT,
    also_likely TEXT NOT NULL DEFAULT '[]', -- JSON list of causes
    tolerance TEXT
) STRICT;
CREATE INDEX flags_of ON flags (vehicle);
CREATE INDEX flags_note ON flags (note);
CREATE INDEX flags_fact ON flags (fact);
CREATE INDEX flags_job ON flags (job);

-- A fact that agrees with a specification.
CREATE TABLE agreements (
    fact INTEGER NOT NULL REFERENCES facts ON DELETE CASCADE,
    spec TEXT NOT NULL, -- component and source of the specification
    why TEXT NOT NULL,
    PRIMARY KEY (fact, spec)
) STRICT, WITHOUT ROWID;

-- What a person decided.  Nothing is deleted here: a newer decision on the same thing makes the older one not current.
-- `note`, `reading`, `start`, `end`, `kind`, `slot` are the key of the fact as it was; `fact` is where it is found now
-- (null while no rule finds it).  A decision on a flag keeps the flag's key.
CREATE TABLE decisions (
    id INTEGER PRIMARY KEY,
    current INTEGER NOT NULL DEFAULT 1 CHECK (current IN (0, 1)),
    verdict TEXT NOT NULL CHECK (verdict IN ('confirmed', 'corrected', 'rejected', 'done', 'accepted', 'left')),
    reason TEXT,
    person TEXT,
    decided_at TEXT NOT NULL, -- date and time, UTC
    changes TEXT NOT NULL DEFAULT '{}', -- JSON object: corrected fields of the fact (numbers as text)
    flag_key TEXT,
    note INTEGER REFERENCES notes ON DELETE SET NULL,
    reading INTEGER REFERENCES readings ON DELETE SET NULL, -- the text in which start and end are counted
    start INTEGER,
    "end" INTEGER,
    kind TEXT,
    slot INTEGER,
    quote TEXT,
    fact INTEGER REFERENCES facts ON DELETE SET NULL
) STRICT;
CREATE UNIQUE INDEX decisions_fact ON decisions (fact) WHERE current = 1 AND flag_key IS NULL AND fact IS NOT NULL;
CREATE UNIQUE INDEX decisions_flag ON decisions (flag_key) WHERE current = 1 AND flag_key IS NOT NULL;
CREATE INDEX decisions_note ON decisions (note);
CREATE INDEX decisions_reading ON decisions (reading);
CREATE INDEX decisions_by_fact ON decisions (fact);

-- The facts as they stand: what a person corrected put in place, and `standing` telling what a person said of each:
-- unconfirmed, confirmed, corrected, rejected or done.
CREATE VIEW facts_now AS
SELECT
    f.id, f.note, f.start, f."end", f.kind, f.slot, f.number, f.utterance, f.vehicle, f.day, f.job,
    iif(json_type(d.changes, '$.component') IS NULL, f.component, d.changes ->> '$.component') AS component,
    iif(json_type(d.changes, '$.value') IS NULL, f.value, d.changes ->> '$.value') AS value,
    iif(json_type(d.changes, '$.value') IS NULL, f.value_real, CAST(d.changes ->> '$.value' AS REAL)) AS value_real,
    iif(json_type(d.changes, '$.value_high') IS NULL, f.value_high, d.changes ->> '$.value_high') AS value_high,
    iif(json_type(d.changes, '$.value_high') IS NULL, f.value_high_real,
        CAST(d.changes ->> '$.value_high' AS REAL)) AS value_high_real,
    iif(json_type(d.changes, '$.unit') IS NULL, f.unit, d.changes ->> '$.unit') AS unit,
    iif(json_type(d.changes, '$.code') IS NULL, f.code, d.changes ->> '$.code') AS code,
    iif(json_type(d.changes, '$.angle') IS NULL, f.angle, d.changes ->> '$.angle') AS angle,
    iif(json_type(d.changes, '$.role') IS NULL, f.role, d.changes ->> '$.role') AS role,
    iif(json_type(d.changes, '$.action') IS NULL, f.action, d.changes ->> '$.action') AS action,
    iif(json_type(d.changes, '$.finding') IS NULL, f.finding, d.changes ->> '$.finding') AS finding,
    iif(json_type(d.changes, '$.assertion') IS NULL, f.assertion, d.changes ->> '$.assertion') AS assertion,
    f.approximate, f.replaced_by, f.quote, f.time, f.time_end, f.rule, f.cue, f.confidence,
    coalesce(d.verdict, 'unconfirmed') AS standing, d.reason AS reason, d.id AS decision
FROM facts AS f
LEFT JOIN decisions AS d ON d.fact = f.id AND d.current = 1 AND d.flag_key IS NULL;

-- The words by which a fact is found.
CREATE VIEW fact_words AS
SELECT id, 'vehicle' || coalesce(vehicle, 0) AS vehicle, kind, component, value, unit, code, role, action, finding, quote
FROM facts_now;

-- The words by which an utterance is found.
CREATE VIEW utterance_words AS
SELECT id, 'vehicle' || coalesce(vehicle, 0) AS vehicle, text FROM utterances;

-- Full-text index of the facts.
CREATE VIRTUAL TABLE facts_fts USING fts5 (
    vehicle, kind, component, value, unit, code, role, action, finding, quote,
    content = 'fact_words', content_rowid = 'id', tokenize = 'porter unicode61 remove_diacritics 2'
);

-- Full-text index of the utterances.
CREATE VIRTUAL TABLE utterances_fts USING fts5 (
    vehicle, text,
    content = 'utterance_words', content_rowid = 'id', tokenize = 'porter unicode61 remove_diacritics 2'
);

-- Full-text index of the specifications.
CREATE VIRTUAL TABLE specifications_fts USING fts5 (
    component, kind, role, code, value, unit, source,
    content = 'specifications', content_rowid = 'id', tokenize = 'porter unicode61 remove_diacritics 2'
);

CREATE TRIGGER facts_found AFTER INSERT ON facts BEGIN
    INSERT INTO facts_fts (rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT * FROM fact_words WHERE id = new.id;
END;
CREATE TRIGGER facts_change BEFORE UPDATE OF
    vehicle, kind, component, value, unit, code, role, action, finding, quote ON facts BEGIN
    INSERT INTO facts_fts (facts_fts, rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT 'delete', * FROM fact_words WHERE id = old.id;
END;
CREATE TRIGGER facts_changed AFTER UPDATE OF
    vehicle, kind, component, value, unit, code, role, action, finding, quote ON facts BEGIN
    INSERT INTO facts_fts (rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT * FROM fact_words WHERE id = new.id;
END;
CREATE TRIGGER facts_gone BEFORE DELETE ON facts BEGIN
    INSERT INTO facts_fts (facts_fts, rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT 'delete', * FROM fact_words WHERE id = old.id;
END;

CREATE TRIGGER decisions_come BEFORE INSERT ON decisions WHEN new.fact IS NOT NULL BEGIN
    INSERT INTO facts_fts (facts_fts, rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT 'delete', * FROM fact_words WHERE id = new.fact;
END;
CREATE TRIGGER decisions_came AFTER INSERT ON decisions WHEN new.fact IS NOT NULL BEGIN
    INSERT INTO facts_fts (rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT * FROM fact_words WHERE id = new.fact;
END;
CREATE TRIGGER decisions_change BEFORE UPDATE ON decisions BEGIN
    INSERT INTO facts_fts (facts_fts, rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT 'delete', * FROM fact_words WHERE id IN (old.fact, new.fact);
END;
CREATE TRIGGER decisions_changed AFTER UPDATE ON decisions BEGIN
    INSERT INTO facts_fts (rowid, vehicle, kind, component, value, unit, code, role, action, finding, quote)
    SELECT * FROM fact_words WHERE id IN (old.fact, new.fact);
END;
CREATE TRIGGER decisions_kept BEFORE DELETE ON decisions BEGIN
    SELECT raise(ABORT, 'decisions are kept: make it not current');
END;

CREATE TRIGGER utterances_found AFTER INSERT ON utterances BEGIN
    INSERT INTO utterances_fts (rowid, vehicle, text) SELECT * FROM utterance_words WHERE id = new.id;
END;
CREATE TRIGGER utterances_change BEFORE UPDATE OF vehicle, text ON utterances BEGIN
    INSERT INTO utterances_fts (utterances_fts, rowid, vehicle, text)
    SELECT 'delete', * FROM utterance_words WHERE id = old.id;
END;
CREATE TRIGGER utterances_changed AFTER UPDATE OF vehicle, text ON utterances BEGIN
    INSERT INTO utterances_fts (rowid, vehicle, text) SELECT * FROM utterance_words WHERE id = new.id;
END;
CREATE TRIGGER utterances_gone BEFORE DELETE ON utterances BEGIN
    INSERT INTO utterances_fts (utterances_fts, rowid, vehicle, text)
    SELECT 'delete', * FROM utterance_words WHERE id = old.id;
END;

CREATE TRIGGER specifications_found AFTER INSERT ON specifications BEGIN
    INSERT INTO specifications_fts (rowid, component, kind, role, code, value, unit, source)
    VALUES (new.id, new.component, new.kind, new.role, new.code, new.value, new.unit, new.source);
END;
CREATE TRIGGER specifications_changed AFTER UPDATE ON specifications BEGIN
    INSERT INTO specifications_fts (specifications_fts, rowid, component, kind, role, code, value, unit, source)
    VALUES ('delete', old.id, old.component, old.kind, old.role, old.code, old.value, old.unit, old.source);
    INSERT INTO specifications_fts (rowid, component, kind, role, code, value, unit, source)
    VALUES (new.id, new.component, new.kind, new.role, new.code, new.value, new.unit, new.source);
END;
CREATE TRIGGER specifications_gone AFTER DELETE ON specifications BEGIN
    INSERT INTO specifications_fts (specifications_fts, rowid, component, kind, role, code, value, unit, source)
    VALUES ('delete', old.id, old.component, old.kind, old.role, old.code, old.value, old.unit, old.source);
END;
