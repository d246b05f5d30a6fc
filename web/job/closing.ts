/** The closing of a day: what does not agree, read off the records, so that it can be read with no network. */

import { saidBehindAlone } from "./behind.ts";
import { holdingCautions, isHeldApart, isStopped, standingCautions } from "./cautions.ts";
import { DIFFERENCES, type DifferenceKind, inOrder, keyOf, OF_NO_OWNER } from "./closing_kinds.ts";
import {
  claimIn,
  isWithOwner,
  piecesOf,
  placeWords,
  type RollCount,
  rollCounts,
  thingName,
  type Where,
  whereIs,
} from "./custody.ts";
import { ofOneName, tablesOf } from "./day_facts.ts";
import type { Place } from "./fields.ts";
import { type Incident, incidentWords, standingIncidents, timeWords } from "./incidents.ts";
import { type Load, lackingWords, loadsThatLeft, notCome, takenOut } from "./loads.ts";
import { oneThing } from "./one_thing.ts";
import type { Person } from "./operations.ts";
import { onMoreWords } from "./pieces.ts";
import { tagsOf, viewsLeft, zonesLeft } from "./progress.ts";
import { type Receipt, receiptState } from "./receipt.ts";
import { type Change, changesOnAll } from "./receipt_changes.ts";
import { referredTo } from "./referred.ts";
import { isLeftAlone, mayBeReturned } from "./stopped.ts";
import { shown } from "./tag.ts";
import { doubledTickets, ticketWords } from "./tickets.ts";
import type {
  ContainerRecord,
  DayRecord,
  FieldValue,
  ItemRecord,
  Plan,
  RecordCopy,
  ThingRecord,
  VisitRecord,
} from "./types.ts";
import { fieldWords } from "./value_words.ts";
import { fieldValue, groupedBy, listed, saidOf } from "./values.ts";
import { isBackWithOwner, isLater, latestOf, movesInOrder, piecesAway } from "./with_owner.ts";
import { countWords, firstUpper, isOrAre, spaced } from "./words.ts";

/** So many numbers are named in one line. */
const MOST_NAMED = 12;

/** A difference: of what kind, in words, the address where to look, and what it is known by (`keyOf`). */
export type Found = { kind: DifferenceKind; words: string; at: string; key: string };

/** All that a day's closing is read off. */
export type DayOnRecord = {
  day: DayRecord;
  visits: VisitRecord[];
  items: ItemRecord[];
  containers: ContainerRecord[];
  plan: (item: ItemRecord) => Plan | null;
  /** What the row of a hazard is called; "" if this device does not have it. */
  rowName?: (hazard: string) => string;
};
type Things = Map<string, ThingRecord>;
type Pieces = ReturnType<typeof piecesOf>;

/**
 * What the closing of a day has to name, every line one difference. Each part is found by itself, the longest first.
 * Items stand before what holds them: differences of one kind stay in the order in which they are found.
 */
export const PARTS: readonly ((on: DayOnRecord) => Found[])[] = [foundOnItems, foundOnVisits, foundOnDay];

/** All of them in the order of their kinds; how a part is found is the caller's, who may have kept it. */
export function differencesOf(part: (find: (on: DayOnRecord) => Found[], index: number) => Found[]): Found[] {
  return inOrder(PARTS.flatMap(part));
}

function foundOnItems({ day, visits, items, containers, plan }: DayOnRecord): Found[] {
  const byId = thingsOf(items, containers);
  const tickets = new Map(visits.map((visit) => [visit.record_id, ticketWords(visit)]));
  const ticket = (item: ItemRecord) => tickets.get(item.visit_id) ?? "no visit";
  const noted = notedAtCheckIn(day);
  return items.flatMap((item) => [
    ...ofStopped(item, ticket(item), day),
    ...ofItem(item, ticket(item), plan(item), byId, noted),
  ]);
}

function foundOnVisits({ day, visits, items, containers }: DayOnRecord): Found[] {
  const byId = thingsOf(items, containers);
  const doubled = new Set([...doubledTickets(visits).values()].flat());
  const came = (visit: VisitRecord) => (doubled.has(visit) ? cameWords(visit, day) : "");
  const itemsOf = groupedBy(items, ({ visit_id }) => visit_id);
  return [
    ...ofTickets(visits, itemsOf),
    ...visits.flatMap((visit) => ofVisit(visit, itemsOf.get(visit.record_id) ?? [], byId, came(visit))),
  ];
}

/** On the day itself: what happened, what holds its things and brings them away, its numbers, what people noted. */
function foundOnDay({ day, items, containers, rowName }: DayOnRecord): Found[] {
  const byId = thingsOf(items, containers);
  const loads = loadsThatLeft({ day, items, containers });
  return [
    ...standingIncidents(day).map((incident) => ofIncident(incident, day, rowName?.(incident.value.hazard))),
    ...ofContainers(containers, byId, loads),
    ...loads.flatMap(ofLoad),
    ...ofOneName(day).map(ofPeople),
    ...rollCounts(day, items, containers).flatMap(ofRoll),
    ...raised(day, byId),
  ];
}

function thingsOf(items: ItemRecord[], containers: ContainerRecord[]): Things {
  return new Map([...items, ...containers].map((thing) => [thing.record_id, thing]));
}

function ofIncident(incident: Incident, day: DayRecord, row?: string): Found {
  const set = day.fields[`incidents/${incident.id}`];
  const by = set && isNobodyOf(day, set) ? ", by somebody who is not on the day's list" : "";
  const words = `${incidentWords(incident, row)}${by}`;
  return { kind: "incident", words, at: "#/stop", key: keyOf("incident", incident.id) };
}

/** A difference about an item: whose it is, what it is and which numbers are on it stand before it. */
function onItem(item: ItemRecord, ticket: string, kind: DifferenceKind, words: string): Found {
  const tags = tagsOf(oneThing(item)).map(shown).join(", ");
  return {
    kind,
    words: `${ticket}, ${thingName(item)}${tags ? ` ${tags}` : ""}: ${words}`,
    at: `#/item/${item.record_id}`,
    key: keyOf(kind, item.record_id, words),
  };
}

/**
 * An item that a red caution stops, and what of it a person has to look at: a merged one if the caution is on its own
 * record, one that went back to its owner unless that was decided.
 */
function ofStopped(item: ItemRecord, ticket: string, day: DayRecord): Found[] {
  return [...(isStopped(item) ? stopped(item, day) : []), ...heardLate(item)].map(([kind, words]) =>
    onItem(item, ticket, kind, words),
  );
}

function stopped(item: ItemRecord, day: DayRecord): Named[] {
  const found: Named[] = [];
  const own = standingCautions(item).filter(({ value, on }) => value.level === "red" && on === item);
  const is_named = own.length > 0 || !fieldValue(item, "merged")?.into_id;
  const wrongly = isBackWithOwner(item) && !mayBeReturned(item);
  const went = referredTo(item);
  const decided = went ? `stopped, as was decided: ${went}` : "stopped, as was decided";
  const words = isLeftAlone(item) ? "stopped, and nobody has decided" : decided;
  if (is_named && wrongly) found.push(["stopped", `${words}, and the ledger says it is back with its owner`]);
  else if (is_named && !isBackWithOwner(item)) found.push(["stopped", words]);
  for (const { set } of own)
    if (isNobodyOf(day, set))
      found.push(["stopped", "Stop was pressed by somebody who is not on the day's list"]);
  return found;
}

/** Whether somebody made it who is not on the day's list: a Stop is taken from anybody. */
function isNobodyOf(day: DayRecord, { made_by }: FieldValue) {
  return Boolean(made_by) && !day.fields[`people/${made_by}`];
}

/** What is in the way of one item; nothing if it went home, since who signed for that stands with its visit. */
function ofItem(
  item: ItemRecord,
  ticket: string,
  plan: Plan | null,
  byId: Things,
  noted: ReadonlySet<string>,
): Found[] {
  const where = whereIs(item, byId);
  if (isWithOwner(item, byId)) return [];
  if (fieldValue(item, "merged")?.into_id) return []; // the record it stands behind is the one that counts
  const pieces = piecesOf(item, byId);
  return [
    ...(noted.has(item.record_id) ? [] : checkedIn(item)),
    ...contested(item, byId),
    ...saidBehind(item),
    ...numbers(item),
    ...unfinished(item, plan),
    ...whereabouts(item, where, pieces),
    ...leftBehind(item, where, pieces, byId),
    ...brokenChain(item, byId),
  ].map(([kind, words]) => onItem(item, ticket, kind, words));
}

type Named = [kind: DifferenceKind, words: string];

function checkedIn(item: ItemRecord): Named[] {
  const differs = differsBy(item);
  return differs
    ? [["new-damage", `differs from what was recorded: ${differs.words || "nothing written"}`]]
    : [];
}

function differsBy(item: ItemRecord) {
  return saidOf(item, "check-in").find(({ value }) => value.state === "differs")?.value;
}

/** What a check-in notes of a thing by itself. */
const OF_CHECK_IN: ReadonlySet<string> = new Set(["new-damage", "piece-short"]);

/** The things of which such a difference was noted: it stands for the check-in, until it is settled and afterwards. */
function notedAtCheckIn(day: DayRecord): ReadonlySet<string> {
  return new Set(
    listed(day, "differences/").flatMap(({ value }) =>
      value.thing_id && OF_CHECK_IN.has(value.difference) ? [value.thing_id] : [],
    ),
  );
}

function contested(item: ItemRecord, byId: Things): Named[] {
  return item.disagreements
    .filter((between) => !between.settled)
    .map((between) => {
      const claim = claimIn(between);
      if (!claim) return ["disagreement", `two people set ${fieldWords(between.field)} otherwise`];
      const other = thingName(byId.get(claim.item_id) ?? item);
      return ["tag-on-two", `tag ${shown(claim.tag)} was tied to “${other}” as well`];
    });
}

/** What only a record behind it says: nothing on record is lost in silence. */
function saidBehind(item: ItemRecord): Named[] {
  return (item.doubles ?? []).flatMap((behind) =>
    saidBehindAlone(item, behind).map((words): Named => ["disagreement", `the record behind it: ${words}`]),
  );
}

/** How a number may leave an item without another in its place. */
const NOT_REPLACED = ["taken-back", "on-another-item"];

function numbers(item: ItemRecord): Named[] {
  const found: Named[] = [];
  if (!tagsOf(oneThing(item)).length && !isLeftAlone(item) && !referredTo(item))
    found.push(["item-without-tag", "no tag is on it"]);
  for (const { value } of listed(oneThing(item), "tags/"))
    if (value.gone && !NOT_REPLACED.includes(value.gone) && !value.replaced_by)
      found.push(["tag-gone", `tag ${shown(value.tag)} is ${spaced(value.gone)} and was not replaced`]);
  return found;
}

/** Nothing is asked of what is stopped but what was decided. */
function unfinished(item: ItemRecord, plan: Plan | null): Named[] {
  if (isStopped(item)) return [];
  if (!plan) return [["class", "no class was chosen"]];
  if (plan.refer_only) return [];
  const found: Named[] = [];
  const left = zonesLeft(plan, item);
  if (left) found.push(["zones", `${left} of its zones ${left === 1 ? "was" : "were"} not spoken of`]);
  const views = viewsLeft(plan, item);
  if (views) found.push(["views", `${countWords(views, "view")} ${isOrAre(views)} missing`]);
  return found;
}

/** What the ledger says of an item that does not go together. */
function whereabouts(item: ItemRecord, { place, inside }: Where, pieces: Pieces): Named[] {
  const found: Named[] = [];
  const onTable = place === "table" && !inside.length;
  if (
    !isLeftAlone(item) &&
    !referredTo(item) &&
    onTable &&
    pieces.every((piece) => piece.where.place === "table")
  )
    found.push(["not-moved", "still at the table"]);
  if (isKeptApart(item) && !["isolation", "table"].includes(place))
    found.push(["held", `held, and the ledger says ${placeWords(place).toLowerCase()}`]);
  const of = Math.max(1, ...pieces.map((piece) => piece.of));
  // Its number went back with it: that it has none here is no gap.
  const back = piecesAway(item);
  const away = back.filter((number) => !pieces.some(({ piece }) => piece === number));
  if (of > 1 && pieces.length < of - away.length)
    found.push([
      "piece-short",
      `${pieces.length} of its ${of} pieces ${pieces.length === 1 ? "has" : "have"} a tag`,
    ]);
  // Of more numbers than that some are on covers; and one that stays may be on all that did not go.
  const said = fieldValue(item, "pieces") ?? 0;
  if (of - back.length > 1 && said > of)
    found.push(["piece-short", `${said} pieces of it were counted, and by its numbers there are ${of}`]);
  for (const words of onMoreWords(item)) found.push(["piece-short", words]);
  // What is with its owner is in no place of ours; that it went is named until it is signed for.
  const stand = pieces
    .filter(({ piece }) => !back.includes(piece))
    .sort((one, other) => one.piece - other.piece);
  const places = new Set(
    stand.map(({ where }) => [where.place, ...where.inside.map((outer) => outer.record_id)].join()),
  );
  if (places.size > 1) {
    const each = stand.map(
      (piece) => `${piece.piece} of ${piece.of} ${placeWords(piece.where.place).toLowerCase()}`,
    );
    found.push(["pieces-apart", `its pieces are apart: ${each.join(", ")}`]);
  }
  return found;
}

/**
 * What a device out of reach did to an item before it was stopped, and was heard of afterwards. Its clock may be
 * behind, so it stays on the list whatever has become of the item since.
 */
function heardLate(item: ItemRecord): Named[] {
  const late = listed(item, "heard-late/").length;
  if (!late) return [];
  const changes = late === 1 ? "a change" : `${late} changes`;
  return [
    [
      "heard-late",
      `${changes} by the clock from before it was stopped, heard after it: ask who touched it when`,
    ],
  ];
}

/** Where something lies that has not come to where things are kept, as the closing says it. */
const STILL: Partial<Record<Place, string>> = {
  table: "still at the table",
  bench: "still at the bench",
  holding: "still in the holding area",
  van: "still in the van",
};

/** An item, or a piece of it, that lies loose in the hall or the van; what is in a container is named with that. */
function leftBehind(item: ItemRecord, where: Where, pieces: Pieces, byId: Things): Named[] {
  const each = pieces.map((piece) => ({
    where: piece.where,
    which: piece.of > 1 ? `piece ${piece.piece} of ${piece.of}, ` : "",
  }));
  return (each.length ? each : [{ where, which: "" }]).flatMap(({ where, which }): Named[] => {
    if (isLeftIsolated(item, where, byId))
      return [["left-behind", `${which}${ISOLATED}, and no caution holds it`]];
    const still = STILL[where.place];
    return still && where.place !== "table" && !where.inside.length
      ? [["left-behind", `${which}${still}`]]
      : [];
  });
}

const ISOLATED = "in isolation";

function isKeptApart(item: ItemRecord) {
  return holdingCautions(item).length > 0 || isHeldApart(item);
}

/**
 * Whether something lies in isolation that nothing keeps there. What is in a container is named by itself only if
 * something beside it is kept there, else the container is.
 */
function isLeftIsolated(item: ItemRecord, { place, inside }: Where, byId: Things) {
  if (place !== "isolation" || isKeptApart(item) || isStopped(item) || referredTo(item)) return false;
  const outermost = inside.at(-1);
  return !outermost || holdsKeptApart(outermost, byId);
}

function holdsKeptApart(container: ThingRecord, byId: Things) {
  const isIn = (item: ItemRecord) =>
    [whereIs(item, byId), ...piecesOf(item, byId).map(({ where }) => where)].some(
      ({ inside }) => inside.at(-1) === container,
    );
  return [...byId.values()].some(
    (one) => one.kind === "item" && (isKeptApart(one) || isStopped(one)) && isIn(one),
  );
}

/** What has not come of a load is named with that load, once. */
function ofContainers(containers: ContainerRecord[], byId: Things, loads: Load[]): Found[] {
  const withLoads = new Set(
    loads.flatMap((load) => [...notCome(load), ...takenOut(load)].map(({ number }) => number)),
  );
  return containers.flatMap((container) => {
    const found: Named[] = [];
    const { place, inside } = whereIs(container, byId);
    // It is named with the one that it is in, or with its load.
    const isNamed = inside.length > 0 || withLoads.has(container.number);
    const still = isNamed ? undefined : STILL[place];
    if (still) found.push(["not-arrived", still]);
    if (place === "isolation" && !inside.length && !holdsKeptApart(container, byId))
      found.push(["not-arrived", `${ISOLATED}, and nothing in it is held`]);
    const seals = saidOf(container, "seal").map(({ value }) => value);
    const seal = seals.find(({ state }) => ["differs", "broken"].includes(state));
    if (seal)
      found.push(["seal-differs", `seal ${seal.seal} ${seal.state === "broken" ? "is broken" : "differs"}`]);
    return [...found, ...brokenChain(container, byId)].map(([kind, words]) => ({
      kind,
      words: `${thingName(container)}: ${words}`,
      at: `#/container/${container.record_id}`,
      key: keyOf(kind, container.record_id, words),
    }));
  });
}

function ofLoad(load: Load): Found[] {
  const words = firstUpper(lackingWords(load));
  return words
    ? [{ kind: "load-short", words, at: `#/load/${load.id}`, key: keyOf("load-short", load.id, words) }]
    : [];
}

/** Several on the day's list under one name: whose records are whose can then be told by nobody. */
function ofPeople(people: Person[]): Found {
  const how = people.map(({ roles }) => roles.join(", ")).join("; ");
  const have = `${people.length} on the day's list have this name (${how})`;
  const words = `${people[0]?.name}: ${have}; say whether they are one`;
  return { kind: "one-name", words, at: "#/day", key: keyOf("one-name", people[0]?.person_id ?? "") };
}

function ofRoll({ roll_id, given_to, passed }: RollCount): Found[] {
  if (!passed.length) return [];
  const more = passed.length - MOST_NAMED;
  const named = `${passed.slice(0, MOST_NAMED).map(shown).join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
  const words = `${given_to}: ${named} passed over and not struck through`;
  return [{ kind: "passed-over", words, at: "#/rolls", key: keyOf("passed-over", roll_id, words) }];
}

/** What somebody has noted, and nobody has settled; of what was noted at a check-in with what was written there. */
function raised(day: DayRecord, byId: Things): Found[] {
  return listed(day, "differences/")
    .filter(({ id }) => !fieldValue(day, `difference-ends/${id}`))
    .map(({ id, value }) => {
      const kind = DIFFERENCES.find(([key]) => key === value.difference)?.[1] ?? value.difference;
      const owner = value.owner_told || OF_NO_OWNER.has(value.difference) ? "" : ", the owner is not told";
      const thing = OF_CHECK_IN.has(value.difference) ? byId.get(value.thing_id ?? "") : undefined;
      const written = thing?.kind === "item" ? differsBy(thing)?.words : "";
      const words = [value.words, written].filter(Boolean).join(": ") || "nothing written";
      return {
        kind: value.difference,
        words: `${kind}: ${words}${owner}`,
        at: "#/closing",
        key: keyOf(value.difference, id),
      };
    });
}

/** So many things tell an owner from another. */
const MOST_BROUGHT = 2;

/**
 * A ticket that two owners hold, at each of them, with what they brought to tell them apart: whoever calls it, or looks
 * it up, may have the wrong one. No owner is named, since what a closing names stands in the log.
 */
function ofTickets(visits: VisitRecord[], itemsOf: ReadonlyMap<string, ItemRecord[]>): Found[] {
  return [...doubledTickets(visits)].flatMap(([ticket, sharing]) =>
    sharing.map(({ record_id }) => {
      const hold = `${sharing.length} owners hold this ticket`;
      const brought = broughtWords(itemsOf.get(record_id) ?? []);
      return {
        kind: "ticket-on-two",
        words: `${ticket}: ${hold}, this one with ${brought}; give one of them another`,
        at: `#/visit/${record_id}`,
        key: keyOf("ticket-on-two", record_id),
      };
    }),
  );
}

function broughtWords(items: ItemRecord[]): string {
  const first = items.slice(0, MOST_BROUGHT).map(thingName).join(", ");
  const more = items.length - MOST_BROUGHT;
  return items.length ? `${first}${more > 0 ? ` and ${more} more` : ""}` : "nothing on record";
}

/** Which of two owners with one ticket it is: when they came, and to which table. */
function cameWords(visit: VisitRecord, day: DayRecord): string {
  const table = tablesOf(day).find(({ table_id }) => table_id === fieldValue(visit, "table_id"));
  return ` (came ${timeWords(visit.opened_at)}, ${table?.name ?? "no table"})`;
}

/** `items` are those of the visit; `came` tells it from another with the same ticket. */
function ofVisit(visit: VisitRecord, items: ItemRecord[], byId: Things, came: string): Found[] {
  const ticket = ticketWords(visit);
  const which = ticket + came;
  const hasLeft = fieldValue(visit, "stage") === "left";
  const { recorded, here, hereUnsigned, backUnsigned, standing } = receiptState(visit, items, byId);
  const counted = fieldValue(visit, "item_count");
  const address = `#/visit/${visit.record_id}`;
  const found: Found[] = [];
  const find = (kind: DifferenceKind, words: string, at = address) =>
    found.push({ kind, words: `${which}: ${words}`, at, key: keyOf(kind, visit.record_id, words) });
  if (!hasLeft) find("visit", "the visit is still open");
  for (const item of backUnsigned)
    found.push(onItem(item, ticket, "unsigned", "taken back, and nobody has signed for it"));
  const signed = listed(visit, "receipts/").filter(({ value }) => value.what === "taken-back");
  const back = new Set(signed.flatMap(({ value }) => value.lines.map(({ item_id }) => item_id)));
  for (const item of items)
    if (back.has(item.record_id) && isStopped(item) && !mayBeReturned(item))
      found.push(
        onItem(item, ticket, "stopped", "the owner has signed for having it back, and it is stopped"),
      );
  if (hasLeft && hereUnsigned.length)
    find(
      "no-receipt",
      `${hereUnsigned.length} of ${here.length} left here without the owner's signature`,
      `${address}/receipt`,
    );
  const changed = changedWords(
    changesOnAll(standing, items, () => ""),
    standing,
  );
  if (changed) find("receipt-changed", changed, `${address}/receipt`);
  if (Number.isInteger(counted) && counted !== recorded.length)
    find("count", `${counted} things counted at the table, ${recorded.length} on record`);
  return found;
}

/** What is otherwise than the receipts of a visit say, thing by thing; "" if nothing is. */
function changedWords(changes: readonly Change[], standing: readonly Receipt[]): string {
  if (!changes.length) return "";
  const numbers = standing.filter(({ id }) => changes.some(({ receipt_id }) => receipt_id === id));
  const things = [...groupedBy(changes, ({ now }) => now.item_id).values()];
  const named = things.slice(0, MOST_NAMED).map((of) => {
    const what = new Set(of.flatMap((change) => change.what)); // of one thing two lines may stand
    return `${of[0]?.name} (${[...what].join(", ")})`;
  });
  const more = things.length - named.length;
  const since = `changed since ${numbers.map(({ number }) => number).join(" and ")}`;
  const signed = `${numbers.length === 1 ? "was" : "were"} signed`;
  return `${since} ${signed}: ${named.join("; ")}${more ? ` and ${more} more` : ""}`;
}

/**
 * Moves that began elsewhere than the one before had ended; their order is that of devices' clocks, so a person looks.
 * What was put into a container in between has gone along with that.
 */
function brokenChain(thing: ThingRecord, byId: Things): Named[] {
  const moves = movesInOrder(thing).filter(({ value }) => !value.tag);
  const records = [thing, ...(thing.doubles ?? [])];
  const merged = latestOf(records.flatMap(({ fields }) => fields.merged ?? []));
  const isOn = (record: Pick<RecordCopy, "fields">, { id }: { id: string }) => `moves/${id}` in record.fields;
  return moves.flatMap((move, index): Named[] => {
    // Until it was known that they are one, each record told the moves of its own.
    const isOfAll = !merged || isLater(move.set, merged);
    const before = moves
      .slice(0, index)
      .findLast((one) => isOfAll || records.some((record) => isOn(record, one) && isOn(record, move)));
    const [begun, ended] = [move.value.from_place, before?.value.to_place];
    if (!before || !ended || !begun || begun === ended) return [];
    if (ended === "returned" && begun === "table" && isTiedSince(thing, before.set)) return [];
    if (begun === carriedTo(thing, before.set, move.set, byId)) return [];
    const [from, ledger] = [begun, ended].map((place) => placeWords(place).toLowerCase());
    return [["wrong-place", `moved from ${from}, while the ledger said ${ledger}`]];
  });
}

/** Whether a number was tied since: what came again after it went back came to a table. */
function isTiedSince(thing: ThingRecord, before: FieldValue) {
  return listed(thing, "tags/").some(({ set }) => isLater(set, before));
}

/**
 * Where a container, that a thing was put into after one of its moves, had brought it by the next; null if it was put
 * into none.
 */
function carriedTo(thing: ThingRecord, before: FieldValue, move: FieldValue, byId: Things): string | null {
  const { inside } = thing.fields;
  if (!inside || isLater(before, inside) || isLater(inside, move)) return null;
  const container = byId.get(fieldValue(thing, "inside")?.container_id ?? "");
  if (!container) return null;
  const outer = whereIs(container, byId).inside.at(-1) ?? container;
  return movesInOrder(outer).findLast(({ set }) => !isLater(set, move))?.value.to_place ?? "table";
}
