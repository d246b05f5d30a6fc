-- A device that has no run of tickets goes on with letters of its own; receipts are numbered by them as well.

ALTER TABLE device ADD COLUMN letters TEXT;   -- null for a device of before, until it is paired again
