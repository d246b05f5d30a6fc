-- A sealed copy stays with the key it was begun with, and only that key's paper opens it.

ALTER TABLE copy_place ADD COLUMN sealed_to TEXT;  -- the public half of that key, as the copy's head says; null until it was met, and of open ones
