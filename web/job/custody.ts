/** Who has what, and where: read off the records, so that a phone with no network can say it too. */

import type { Place, ValueAt, Whereabouts } from "./fields.ts";
import { oneThing } from "./one_thing.ts";
import { saidTakenAway } from "./referred.ts";
import { run, serialOf, shown } from "./tag.ts";
import type {
  ContainerRecord,
  DayRecord,
  Disagreement,
  ItemRecord,
  RecordCopy,
  ThingRecord,
} from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { fieldOfPiece, isBackWithOwner, isLater, isReturn, pieceCount } from "./with_owner.ts";

/** Where things can be. Source: the trade's usual chain of custody, common practice. */
export const PLACES: readonly (readonly [Place, string])[] = [
  ["table", "Table"],
  ["bench", "Bench"],
  ["holding", "Holding area"],
  ["van", "Van"],
  ["store", "Store"],
  ["shelf", "Shelf"],
  ["isolation", "Isolation"],
  ["returned", "Back with the owner"],
];

export function placeWords(place: string | undefined | null) {
  return PLACES.find(([key]) => key === place)?.[1] ?? "Not moved yet";
}

/** A place with what was noted of it, once: "Van 1, first trip", and "Van, first trip". */
export function placedWords(place: string | undefined | null, at: string, words = placeWords(place)) {
  const closely = at.trim();
  const isSaid = closely.toLowerCase().startsWith(words.toLowerCase());
  return isSaid ? closely : words + (closely && `, ${closely}`);
}

/** Where something goes, once: "to van 1, first trip", and "to van, first trip". */
export function toWords(place: string, at: string) {
  return `to ${placedWords(place, at, placeWords(place).toLowerCase())}`;
}

/**
 * Where a thing is that nobody handles, for whoever has to keep away from it; no owner's name, since the hall reads it.
 * Its number comes first: whoever carries things knows them by that. `table` is what the table of its visit is called;
 * "" if it has none.
 */
export function keepAwayFrom(
  [tag, ...others]: readonly string[],
  ticket: string,
  table: string,
  places: readonly Where[],
): string {
  const spots = places.map(({ place, at, inside }) => {
    const isAtTable = place === "table" && !inside.length;
    const spot = isAtTable ? table || "at a table" : placedWords(place, at);
    return [spot, ...inside.map((outer) => `in ${thingName(outer)}`)].join(", ");
  });
  const numbers = tag ? `${shown(tag)}${others.length ? ` and ${others.length} more` : ""}, ` : "";
  return `${numbers}${ticket ? `Ticket ${ticket}` : "No ticket"}, ${[...new Set(spots)].join("; and ")}`;
}

/** Wherever something of a thing is, by all of its records: its pieces, and the whole if one of them has no number. */
export function placesOf(item: ThingRecord, byId: ById): Where[] {
  const places = piecesOf(item, byId).map(({ where }) => where);
  return places.length < pieceCount(item) ? [...places, whereIs(item, byId)] : places;
}

/** Where something that is held apart may be. */
export const APART: ReadonlySet<string> = new Set(["isolation", "returned", "table"]);

/** What a thing is called in a warning; nobody looks for a name there. */
export const NO_NAME = "what has no name yet";

/** Where something is; `inside` from the innermost container out. */
export type Where = { place: Place; at: string; inside: ThingRecord[] };

/** The things by their ids: all of them, or each as it is asked for. */
export type ById = Pick<ReadonlyMap<string, ThingRecord>, "get">;

/** Where a thing, or the piece of it that has a tag, is: its own last move, or that of what it is inside. */
export function whereIs(thing: ThingRecord, byId: ById, tag?: string): Where {
  const inside: ThingRecord[] = [];
  const moved = fieldOfPiece(thing, "whereabouts", tag)?.value as Whereabouts | undefined;
  const isBack = moved?.to_place === "returned";
  // What is with its owner is out of whatever it was in.
  if (isBack && (tag || isBackWithOwner(thing))) return { place: "returned", at: moved.at, inside };
  const own = isBack ? undefined : moved; // some of it came again, and is at the table if nothing else is said of it
  const holder = (inner: ThingRecord, piece?: string) => byId.get(containerIdOf(inner, piece) ?? "");
  for (let outer = holder(thing, tag); outer && !inside.includes(outer); outer = holder(outer))
    inside.push(outer);
  const last = inside.at(-1);
  const move = last ? fieldValue(last, "whereabouts") : own;
  return { place: move?.to_place ?? "table", at: move?.at ?? "", inside };
}

/**
 * The container in which a thing, or the piece of it that has a tag, lies by itself. What was moved by itself since it
 * was put in is out: whoever moves it takes it in hand. So is what an authority took away.
 */
export function containerIdOf(thing: RecordCopy, tag?: string) {
  const inside = fieldOfPiece(thing, "inside", tag);
  const moved = fieldOfPiece(thing, "whereabouts", tag);
  return inside && !(moved && isLater(moved, inside)) && !saidTakenAway(thing)
    ? (inside.value as ValueAt<"inside">).container_id
    : undefined;
}

/** The pieces of an item that have a tag each, and where each is. */
export function piecesOf(item: ThingRecord, byId: ById) {
  const tied = listed(oneThing(item), "tags/").filter(({ value }) => !value.gone);
  const here = tied.filter(({ id }) => !isReturn(fieldOfPiece(item, "whereabouts", id)));
  // Of two records each has a number for the same piece: it is one piece.
  const isFirst = ({ id, value }: (typeof tied)[number]) =>
    (here.find((other) => other.value.piece === value.piece)?.id ?? id) === id;
  return (item.doubles?.length ? tied.filter(isFirst) : [...tied])
    .sort((a, b) => a.value.piece - b.value.piece)
    .map(({ value }) => ({
      tag: value.tag,
      piece: value.piece,
      of: value.of ?? 1,
      mark: value.mark,
      where: whereIs(item, byId, value.tag),
    }));
}

/** A number's item or container. */
export function thingWith(
  tag: string,
  items: ItemRecord[],
  containers: ContainerRecord[],
): ThingRecord | null {
  return thingsByNumber(items, containers).get(tag) ?? null;
}

/** Every number's item or container: an item that has it, else one that had it, else the container that bears it. */
export function thingsByNumber(
  items: readonly ItemRecord[],
  containers: readonly ContainerRecord[],
): ReadonlyMap<string, ThingRecord> {
  const tied = items.flatMap((thing) =>
    listed(thing, "tags/").map(({ id, value }) => ({ number: id, thing, gone: Boolean(value.gone) })),
  );
  const found = new Map<string, ThingRecord>();
  for (const { number, thing } of [
    ...tied.filter(({ gone }) => !gone),
    ...tied,
    ...containers.map((thing) => ({ number: thing.number, thing })),
  ])
    if (!found.has(number)) found.set(number, thing);
  return found;
}

/** A number that two items ask for, and the one that has it. */
export type Claim = { tag: string; item_id: string };

/** What a disagreement about a number that two items ask for is of; null if it is of something else. */
export function claimIn({ field, kept }: Disagreement): Claim | null {
  const value = kept.value as Partial<Claim>;
  return field.startsWith("tags/") && value.item_id ? (value as Claim) : null;
}

/** The numbers that an item asks for and another has, until somebody has settled it. */
export function claimsOf(item: RecordCopy): Claim[] {
  return item.disagreements.flatMap((between) => (between.settled ? [] : (claimIn(between) ?? [])));
}

/** Another item of the same visit that looks the same on paper. */
export function lookalikeOf(item: ItemRecord, items: ItemRecord[]): ItemRecord | null {
  const same = (field: "short_description" | "class_id", other: ItemRecord) =>
    (fieldValue(item, field) ?? "").trim().toLowerCase() ===
    (fieldValue(other, field) ?? "").trim().toLowerCase();
  if (!fieldValue(item, "short_description")) return null;
  const others = items.filter(
    ({ record_id, visit_id }) => record_id !== item.record_id && visit_id === item.visit_id,
  );
  return others.find((other) => same("short_description", other) && same("class_id", other)) ?? null;
}

export function thingName(thing: ThingRecord) {
  if (thing.kind === "container") return `${thing.kind_of} ${shown(thing.number)}`;
  return fieldValue(thing, "short_description") || "an item not named yet";
}

/** A roll and what became of its numbers; `passed` are unused numbers before a used one. */
export type RollCount = {
  roll_id: string;
  first_tag: string;
  last_tag: string;
  count: number;
  given_to: string;
  for_device_id: string | null;
  /** On things of its own day, those that came off again with them. */
  used: number;
  /** On things of other days, as far as this device holds those. */
  elsewhere: number;
  spoiled: number;
  unused: number;
  passed: string[];
  /** Those that are on nothing and not struck through. */
  left: string[];
  next: string | null;
  low: boolean;
};

/** What a roll is of that no device has: it waits in the office, or was printed for whoever runs out. */
export const NO_DEVICE = ["spare", "printed stock"] as const;

/**
 * Whether a roll is a device's: it goes by the device. One that was given out by name alone, before the device was
 * paired or with no word from the office, is its own if the names are the same, however they were typed.
 */
export function isRollOf(
  roll: Pick<RollCount, "for_device_id" | "given_to">,
  device: { device_id: string; name: string },
): boolean {
  if (roll.for_device_id) return roll.for_device_id === device.device_id;
  const plain = (name: string) => name.replace(/\s+/g, " ").trim().toLowerCase();
  return plain(roll.given_to) !== "" && plain(roll.given_to) === plain(device.name);
}

/** From this share of a roll on the next one should be at hand. */
const LOW = 0.8;

/** Each roll with what became of its numbers; used, on another day's things, spoiled and unused add up to it. */
export function rollCounts(day: DayRecord, items: ItemRecord[], containers: ContainerRecord[]): RollCount[] {
  if (!listed(day, "rolls/").length) return [];
  const isOfDay = ({ day_id }: { day_id: string }) => day_id === day.record_id;
  const numbersOn = (isThere: typeof isOfDay) =>
    new Set([
      ...items.filter(isThere).flatMap((item) => listed(item, "tags/").map(({ value }) => value.tag)),
      ...containers.filter(isThere).map((container) => container.number),
    ]);
  const used = numbersOn(isOfDay);
  const onOthers = numbersOn((thing) => !isOfDay(thing));
  const spoiled = new Set(listed(day, "spoiled/").map(({ value }) => value.tag));
  return listed(day, "rolls/")
    .map(({ id, value }) => {
      const numbers = run(value.first_tag, value.count);
      const holder = fieldValue(day, `roll-holders/${id}`) ?? { given_to: "", for_device_id: null };
      const gone = numbers.filter((tag) => used.has(tag)).length;
      const elsewhere = numbers.filter((tag) => !used.has(tag) && onOthers.has(tag)).length;
      const free = numbers.filter((tag) => !used.has(tag) && !onOthers.has(tag));
      const left = free.filter((tag) => !spoiled.has(tag));
      const lost = free.length - left.length;
      const last = numbers.findLast((tag) => used.has(tag)) ?? "";
      return {
        roll_id: id,
        ...value,
        ...holder,
        passed: left.filter((tag) => tag < last),
        left,
        used: gone,
        elsewhere,
        spoiled: lost,
        unused: left.length,
        next: left[0] ?? null,
        low: gone + elsewhere + lost >= LOW * value.count,
      };
    })
    .sort((a, b) => serialOf(a.first_tag) - serialOf(b.first_tag));
}
