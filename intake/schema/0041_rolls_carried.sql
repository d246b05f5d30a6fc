-- Numbers of a roll that went on to another day: what is offered of a roll is what is left of it.

CREATE TABLE roll_carried (
    -- Derived. A run of unused numbers that is a roll of its own on another day; no number goes on twice from one roll.
    roll_id      TEXT PRIMARY KEY,
    from_roll_id TEXT NOT NULL,
    first_serial INTEGER NOT NULL,
    last_serial  INTEGER NOT NULL
) STRICT;
CREATE INDEX roll_carried_from ON roll_carried (from_roll_id);
