-- Words may be erased more than once, and not in the order of the clocks: each erasure stands.

DROP TABLE erasure;
CREATE TABLE erasure (
    -- Derived. One row each time that the personal words of a record were erased.
    record_id    TEXT NOT NULL,
    office_seq   INTEGER NOT NULL,
    made_at      TEXT NOT NULL,        -- UTC by the device's clock, which may be wrong
    device_id    TEXT NOT NULL,
    device_seq   INTEGER NOT NULL,     -- its place in the order of its device, which no clock can change
    PRIMARY KEY (record_id, office_seq)
) STRICT, WITHOUT ROWID;
