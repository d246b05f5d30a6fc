-- Rows that went from the middle of the log: nobody goes on without them before a person has said so.

ALTER TABLE office ADD COLUMN gaps INTEGER NOT NULL DEFAULT 0;  -- how many rows are missing that a person knows of
