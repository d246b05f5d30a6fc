-- The log is the truth. Every table marked "derived" is rebuilt from it and must come out equal.

CREATE TABLE office (
    -- One row: which file this is. A device that meets another epoch reads everything again.
    only_row    INTEGER PRIMARY KEY CHECK (only_row = 1),
    epoch       TEXT NOT NULL
) STRICT;

CREATE TABLE operation_log (
    -- One operation that reached the office, with the answer it got. Rows are only ever added.
    office_seq   INTEGER PRIMARY KEY,  -- the order in which the office heard of things; the order we trust
    operation_id TEXT NOT NULL UNIQUE,
    device_id    TEXT NOT NULL,
    device_seq   INTEGER NOT NULL,
    record_id    TEXT NOT NULL,
    operation    TEXT NOT NULL,        -- RFC 8785 canonical JSON, personal words replaced by their digest
    answer       TEXT NOT NULL,        -- RFC 8785 canonical JSON
    received_at  TEXT NOT NULL,        -- UTC by the office's clock
    chain        TEXT NOT NULL         -- SHA-256 over the previous chain value and this row, hexadecimal
) STRICT;
CREATE INDEX operation_log_by_record ON operation_log (record_id, office_seq);
CREATE INDEX operation_log_by_device ON operation_log (device_id, device_seq);

CREATE TABLE private_words (
    -- The personal words of one operation. Erasing a row leaves the log and its chain as they are.
    operation_id TEXT PRIMARY KEY,
    words        TEXT NOT NULL         -- JSON: the personal fields, the salt among them
) STRICT;

CREATE TABLE record (
    -- Derived. One day, visit or item as devices read it.
    record_id    TEXT PRIMARY KEY,
    kind         TEXT NOT NULL,
    day_id       TEXT NOT NULL,
    office_seq   INTEGER NOT NULL UNIQUE,  -- the last operation that touched it: the feed's cursor
    opened_seq   INTEGER NOT NULL,
    head         TEXT NOT NULL,            -- JSON: what never changes
    body         TEXT NOT NULL,            -- JSON: the whole record, sent as it stands
    plain_body   TEXT                      -- the same without personal words, where there are any
) STRICT;

CREATE TABLE field (
    -- Derived. The value in force of one field of a record.
    record_id    TEXT NOT NULL,
    name         TEXT NOT NULL,
    value        TEXT NOT NULL,            -- JSON
    operation_id TEXT NOT NULL,
    made_by      TEXT NOT NULL,
    made_at      TEXT NOT NULL,            -- UTC by the device's clock, which may be wrong
    device_id    TEXT NOT NULL,
    PRIMARY KEY (record_id, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE disagreement (
    -- Derived. Two people set one field without having seen each other's value; both are kept.
    disagreement_id TEXT PRIMARY KEY,      -- the operation whose value is not in force
    record_id    TEXT NOT NULL,
    name         TEXT NOT NULL,
    office_seq   INTEGER NOT NULL,
    kept         TEXT NOT NULL,            -- JSON: the value in force then, and who set it
    other        TEXT NOT NULL,            -- JSON: the other value, and who set it
    settled      TEXT                      -- JSON: who chose what, when; null while open
) STRICT;
CREATE INDEX disagreement_by_record ON disagreement (record_id, office_seq);

CREATE TABLE tag (
    -- Derived. A tag number that was tied; never used for anything else again.
    tag          TEXT PRIMARY KEY,
    item_id      TEXT NOT NULL,
    operation_id TEXT NOT NULL
) STRICT;

CREATE TABLE entry (
    -- Derived. One item's place in the cataloguing queue, narrow so that lists read quickly.
    entry_seq    INTEGER PRIMARY KEY,      -- office_seq of the item's first operation: order of arrival
    item_id      TEXT NOT NULL UNIQUE,
    visit_id     TEXT NOT NULL,
    state        TEXT NOT NULL,
    class_id     TEXT NOT NULL,
    short_description TEXT NOT NULL,
    tags         TEXT NOT NULL,            -- JSON list
    photo_count  INTEGER NOT NULL,
    finding_count INTEGER NOT NULL,
    disagreement_count INTEGER NOT NULL,
    zones_told   INTEGER NOT NULL,         -- how many zone states are on record
    thumb_sha256 TEXT,
    arrived_at   TEXT NOT NULL
) STRICT;
CREATE INDEX entry_by_state ON entry (state, entry_seq);
CREATE INDEX entry_by_class ON entry (class_id, entry_seq);

CREATE VIRTUAL TABLE entry_words USING fts5 (words, marks);

CREATE TABLE plan_version (
    -- Every version of a plan this office has ever served, so that an old record still opens.
    class_id     TEXT NOT NULL,
    version      TEXT NOT NULL,
    body         TEXT NOT NULL,
    PRIMARY KEY (class_id, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE photo_file (
    -- A file under photos/ that is whole, synced and has the digest in its name. No row, no photo.
    sha256       TEXT PRIMARY KEY,
    bytes        INTEGER NOT NULL,
    media_type   TEXT NOT NULL,
    width        INTEGER NOT NULL,
    height       INTEGER NOT NULL,
    received_at  TEXT NOT NULL
) STRICT;

CREATE TABLE device (
    -- A paired device. Not derived: a rebuild must not let a device back in that was signed off.
    device_id    TEXT PRIMARY KEY,
    name         TEXT NOT NULL,
    role         TEXT NOT NULL,
    key_sha256   TEXT NOT NULL UNIQUE,     -- digest of the cookie's secret
    paired_at    TEXT NOT NULL,
    last_seen_at TEXT,
    revoked_at   TEXT
) STRICT;

CREATE TABLE pairing_code (
    code_sha256  TEXT PRIMARY KEY,
    name         TEXT NOT NULL,
    role         TEXT NOT NULL,
    expires_at   TEXT NOT NULL,
    used_at      TEXT
) STRICT;
