/** What goes with what: terms of a family, zones that touch, and what on record speaks against a denial. */
import type { FindingValue } from "./fields.ts";
import { saysWhich } from "./piece_open.ts";
import { onCounted } from "./pieces.ts";
import { zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import type { Plan, PlanBook, RecordCopy, Term } from "./types.ts";
import type { Listed } from "./values.ts";
import { fieldValue, groupedBy, isContested, listed, saidOf } from "./values.ts";
import { isOnSomePieces, piecesOf } from "./which_piece.ts";
import { isOnPieceAway } from "./with_owner.ts";

/**
 * Of keys of sentences, which are never joined with others: those that the desk has written of, by its version; "" of
 * all others.
 */
export type Apart = (key: string) => string;

/** An item's record with the plan it was examined by, and the book that the words come from. */
export type Described = { plan: Plan; book: PlanBook; record: RecordCopy; apart?: Apart };

/** Words of a note that speak of every piece. */
const OF_ALL = /\b(?:all|both|each|every)\b/i;
/** The zone that is the whole item. */
export const WHOLE = "outline";
const known = new WeakMap<PlanBook, Map<string, Term>>();

export function termOf(book: PlanBook, name: string): Term | undefined {
  const terms = known.get(book) ?? new Map(book.vocabulary.terms.map((term) => [term.term, term]));
  known.set(book, terms);
  return terms.get(name);
}

/** What a term says a zone is: of some zones another word than of the rest. */
export function saysOf(term: Term | undefined, zone: string): string | null {
  return term?.says_on[zoneOf(zone)] ?? term?.says ?? null;
}

/** Whether two terms are one, or one covers the other: a crack covers hairlines, a restoration retouching. */
export function related(book: PlanBook, a: string, b: string) {
  return a === b || Boolean(termOf(book, a)?.covers.includes(b) || termOf(book, b)?.covers.includes(a));
}

/** Whether one zone is the other, a member of it, or holds it; what is said of the whole is said of every zone. */
export function touch(plan: Plan, a: string, b: string) {
  const [zone, another] = [zoneOf(a), zoneOf(b)];
  if (zone === another) return a === b || a === zone || b === another;
  if (zone === WHOLE || another === WHOLE) return true;
  return (holds(plan, zone, another) || holds(plan, another, zone)) && !areOfTwoSides(plan, a, b);
}

/** Members of two zones with the same sides, such as margins and edges: top and bottom do not touch. */
function areOfTwoSides(plan: Plan, a: string, b: string) {
  const [member = "", another = ""] = [a, b].map((key) => key.split("/")[1] ?? "");
  const isSideOf = (side: string, key: string) =>
    plan.zones.some(({ zone, members }) => zone === zoneOf(key) && [...members].includes(side));
  return member !== another && isSideOf(member, b) && isSideOf(another, a);
}

function holds(plan: Plan, zone: string, inner: string) {
  return plan.zones.some((row) => row.zone === zone && row.holds.includes(inner));
}

/** Whether what is on another zone would be on this one, too: a side stone is out of the setting. */
function isBeside(plan: Plan, key: string, another: string) {
  return plan.zones.some(({ zone, beside }) => zone === zoneOf(key) && beside?.includes(zoneOf(another)));
}

/** The zones beside another of which alone a fault on it can be: what is missing from a setting is a stone. */
export function besideOf({ plan, book }: Pick<Described, "plan" | "book">, key: string, term: string) {
  const { beside = [], usual = [] } = plan.zones.find(({ zone }) => zone === zoneOf(key)) ?? {};
  return !usual.includes(term) && termOf(book, term)?.absent ? beside : [];
}

/**
 * The findings that nobody has withdrawn and that somebody of the house saw. One that was withdrawn and that somebody
 * else said otherwise of is among them, as that one has it, until a person has settled who is right; and one that two
 * people saw on two zones is on both. What is on a piece that went back is none of what stays.
 */
export function seenFindings(record: RecordCopy): Listed<FindingValue>[] {
  return listed(record, "findings/").flatMap((finding) => {
    const zones = groupedBy(readingsOf(record, finding), ({ value }) => value.zone);
    return [...zones.values()].flatMap(([first]) => first ?? []);
  });
}

/** Each way in which a finding was said that somebody saw: one, but where two differ and nobody has settled it. */
export function readingsOf(record: RecordCopy, finding: Listed<FindingValue>): Listed<FindingValue>[] {
  const field = `findings/${finding.id}` as const;
  const sides = isContested(record, field) ? saidOf(record, field).map(({ value }) => value) : [];
  return [finding.value, ...sides]
    .filter((value) => !value.withdrawn && value.certainty !== "told" && !isOnPieceAway(record, value))
    .map((value) => ({ ...finding, value: onCounted(record, value) }));
}

/** Whether all of a zone is missing: no piece of it alone, and of several things none that has it. */
export function isMissing(record: RecordCopy, zone: string) {
  // "From one bottle of the five": what its note says of one piece is no matter of the others.
  const isOfOne = ({ note }: FindingValue) =>
    piecesOf(record) > 1 && saysWhich(record, note ?? "") && !OF_ALL.test(note ?? "");
  const missing = seenFindings(record).filter(
    ({ value }) =>
      value.zone === zone && value.term === "missing-part" && !value.extent_count && !isOfOne(value),
  );
  const without = new Set(missing.map(({ value }) => value.piece));
  return (
    missing.some(({ value }) => !isOnSomePieces(record, value)) ||
    (missing.length > 0 && without.size >= piecesOf(record))
  );
}

/** Whether nothing of a zone is there: all of it is missing, or the thing never had it. */
export function isGone({ plan, record }: Pick<Described, "plan" | "record">, zone: string) {
  const keys = plan.zones.filter((row) => row.zone === zone).flatMap(keysOf);
  return (
    keys.length > 0 &&
    keys.every((key) => isMissing(record, zone) || isMissing(record, key) || isNone(record, key))
  );
}

/** Whether the thing never had a zone, or a member of it, and nothing was found there after all. */
export function isNone(record: RecordCopy, key: string) {
  return (
    fieldValue(record, `zones/${key}`)?.reason === "not-applicable" &&
    seenFindings(record).every(({ value }) => value.zone !== key)
  );
}

/** What only the owner says. */
export function toldFindings(record: RecordCopy): Listed<FindingValue>[] {
  return listed(record, "findings/")
    .filter(({ value }) => !value.withdrawn && value.certainty === "told" && !isOnPieceAway(record, value))
    .map((finding) => ({ ...finding, value: onCounted(record, finding.value) }));
}

/** Whether something on record speaks against "no such fault was seen there". */
export function isSpokenAgainst({ plan, book, record }: Described, zone: string, term: string) {
  return (
    isMissing(record, zone) ||
    isMissing(record, zoneOf(zone)) ||
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

/** The terms that cannot be denied beside what happened to a zone. */
export function deniedBy(book: PlanBook, origin: string | null) {
  return book.words.originalities.find((row) => row.originality === origin)?.denies ?? [];
}
