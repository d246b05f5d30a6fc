-- What work a device did before, so that what it owes from then is judged as it was made.

ALTER TABLE device ADD COLUMN roles_before TEXT NOT NULL DEFAULT '[]';   -- JSON: pairs of a role and until when, UTC
