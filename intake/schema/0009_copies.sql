-- Second places: where copies of this office are kept, and what is owed to them.

CREATE TABLE copy_place (
    -- A folder that the office keeps a copy in.
    folder       TEXT PRIMARY KEY,         -- absolute
    sealed       INTEGER NOT NULL,         -- 1 if what is copied there is to be closed with the copy key
    added_at     TEXT NOT NULL,
    begun        INTEGER NOT NULL,         -- 1 once a copy stood there: an empty folder is then a stick that is pulled out
    office_seq   INTEGER NOT NULL,         -- this and what follows: what stood in it when it was last seen
    erased_seq   INTEGER NOT NULL,
    photos       INTEGER NOT NULL,
    photo_bytes  INTEGER NOT NULL,
    complete_at  TEXT                      -- when it last had everything, by the office's clock
) STRICT;

CREATE TABLE copy_key (
    -- At most one row: what sealed copies are closed with. What opens them was printed once and is not here.
    only_row     INTEGER PRIMARY KEY CHECK (only_row = 1),
    recipient    TEXT NOT NULL             -- the public half of an age key
) STRICT;

CREATE TABLE erased_words (
    -- Operations whose personal words were erased, in that order: what copies have yet to erase is behind theirs.
    erased_seq   INTEGER PRIMARY KEY,
    operation_id TEXT NOT NULL UNIQUE
) STRICT;
