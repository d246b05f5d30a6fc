-- Rolls of numbers, and who holds what: rows of the ledger are only ever added.

CREATE TABLE roll (
    -- Derived. A run of numbers that was issued; no two rolls have a number in common.
    roll_id      TEXT PRIMARY KEY,
    first_serial INTEGER NOT NULL,
    last_serial  INTEGER NOT NULL
) STRICT;
CREATE INDEX roll_by_serial ON roll (first_serial);

CREATE TABLE spoiled_tag (
    -- Derived. A number that was struck through before it was tied to anything; it never comes back.
    tag          TEXT PRIMARY KEY
) STRICT;

CREATE TABLE custody_move (
    -- Derived. One row each time an item or a container changed hands or place; a mistake is put right by a later row.
    office_seq   INTEGER PRIMARY KEY,   -- the order in which the office heard of moves; the order we trust
    thing_id     TEXT NOT NULL,         -- an item or a container
    from_place   TEXT,                  -- what the person who moved it said; null if nobody knew
    to_place     TEXT NOT NULL,
    made_at      TEXT NOT NULL          -- UTC by the device's clock, which may be wrong
) STRICT;
CREATE INDEX custody_move_by_thing ON custody_move (thing_id, office_seq);
