-- Who has joined. Tokens and join codes are kept as SHA-256 only.

CREATE TABLE devices (
    id      BLOB    PRIMARY KEY,
    name    TEXT    NOT NULL,
    letters TEXT    NOT NULL UNIQUE,
    joined  INTEGER NOT NULL,
    revoked INTEGER,          -- when the shop shut it out
    seen    INTEGER NOT NULL, -- when it last pulled
    seq     INTEGER NOT NULL  -- how far it had read then
) STRICT, WITHOUT ROWID;

CREATE TABLE tokens (
    hash    BLOB    PRIMARY KEY,
    device  BLOB    NOT NULL REFERENCES devices (id),
    revoked INTEGER
) STRICT, WITHOUT ROWID;

CREATE INDEX tokens_device ON tokens (device);

CREATE TABLE join_codes (
    hash    BLOB    PRIMARY KEY,
    expires INTEGER NOT NULL,
    used    INTEGER NOT NULL DEFAULT 0
) STRICT, WITHOUT ROWID;
