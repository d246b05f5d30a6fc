-- Since when the list's row of a thing shows what it shows, so that a desk asks for it only where it is another. Derived,
-- but for their values: a place in the feed, and the ticket that the row was written with, empty until it is written.

ALTER TABLE entry ADD COLUMN row_seq INTEGER NOT NULL DEFAULT 0;
ALTER TABLE entry ADD COLUMN ticket TEXT NOT NULL DEFAULT '';
UPDATE entry SET row_seq = coalesce((SELECT feed_seq FROM record WHERE record_id = item_id), 0);
