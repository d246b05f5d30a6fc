-- Whose words were erased, asked whenever words come.

CREATE TABLE erasure (
    -- Derived. A record whose personal words were erased, and who asked for it last.
    record_id    TEXT PRIMARY KEY,
    made_at      TEXT NOT NULL,        -- UTC by the device's clock, which may be wrong
    device_id    TEXT NOT NULL
) STRICT;
