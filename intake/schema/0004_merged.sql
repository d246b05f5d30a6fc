-- An item that was recorded twice: its second record stands behind the first and leaves the queue.

ALTER TABLE entry ADD COLUMN merged_into TEXT;   -- derived: the item whose record this one doubles, or null
