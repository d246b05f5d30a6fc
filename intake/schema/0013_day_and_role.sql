-- A device reads its day by its role: where each works, whose picture is whose, and what those questions go by.

ALTER TABLE device ADD COLUMN day_id TEXT;    -- the day on which it works, as it said when it read last; null until then
ALTER TABLE device ADD COLUMN table_id TEXT;  -- the table at which it stands; null or empty for none

CREATE TABLE photo_of (
    -- Derived. Which record names a picture or its small copy.
    sha256       TEXT NOT NULL,
    record_id    TEXT NOT NULL,
    PRIMARY KEY (sha256, record_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX photo_of_by_record ON photo_of (record_id);

CREATE INDEX record_by_day ON record (day_id, feed_seq);
CREATE INDEX record_of_days ON record (feed_seq) WHERE kind = 'day';
CREATE INDEX entry_by_visit ON entry (visit_id, entry_seq);
CREATE INDEX tag_by_thing ON tag (item_id);
CREATE INDEX photo_file_by_arrival ON photo_file (received_at);

CREATE TABLE reading_note (
    -- Not derived. A desk read what is on record of an owner; a manager sees who did.
    note_seq     INTEGER PRIMARY KEY,
    device_id    TEXT NOT NULL,
    record_id    TEXT NOT NULL,        -- the visit
    read_at      TEXT NOT NULL         -- UTC by the office's clock
) STRICT;
CREATE INDEX reading_note_by_record ON reading_note (record_id, note_seq);
