-- Which devices were paired after a copy was made nobody can know: waiting for them ends by the manager's word alone.

ALTER TABLE office DROP COLUMN hearing;    -- whoever is waited for: `hearing_since` says since when
ALTER TABLE device DROP COLUMN brought_no;

CREATE TABLE erasure_owed (
    -- Not derived. The words of a record were to be erased, and it is not here: they are, as soon as it comes.
    record_id    TEXT PRIMARY KEY,
    made_at      TEXT NOT NULL         -- when that was asked for last, as an erasure says it
) STRICT;
