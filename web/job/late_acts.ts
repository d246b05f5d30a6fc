/**
 * What was done to a stopped thing by hands that had not heard of the stop: kept, since it happened, and named until
 * somebody has looked. At the office: `intake/custody/late_acts.py`, held to the same by `fixtures/closing.json`.
 */
import { type ById, thingName, toWords } from "./custody.ts";
import type { HeardLate, ValueAt } from "./fields.ts";
import { timeWords } from "./incidents.ts";
import { shown } from "./tag.ts";
import type { DayRecord, ItemRecord } from "./types.ts";
import { fieldValue, type Listed, listed } from "./values.ts";

export type LateAct = Listed<HeardLate>;

/** What was seen of a seal, or done to it, of the container that it is on. */
const OF_SEAL: Readonly<Record<ValueAt<"seal">["state"], string>> = {
  sealed: "was sealed",
  intact: "was found sealed",
  differs: "was found with another seal",
  broken: "was found with a broken seal",
  opened: "was opened",
};

/** What of it nobody has settled, in the order of the ids, which go by the clock. */
export function lateActs(item: ItemRecord): LateAct[] {
  return allLateActs(item).filter(({ id }) => !item.fields[`late-ends/${id}`]);
}

/** All of it, also what was settled since. */
export function allLateActs(item: ItemRecord): LateAct[] {
  return [...listed(item, "heard-late/")].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** What was done, by whom and when. What a version of before kept says its kind alone. */
export function lateWords(item: ItemRecord, { value, set }: LateAct, day: DayRecord, things: ById): string {
  const of = things.get(value.of ?? item.record_id) ?? item;
  const name = of.record_id === item.record_id ? "it" : `${thingName(of)}, which it lay in or beside,`;
  const person = fieldValue(day, `people/${set.made_by}`);
  const by = person ? ` by ${person.name}` : "";
  const done = `${doneWords(name, value, things)}${by} at ${timeWords(set.made_at)}`;
  return `${done}, before that device had heard ${value.taken_away ? "that it was taken away" : "of the stop"}`;
}

function doneWords(name: string, said: HeardLate, things: ById): string {
  const { kind, of, to_place, container_id, tag, state } = said;
  if (kind === "record_move" && to_place)
    return `${name} was ${to_place === "returned" ? "given back to its owner" : `moved ${toWords(to_place, "")}`}`;
  if (kind === "put_inside" && of) {
    const into = things.get(container_id ?? "");
    return into ? `${name} was put into ${thingName(into)}` : `${name} was taken out`;
  }
  if (kind === "seal_container" && state) return `${name} ${OF_SEAL[state as keyof typeof OF_SEAL]}`;
  if (kind === "tie_tag" && tag) return `tag ${shown(tag)} was tied to ${name}`;
  if (kind === "remove_tag" && tag) return `tag ${shown(tag)} was taken off ${name}`;
  if (kind === "check_in" && state) return `${name} was checked in`;
  return `something was done to ${name}`;
}
