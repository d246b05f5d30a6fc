/**
 * What went out of a container, or into it, while its seal says that nothing did; at the office:
 * `intake/custody/sealed.py`. A seal keeps what it was put on, as a list and as a time. What hands did since stands in
 * the ledger all the same.
 */

import { someOf } from "./closing_found.ts";
import { containerIdOf, thingName, thingsByNumber, whereIs } from "./custody.ts";
import type { ValueAt } from "./fields.ts";
import { oneThing } from "./one_thing.ts";
import { packedIn } from "./packed.ts";
import { tagsOf } from "./progress.ts";
import { type Lying, lyingOf, once, openedAt, SHUT } from "./shut.ts";
import type { ContainerRecord, DayRecord, FieldValue, ItemRecord, ThingRecord } from "./types.ts";
import { fieldValue, instant, listed } from "./values.ts";

type Seal = ValueAt<"seal">;

const [OUT, IN, AGAIN] = ["taken out", "put in", "out and in again"] as const;
/** So many numbers fit under one seal, as in one load. */
const MOST_UNDER = 2_000;

/** A thing that went through a seal: which way, and what says so first. */
type Crossed = { way: typeof OUT | typeof IN | typeof AGAIN; thing: ThingRecord; said: FieldValue };

/**
 * Things, and what is worked out of all of them once: where each lay before it was moved by itself, and numbers. Most
 * days have no seal that anything speaks against, and nobody asks.
 */
export type Sealing = Lying & {
  onceIn: () => ReadonlyMap<string, readonly (readonly [ThingRecord, string | undefined])[]>;
  byNumber: () => ReadonlyMap<string, ThingRecord>;
};

export function sealingOf(items: ItemRecord[], containers: ContainerRecord[]): Sealing {
  return {
    ...lyingOf(items, containers),
    onceIn: once(() => onceIn([...items, ...containers])),
    byNumber: once(() => thingsByNumber(items, containers)),
  };
}

/** In words what went through a container's seal, by whom, and what that is known by; null if nothing did. */
export function contradicted(
  container: ThingRecord,
  day: DayRecord,
  sealing: Sealing,
): { words: string; said: string } | null {
  const crossed = throughItsSeal(container, sealing);
  if (!crossed.length) return null;
  const parts = [OUT, IN, AGAIN].flatMap((way) => {
    const those = crossed.filter((one) => one.way === way);
    return those.length ? [`${way}: ${namesOf(those, day)}`] : [];
  });
  const acts = crossed.map(({ said }) => said.operation_id).sort();
  const { seal } = fieldValue(container, "seal") as Seal;
  return { words: `since seal ${seal} was put on, ${parts.join("; ")}`, said: `since ${acts.join(",")}` };
}

function namesOf(crossed: readonly Crossed[], day: DayRecord) {
  return someOf(crossed, ({ thing, said }) => {
    const person = fieldValue(day, `people/${said.made_by}`);
    return thingName(thing) + (person ? ` (by ${person.name})` : "");
  });
}

/**
 * What went through it, each thing once. Once something in it was checked in two people have opened it, and
 * what goes out then goes as it should.
 */
function throughItsSeal(container: ThingRecord, sealing: Sealing): Crossed[] {
  const [seal, made] = [fieldValue(container, "seal"), container.fields.seal];
  if (!seal || !made || !SHUT.has(seal.state)) return [];
  const [byId, byNumber] = [sealing.byId(), sealing.byNumber()];
  const within = sealing.within(container);
  const inside = new Set([container, ...within].map(({ record_id }) => record_id));
  const under = (seal.numbers ?? []).flatMap((number) => {
    const thing = byNumber.get(number);
    return thing ? [[thing, thing.kind === "item" ? number : undefined] as const] : [];
  });
  const listedUnder = new Set(under.map(([thing]) => thing.record_id));
  const since = instant(seal.sealed_at ?? made.made_at);
  const opened = openedAt([...within, ...under.map(([thing]) => thing)], since);
  const firstThrough = (said: FieldValue[]) =>
    said
      .filter(({ made_at }) => instant(made_at) > since && (opened === null || instant(made_at) <= opened))
      .reduce<FieldValue | null>((first, one) => (first && !isBefore(one, first) ? first : one), null);
  const crossed = new Map<string, Crossed>();
  for (const thing of within) {
    const put = insidesOf(thing).filter(({ into }) => into !== null && inside.has(into));
    const said = firstThrough(put.map((one) => one.said));
    const way = listedUnder.has(thing.record_id) ? AGAIN : IN;
    if (said) crossed.set(thing.record_id, { way, thing, said });
  }
  const left = [...inside].flatMap((id) => sealing.onceIn().get(id) ?? []);
  for (const [thing, tag] of [...under, ...left]) {
    const isIn = whereIs(thing, byId, tag).inside.some(({ record_id }) => record_id === container.record_id);
    if (crossed.has(thing.record_id) || isIn) continue;
    const said = firstThrough(actsOn(thing, tag));
    if (said) crossed.set(thing.record_id, { way: OUT, thing, said });
  }
  return [...crossed.values()].sort((one, other) => (one.thing.record_id < other.thing.record_id ? -1 : 1));
}

function isBefore(one: FieldValue, other: FieldValue) {
  const [mine, its] = [instant(one.made_at), instant(other.made_at)];
  return mine === its ? one.operation_id < other.operation_id : mine < its;
}

/** What says in which container a thing, or the piece of it that has a number, was put, or that it was taken out. */
function insidesOf(thing: ThingRecord) {
  return Object.entries(oneThing(thing).fields).flatMap(([name, said]) => {
    const [family, tag] = name.split("/");
    if (family !== "inside" || !said) return [];
    return [{ tag, said, into: (said.value as ValueAt<"inside">).container_id }];
  });
}

/** What took a thing, or a piece of it, out of where it lay. */
function actsOn(thing: ThingRecord, tag: string | undefined): FieldValue[] {
  const isOfIt = (of: string | null | undefined) => !of || of === tag;
  return [
    ...listed(oneThing(thing), "moves/").flatMap(({ value, set }) => (isOfIt(value.tag) ? [set] : [])),
    ...insidesOf(thing).flatMap((one) => (isOfIt(one.tag) ? [one.said] : [])),
  ];
}

/** What was put into each container and was moved from there by itself since. */
function onceIn(things: readonly ThingRecord[]) {
  const found = new Map<string, (readonly [ThingRecord, string | undefined])[]>();
  for (const thing of things)
    for (const { tag, into } of insidesOf(thing)) {
      const tied = tagsOf(oneThing(thing));
      for (const of of tag ? [tag] : tied.length ? tied : [undefined])
        if (into && containerIdOf(thing, of) !== into)
          found.set(into, [...(found.get(into) ?? []), [thing, of] as const]);
    }
  return found;
}

/** Whether a number is another than the one on record of a seal that nobody has opened since. */
export function isReadOtherwise(container: ContainerRecord, number: string, state: Seal["state"]): boolean {
  const before = fieldValue(container, "seal");
  if (!before || !number.trim()) return false;
  if (state === "sealed" && !SHUT.has(before.state)) return false; // another was put on what was open
  return asRead(before.seal) !== asRead(number);
}

/** Two people who read a seal aloud key it with spaces and letters as they please. */
function asRead(number: string) {
  return number.replace(/\s/g, "").toLowerCase();
}

/** In words what is wrong with a seal, with both numbers where it was read otherwise; null if nothing is. */
export function wrongSeal({ seal, state, put_on, read }: Seal): string | null {
  const both = put_on ? `seal ${put_on} was put on, ${read} was read` : "";
  if (state === "broken") return [`seal ${seal} is broken`, ...(both ? [both] : [])].join("; ");
  return both || (state === "differs" ? `seal ${seal} differs` : null);
}

/**
 * What a seal keeps of what it is put on: all that lies there; what it was put on with for as long as it holds. That it
 * was read otherwise once stays with every later one: a difference stands until it is explained, and whoever opens the
 * crate, or seals it anew, explains nothing.
 */
export function keptUnder(
  container: ContainerRecord,
  { seal, state }: Pick<Seal, "seal" | "state">,
  items: ItemRecord[],
  containers: ContainerRecord[],
): Pick<Seal, "numbers" | "sealed_at" | "put_on" | "read"> {
  const [before, made] = [fieldValue(container, "seal"), container.fields.seal];
  const otherwise = before?.put_on
    ? { put_on: before.put_on, read: before.read ?? "" }
    : before && isReadOtherwise(container, seal, state)
      ? { put_on: before.seal, read: seal.trim() }
      : {};
  if (state === "intact" && before && made && SHUT.has(before.state)) {
    const numbers = before.numbers ? { numbers: before.numbers } : {};
    return { ...numbers, sealed_at: before.sealed_at ?? made.made_at, ...otherwise };
  }
  if (!SHUT.has(state)) return otherwise;
  const packed = packedIn([container.number], items, containers);
  const numbers = [...new Set(packed.flatMap((one) => one.numbers))];
  return { ...(numbers.length && numbers.length <= MOST_UNDER ? { numbers } : {}), ...otherwise };
}
