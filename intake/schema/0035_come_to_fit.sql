-- Since when what a thing is found by is as it is, so that a desk whose list is narrowed asks only for what may have
-- come to fit. Derived, but for their values, which are places in the feed.

ALTER TABLE entry ADD COLUMN words_seq INTEGER NOT NULL DEFAULT 0;   -- its own words in the index
ALTER TABLE entry ADD COLUMN marks_seq INTEGER NOT NULL DEFAULT 0;   -- the marks by which the list is narrowed
ALTER TABLE entry ADD COLUMN listed_seq INTEGER NOT NULL DEFAULT 0;  -- that it is listed, and its owner's words there
