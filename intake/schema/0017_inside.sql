-- What a container holds is asked by the container, whatever else the value comes to say.

DROP INDEX field_by_container;
CREATE INDEX field_by_container ON field (value ->> 'container_id') WHERE name >= 'inside' AND name < 'inside0';
