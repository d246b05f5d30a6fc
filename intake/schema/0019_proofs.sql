-- What the office tells a device of its log carries a proof, so that nobody can claim to have been told more.

ALTER TABLE office ADD COLUMN proof_key TEXT;      -- what proofs are made with; a copy has it not
ALTER TABLE office ADD COLUMN loss_known_at TEXT;  -- what was told before this and is gone is being waited for, or was
ALTER TABLE office ADD COLUMN loss_shown_by TEXT;  -- the device that showed the loss; null if nobody had to
