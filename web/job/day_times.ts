/**
 * How long a day is worked on, by what follows, in hours: `intake/days.yaml` says why.
 *
 * Written by `python -m intake.app_types` from `intake/reading.py`. Change that, then write it anew.
 */
export const HOURS = {
  "worked-on-after-closing": 12,
  "settled-after-closing": 720,
  "left-open": 336,
  "hall-cleared": 168,
};
