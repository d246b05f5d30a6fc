-- An office that was put back or begun anew waits for what phones bring; a code may be for one device alone.

ALTER TABLE office ADD COLUMN hearing TEXT;          -- what ends the waiting, see access/hearing.py; null: nobody is waited for
ALTER TABLE office ADD COLUMN hearing_since TEXT;
ALTER TABLE device ADD COLUMN brought_at TEXT;       -- when it last said, knowing this office as it is, that it has sent all
ALTER TABLE pairing_code ADD COLUMN device_id TEXT;  -- the one device that it is for; null for a new one
