-- A red caution stops an item; the queue shows the gravest caution that stands.

ALTER TABLE record ADD COLUMN stopped_by TEXT;   -- derived: the hazard of a red caution that stands, or null
ALTER TABLE entry ADD COLUMN caution TEXT;       -- derived: red, amber or note; null while none stands
