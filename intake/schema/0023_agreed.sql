-- Whoever said the same as the value in force has seen it, in the own word.

ALTER TABLE field ADD COLUMN agreed TEXT;  -- JSON: a device's last operation that said the same, by device; null for none
