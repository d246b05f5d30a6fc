-- A copy that is kept up to date no longer may still hold words that were erased since: it is not forgotten.

ALTER TABLE copy_place ADD COLUMN kept INTEGER NOT NULL DEFAULT 1;  -- 0 for a copy that stands there as it was left
