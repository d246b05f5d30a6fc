-- Several may have asked that the words of one visit be erased, and each is told that it was done.

ALTER TABLE erasure_owed RENAME TO erasure_owed_once;
CREATE TABLE erasure_owed (
    -- Not derived. The words of a record were to be erased, and it is not here: they are, as soon as it comes.
    record_id    TEXT NOT NULL,
    operation_id TEXT NOT NULL,        -- that asked for it and waits on its device; empty if a list of erasures says so
    made_at      TEXT NOT NULL,        -- when that was asked for last, by the office's clock
    PRIMARY KEY (record_id, operation_id)
) STRICT, WITHOUT ROWID;
INSERT INTO erasure_owed (record_id, operation_id, made_at) SELECT record_id, '', made_at FROM erasure_owed_once;
DROP TABLE erasure_owed_once;
