-- A SHA-256 over everything else that is stored of an entry, written anew with each change of it. SQLite's own check does not
-- notice a changed letter or digit; this does. Entries of earlier versions get theirs when a server first opens the database.
ALTER TABLE entries ADD COLUMN sha256 BLOB;

-- Entries that have none yet.
CREATE INDEX entries_without_digest ON entries (seq) WHERE sha256 IS NULL;
