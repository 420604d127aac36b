-- Roles of devices, and what it takes to hold devices to them.

-- As what a device has joined, and as what one joins with a code. Those of before are repairers'.
ALTER TABLE devices    ADD COLUMN role TEXT NOT NULL DEFAULT 'repairer';
ALTER TABLE join_codes ADD COLUMN role TEXT NOT NULL DEFAULT 'repairer';

-- Which device has pushed an entry (nothing: the server itself has taken it from its ledger, or an earlier version did), and
-- when that was by the server's clock, whatever `received` the entry came with (nothing: an earlier version).
ALTER TABLE entries ADD COLUMN pushed_by BLOB;
ALTER TABLE entries ADD COLUMN arrived   INTEGER;

-- Requests for an erasure, read at the end of each pull of a repairer's device.
CREATE INDEX entries_erasure_asked ON entries (seq) WHERE kind = 'erasure_asked';

-- Entries that the role of the device that sent them may not write, in the order in which they came. They have no number and
-- no effect until a repairer takes them.
CREATE TABLE kept_aside (
    seq        INTEGER PRIMARY KEY,
    id         BLOB    NOT NULL UNIQUE,
    subject_id BLOB    NOT NULL,
    device     BLOB    NOT NULL, -- that sent it
    arrived    INTEGER NOT NULL,
    bytes      INTEGER NOT NULL, -- of the next column
    entry      TEXT              -- as JSON; nothing once a repairer has dropped it
) STRICT;

CREATE INDEX kept_aside_subject ON kept_aside (subject_id);
CREATE INDEX kept_aside_waiting ON kept_aside (seq, bytes) WHERE entry IS NOT NULL;

-- The erasures of the last day that count, of which a shop takes only so many.
CREATE TABLE counted_erasures (
    at      INTEGER NOT NULL,
    of_blob INTEGER NOT NULL -- 1: of a blob, 0: of a subject
) STRICT;
