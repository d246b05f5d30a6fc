/** Values as records have them, for tests. */

/** A number that is tied to a thing of one piece, or otherwise as `more` says. */
export const tag = (number, more = {}) => ({
  tag: number,
  piece: 1,
  of: 1,
  mark: "",
  gone: null,
  replaced_by: null,
  ...more,
});
