-- A copy is known by the id that is written in it: two sticks may come in turn under one path, and each is owed its own.

CREATE TABLE copy_known (
    -- A copy that is kept, or was made once and may still hold what was erased since.
    place_id     INTEGER PRIMARY KEY,
    folder       TEXT NOT NULL,            -- absolute; where it was last seen
    copy_id      TEXT,                     -- as its head says; null until it was met
    sealed       INTEGER NOT NULL,         -- 1 if what is copied there is to be closed with the copy key
    added_at     TEXT NOT NULL,
    begun        INTEGER NOT NULL,         -- 1 once a copy stood there: an empty folder is then a stick that is pulled out
    office_seq   INTEGER NOT NULL,         -- this and what follows: what stood in it when it was last seen
    erased_seq   INTEGER NOT NULL,
    photos       INTEGER NOT NULL,
    photo_bytes  INTEGER NOT NULL,
    complete_at  TEXT,                     -- when it last had everything, by the office's clock
    kept         INTEGER NOT NULL          -- 0 for a copy that stands as it was left
) STRICT;
INSERT INTO copy_known (folder, sealed, added_at, begun, office_seq, erased_seq, photos, photo_bytes, complete_at, kept)
    SELECT folder, sealed, added_at, begun, office_seq, erased_seq, photos, photo_bytes, complete_at, kept
    FROM copy_place;
DROP TABLE copy_place;
ALTER TABLE copy_known RENAME TO copy_place;
CREATE UNIQUE INDEX copy_place_kept ON copy_place (folder) WHERE kept = 1;
