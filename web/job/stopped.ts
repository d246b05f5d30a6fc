/**
 * What a stopped item may still have, as the rows of the red cautions on it say, and which trials a caution withdraws.
 * The office decides by the same rule (`examination/stopped.py`); `fixtures/stopped.json` holds both to it.
 */

import { standingCautions } from "./cautions.ts";
import { ALWAYS_TAKEN, ONCE_DECIDED, STILL_CARRIED, type Still } from "./kinds.ts";
import { instant } from "./operation.ts";
import type { FieldValue, FunctionTest, Negative, Operation, RecordCopy } from "./types.ts";
import { fieldValue, isContested } from "./values.ts";

export type Stop = { still_allowed: Still[]; decided: boolean };

export type { Still };

/** What an item may still have while these stand: what every one of them allows. */
export function stillAllowed(stops: Stop[]): Still[] {
  const all = Object.keys(STILL_CARRIED) as Still[];
  return all.filter((still) =>
    stops.every(
      (stop) => stop.still_allowed.includes(still) || (stop.decided && ONCE_DECIDED.includes(still)),
    ),
  );
}

/** The kinds of operation that an item still takes while these stand, and at least one does. */
export function kindsAllowed(stops: Stop[]) {
  return new Set<string>([...ALWAYS_TAKEN, ...stillAllowed(stops).flatMap((still) => STILL_CARRIED[still])]);
}

/**
 * The red cautions that stand on an item, with what was allowed when they were raised. One that does not say allows
 * nothing.
 */
export function stopsOn(record: RecordCopy, counts: (raised: FieldValue) => boolean = () => true): Stop[] {
  return standingCautions(record)
    .filter(({ value, set }) => value.level === "red" && counts(set))
    .map(({ id, value, on }) => ({
      still_allowed: value.still_allowed ?? [],
      decided: isDecided(on, `caution-decisions/${id}`),
    }));
}

/** Whether whoever was called has decided, and nobody else said otherwise. */
export function isDecided(record: RecordCopy, name: string) {
  return Boolean(record.fields[name]) && !isContested(record, name);
}

/**
 * Whether a red caution keeps a record from taking an operation of this kind; of the cautions that stand those count
 * which `counts` says. It goes by what was allowed when the caution was raised; one that does not say allows nothing.
 */
export function isStoppedFor(record: RecordCopy, kind: string, counts: (value: FieldValue) => boolean) {
  const stops = stopsOn(record, counts);
  return stops.length > 0 && !kindsAllowed(stops).has(kind);
}

/**
 * Whether a value stood when an operation was made: of what one device did its own order decides, otherwise the two
 * clocks. What was done before is a fact, whatever was said since. `fixtures/knew-of.json` holds the office to the
 * same.
 */
export function knewOf(
  op: Pick<Operation, "device_id" | "device_seq" | "made_at">,
  value: Omit<FieldValue, "value">,
) {
  if (value.device_id === op.device_id) return (value.device_seq ?? 0) < op.device_seq;
  return instant(value.made_at) <= instant(op.made_at);
}

/**
 * Whether whoever made an operation could know of a red caution: what their device had heard of by then, where it says
 * so, else by the clocks. What hands have done in ignorance is a fact.
 */
export function heardOf(op: Operation, value: Omit<FieldValue, "value">) {
  const heard = "heard_stops" in op && value.device_id !== op.device_id ? op.heard_stops : null;
  return heard ? heard.includes(value.operation_id) : knewOf(op, value);
}

/** Whether one of these may still be had of an item: all may while nothing stops it. */
export function mayStill(record: RecordCopy, ...wanted: Still[]) {
  const stops = stopsOn(record);
  if (!stops.length) return true;
  const allowed = stillAllowed(stops);
  return wanted.some((still) => allowed.includes(still));
}

/** Any of these lets a picture be taken. */
export const PICTURED_STILL: Still[] = ["photo", "photo-from-distance"];

export function mayBePictured(record: RecordCopy) {
  return mayStill(record, ...PICTURED_STILL);
}

/** Whether it was decided, on every red caution that stands, that it goes back to its owner. */
export function mayBeReturned(record: RecordCopy) {
  return standingCautions(record)
    .filter(({ value }) => value.level === "red")
    .every(
      ({ id, on }) =>
        isDecided(on, `caution-decisions/${id}`) &&
        fieldValue(on, `caution-decisions/${id}`)?.decision === "returned",
    );
}

/** Whether nobody handles it: a red caution stands that allows no move, and whoever was called has not decided. */
export function isLeftAlone(record: RecordCopy) {
  return !mayStill(record, "move");
}

const STILL_WORDS: Record<Still, string> = {
  place: "its place said",
  "photo-from-distance": "a picture from a distance",
  photo: "a picture",
  tag: "its tag",
  move: "a move",
  "check-in": "a check against its pictures",
};

/** What an item that is stopped may still have, as a sentence. */
export function stillWords(stops: Stop[]) {
  const allowed = stillAllowed(stops);
  const [last, ...before] = allowed.map((still) => STILL_WORDS[still]).reverse();
  if (!last) return "Nothing more is done with it: keep away.";
  return `All it may still have: ${[before.reverse().join(", "), last].filter(Boolean).join(" and ")}.`;
}

/** The cautions that stand on an item and forbid this trial or denial. */
export function withdrawnBy(trial: FunctionTest | Negative, record: RecordCopy) {
  return standingCautions(record)
    .map(({ value }) => value.hazard)
    .filter((hazard) => trial.stopped_by.includes(hazard));
}
