-- A SHA-256 over all other columns of the row, written anew with each change of it, as entries have one. SQLite's own check does
-- not notice a changed letter or digit; this does. Rows of earlier versions get theirs when a server first opens the database;
-- that this was done is seen from the counter, which has one from then on.
ALTER TABLE counter    ADD COLUMN digest BLOB;
ALTER TABLE devices    ADD COLUMN digest BLOB;
ALTER TABLE tokens     ADD COLUMN digest BLOB;
ALTER TABLE join_codes ADD COLUMN digest BLOB;
ALTER TABLE kept_aside ADD COLUMN digest BLOB;
ALTER TABLE feed       ADD COLUMN digest BLOB;
