-- What stands in the van is asked for with each reading of a porter's device, and most of what was ever moved stands
-- there no more.
CREATE INDEX field_in_van ON field (record_id)
    WHERE name >= 'whereabouts' AND name < 'whereabouts0' AND value ->> 'to_place' = 'van';
