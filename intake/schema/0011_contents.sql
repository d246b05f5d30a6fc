-- What a container holds is asked whenever it is moved.

CREATE INDEX field_by_container ON field (value) WHERE name >= 'inside' AND name < 'inside0';
