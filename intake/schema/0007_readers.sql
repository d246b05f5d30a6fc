-- Records in parts by who may read them, a place in the feed of its own, what was set aside, which office this is.

ALTER TABLE office ADD COLUMN office_id TEXT;                          -- a UUID; a restored copy keeps it
ALTER TABLE office ADD COLUMN apply_version INTEGER NOT NULL DEFAULT 0; -- of the version that made the derived tables

CREATE TABLE record_in_parts (
    -- Derived, but for feed_seq. One day, visit, item or container as devices read it.
    record_id    TEXT PRIMARY KEY,
    kind         TEXT NOT NULL,
    day_id       TEXT NOT NULL,
    office_seq   INTEGER NOT NULL UNIQUE,  -- the last operation that touched it
    feed_seq     INTEGER NOT NULL UNIQUE,  -- the feed's cursor: counted on whenever what devices read has changed
    opened_seq   INTEGER NOT NULL,
    head         TEXT NOT NULL,            -- JSON: what never changes
    body         TEXT NOT NULL,            -- JSON: what everyone reads of it, sent as it stands
    fields_end   INTEGER                   -- where in body its fields end, in bytes; null if there are no other parts
) STRICT;
INSERT INTO record_in_parts
    SELECT record_id, kind, day_id, office_seq, office_seq, opened_seq, head, body, NULL FROM record;
DROP TABLE record;
ALTER TABLE record_in_parts RENAME TO record;

CREATE TABLE record_part (
    -- Derived. What of a record not everyone reads: members of its `fields` and its `disagreements`, as JSON.
    record_id     TEXT NOT NULL,
    readers       TEXT NOT NULL,       -- the name of who reads it, see families.py
    fields        TEXT NOT NULL,
    disagreements TEXT NOT NULL,
    PRIMARY KEY (record_id, readers)
) STRICT, WITHOUT ROWID;

CREATE TABLE set_aside (
    -- An operation that cannot stand in the log as it came; the log has its digest. It is erased with personal words.
    operation_id TEXT PRIMARY KEY,     -- the key under which the log has it
    content      TEXT NOT NULL         -- what was sent, as JSON in ASCII
) STRICT;
