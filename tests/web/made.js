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

/** A value as a record has it set. */
export const set = (value, made_at = "") => ({
  value,
  operation_id: "",
  made_by: "",
  made_at,
  device_id: "",
});

/** A record of the day "d" with these values of its fields, and `more` in its head. */
export const record = (kind, record_id, values, more = {}) => ({
  kind,
  record_id,
  day_id: "d",
  disagreements: [],
  ...(kind === "day" && { tables: [] }),
  fields: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, set(value)])),
  ...more,
});

/** A red caution that allows nothing. */
export const STOP = {
  hazard: "H02",
  level: "red",
  sign: "",
  zone: null,
  called: "",
  place: "",
  still_allowed: [],
};
