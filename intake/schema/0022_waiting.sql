-- What came and waits for something has its place in its device's order, so that it is no gap there.

CREATE TABLE waiting_operation (
    -- Not derived. An operation that was answered that it waits; it is with its device, and gone here once it is answered.
    device_id    TEXT NOT NULL,
    device_seq   INTEGER NOT NULL,
    operation_id TEXT NOT NULL,
    record_id    TEXT NOT NULL,        -- the record that it is of, which may not be here yet
    PRIMARY KEY (device_id, device_seq)
) STRICT, WITHOUT ROWID;
