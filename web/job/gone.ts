/** What of a thing is not there: missing, or never its own; and what on record speaks against a denial. */
import { type Described, deniedBy, readingsOf, related, seenFindings, touch } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { isNameOfThing, thingNoted } from "./one_of_them.ts";
import { saysWhich } from "./piece_open.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import type { Plan, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isOnSomePieces, piecesOf } from "./which_piece.ts";

/** The term of what is not there any more. */
export const MISSING = "missing-part";

/** Words of a note that speak of every piece. */
const OF_ALL = /\b(?:all|both|each|every)\b/i;

/** Whether a note beside what is missing names a thing: that is missing from the zone then, and not the zone. */
function isOfPart(note: string) {
  return (thingNoted(note) !== null || isNameOfThing(note)) && !OF_ALL.test(note);
}

/**
 * Whether all of a zone is missing, for all that is known: of several things, such as handles, nobody knows that where
 * nobody counted those that are missing, nor said that it is all of them.
 */
export function isMissing({ book, record }: Pick<Described, "book" | "record">, zone: string) {
  const { plural, together } = zoneNameOf(book, zoneOf(zone));
  const isOnly = fieldValue(record, `zones/${zone}`)?.count === 1;
  const isOpen = plural && !together && !zone.includes("/") && !isOnly;
  return isMissingOf(record, zone, ({ extent_count, note }) => {
    return !isOpen || Boolean(extent_count) || OF_ALL.test(note ?? "");
  });
}

/** Whether all of a zone may be missing: no piece of it alone, and of several things none that has it. */
export function mayBeMissing(record: RecordCopy, zone: string) {
  return isMissingOf(record, zone, () => true);
}

function isMissingOf(record: RecordCopy, zone: string, isMeant: (finding: FindingValue) => boolean) {
  // "From one bottle of the five": what its note says of one piece is no matter of the others.
  const isOfOne = ({ note }: FindingValue) =>
    piecesOf(record) > 1 && saysWhich(record, note ?? "") && !OF_ALL.test(note ?? "");
  // One of a pair that is counted as one is all of it, unless a note may name a part. Of a movement that lacks "a
  // bridge screw" all else is there, and what was tried of it.
  const all = fieldValue(record, `zones/${zone}`)?.count ?? 0;
  const isAll = ({ extent_count: count, note, piece_count }: FindingValue) => {
    if (!count) return !isOfPart(note ?? "");
    return (
      (count === 1 && zone.includes("/") && !note?.trim()) || (count > 1 && count === all && !piece_count)
    );
  };
  const missing = seenFindings(record).filter(
    ({ value }) =>
      value.zone === zone && value.term === MISSING && isAll(value) && !isOfOne(value) && isMeant(value),
  );
  const without = new Set(missing.map(({ value }) => value.piece));
  return (
    missing.some(({ value }) => !isOnSomePieces(record, value)) ||
    (missing.length > 0 && without.size >= piecesOf(record))
  );
}

/** Whether nothing of a zone is there: all of it is missing, or the thing never had it. */
export function isGone({ plan, ...described }: Pick<Described, "plan" | "book" | "record">, zone: string) {
  return isNoneOf({ plan, record: described.record }, zone, (key) => isMissing(described, key));
}

/** The same where nobody counted what is missing of several things: a clock may have none of its weights. */
export function mayBeGone(of: Pick<Described, "plan" | "record">, zone: string) {
  return isNoneOf(of, zone, (key) => mayBeMissing(of.record, key));
}

function isNoneOf(
  { plan, record }: Pick<Described, "plan" | "record">,
  zone: string,
  isLost: (key: string) => boolean,
) {
  const keys = plan.zones.filter((row) => row.zone === zone).flatMap(keysOf);
  return keys.length > 0 && keys.every((key) => isLost(zone) || isLost(key) || isNone(record, key));
}

/** Whether the thing never had a zone, or a member of it, and nothing was found there after all. */
export function isNone(record: RecordCopy, key: string) {
  return (
    fieldValue(record, `zones/${key}`)?.reason === "not-applicable" &&
    seenFindings(record).every(({ value }) => value.zone !== key)
  );
}

/** Whether something on record speaks against "no such fault was seen there". */
export function isSpokenAgainst(described: Described, zone: string, term: string) {
  const { plan, book, record } = described;
  return (
    mayBeMissing(record, zone) ||
    mayBeMissing(record, zoneOf(zone)) ||
    listed(record, "findings/").some((finding) =>
      readingsOf(record, finding).some(
        ({ value }) =>
          (touch(plan, value.zone, zone) || isBeside(plan, zone, value.zone)) &&
          (related(book, value.term, term) ||
            deniedBy(book, value.origin).some((denied) => related(book, denied, term))),
      ),
    ) ||
    listed(record, "origins/").some(
      ({ id, value }) =>
        (touch(plan, id, zone) || isBeside(plan, zone, id)) &&
        deniedBy(book, value.origin).some((denied) => related(book, denied, term)),
    )
  );
}

/** Whether what is on another zone would be on this one, too: a side stone is out of the setting. */
function isBeside(plan: Plan, key: string, another: string) {
  return plan.zones.some(({ zone, beside }) => zone === zoneOf(key) && beside?.includes(zoneOf(another)));
}
