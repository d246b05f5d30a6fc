-- What a device is told of follows from what it did, and what it asked for is seen by the manager.

CREATE TABLE photo_from (
    -- Not derived. Which device sent the bytes of a photo: it may hear of that one whatever else it reads.
    sha256       TEXT NOT NULL,
    device_id    TEXT NOT NULL,
    PRIMARY KEY (sha256, device_id)
) STRICT, WITHOUT ROWID;
