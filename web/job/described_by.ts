/**
 * What an entry is described by: where one of these is otherwise since, somebody looks again.
 *
 * Written by `python -m intake.app_types` from `intake/cataloguing/listing.py`. Change that, then write it anew.
 */
export const DESCRIBED_BY =
  "class_id short_description materials maker dates pieces listed/ packaging condition_words grade " +
  "class_grade check-in check-in/ zones/ findings/ origins/ marks/ measures/ tests/ tags/";
