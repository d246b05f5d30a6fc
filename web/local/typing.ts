/**
 * Whether somebody is typing just now: what they type goes to the office after a pause or once the field is left, so
 * that one text is one record.
 */

/** People look for the next letter, and a slow hand takes a second a key. Common practice. */
const PAUSE_MS = 2_500;
let began = 0;
let last = 0;

/** A key was typed into a field. All instants are by this device's clock. */
export function keyTyped(at = Date.now()) {
  if (typedSince(at) === null) began = at;
  last = at;
}

/** The field was left, or is gone from the screen: what was typed is whole. */
export function fieldLeft() {
  last = 0;
}

/** Since when somebody has been typing without a pause; null if nobody is. */
export function typedSince(at = Date.now()): number | null {
  return at >= last && at - last < PAUSE_MS ? began : null;
}
