-- What of a thing is otherwise since when, told so closely that a desk asks for counts only where they are others, and
-- for an entry only where it says something else of its visit's other things. Derived, but for their values, which are
-- places in the feed.

ALTER TABLE entry ADD COLUMN marks_before TEXT NOT NULL DEFAULT '';    -- until `marks_seq`, by which a list is narrowed
ALTER TABLE entry ADD COLUMN marks_since INTEGER;                      -- since when they were; null: nobody knows
ALTER TABLE entry ADD COLUMN lost_seq INTEGER NOT NULL DEFAULT 0;      -- words of its own are gone from the index
ALTER TABLE entry ADD COLUMN place TEXT;                               -- where it was moved to, beside the other columns
ALTER TABLE entry ADD COLUMN beside_seq INTEGER NOT NULL DEFAULT 0;    -- what the entries of those other things say of it
