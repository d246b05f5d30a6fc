-- A value says its place in its device's own order: what a device did before and after is told by that, not by a clock.

ALTER TABLE field ADD COLUMN device_seq INTEGER;  -- null only until the tables are made anew
