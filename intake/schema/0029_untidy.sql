-- What was erased may lie on in the unused space of pages until the file is written anew; VACUUM is free to give rows
-- other places, and copies count photos by theirs.

ALTER TABLE office ADD COLUMN untidy INTEGER NOT NULL DEFAULT 0;  -- erasures since the file was last written anew

CREATE TABLE photo_in_order (
    -- A file under photos/ that is whole, synced and has the digest in its name. No row, no photo.
    arrival      INTEGER PRIMARY KEY,      -- the order in which photos reached the office
    sha256       TEXT NOT NULL UNIQUE,
    bytes        INTEGER NOT NULL,
    media_type   TEXT NOT NULL,
    width        INTEGER NOT NULL,
    height       INTEGER NOT NULL,
    received_at  TEXT NOT NULL
) STRICT;
INSERT INTO photo_in_order (arrival, sha256, bytes, media_type, width, height, received_at)
    SELECT rowid, sha256, bytes, media_type, width, height, received_at FROM photo_file;
DROP TABLE photo_file;
ALTER TABLE photo_in_order RENAME TO photo_file;
CREATE INDEX photo_file_by_arrival ON photo_file (received_at);
