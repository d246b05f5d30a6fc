-- A device that asks for an id which this office cannot know it by: the manager says whether it is the one.

CREATE TABLE returning_device (
    device_id    TEXT PRIMARY KEY,
    name         TEXT NOT NULL,            -- this and the role are those of the code that was typed
    role         TEXT NOT NULL,
    asked_at     TEXT NOT NULL             -- UTC by the office's clock
) STRICT;
