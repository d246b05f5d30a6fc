-- What a device said of itself on the check page, for whoever opens the doors.

CREATE TABLE device_check (
    -- Not derived: the latest check of each device, which is no fact about an item.
    device_id    TEXT PRIMARY KEY,
    checked_at   TEXT NOT NULL,         -- UTC by the office's clock
    report       TEXT NOT NULL          -- JSON, as the device said it
) STRICT;
