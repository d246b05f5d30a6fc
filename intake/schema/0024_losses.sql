-- Losses are counted, and what came first is told by their number: the office's clock may be months off.

ALTER TABLE office ADD COLUMN losses INTEGER NOT NULL DEFAULT 0;       -- how often it was found to lack what it had
ALTER TABLE device ADD COLUMN known_since INTEGER NOT NULL DEFAULT 0;  -- how many losses there were when it first came
ALTER TABLE device ADD COLUMN brought_for INTEGER NOT NULL DEFAULT 0;  -- the loss for which it last said that all is sent
ALTER TABLE device ADD COLUMN brought_no INTEGER NOT NULL DEFAULT 0;   -- the place of that among what others said so

UPDATE office SET losses = 1 WHERE hearing IS NOT NULL;
UPDATE device SET known_since = 1 WHERE paired_at > (SELECT hearing_since FROM office WHERE hearing IS NOT NULL);
UPDATE device SET brought_for = 1 WHERE brought_at > (SELECT hearing_since FROM office WHERE hearing IS NOT NULL);
ALTER TABLE device DROP COLUMN brought_at;
ALTER TABLE office DROP COLUMN loss_known_at;
