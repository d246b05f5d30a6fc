/**
 * Who has what, and where: read off the records, so that a phone with no network can say it too.
 *
 * @import { RecordCopy } from "./types.js"
 */
import { tagsOf } from "./progress.js";
import { listed, valueOf } from "./record.js";
import { run, serialOf, shown } from "./tag.js";

/** Where things can be. Source: the trade's usual chain of custody, common practice. @type {[string, string][]} */
export const PLACES = [
  ["table", "Table"], ["bench", "Bench"], ["holding", "Holding area"], ["van", "Van"], ["store", "Store"], ["shelf", "Shelf"],
  ["isolation", "Isolation"], ["returned", "Back with the owner"],
];
/** @type {[string, string][]} */
export const DIFFERENCES = [
  ["item-short", "An item is missing"], ["item-over", "An item too many"], ["piece-short", "A piece is missing"],
  ["tag-without-item", "A tag without its item"], ["item-without-tag", "An item without a tag"], ["seal-differs", "A seal differs or is broken"],
  ["new-damage", "New damage"], ["record-without-item", "A record, and the owner says it was left"], ["wrong-item", "The count is right, the thing is wrong"],
  ["wrong-place", "Not where the ledger says"],
];
/** @type {[string, string][]} */
export const ENDS = [
  ["found", "Found"], ["owner-has-it", "The owner has it"], ["matched", "Matched"], ["re-tagged", "Re-tagged"], ["moved", "Moved"],
  ["corrected", "Record corrected"], ["claim-opened", "A claim is opened"],
];

/** @param {string|undefined|null} place */
export function placeWords(place) {
  return PLACES.find(([key]) => key === place)?.[1] ?? "Not moved yet";
}

/** @typedef {{place: string, at: string, inside: RecordCopy[]}} Where `inside` from the innermost container out */

/**
 * Where a thing, or one piece of it, is: its own last move, or that of what it is inside.
 * @param {RecordCopy} thing @param {Map<string, RecordCopy>} byId @param {string} [tag] the piece's
 * @returns {Where}
 */
export function whereIs(thing, byId, tag) {
  /** @type {RecordCopy[]} */
  const inside = [];
  const own = valueOf(thing, `whereabouts/${tag}`) ?? valueOf(thing, "whereabouts");
  if (own?.to_place === "returned") return { place: "returned", at: own.at, inside }; // out of whatever it was in
  const holder = (/** @type {RecordCopy} */ one, /** @type {string|undefined} */ piece) => byId.get((valueOf(one, `inside/${piece}`) ?? valueOf(one, "inside"))?.container_id ?? "");
  for (let outer = holder(thing, tag); outer && !inside.includes(outer); outer = holder(outer, undefined)) inside.push(outer);
  const last = inside.at(-1);
  const move = last ? valueOf(last, "whereabouts") : own;
  return { place: move?.to_place ?? "table", at: move?.at ?? "", inside };
}

/** The pieces of an item that have a tag each, and where each is. @param {RecordCopy} item @param {Map<string, RecordCopy>} byId */
export function piecesOf(item, byId) {
  return listed(item, "tags/").filter(({ value }) => !value.gone).sort((one, other) => one.value.piece - other.value.piece)
    .map(({ value }) => ({ tag: /** @type {string} */ (value.tag), piece: /** @type {number} */ (value.piece), of: /** @type {number} */ (value.of ?? 1), where: whereIs(item, byId, value.tag) }));
}

/** What lies directly in a container, whole or in pieces. @param {string} container_id @param {Iterable<RecordCopy>} things @returns {RecordCopy[]} */
export function contentsOf(container_id, things) {
  return [...things].filter((one) => Object.entries(one.fields).some(([name, set]) => (name === "inside" || name.startsWith("inside/")) && set.value.container_id === container_id));
}

/** How many pieces an item has, by what its tags say, those that are gone too. @param {RecordCopy} item */
export function pieceCount(item) {
  return Math.max(1, ...listed(item, "tags/").map(({ value }) => value.of ?? 1));
}

/** Whether all of it went back to its owner. @param {RecordCopy} item */
export function isReturned(item) {
  return valueOf(item, "whereabouts")?.to_place === "returned";
}

/** Which of an item's pieces are in a container: "2 of 3 here"; empty if all of it is. @param {RecordCopy} item @param {string} container_id */
export function piecesHere(item, container_id) {
  const tags = tagsOf(item);
  const of = pieceCount(item);
  const here = tags.filter((tag) => (valueOf(item, `inside/${tag}`) ?? valueOf(item, "inside"))?.container_id === container_id).length;
  return of > 1 ? `${here} of ${of} here` : "";
}

/** A number's item or container. @param {string} tag @param {RecordCopy[]} items @param {RecordCopy[]} containers @returns {RecordCopy|null} */
export function thingWith(tag, items, containers) {
  const had = items.filter((item) => valueOf(item, `tags/${tag}`));
  return had.find((item) => !valueOf(item, `tags/${tag}`).gone) ?? had[0] ?? containers.find((one) => one["number"] === tag) ?? null;
}

/** The numbers that an item asks for and another has, until somebody has settled it. @param {RecordCopy} item @returns {{tag: string, item_id: string}[]} */
export function claimsOf(item) {
  return item.disagreements.filter((one) => !one.settled && one.field.startsWith("tags/")).map((one) => one.kept.value);
}

/**
 * The numbers of an item that another item's record asks for, until somebody has settled it.
 * @param {RecordCopy} item @param {RecordCopy[]} items @returns {{tag: string, by: RecordCopy}[]}
 */
export function claimsOn(item, items) {
  return items.flatMap((by) => claimsOf(by).filter(({ item_id }) => item_id === item.record_id).map(({ tag }) => ({ tag, by })));
}

/** @param {RecordCopy} thing */
export function thingName(thing) {
  if (thing.kind === "container") return `${thing["kind_of"]} ${shown(thing["number"])}`;
  return valueOf(thing, "short_description") || "an item not named yet";
}

/** @typedef {{roll_id: string, first_tag: string, last_tag: string, count: number, given_to: string, for_device_id: string|null,
 *   used: number, spoiled: number, unused: number, passed: string[], next: string|null, low: boolean}} RollCount `passed` are unused numbers before a used one */

/** From this share of a roll on the next one should be at hand. */
const LOW = 0.8;

/**
 * Each roll with what became of its numbers; used, spoiled and unused add up to it.
 * @param {RecordCopy} day @param {RecordCopy[]} items @param {RecordCopy[]} containers @returns {RollCount[]}
 */
export function rollCounts(day, items, containers) {
  const used = new Set([...items.flatMap((item) => listed(item, "tags/").map(({ value }) => value.tag)), ...containers.map((one) => one["number"])]);
  const spoiled = new Set(listed(day, "spoiled/").map(({ value }) => value.tag));
  return listed(day, "rolls/").map(({ id, value }) => {
    const numbers = run(value.first_tag, value.count);
    const holder = valueOf(day, `roll-holders/${id}`) ?? { given_to: "", for_device_id: null };
    const gone = numbers.filter((one) => used.has(one)).length;
    const lost = numbers.filter((one) => !used.has(one) && spoiled.has(one)).length;
    const next = numbers.find((one) => !used.has(one) && !spoiled.has(one)) ?? null;
    const passed = numbers.slice(0, numbers.findLastIndex((one) => used.has(one)) + 1).filter((one) => !used.has(one) && !spoiled.has(one));
    return { roll_id: id, ...value, ...holder, passed, used: gone, spoiled: lost, unused: value.count - gone - lost, next, low: gone + lost >= LOW * value.count };
  }).sort((one, other) => serialOf(one.first_tag) - serialOf(other.first_tag));
}
