/**
 * What is counted, in the line of a receipt, by the measure: of one, and of several.
 *
 * Written by `python -m intake.app_types` from `intake/custody/counted_things.py`. Change that, then write it anew.
 */
export const COUNTED: Readonly<Record<string, readonly string[]>> = {
  letters: ["letter or document", "letters or documents"],
  "sheet-count": ["sheet", "sheets"],
  "envelope-count": ["envelope", "envelopes"],
};
