/** Loads: what left in the van by its numbers, and what of it has come; read off the records, with no network. */

import { HAS_COME } from "./compared.ts";
import { containerIdOf, placeWords, thingName, thingsByNumber, toWords, whereIs } from "./custody.ts";
import type { LoadValue } from "./fields.ts";
import { loadsInOrder } from "./loads_counted.ts";
import { partWords } from "./number_parts.ts";
import { asOneName } from "./one_name.ts";
import { takenAway } from "./referred.ts";
import { shown } from "./tag.ts";
import type { ContainerRecord, DayRecord, FieldValue, ItemRecord, ThingRecord } from "./types.ts";
import { fieldValue, instant, listed } from "./values.ts";
import { fieldOfPiece, isLater, movesInOrder } from "./with_owner.ts";
import { countWords } from "./words.ts";

/** All that the loads of a day are read off. */
export type OnRecord = { day: DayRecord; items: ItemRecord[]; containers: ContainerRecord[] };
/**
 * What became of what left: whether it came, when that is known, and where it is else, in words; "" if it is on the way
 * for all that is known. What left again is asked for with the later load.
 */
type Fate = { came: boolean; cameAt: string; now: string; again: boolean };
/** One number of a load and what it is on; `packed` is what lay in it when it left, null if nobody said. */
export type LoadedThing = Fate & {
  number: string;
  thing: ThingRecord | null;
  words: string;
  packed: LoadedThing[] | null;
};
/** A load that left; `over` came with it and did not leave with it. */
export type Load = {
  id: string;
  value: LoadValue;
  set: FieldValue;
  things: LoadedThing[];
  over: LoadedThing[];
  arrivals: LoadValue[];
};

/** As deep the office lets containers stand in each other; what a load says beyond it, or in a circle, is not read. */
const NESTED = 12;
const ON_THE_WAY: Fate = { came: false, cameAt: "", now: "", again: false };

/**
 * The loads that left in the van, the latest first. What left has come if it was scanned at the arrival, or if the
 * ledger has had it at the store since: what somebody took back into the hall has not. Of a load from before loads had
 * numbers nothing can be said.
 */
export function loadsThatLeft({ day, items, containers }: OnRecord): Load[] {
  const all = listed(day, "loads/");
  if (!all.length) return [];
  const byId = new Map<string, ThingRecord>(
    [...items, ...containers].map((thing) => [thing.record_id, thing]),
  );
  const byNumber = thingsByNumber(items, containers);
  const leaving = loadsInOrder(
    all.filter(({ value }) => value.to_place === "van" && !value.of_load && value.numbers?.length),
  )
    .reverse()
    .map((one) => ({ ...one, left: new Set([...(one.value.numbers ?? []), ...allPacked(one.value)]) }));
  return leaving.map(({ id, value, set, left }, index) => {
    const later = leaving.slice(0, index).reverse();
    const arrivals = all.filter((one) => one.value.of_load === id);
    const arrived = new Map(
      arrivals.flatMap((one) => (one.value.numbers ?? []).map((number) => [number, one.set.made_at])),
    );
    const again = (number: string) => later.find((one) => one.left.has(number))?.set.made_at ?? "";
    const own = new Set(value.numbers);
    const recount = later.find(
      (one) => one.set.device_id === set.device_id && [...own].some((number) => one.left.has(number)),
    );
    const recounted = (!arrived.size && recount?.set.made_at) || "";
    const packedOf = new Map((value.packed ?? []).map(({ container, numbers }) => [container, numbers]));
    const loaded = (number: string, holder: LoadedThing | null, depth = 0): LoadedThing => {
      const thing = byNumber.get(number) ?? null;
      const ledger = {
        byId,
        left: set.made_at,
        again: again(number),
        recounted,
        cameAt: arrived.get(number),
      };
      const one = {
        ...(thing || ledger.cameAt !== undefined ? fateOf(number, thing, holder, ledger) : ON_THE_WAY),
        ...{ number, thing, words: loadedWords(number, thing) },
        packed: null,
      };
      const within = (depth < NESTED && packedOf.get(number)) || [];
      packedOf.delete(number);
      const inner = within.filter((one) => !own.has(one)); // else it stands by itself
      return value.packed ? { ...one, packed: inner.map((next) => loaded(next, one, depth + 1)) } : one;
    };
    const over = [...arrived.keys()].filter((number) => !left.has(number));
    return {
      ...{ id, value, set, arrivals: arrivals.map((one) => one.value) },
      things: [...own].map((number) => loaded(number, null)),
      over: over.map((number) => loaded(number, null)),
    };
  });
}

/**
 * When a load left, when a thing left again with a later one, when the device counted some of the load again before any
 * of it came ("" if not), and when the thing was scanned at the arrival.
 */
type Ledger = {
  byId: Map<string, ThingRecord>;
  left: string;
  again: string;
  recounted: string;
  cameAt: string | undefined;
};

function fateOf(number: string, thing: ThingRecord | null, holder: LoadedThing | null, ledger: Ledger): Fate {
  const { byId, left, again, recounted, cameAt } = ledger;
  if (!thing || cameAt !== undefined) return { ...ON_THE_WAY, came: true, cameAt: cameAt ?? "" };
  const moves = movesBetween(thing, number, left, again);
  const stored = moves.find(({ value }) => HAS_COME.has(value.to_place));
  if (stored) return { ...ON_THE_WAY, came: true, cameAt: stored.set.made_at };
  if (again) return { ...ON_THE_WAY, now: "left again with a later load", again: true };
  if (recounted && !holder && isOutBefore(thing, number, recounted))
    return { ...ON_THE_WAY, now: "taken out as it was counted again", again: true };
  const said = fieldOfPiece(thing, "inside", number);
  const out = moves.find(({ set }) => said && isLater(set, said))?.set ?? said;
  const isStillIn = containerIdOf(thing, number) === holder?.thing?.record_id;
  const taken = takenAway(thing);
  if (taken) return { ...ON_THE_WAY, now: `taken away: ${taken}`, again: true };
  if (holder && (isStillIn || isAfter(out?.made_at ?? "", holder.cameAt))) return holder;
  const where = whereIs(thing, byId, number);
  if (holder && !where.inside.length && !moves.length)
    return { ...ON_THE_WAY, now: `taken out of ${holder.words}` };
  if (HAS_COME.has(where.place)) return { ...ON_THE_WAY, came: true };
  return { ...ON_THE_WAY, now: where.place === "van" ? "" : placeWords(where.place).toLowerCase() };
}

/** The moves of a thing, or of its piece with this number, since a load left and until it left again. */
function movesBetween(thing: ThingRecord, number: string, left: string, again: string) {
  return movesInOrder(thing).filter(({ value, set }) => {
    const at = instant(set.made_at);
    const isOfIt = !value.tag || value.tag === number;
    return isOfIt && at > instant(left) && (!again || at < instant(again));
  });
}

/** Whether a thing was out of the van when what it was with was counted again: it is of neither load. */
function isOutBefore(thing: ThingRecord, number: string, recounted: string) {
  return movesBetween(thing, number, "", recounted).at(-1)?.value.to_place !== "van";
}

function isAfter(since: string, came: string) {
  return Boolean(came) && instant(since) >= instant(came);
}

function allPacked({ packed }: LoadValue): string[] {
  return (packed ?? []).flatMap(({ numbers }) => numbers);
}

/** A number and what it is on: "crate 7K3-QW5", "vase 7K3-QW5, piece 2 of 3". */
function loadedWords(number: string, thing: ThingRecord | null) {
  if (!thing) return `${shown(number)}, on nothing this device knows`;
  if (thing.kind === "container") return thingName(thing);
  const tied = fieldValue(thing, `tags/${number}`);
  const part = tied && (tied.of ?? 1) > 1 ? `, ${partWords(thing, tied)}` : "";
  return `${thingName(thing)} ${shown(number)}${part}`;
}

const isLacking = ({ came, again }: Fate) => !came && !again;

/** What left by its own number, and has not come. */
export function notCome({ things }: Pick<Load, "things">): LoadedThing[] {
  return things.filter(isLacking);
}

/** What lay in something when it left, and was not in it when that came. */
export function takenOut({ things }: Pick<Load, "things">): LoadedThing[] {
  return things.flatMap(({ came, packed }) => {
    const within = (came && packed) || [];
    return [...notCome({ things: within }), ...takenOut({ things: within })];
  });
}

/** A thing that has not come, and where it is instead, if that is known. */
export function lackingName({ words, now }: LoadedThing) {
  return `${words}${now && ` (${now})`}`;
}

const lackingNames = (things: LoadedThing[]) => things.map(lackingName).join("; ");

/** How much of a load has come, in a few words: until the first of it is seen again all of it is on the way. */
export function comeWords(load: Pick<Load, "things" | "arrivals">): string {
  const [lacking, taken] = [notCome(load), takenOut(load).length];
  const waiting = lacking.filter(({ now }) => !now).length;
  const gone = load.things.filter((one) => one.again);
  const away = gone.filter(({ thing }) => thing && takenAway(thing)).length;
  const isWaiting = waiting && isOnTheWay(load);
  const said = [
    isWaiting && `${countWords(waiting, "thing")} on the way`,
    isWaiting && lacking.length > waiting && `${lacking.length - waiting} taken out of the van`,
    !isWaiting && lacking.length && `${lacking.length} of ${load.things.length} not come`,
    taken && `${countWords(taken, "thing")} missing from what came`,
    gone.length > away && `${gone.length - away} left again with a later load`,
    away && `${away} taken away`,
  ];
  return said.filter(Boolean).join(", ") || "all of it has come";
}

export function isOnTheWay({ things, arrivals }: Pick<Load, "things" | "arrivals">): boolean {
  return !arrivals.length && things.every(({ came }) => !came);
}

/**
 * Whether all of it left with a later load before any of it came, or was taken out for that: it was counted again, and
 * that one stands for it.
 */
export function isReplaced({ things, arrivals }: Pick<Load, "things" | "arrivals">): boolean {
  return !arrivals.length && things.every(({ again }) => again);
}

/** Which load it is: where it was bound, or who drove it. */
export function loadName({ value }: Pick<Load, "value">) {
  const driver = value.driver ? `, driven by ${value.driver}` : "";
  return `load ${toWords(value.to_place, value.at)}${driver}`;
}

/** Who handed a load over, or that one person did all of it: at the store the porter who drove may be there alone. */
export function handsWords(
  { given_by, taken_by }: Pick<LoadValue, "given_by" | "taken_by">,
  driver: string | null | undefined,
): string {
  if (asOneName(given_by) !== asOneName(taken_by)) return `given by ${given_by}, taken by ${taken_by}`;
  const drove = driver && asOneName(driver) === asOneName(taken_by) ? ", who drove it" : "";
  return `by ${taken_by} alone${drove}`;
}

/** Who has taken in of a load what came, with nobody beside them. */
export function aloneAtTheStore({ arrivals }: Pick<Load, "arrivals">): string[] {
  const alone = arrivals.filter(({ given_by, taken_by }) => asOneName(given_by) === asOneName(taken_by));
  return [...new Set(alone.map(({ taken_by }) => taken_by))];
}

/** What is said of a count at the store, against what left and not against this device's own scans. */
export function arrivalWords(load: Load): { agrees: boolean; words: string } {
  const [lacking, taken, left] = [notCome(load), takenOut(load), load.things.length];
  const came = `${load.things.filter((one) => one.came).length} of ${left} that left have come`;
  const short = lacking.length ? `. Not come: ${lackingNames(lacking)}` : "";
  const out = taken.length ? `. Missing from what came: ${lackingNames(taken)}` : "";
  const over = load.over.length
    ? `. Came and had not left with it: ${load.over.map(({ words }) => words).join("; ")}`
    : "";
  const agrees = !lacking.length && !taken.length && !load.over.length;
  return { agrees, words: `${came}${short}${out}${over}` };
}

/** The same where the ledger is told, too: what is nowhere else is still in the van. */
function withLedger(one: LoadedThing) {
  return { ...one, now: one.now || (one.thing ? "still in the van" : "") };
}

/** What the closing says of a load of which something has not come; "" if all of it has. */
export function lackingWords(load: Load): string {
  const [lacking, taken] = [notCome(load).map(withLedger), takenOut(load).map(withLedger)];
  const said = [
    lacking.length &&
      `${lacking.length} of ${countWords(load.things.length, "thing")} not come: ${lackingNames(lacking)}`,
    taken.length && `missing from what came: ${lackingNames(taken)}`,
  ].filter(Boolean);
  return said.length ? `${loadName(load)}: ${said.join("; ")}` : "";
}
