-- What the desk's list shows and filters by, and the words by which a visit's things are found.

ALTER TABLE entry ADD COLUMN table_id TEXT NOT NULL DEFAULT '';      -- the table at which its visit is or was
ALTER TABLE entry ADD COLUMN worst INTEGER;                          -- the gravest finding's severity; null for none
ALTER TABLE entry ADD COLUMN held_apart INTEGER NOT NULL DEFAULT 0;  -- 1 while something says so
ALTER TABLE entry ADD COLUMN zones TEXT NOT NULL DEFAULT '{}';       -- JSON: zone to its sign, as in zone_signs
CREATE INDEX disagreement_of_tags ON disagreement (name) WHERE name >= 'tags/' AND name < 'tags0';
CREATE INDEX entry_by_table ON entry (table_id, entry_seq);

CREATE TABLE visit_word (
    -- Derived. A word that finds the things of a visit: its ticket, or one of its owner's name. Not in the index of
    -- words, whose engine keeps what was erased until it tidies up.
    word         TEXT NOT NULL,            -- folded: small letters, no accents
    visit_id     TEXT NOT NULL,
    PRIMARY KEY (word, visit_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX visit_word_by_visit ON visit_word (visit_id);
