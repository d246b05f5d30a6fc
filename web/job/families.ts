/** What goes with what: terms of a family, zones that touch, and the findings that somebody of the house saw. */
import type { FindingValue } from "./fields.ts";
import { isOnPieceAway } from "./piece_away.ts";
import { onCounted } from "./pieces.ts";
import { zoneOf } from "./places.ts";
import type { Plan, PlanBook, RecordCopy, Term } from "./types.ts";
import type { Listed } from "./values.ts";
import { fieldValue, groupedBy, isContested, listed, saidOf } from "./values.ts";

/**
 * Of keys of sentences, which are never joined with others: those that the desk has written of, by its version; "" of
 * all others.
 */
export type Apart = (key: string) => string;

/** An item's record with the plan it was examined by, and the book that the words come from. */
export type Described = { plan: Plan; book: PlanBook; record: RecordCopy; apart?: Apart };

/** What a term is said of in place of a zone where that is the thing itself, until its name is known. */
export const OF_IT = "item";
/** The zone that is the whole item. */
export const WHOLE = "outline";
const known = new WeakMap<PlanBook, Map<string, Term>>();
/** What was seen by the record: it is never changed, another takes its place; what is in dispute is no field of it. */
const seen = new WeakMap<RecordCopy, readonly Listed<FindingValue>[]>();

export function termOf(book: PlanBook, name: string): Term | undefined {
  const terms = known.get(book) ?? new Map(book.vocabulary.terms.map((term) => [term.term, term]));
  known.set(book, terms);
  return terms.get(name);
}

/** What a term says a zone is: of some zones another word than of the rest. */
export function saysOf(term: Term | undefined, zone: string): string | null {
  return term?.says_on[zoneOf(zone)] ?? term?.says ?? null;
}

/** What all of some zones are part of, of which the term is said in their place: a verso is one of a sheet. */
export function wholeOfZones(term: Term | undefined, zones: readonly string[]) {
  return zones
    .map((zone) => term?.denied_of?.[zoneOf(zone)])
    .reduce((one, other) => (one && other && one[0] === other[0] ? one : undefined));
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

/** The zones beside another of which alone a fault on it can be: what is missing from a setting is a stone. */
export function besideOf({ plan, book }: Pick<Described, "plan" | "book">, key: string, term: string) {
  const { beside = [], usual = [] } = plan.zones.find(({ zone }) => zone === zoneOf(key)) ?? {};
  return !usual.includes(term) && termOf(book, term)?.absent ? beside : [];
}

/** The zones that a fault of one goes through: a tear of the canvas is one of the picture. */
export function throughOf(plan: Plan, key: string, term: string) {
  const { through } = plan.zones.find(({ zone }) => zone === zoneOf(key)) ?? {};
  return through?.terms.includes(term) ? through.zones : [];
}

/**
 * The findings that nobody has withdrawn and that somebody of the house saw. One that was withdrawn and that somebody
 * else said otherwise of is among them, as that one has it, until a person has settled who is right; and one that two
 * people saw on two zones is on both. What is on a piece that went back is none of what stays.
 */
export function seenFindings(record: RecordCopy): readonly Listed<FindingValue>[] {
  const before = seen.get(record);
  if (before) return before;
  const found = listed(record, "findings/").flatMap((finding) => {
    const zones = groupedBy(readingsOf(record, finding), ({ value }) => value.zone);
    return [...zones.values()].flatMap(([first]) => first ?? []);
  });
  seen.set(record, found);
  return found;
}

/** Each way in which a finding was said that somebody saw: one, but where two differ and nobody has settled it. */
export function readingsOf(record: RecordCopy, finding: Listed<FindingValue>): Listed<FindingValue>[] {
  const field = `findings/${finding.id}` as const;
  const sides = isContested(record, field) ? saidOf(record, field).map(({ value }) => value) : [];
  return [finding.value, ...sides]
    .filter((value) => !value.withdrawn && value.certainty !== "told" && !isOnPieceAway(record, value))
    .map((value) => ({ ...finding, value: onCounted(record, value) }));
}

/** A finding with what its owner told of it, where that is read here; what the house noted of it itself stays. */
export function withToldNote(
  record: Pick<RecordCopy, "fields">,
  id: string,
  value: FindingValue,
): FindingValue {
  const told = value.certainty === "told" && fieldValue(record, `finding-notes/${id}`);
  return told ? { ...value, note: told } : value;
}

/** What only the owner says. */
export function toldFindings(record: RecordCopy): Listed<FindingValue>[] {
  return listed(record, "findings/")
    .filter(({ value }) => !value.withdrawn && value.certainty === "told" && !isOnPieceAway(record, value))
    .map(({ id, set, value }) => ({ id, set, value: onCounted(record, withToldNote(record, id, value)) }));
}

/** The terms that cannot be denied beside what happened to a zone. */
export function deniedBy(book: PlanBook, origin: string | null) {
  return book.words.originalities.find((row) => row.originality === origin)?.denies ?? [];
}
