/**
 * Who has what, and where: read off the records, so that a phone with no network can say it too.
 *
 * @import { RecordCopy } from "./types.js"
 */
import { isRequired, photosOf, tagsOf, walk } from "./progress.js";
import { listed, standingCautions, valueOf } from "./record.js";
import { run, serialOf, shown } from "./tag.js";
import { fieldWords } from "./words.js";

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
  const holder = (/** @type {RecordCopy} */ one, /** @type {string|undefined} */ piece) => byId.get((valueOf(one, `inside/${piece}`) ?? valueOf(one, "inside"))?.container_id ?? "");
  for (let outer = holder(thing, tag); outer && !inside.includes(outer); outer = holder(outer, undefined)) inside.push(outer);
  const last = inside.at(-1);
  const move = last ? valueOf(last, "whereabouts") : (valueOf(thing, `whereabouts/${tag}`) ?? valueOf(thing, "whereabouts"));
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

/** Which of an item's pieces are in a container: "2 of 3 here"; empty if all of it is. @param {RecordCopy} item @param {string} container_id */
export function piecesHere(item, container_id) {
  const tags = tagsOf(item);
  const of = Math.max(1, ...listed(item, "tags/").map(({ value }) => value.of ?? 1));
  const here = tags.filter((tag) => (valueOf(item, `inside/${tag}`) ?? valueOf(item, "inside"))?.container_id === container_id).length;
  return of > 1 ? `${here} of ${of} here` : "";
}

/** A number's item or container. @param {string} tag @param {RecordCopy[]} items @param {RecordCopy[]} containers @returns {RecordCopy|null} */
export function thingWith(tag, items, containers) {
  const had = items.filter((item) => valueOf(item, `tags/${tag}`));
  return had.find((item) => !valueOf(item, `tags/${tag}`).gone) ?? had[0] ?? containers.find((one) => one["number"] === tag) ?? null;
}

/**
 * The numbers of an item that another item's record asks for, until somebody has settled it.
 * @param {RecordCopy} item @param {RecordCopy[]} items @returns {{tag: string, by: RecordCopy}[]}
 */
export function claimsOn(item, items) {
  return items.flatMap((by) => by.disagreements
    .filter((one) => !one.settled && one.field.startsWith("tags/") && one.kept.value.item_id === item.record_id)
    .map((one) => ({ tag: /** @type {string} */ (one.kept.value.tag), by })));
}

/** @param {RecordCopy} thing */
export function thingName(thing) {
  if (thing.kind === "container") return `${thing["kind_of"]} ${shown(thing["number"])}`;
  return valueOf(thing, "short_description") || "an item not named yet";
}

/** @typedef {{roll_id: string, first_tag: string, last_tag: string, count: number, given_to: string, for_device_id: string|null,
 *   used: number, spoiled: number, unused: number, next: string|null, low: boolean}} RollCount */

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
    return { roll_id: id, ...value, ...holder, used: gone, spoiled: lost, unused: value.count - gone - lost, next, low: gone + lost >= LOW * value.count };
  }).sort((one, other) => serialOf(one.first_tag) - serialOf(other.first_tag));
}

/**
 * What the closing of a day has to name. Every line is one difference, with where to look.
 * @param {{day: RecordCopy, visits: RecordCopy[], items: RecordCopy[], containers: RecordCopy[], plan: (item: RecordCopy) => import("./types.js").Plan|null}} given
 * @returns {{kind: string, words: string, at: string}[]}
 */
export function differencesOf({ day, visits, items, containers, plan }) {
  /** @type {{kind: string, words: string, at: string}[]} */
  const found = [];
  const byId = new Map([...items, ...containers].map((one) => [one.record_id, one]));
  const ticket = (/** @type {RecordCopy} */ item) => valueOf(visits.find((visit) => visit.record_id === item.visit_id), "ticket") ?? "no visit";
  const say = (/** @type {string} */ kind, /** @type {RecordCopy} */ thing, /** @type {string} */ words) => found.push({
    kind, words: `${thing.kind === "item" ? `${ticket(thing)}, ` : ""}${thingName(thing)}${thing.kind === "item" && tagsOf(thing).length ? ` ${tagsOf(thing).map(shown).join(", ")}` : ""}: ${words}`,
    at: thing.kind === "item" ? `#/item/${thing.record_id}` : `#/container/${thing.record_id}`,
  });
  for (const item of items) {
    const { place, inside } = whereIs(item, byId);
    const its = plan(item);
    if (place === "returned") {
      if (!valueOf(item, "whereabouts")?.signed) say("unsigned", item, "taken back, and nobody has signed for it");
      continue;
    }
    if (valueOf(item, "merged")?.into_id) continue; // the record it stands behind is the one that counts
    if (valueOf(item, "check-in")?.state === "differs") say("new-damage", item, `differs from its photographs: ${valueOf(item, "check-in").words || "nothing written"}`);
    for (const one of item.disagreements.filter((between) => !between.settled)) {
      const tag = one.field.startsWith("tags/") ? shown(one.kept.value.tag) : "";
      say(tag ? "tag-on-two" : "disagreement", item, tag ? `tag ${tag} was tied to “${thingName(byId.get(one.kept.value.item_id) ?? item)}” as well` : `two people set ${fieldWords(one.field)} otherwise`);
    }
    if (!tagsOf(item).length) say("item-without-tag", item, "no tag is on it");
    for (const { value } of listed(item, "tags/")) {
      if (value.gone && !["taken-back", "on-another-item"].includes(value.gone) && !value.replaced_by) say("tag-gone", item, `tag ${shown(value.tag)} is ${value.gone.replace("-", " ")} and was not replaced`);
    }
    if (its && !its.refer_only) {
      const left = walk(its, item).filter((step) => !step.state).length;
      if (left) say("zones", item, `${left} of its zones were not spoken of`);
      const taken = new Set(photosOf(item).map(({ value }) => value.view));
      const views = its.views.filter((view) => isRequired(view) && !taken.has(view.view)).length;
      if (views) say("views", item, `${views} views are missing`);
    }
    if (!its) say("class", item, "no class was chosen");
    if (place === "table" && !inside.length && !piecesOf(item, byId).some((one) => one.where.place !== "table")) say("not-moved", item, "still at the table");
    if (standingCautions(item).some(({ value }) => value.level !== "note") && !["isolation", "table"].includes(place)) say("held", item, `held, and the ledger says ${placeWords(place).toLowerCase()}`);
    const pieces = piecesOf(item, byId);
    const of = Math.max(1, ...pieces.map((one) => one.of));
    if (of > 1 && pieces.length < of) say("piece-short", item, `${pieces.length} of its ${of} pieces have a tag`);
    const places = new Set(pieces.map((one) => [one.where.place, ...one.where.inside.map((outer) => outer.record_id)].join()));
    if (places.size > 1) say("piece-short", item, `its pieces are apart: ${pieces.map((one) => `${one.piece} of ${one.of} ${placeWords(one.where.place).toLowerCase()}`).join(", ")}`);
    for (const words of brokenChain(item)) say("wrong-place", item, words);
  }
  const farthest = ["table", "bench", "holding", "van", "store", "shelf"];
  const top = Math.max(0, ...containers.map((one) => farthest.indexOf(whereIs(one, byId).place)));
  for (const one of containers) {
    const place = whereIs(one, byId).place;
    if (farthest.indexOf(place) >= 0 && farthest.indexOf(place) < Math.min(top, farthest.indexOf("store"))) say("not-arrived", one, `${placeWords(place).toLowerCase()}, while others are at the ${placeWords(farthest[top]).toLowerCase()}`);
    const seal = valueOf(one, "seal");
    if (seal && ["differs", "broken"].includes(seal.state)) say("seal-differs", one, `seal ${seal.seal} ${seal.state === "broken" ? "is broken" : "differs"}`);
    for (const words of brokenChain(one)) say("wrong-place", one, words);
  }
  for (const { id, value } of listed(day, "differences/")) {
    if (valueOf(day, `difference-ends/${id}`)) continue;
    const words = DIFFERENCES.find(([key]) => key === value.difference)?.[1] ?? value.difference;
    found.push({ kind: value.difference, words: `${words}: ${value.words || "nothing written"}${value.owner_told ? "" : ", the owner is not told"}`, at: "#/closing" });
  }
  for (const visit of visits) {
    if (valueOf(visit, "stage") !== "left") found.push({ kind: "visit", words: `${valueOf(visit, "ticket")}: the visit is still open`, at: `#/visit/${visit.record_id}` });
    const told = valueOf(visit, "item_count");
    const here = items.filter((item) => item.visit_id === visit.record_id && !valueOf(item, "merged")?.into_id).length;
    if (Number.isInteger(told) && told !== here) found.push({ kind: "count", words: `${valueOf(visit, "ticket")}: ${told} things counted at the table, ${here} on record`, at: `#/visit/${visit.record_id}` });
  }
  return found;
}

/** Moves that began elsewhere than the one before had ended; their order is that of devices' clocks, so a person looks. @param {RecordCopy} thing */
function brokenChain(thing) {
  const moves = listed(thing, "moves/").filter(({ value }) => !value.tag).sort((one, other) => one.id.localeCompare(other.id));
  return moves.flatMap(({ value }, number) => {
    const before = moves[number - 1]?.value.to_place;
    return before && value.from_place && value.from_place !== before ? [`moved from ${placeWords(value.from_place).toLowerCase()}, while the ledger said ${placeWords(before).toLowerCase()}`] : [];
  });
}
