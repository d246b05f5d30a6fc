-- What a device is told of follows from what it did, and what it asked for is seen by the manager.

CREATE TABLE photo_from (
    -- Not derived. Which device sent the bytes of a photo: it may hear of that one whatever else it reads.
    sha256       TEXT NOT NULL,
    device_id    TEXT NOT NULL,
    PRIMARY KEY (sha256, device_id)
) STRICT, WITHOUT ROWID;

-- A note is of a visit that was read, of a search that went by owners' words, or of the table that a device sits at.
ALTER TABLE reading_note ADD COLUMN what TEXT NOT NULL DEFAULT 'visit';  -- 'visit', 'search', 'seat'
ALTER TABLE reading_note ADD COLUMN words TEXT NOT NULL DEFAULT '';      -- of a search; empty once an owner it found was erased
ALTER TABLE reading_note ADD COLUMN found INTEGER NOT NULL DEFAULT 0;    -- of a search: how many things the list had
ALTER TABLE reading_note ADD COLUMN seat TEXT NOT NULL DEFAULT '';       -- of a seat: the table from then on; empty for none
ALTER TABLE reading_note ADD COLUMN seat_left TEXT NOT NULL DEFAULT '';  -- the table before that; the record is the day
ALTER TABLE reading_note ADD COLUMN made_by TEXT NOT NULL DEFAULT '';    -- who was at the device, as it said

CREATE TABLE search_found (
    -- Not derived. By which visits' words a noted search went: they name an owner, and go when that one is erased.
    visit_id     TEXT NOT NULL,
    note_seq     INTEGER NOT NULL,
    PRIMARY KEY (visit_id, note_seq)
) STRICT, WITHOUT ROWID;
