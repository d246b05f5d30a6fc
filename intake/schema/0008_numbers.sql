-- The tag numbers that are this office's to give out, so that no two offices print one number.

ALTER TABLE office ADD COLUMN first_serial INTEGER;
ALTER TABLE office ADD COLUMN last_serial INTEGER;
