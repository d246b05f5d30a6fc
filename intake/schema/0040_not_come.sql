-- What a thing left with and did not come, so that the list can say so in its row and be narrowed to such things; null
-- if it came, or is on its way for all that is known. Derived, made anew with the version of what is applied.

ALTER TABLE entry ADD COLUMN not_come TEXT;
CREATE INDEX entry_not_come ON entry (item_id) WHERE not_come IS NOT NULL;
