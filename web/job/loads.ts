/** Loads: what left in the van by its numbers, and what of it has come; read off the records, with no network. */

import { placeWords, thingName, thingsByNumber, whereIs } from "./custody.ts";
import type { LoadValue } from "./fields.ts";
import { shown } from "./tag.ts";
import type { ContainerRecord, DayRecord, FieldValue, ItemRecord, ThingRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { countWords } from "./words.ts";

/** All that the loads of a day are read off. */
export type OnRecord = { day: DayRecord; items: ItemRecord[]; containers: ContainerRecord[] };
/** One number of a load, what it is on, and whether it is anywhere but in the van by now. */
export type LoadedThing = { number: string; thing: ThingRecord | null; words: string; came: boolean };
/** A load that left; `over` came with it and did not leave with it. */
export type Load = {
  id: string;
  value: LoadValue;
  set: FieldValue;
  things: LoadedThing[];
  over: LoadedThing[];
  arrivals: LoadValue[];
};

/**
 * The loads that left in the van, the latest first. What left has come if it was scanned at the arrival, or if the
 * ledger has it anywhere but in the van, since somebody then had it in hand. Of a load from before loads had numbers
 * nothing can be said.
 */
export function loadsThatLeft({ day, items, containers }: OnRecord): Load[] {
  const all = listed(day, "loads/");
  const byId = new Map<string, ThingRecord>(
    [...items, ...containers].map((thing) => [thing.record_id, thing]),
  );
  const byNumber = thingsByNumber(items, containers);
  const loaded = (number: string, arrived: Set<string>): LoadedThing => {
    const thing = byNumber.get(number) ?? null;
    const at = thing && whereIs(thing, byId, number).place;
    const came = arrived.has(number) || (at !== null && at !== "van");
    return { number, thing, words: loadedWords(number, thing), came };
  };
  return all
    .filter(({ value }) => value.to_place === "van" && !value.of_load && value.numbers?.length)
    .map(({ id, value, set }) => {
      const arrivals = all.flatMap((load) => (load.value.of_load === id ? [load.value] : []));
      const arrived = new Set(arrivals.flatMap(({ numbers }) => numbers ?? []));
      const left = new Set(value.numbers);
      return {
        id,
        value,
        set,
        arrivals,
        things: [...left].map((number) => loaded(number, arrived)),
        over: [...arrived].filter((number) => !left.has(number)).map((number) => loaded(number, arrived)),
      };
    })
    .sort((a, b) => b.set.made_at.localeCompare(a.set.made_at));
}

/** A number and what it is on: "crate 7K3-QW5", "vase 7K3-QW5, piece 2 of 3". */
function loadedWords(number: string, thing: ThingRecord | null) {
  if (!thing) return `${shown(number)}, on nothing this device knows`;
  if (thing.kind === "container") return thingName(thing);
  const { piece, of } = fieldValue(thing, `tags/${number}`) ?? {};
  return `${thingName(thing)} ${shown(number)}${of && of > 1 ? `, piece ${piece} of ${of}` : ""}`;
}

export function notCome({ things }: Pick<Load, "things">): LoadedThing[] {
  return things.filter(({ came }) => !came);
}

/** How much of a load has come, in a few words: until the first of it is seen again all of it is on the way. */
export function comeWords(load: Pick<Load, "things" | "arrivals">): string {
  const [lacking, left] = [notCome(load).length, load.things.length];
  if (!lacking) return "all of it has come";
  return isOnTheWay(load) ? `${countWords(left, "thing")} on the way` : `${lacking} of ${left} not come`;
}

export function isOnTheWay({ things, arrivals }: Pick<Load, "things" | "arrivals">): boolean {
  return !arrivals.length && things.every(({ came }) => !came);
}

/** Which load it is: where it was bound, or who drove it. */
export function loadName({ value }: Pick<Load, "value">) {
  const driver = value.driver ? `, driven by ${value.driver}` : "";
  return `load to ${placeWords(value.to_place).toLowerCase()}${value.at ? `, ${value.at}` : ""}${driver}`;
}

/** What is said of a count at the store, against what left and not against this device's own scans. */
export function arrivalWords(load: Load): { agrees: boolean; words: string } {
  const [lacking, left] = [notCome(load), load.things.length];
  const came = `${left - lacking.length} of ${left} that left have come`;
  const short = lacking.length ? `. Not come: ${lacking.map(({ words }) => words).join("; ")}` : "";
  const over = load.over.length
    ? `. Came and had not left with it: ${load.over.map(({ words }) => words).join("; ")}`
    : "";
  return { agrees: !lacking.length && !load.over.length, words: `${came}${short}${over}` };
}
