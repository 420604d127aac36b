-- Entries that erase what a single other entry says of a person: the server reads them all at its start.
CREATE INDEX entries_mention_erased ON entries (seq) WHERE kind = 'mention_erased';
