-- What a device said it still holds when it was last heard: operations, photos and refusals that are on it only.

ALTER TABLE device ADD COLUMN holding INTEGER;   -- null until it has said so
