/** Whether a thing lies under a seal that nobody has opened; at the office: `intake/custody/sealed.py`. */
import { allSaid } from "./compared.ts";
import { allInside, contentsOfEach } from "./contents.ts";
import { type ById, whereIs } from "./custody.ts";
import type { ValueAt } from "./fields.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "./types.ts";
import { fieldValue, instant } from "./values.ts";

/** The states of a seal that says nothing went through it. */
export const SHUT: ReadonlySet<ValueAt<"seal">["state"]> = new Set(["sealed", "intact"]);

/** What lies in what, worked out of all things once. */
export type Lying = { byId: () => ById; within: (container: ThingRecord) => ThingRecord[] };

export function lyingOf(items: ItemRecord[], containers: ContainerRecord[]): Lying {
  const things = [...items, ...containers];
  const contents = once(() => contentsOfEach(things));
  return {
    byId: once(() => new Map(things.map((thing) => [thing.record_id, thing]))),
    within: (container) => allInside(container, contents()),
  };
}

/** Worked out when it is first asked for. */
export function once<Value>(make: () => Value): () => Value {
  const made: Value[] = [];
  return () => {
    if (!made.length) made.push(make());
    return made[0] as Value;
  };
}

/** When two people began to compare what lay under a seal, for which they had opened it; null if nobody has. */
export function openedAt(things: readonly ThingRecord[], since: ReturnType<typeof instant>) {
  const checked = things.flatMap((thing) => allSaid(thing).map(({ set }) => instant(set.made_at)));
  return checked
    .filter((at) => at > since)
    .reduce<ReturnType<typeof instant> | null>(
      (first, at) => (first === null || at < first ? at : first),
      null,
    );
}

/** Whether a container is under a seal that nobody has opened since: whoever checks in what is in it has. */
export function isShut(container: ThingRecord, within: readonly ThingRecord[]): boolean {
  const [seal, made] = [fieldValue(container, "seal"), container.fields.seal];
  if (!seal || !made || !SHUT.has(seal.state)) return false;
  return openedAt(within, instant(seal.sealed_at ?? made.made_at)) === null;
}

/** The outermost of what a thing, or the piece of it that has a tag, lies in that is under a seal. */
export function shutAround(thing: ThingRecord, { byId, within }: Lying, tag?: string) {
  return whereIs(thing, byId(), tag).inside.findLast((outer) => isShut(outer, within(outer)));
}

/** The outermost of a container and what it stands in that is under a seal. */
export function shutOver(container: ThingRecord, sealing: Lying) {
  const isUnder = isShut(container, sealing.within(container));
  return shutAround(container, sealing) ?? (isUnder ? container : undefined);
}
