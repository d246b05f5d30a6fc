/** The findings of an item as sentences: what is serious first, then in the order of the walk. */
import { type Described, seenFindings, termOf, toldFindings, WHOLE, wholeOfZones } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { readingTail } from "./readings.ts";
import { type Sentence, sentence } from "./sentences.ts";
import type { PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, groupedBy, isContested, type Listed, saidOf } from "./values.ts";
import { findingInWords } from "./wording.ts";
import { isCountable, isOfAnyZone } from "./zone_says.ts";

const INTERVENTION = "previous intervention";
/** Structure first. */
const FAMILIES: string[] = [
  "structural",
  "loss",
  INTERVENTION,
  "mechanical and function",
  "biological",
  "chemical",
  "surface",
  "colour and light",
  "dirt and odour",
];
const SERIOUS = 3;

/** One finding, or the same on several members of a zone. `about` are the findings that it says. */
export type FindingSentence = Sentence & { about: FindingValue[] };

/** `facts` are of severity 0 and no fault: in the paragraph they stand only where somebody wrote words of them. */
export function findingSentences(described: Described, facts: "all" | "noted" = "noted"): FindingSentence[] {
  const seen = inOrder(described, seenFindings(described.record));
  const found = seen.filter(({ value }) => facts === "all" || isPrinted(described, value, seen));
  const explained = new Set<string>();
  return gathered(described, found).map(({ value, zones, from, about }) => ({
    ...sentence(
      withMeaning(described.book, value, findingInWords(described, value, zones), explained) +
        tailOf(described, value, from),
      from,
      from.filter(isFinding),
    ),
    about: [...about, ...from.filter(isFinding).flatMap((field) => readingsOn(described.record, field))],
  }));
}

/** With what a word of the trade means behind it, where it comes for the first time. */
function withMeaning(book: PlanBook, { term }: FindingValue, words: string, explained: Set<string>) {
  const { noun, plural, means } = termOf(book, term) ?? {};
  const [before, behind] = splitBehind(words, [plural ?? "", noun ?? term.replaceAll("-", " ")]);
  if (!means || behind === undefined || explained.has(term)) return words;
  explained.add(term);
  return `${before} (${means})${behind}`;
}

/** A text before and behind the first of these names that is in it. */
function splitBehind(words: string, names: string[]): [string, string?] {
  const name = names.find((one) => one && words.includes(one));
  const at = name ? words.indexOf(name) + name.length : -1;
  return at < 0 ? [words] : [words.slice(0, at), words.slice(at)];
}

/** That what is said of a finding by itself is not settled, and what else was said. */
function tailOf(described: Described, value: FindingValue, from: string[]) {
  const [only = "", ...more] = from.filter(isFinding);
  return more.length ? "" : readingTail(described, only.replace("findings/", ""), value);
}

/** What else was said of a finding, and is not settled: whatever it bears on is told of it. */
function readingsOn(record: RecordCopy, field: string): FindingValue[] {
  if (!isContested(record, field)) return [];
  return saidOf(record, field as `findings/${string}`).map(({ value }) => value);
}

/** What the owner says of it and nobody saw: never in the paragraph, and never without whose word it is. */
export function toldSentences(described: Described): FindingSentence[] {
  return inOrder(described, toldFindings(described.record)).map(({ id, value }) => {
    const told = findingInWords(described, value);
    return {
      ...sentence(`according to the owner, and not seen at the examination: ${told}`, [`findings/${id}`]),
      about: [value],
    };
  });
}

function isFinding(field: string) {
  return field.startsWith("findings/");
}

/**
 * A flaw from the making is told to who asks; a note of it, and how much of it was changed since, to everybody. A fact
 * is counted with a fault of its name on its zone: in the answers, which tell of all, they are one sentence. Of a zone
 * without a state it is all that is on record.
 */
function isPrinted({ book, record }: Described, value: FindingValue, seen: Listed<FindingValue>[]) {
  if (value.severity > 0 || value.note?.trim() || !fieldValue(record, `zones/${value.zone}`)) return true;
  if (termOf(book, value.term)?.family === INTERVENTION && isMeasured(value)) return true;
  return seen.some(
    (other) => other.value.severity > 0 && other.value.term === value.term && other.value.zone === value.zone,
  );
}

function isMeasured({ extent_mm, extent_percent, extent_count, extent_words }: FindingValue) {
  return Boolean(extent_mm || extent_percent || extent_count || extent_words?.trim());
}

function inOrder({ plan, book }: Described, found: readonly Listed<FindingValue>[]) {
  const order = plan.zones.flatMap(keysOf);
  const family = (term: string) => FAMILIES.indexOf(termOf(book, term)?.family ?? "");
  const rankOf = (zone: string) => (order.includes(zone) ? order.indexOf(zone) : order.length);
  const serious = ({ value }: Listed<FindingValue>) => (value.severity >= SERIOUS ? value.severity : 0);
  return [...found].sort(
    (a, b) =>
      serious(b) - serious(a) ||
      Number(a.value.severity === 0) - Number(b.value.severity === 0) ||
      rankOf(a.value.zone) - rankOf(b.value.zone) ||
      family(a.value.term) - family(b.value.term) ||
      b.value.severity - a.value.severity ||
      a.value.term.localeCompare(b.value.term) ||
      inOneOrder(a.value).localeCompare(inOneOrder(b.value)),
  );
}

/** A value as text, whatever order its members came in. */
function inOneOrder(value: FindingValue) {
  return JSON.stringify(Object.entries(value).sort(([a], [b]) => a.localeCompare(b)));
}

type Group = { value: FindingValue; zones: string[]; from: string[]; about: FindingValue[]; apart: string };

/**
 * The same on several members is said once; the same thing recorded twice on one zone is two of them. What is counted
 * is the same if it reads the same: how grave it is, and whether it goes on, may stand in no word of it.
 */
function gathered(described: Described, found: Listed<FindingValue>[]): Group[] {
  const { record } = described;
  const groups = new Map<string, Group>();
  for (const { id, value } of found) {
    const member = value.zone.split("/")[1] ?? null;
    const countable = isCountable(described, value);
    const isOne = countable || Boolean(value.extent_count);
    const [whole] = wholeOfZones(termOf(described.book, value.term), [value.zone]) ?? [];
    const zone = isOne ? value.zone : (whole ?? zoneOf(value.zone));
    const side = value.side === member ? null : value.side;
    const open = isContested(record, `findings/${id}`) ? id + value.zone : ""; // it is joined with no other
    const apart = (described.apart?.(`findings/${id}`) ?? "") + open;
    const alike = countable
      ? findingInWords(described, value, [value.zone])
      : inOneOrder({ ...value, zone, side, light: lightOn(record, value) });
    const key = alike + apart;
    const from = [`findings/${id}`, ...zoneFields(record, value.zone)];
    const known = groups.get(key);
    if (!known) groups.set(key, { value, zones: [value.zone], from, about: [value], apart });
    else {
      if (countable || value.extent_count)
        known.value = withCount(known.value, (known.value.extent_count ?? 1) + (value.extent_count ?? 1));
      if (!known.zones.includes(value.zone)) known.zones.push(value.zone);
      known.from.push(...from);
      known.about.push(value);
    }
  }
  return besideEachOther(described, onEach(described, [...groups.values()]));
}

/** "Slight play in the focus and the moving parts": of what cannot be counted, neighbours with the same are one. */
function besideEachOther(described: Described, groups: Group[]): Group[] {
  const all: Group[] = [];
  for (const group of groups) {
    const before = all.at(-1);
    if (before && isAlikeOn(described, before, group))
      all[all.length - 1] = {
        ...before,
        zones: [...before.zones, ...group.zones],
        from: [...before.from, ...group.from],
        about: [...before.about, ...group.about],
      };
    else all.push(group);
  }
  return all;
}

function isAlikeOn(described: Described, one: Group, other: Group) {
  const isPlain = ({ value, zones, apart }: Group) =>
    !isMeasured(value) &&
    !(value.note.trim() || value.piece || value.piece_count || value.side || value.origin) &&
    (value.certainty ?? "certain") === "certain" &&
    zones.every((zone) => !zone.includes("/") && zone !== WHOLE) &&
    !apart;
  const wordsOf = ({ value }: Group) =>
    inOneOrder({ ...value, zone: "", light: lightOn(described.record, value) });
  const zones = [...one.zones, ...other.zones];
  return (
    isPlain(one) &&
    isPlain(other) &&
    wordsOf(one) === wordsOf(other) &&
    isOfAnyZone(described, one.value, zones)
  );
}

/** One thing on each member of a zone, all alike, is said once: "a chip to each ear". */
function onEach(described: Described, groups: Group[]): Group[] {
  const { plan, record } = described;
  const alike = groupedBy(groups, ({ value, zones, apart }) =>
    zones.length === 1 && zones[0]?.includes("/") && isCountable(described, value) && !value.extent_count
      ? inOneOrder({ ...value, zone: zoneOf(value.zone), side: null, light: lightOn(record, value) }) + apart
      : inOneOrder(value) + zones + apart,
  );
  return [...alike.values()].flatMap((some) => {
    const zones = some.flatMap((group) => group.zones);
    const members = plan.zones.find(({ zone }) => zone === zoneOf(zones[0] ?? ""))?.members;
    const [first] = some;
    if (some.length < 2 || some.length !== members?.length || !first) return some;
    const from = some.flatMap((group) => group.from);
    return [{ ...first, zones, from, about: some.flatMap((group) => group.about) }];
  });
}

/** Its own light, else that of its zone or member: by another light it is seen otherwise. */
function lightOn(record: RecordCopy, { zone, light }: FindingValue) {
  return light ?? fieldValue(record, `zones/${zone}`)?.light ?? null;
}

function withCount(value: FindingValue, extent_count: number): FindingValue {
  return { ...value, extent_count };
}

function zoneFields(record: RecordCopy, zone: string) {
  return record.fields[`zones/${zone}`] ? [`zones/${zone}`] : [];
}
