-- What shutting a device out for good needs to know.

-- Which device asked for a join code (nothing: the command line), and which one has joined with it.
ALTER TABLE join_codes ADD COLUMN minted_by BLOB;
ALTER TABLE join_codes ADD COLUMN used_by   BLOB;

-- When a token was given out (0: by an earlier version), and when a request last came with it (nothing: never yet). Tokens of
-- earlier versions are taken to have been in use until they were revoked, or until this runs.
ALTER TABLE tokens ADD COLUMN given INTEGER NOT NULL DEFAULT 0;
ALTER TABLE tokens ADD COLUMN seen  INTEGER;
UPDATE tokens SET seen = coalesce(revoked, unixepoch() * 1000);
