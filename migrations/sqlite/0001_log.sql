-- The log and the household around it. Ids are 16-byte UUIDs, hashes 32 bytes, times milliseconds since 1970 UTC.

-- One row: what the numbering stands at. Updating it in the transaction that numbers entries makes the order of
-- numbers the order of commits.
CREATE TABLE counter (
    one           INTEGER PRIMARY KEY CHECK (one = 1),
    shop          BLOB    NOT NULL,
    epoch         BLOB    NOT NULL,
    seq           INTEGER NOT NULL,
    last_received INTEGER NOT NULL,
    letters_given INTEGER NOT NULL
) STRICT;

-- Entries, by the number they were first given.
CREATE TABLE entries (
    seq          INTEGER PRIMARY KEY,
    id           BLOB    NOT NULL UNIQUE,
    subject_kind TEXT    NOT NULL,
    subject_id   BLOB    NOT NULL,
    subject_seq  INTEGER NOT NULL, -- the first number of any entry of this subject
    stamp_ms     INTEGER NOT NULL,
    counter      INTEGER NOT NULL,
    made_utc     INTEGER NOT NULL,
    made_offset  INTEGER NOT NULL,
    device       BLOB    NOT NULL,
    device_seq   INTEGER NOT NULL,
    person       BLOB,
    over         BLOB,             -- ids of the entries replaced, one after another
    kind         TEXT    NOT NULL,
    version      INTEGER NOT NULL,
    body         TEXT    NOT NULL, -- as received; empty when erased
    received     INTEGER NOT NULL
) STRICT;

-- History, newest subject first; also "everything on this subject".
CREATE INDEX entries_history ON entries (subject_seq DESC, seq);
-- What is in the shop: jobs opened, less those handed over.
CREATE INDEX entries_job_opened  ON entries (subject_id) WHERE kind = 'opened' AND subject_kind = 'job';
CREATE INDEX entries_handed_over ON entries (subject_id) WHERE kind = 'handed_over';
CREATE INDEX entries_retracted   ON entries (subject_id) WHERE kind = 'retracted';
-- Erasures, read at every start.
CREATE INDEX entries_erased      ON entries (seq)        WHERE kind = 'erased';

-- Subjects, by id, with the number of their first entry.
CREATE TABLE subjects (
    id        BLOB    PRIMARY KEY,
    kind      TEXT    NOT NULL,
    first_seq INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX subjects_shop ON subjects (id) WHERE kind = 'shop';

-- Which entries concern a subject: its own, and those that link to it.
CREATE TABLE about (
    subject_id BLOB    NOT NULL,
    entry      INTEGER NOT NULL,
    PRIMARY KEY (subject_id, entry)
) STRICT, WITHOUT ROWID;

CREATE INDEX about_entry ON about (entry);

-- Which entries name a blob.
CREATE TABLE named (
    sha256 BLOB    NOT NULL,
    entry  INTEGER NOT NULL,
    PRIMARY KEY (sha256, entry)
) STRICT, WITHOUT ROWID;

CREATE INDEX named_entry ON named (entry);

-- The numbering as devices read it. An entry is numbered again when its `received` falls or it is blanked.
CREATE TABLE feed (
    seq   INTEGER PRIMARY KEY,
    mark  BLOB    NOT NULL,
    entry INTEGER NOT NULL
) STRICT;

-- Which pair a card link belongs to.
CREATE TABLE card_links (
    secret TEXT PRIMARY KEY,
    pair   BLOB NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX card_links_pair ON card_links (pair);

-- Photographs and voice notes whose bytes are in the photo folder.
CREATE TABLE blobs (
    sha256     BLOB    PRIMARY KEY,
    media_type TEXT    NOT NULL,
    bytes      INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Blobs that entries name and whose bytes are not here: devices that hold them are asked for them.
CREATE TABLE awaited (
    sha256 BLOB PRIMARY KEY
) STRICT, WITHOUT ROWID;
