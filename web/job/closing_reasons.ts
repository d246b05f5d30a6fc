/** What is known of each difference with which a day is closed: said one by one, and named by the closing. */

import { same } from "./between.ts";
import { fnv1a } from "./closing_code.ts";
import type { Found } from "./closing_found.ts";
import { inOrder, kindOf, needsOwnReason } from "./closing_kinds.ts";
import { namesOn } from "./day_facts.ts";
import type { ValueAt } from "./fields.ts";
import { uuid7 } from "./ids.ts";
import { beginning, longestText } from "./kinds_read.ts";
import { asOneName } from "./one_name.ts";
import type { BodyOf, DayRecord } from "./types.ts";
import { instant, listed } from "./values.ts";
import { countWords } from "./words.ts";

const STAYS = "Known, and stays so";
const LOOKED_FOR = "Being looked for";
const NOBODY_KNOWS = "Nobody knows why";
const TOLD_WHO_DECIDES = "Whoever decides is told";
// The first key claims least, or what the record bears out: pressed blind, it says nothing that nobody did.
const OF_DANGER = [STAYS, "Locked in until somebody decides", TOLD_WHO_DECIDES];
/** What cannot stay so begins with what is so: nobody passes it by as known. */
const OF_UNDECIDED = [
  "Nobody has decided on it yet",
  ...OF_DANGER.filter((words) => words !== STAYS),
  NOBODY_KNOWS,
];
const OF_APART = ["Locked in, as was decided", TOLD_WHO_DECIDES, STAYS];
const OF_DECIDED = ["As was decided", TOLD_WHO_DECIDES, STAYS];
const OF_LATE = [STAYS, "Whoever touched it was asked", TOLD_WHO_DECIDES];
const RUNG = "Gone home: the house rings them";
const OF_PEOPLE = [STAYS, RUNG, NOBODY_KNOWS];
const OF_PEOPLE_NO_NUMBER = [STAYS, "No telephone number is known: they are written to", NOBODY_KNOWS];
const OF_PEOPLE_HERE = [STAYS, "Still here, being seen to", RUNG, NOBODY_KNOWS];
const OF_THINGS = [
  STAYS,
  "Stays where it is, locked in",
  "Goes with the next load",
  LOOKED_FOR,
  NOBODY_KNOWS,
];
const OF_MISSING = ["Not found yet", LOOKED_FOR, "Whoever had it last is asked", NOBODY_KNOWS];
const TOLD_TOMORROW = "The owner is told tomorrow";
const OF_DAMAGE = [STAYS, TOLD_TOMORROW, "Looked at again: it was there before", NOBODY_KNOWS];
/** What has come, and lies where it is looked at when it is unpacked. */
const OF_UNPACKING = [STAYS, "Compared when it is unpacked", NOBODY_KNOWS];
/** What somebody has looked into, beside what is said of any thing. */
const OF_ONE_KIND: Readonly<Record<string, readonly string[]>> = {
  "load-count": [
    STAYS,
    LOOKED_FOR,
    NOBODY_KNOWS,
    "Counted again, and it agrees",
    "Counted again, and it differs",
  ],
  "not-compared": OF_UNPACKING,
  "seal-differs": [
    STAYS,
    LOOKED_FOR,
    NOBODY_KNOWS,
    "It is sealed anew",
    "Compared with its list: all is in it",
  ],
};
const ON_RECORD = [STAYS, "The desk does it", NOBODY_KNOWS];

const KINDS_OF_DANGER: ReadonlySet<string> = new Set(["incident", "stopped", "held"]);
const KINDS_OF_STOP: ReadonlySet<string> = new Set(["incident", "stopped"]);
/** What is not there is locked in nowhere. */
const KINDS_OF_MISSING: ReadonlySet<string> = new Set([
  "item-short",
  "piece-short",
  "record-without-item",
  "tag-without-item",
  "load-short",
]);
const KINDS_OF_PEOPLE: ReadonlySet<string> = new Set([
  "no-receipt",
  "unsigned",
  "receipt-changed",
  "ticket-on-two",
  "visit",
  "count",
]);

/** A difference as far as its reasons go. */
type Known = Pick<Found, "holds"> & { kind: string };

/**
 * What is mostly known of one of a kind, on the keys 1 to 5: nothing that two people would sign for and that is not on
 * record, such as a decision, or that an owner was told. Source: common practice.
 */
export function reasonsOf(difference: Known): readonly string[] {
  const { kind, holds } = difference;
  if (!needsOwnReason(difference)) return ON_RECORD;
  const own = OF_ONE_KIND[kind];
  if (own) return own;
  if (kind === "heard-late") return OF_LATE;
  if (kind === "new-damage")
    return holds === "told"
      ? ["The owner was told", ...OF_DAMAGE.filter((words) => words !== TOLD_TOMORROW)]
      : OF_DAMAGE;
  if (KINDS_OF_DANGER.has(kind))
    return holds === "apart"
      ? OF_APART
      : holds === "decided"
        ? OF_DECIDED
        : KINDS_OF_STOP.has(kind)
          ? OF_UNDECIDED
          : OF_DANGER;
  if (KINDS_OF_PEOPLE.has(kind))
    return holds === "here" ? OF_PEOPLE_HERE : holds === "no-number" ? OF_PEOPLE_NO_NUMBER : OF_PEOPLE;
  return KINDS_OF_MISSING.has(kind) ? OF_MISSING : OF_THINGS;
}

/**
 * Whether a number key only chooses among the reasons of these: what is stopped and what is not here is not answered in
 * a row of presses, since each is somebody's to act on.
 */
export function choosesFirst(of: readonly Known[]): boolean {
  return of.some(({ kind, holds }) => KINDS_OF_MISSING.has(kind) || (KINDS_OF_STOP.has(kind) && !holds));
}

/** What may be said of all of these at once: what is offered for each of them. */
export function reasonsOfAll(of: readonly Known[]): readonly string[] {
  const [first = [], ...others] = of.map(reasonsOf);
  return first.filter((reason) => others.every((reasons) => reasons.includes(reason)));
}

/**
 * What was said of a difference last: in which saying, and by whom if that was not whose device it was. `otherwise`:
 * what others said of it last and nobody took back, where it is not the same; two may say it without having read.
 */
export type Said = {
  reason: string;
  reason_id: string;
  said_by: string;
  otherwise: { by: string; reason: string }[];
};
/** By what the differences are known by. */
export type Reasons = ReadonlyMap<string, Said>;

/** What is called so in an operation. */
export function inClosing(words: string): string {
  return beginning(words, longestText("close_day.named"));
}

/** What was said of the differences of a day, by the newest word for each; what was taken back is not there. */
export function saidOn(day: DayRecord): Reasons {
  const who = namesOn(day);
  const said = new Map<string, Said & { by: string }>();
  for (const { id, value, set } of saidInOrder(day))
    for (const { key } of value.of) {
      const { reason, said_by = "" } = value;
      const by = said_by || who(set.made_by);
      const before = said.get(key);
      const others = [...(before?.otherwise ?? []), ...(before ? [before] : [])];
      const otherwise = others.flatMap((one) =>
        asOneName(one.by) === asOneName(by) || one.reason === reason
          ? []
          : { by: one.by, reason: one.reason },
      );
      if (reason.trim()) said.set(key, { reason, reason_id: id, said_by, by, otherwise });
      else said.delete(key);
    }
  return said;
}

/**
 * What others had said last of each difference that a closing names, where that is not what it was closed with, by what
 * the differences are known by: two who were apart sign different words, and one of them gives way.
 */
export function saidBeside(
  day: DayRecord,
  named: readonly Named[],
): Map<string, { by: string; reason: string }[]> {
  const who = namesOn(day);
  const last = new Map<string, Map<string, { by: string; reason: string }>>(
    named.map(({ key }) => [key, new Map()]),
  );
  for (const { value, set } of saidInOrder(day))
    for (const { key } of value.of) {
      const by = value.said_by || who(set.made_by);
      if (key) last.get(key)?.set(asOneName(by), { by, reason: value.reason });
    }
  const beside = named.map(({ key, reason }): [string, { by: string; reason: string }[]] => [
    key,
    [...(last.get(key)?.values() ?? [])].filter((said) => said.reason.trim() && said.reason !== reason),
  ]);
  return new Map(beside);
}

/** Who signed first beside the one whose signature the day was closed with: by name, when, and how many differences. */
export function signedBeside(
  day: DayRecord,
  { first_signing }: Closed,
): { by: string; at: string; count: number }[] {
  return signedFirst(day)
    .filter(({ id }) => id !== first_signing)
    .map(({ by, at, marks }) => ({ by, at, count: marks.length }));
}

function saidInOrder(day: DayRecord) {
  return [...listed(day, "reasons/")].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/**
 * An id for what is said now of what stands on the day: behind the newest of it, though that was said by a device whose
 * clock is ahead, since it was read before.
 */
export function idBehind(day: DayRecord, now: number, chance: Uint8Array): string {
  const newest = saidInOrder(day).at(-1)?.id.replace("-", "").slice(0, 12) ?? "";
  const isTime = /^[0-9a-f]{12}$/.test(newest);
  return uuid7(Math.max(now, isTime ? Number.parseInt(newest, 16) + 1 : 0), chance);
}

/** Those of which nobody has said anything yet. */
export function withoutReason<Of extends Pick<Found, "key">>(found: readonly Of[], reasons: Reasons): Of[] {
  return found.filter(({ key }) => !reasons.has(key));
}

/** So many differences one operation says a reason of. Source: the office's `MOST_OF_ONE`. */
const MOST_OF_ONE = 200;

/** The same reason for all of these, as operations: as many as it takes. */
export function sayings(
  found: readonly Found[],
  {
    reason,
    said_by,
    day_id,
    newId,
  }: { reason: string; said_by: string; day_id: string; newId: () => string },
): BodyOf<"explain_differences">[] {
  const of = found.map(({ key, words }) => ({ key, words: inClosing(words) }));
  const parts = Array.from({ length: Math.ceil(of.length / MOST_OF_ONE) }, (_, index) =>
    of.slice(index * MOST_OF_ONE, (index + 1) * MOST_OF_ONE),
  );
  return parts.map((of) => ({
    day_id,
    reason_id: newId(),
    reason: beginning(reason, longestText("explain_differences.reason")),
    of,
    ...(said_by ? { said_by } : {}),
  }));
}

/** A difference as a day was closed with it, and what was known of it then; `key` is "" in closings of before. */
export type Named = { key: string; words: string; reason: string; said_by: string };
type Closed = ValueAt<"closed">;

/**
 * What a closing names, in the order of the kinds: by the reasons that it names, or, in those of before, by what stands
 * in itself.
 */
export function namedIn(day: DayRecord, { named, reasons, digest, reason_ids }: Closed): Named[] {
  if (!digest)
    return named.map((words, index) => ({ key: "", words, reason: reasons?.[index] ?? "", said_by: "" }));
  return byKind([...linesBy(day, new Set(reason_ids)).values()]);
}

/**
 * Whether two closings are by the same two people, whichever signed first, and name the same with the same reasons:
 * both were made at once, and there is nothing between them to decide.
 */
export function isSameClosing(day: DayRecord, one: Closed, other: Closed): boolean {
  const people = ({ closed_by, second_by }: Closed) => [closed_by, second_by].map(asOneName).sort();
  const lines = (closed: Closed) =>
    namedIn(day, closed)
      .map(({ key, words, reason }) => [key || words, reason])
      .sort(([a = ""], [b = ""]) => (a < b ? -1 : 1));
  return same(people(one), people(other)) && same(lines(one), lines(other));
}

/** What these sayings say of each difference, by the newest of them. */
function linesBy(day: DayRecord, ids: ReadonlySet<string>): Map<string, Named> {
  const lines = new Map<string, Named>();
  for (const { id, value } of saidInOrder(day))
    if (ids.has(id))
      for (const { key, words } of value.of)
        lines.set(key, { key, words, reason: value.reason, said_by: value.said_by ?? "" });
  return lines;
}

const sayingsOf = (found: readonly Found[], reasons: Reasons) =>
  new Set(found.flatMap(({ key }) => reasons.get(key)?.reason_id ?? []));

/** The lines of what is found now, each with what was said of it; to be asked once nothing is unsaid. */
export function linesOf(day: DayRecord, found: readonly Found[], reasons: Reasons): Named[] {
  const lines = linesBy(day, sayingsOf(found, reasons));
  return byKind(found.flatMap(({ key }) => lines.get(key) ?? []));
}

/**
 * The sayings by which a closing names what is found now. One that was also said of what has been mended since would
 * name that, too: what is left of it is to be said `again`, in the same words, and its own id stands in the closing.
 */
export function listOf(
  day: DayRecord,
  found: readonly Found[],
  reasons: Reasons,
  newId: () => string,
): { reason_ids: string[]; again: BodyOf<"explain_differences">[] } {
  const keys = new Set(found.map(({ key }) => key));
  const ids = sayingsOf(found, reasons);
  const again: BodyOf<"explain_differences">[] = [];
  for (const { id, value } of saidInOrder(day)) {
    if (!ids.has(id) || value.of.every(({ key }) => keys.has(key))) continue;
    const of = value.of.filter(({ key }) => reasons.get(key)?.reason_id === id && keys.has(key));
    again.push({ ...value, of, day_id: day.record_id, reason_id: newId() });
    ids.delete(id);
  }
  return { reason_ids: [...ids, ...again.map(({ reason_id }) => reason_id)].sort(), again };
}

function byKind(lines: Named[]): Named[] {
  const sorted = lines.sort((a, b) => (a.key < b.key ? -1 : 1));
  return inOrder(sorted.map((line) => ({ kind: kindOf(line.key), line }))).map(({ line }) => line);
}

/**
 * The text whose SHA-256 two people sign: each line's key, words, reason and who said it, in the order of the keys. The
 * office makes the same out of what it has (`custody/closing_lines.py`).
 */
export function signedText(lines: readonly Named[]): string {
  const sorted = [...lines].sort((a, b) => (a.key < b.key ? -1 : 1));
  return JSON.stringify(sorted.map(({ key, words, reason, said_by }) => [key, words, reason, said_by]));
}

/** What marks a line as it was signed: another reason makes it another. */
export function markOf({ key, reason, said_by }: Omit<Named, "words">): string {
  return `${key} ${fnv1a(JSON.stringify([reason, said_by])).toString(16)}`;
}

/**
 * What the first person signed: in which operation, who that was, when and at which device, the digest of their list,
 * and what marks its lines.
 */
export type SignedFirst = {
  id: string;
  by: string;
  at: string;
  device_id: string;
  digest: string;
  marks: string[];
};

/**
 * The first signatures that stand on a day, the earliest first, of each person the newest: two who were apart may each
 * have signed first, and the later goes on as the second.
 */
export function signedFirst(day: DayRecord): SignedFirst[] {
  const byPerson = new Map<string, SignedFirst>();
  const all = [...listed(day, "first-signings/")].sort(
    (a, b) => inTurn(instant(a.set.made_at), instant(b.set.made_at)) || inTurn(a.id, b.id),
  );
  for (const { id, value, set } of all) {
    const { signed_by, digest, reason_ids } = value;
    if (!digest) continue; // taken back
    const marks = [...linesBy(day, new Set(reason_ids)).values()].map(markOf);
    const { device_id, made_at: at } = set;
    byPerson.delete(asOneName(signed_by));
    byPerson.set(asOneName(signed_by), { id, by: signed_by, at, device_id, digest, marks });
  }
  return [...byPerson.values()];
}

const inTurn = (one: string, other: string) => (one < other ? -1 : one > other ? 1 : 0);

/** What is found now beside what the first person signed: what of it is otherwise or new, and how much is gone. */
export function besideSigned(found: readonly Found[], reasons: Reasons, { marks }: SignedFirst) {
  const signed = new Set(marks);
  const isSigned = ({ key }: Found) => {
    const said = reasons.get(key);
    return said !== undefined && signed.has(markOf({ key, ...said }));
  };
  const keys = new Set(found.map(({ key }) => key));
  return {
    stands: found.filter(isSigned),
    since: found.filter((difference) => !isSigned(difference)),
    mended: marks.filter((mark) => !keys.has(mark.slice(0, mark.lastIndexOf(" ")))).length,
  };
}

/** What was found after the closing; of several that are called alike, as many as were named then are known. */
export function foundSince(found: readonly Found[], named: readonly Named[]): Found[] {
  const keys = new Set(named.map(({ key }) => key));
  const known = new Map<string, number>();
  for (const { key, words } of named) if (!key) known.set(words, (known.get(words) ?? 0) + 1);
  return found.filter(({ key, former, words }) => {
    if (keys.has(key) || (former && keys.has(former))) return false;
    const left = known.get(inClosing(words)) ?? 0;
    known.set(inClosing(words), left - 1);
    return left < 1;
  });
}

/** What a closing beside the `first` names, in few words where the first names it as well. */
export function namedBeside(other: readonly Named[], first: readonly Named[]): string {
  const markOf = ({ key, words }: Named) => key || words;
  const before = new Set(first.map(markOf));
  const rest = other.filter((named) => !before.has(markOf(named))).map(({ words }) => words);
  const same = other.length - rest.length;
  if (!same) return rest.join("; ") || "no difference";
  if (!rest.length && same === first.length) return `the same ${countWords(same, "difference")}`;
  return [`${same} of the same differences`, ...rest].join(rest.length > 1 ? "; " : ", and ");
}
