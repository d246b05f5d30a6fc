-- Whether an item is stopped is asked of every record of it: of those that were merged into one another.

CREATE INDEX field_merged ON field (record_id) WHERE name = 'merged';
