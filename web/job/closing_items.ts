/** What is in the way of one item: what stops it, what two people said of it, its numbers, pieces and whereabouts. */

import { saidBehindAlone } from "./behind.ts";
import { unsettled } from "./between.ts";
import { isStopped, standingCautions } from "./cautions.ts";
import {
  type Found,
  isNobodyOf,
  itemNamed,
  type Named,
  onItem,
  type Pieces,
  someOf,
  type Things,
} from "./closing_found.ts";
import { keyOf } from "./closing_kinds.ts";
import { brokenChain, isKeptApart, leftBehind } from "./closing_places.ts";
import { checksOf } from "./compared.ts";
import { isWithOwner, liesWords } from "./contents.ts";
import { claimIn, piecesOf, placeWords, thingName, type Where, whereIs } from "./custody.ts";
import { isAllDecided } from "./goes_home.ts";
import { lateActs, lateWords } from "./late_acts.ts";
import { isNotCome } from "./not_come.ts";
import { partWords } from "./number_parts.ts";
import { onMoreWords } from "./on_more.ts";
import { oneThing } from "./one_thing.ts";
import { tagsOf, viewsLeft, zonesLeft } from "./progress.ts";
import { referredTo, takenAway } from "./referred.ts";
import { isLeftAlone, mayBeReturned } from "./stopped.ts";
import { shown } from "./tag.ts";
import type { DayRecord, ItemRecord, Plan } from "./types.ts";
import { fieldWords } from "./value_words.ts";
import { fieldValue, listed } from "./values.ts";
import { isBackWithOwner, piecesAway } from "./with_owner.ts";
import { countWords, isOrAre, spaced } from "./words.ts";

/**
 * An item that a red caution stops, and what of it a person has to look at: a merged one if the caution is on its own
 * record, one that went back to its owner unless that was decided.
 */
export function ofStopped(item: ItemRecord, ticket: string, day: DayRecord, byId: Things): Found[] {
  const decided = decisionOn(item);
  return [
    ...(isStopped(item) ? stopped(item, day) : []).map(([kind, words]) => ({
      ...onItem(item, ticket, kind, words),
      ...(decided && { holds: decided }),
    })),
    ...ofLateActs(item, ticket, day, byId),
  ];
}

/** Whether all that stops it was decided on, and all so that it stays, apart from the others. */
function decisionOn(item: ItemRecord): Found["holds"] | null {
  const stops = standingCautions(item).filter(({ value }) => value.level === "red");
  if (!isAllDecided(item)) return null;
  const isApart = stops.every(
    ({ id, on }) => fieldValue(on, `caution-decisions/${id}`)?.decision === "isolated",
  );
  return isApart ? "apart" : "decided";
}

function stopped(item: ItemRecord, day: DayRecord): Named[] {
  const found: Named[] = [];
  const own = standingCautions(item).filter(({ value, on }) => value.level === "red" && on === item);
  const is_named = own.length > 0 || !fieldValue(item, "merged")?.into_id;
  const wrongly = isBackWithOwner(item) && !mayBeReturned(item);
  const went = referredTo(item);
  const decided = went ? `stopped, as was decided: ${went}` : "stopped, as was decided";
  const words = isAllDecided(item) ? decided : "stopped, and nobody has decided";
  if (is_named && wrongly) found.push(["stopped", `${words}, and the ledger says it is back with its owner`]);
  else if (is_named && !isBackWithOwner(item)) found.push(["stopped", words]);
  for (const { set } of own)
    if (isNobodyOf(day, set))
      found.push(["stopped", "Stop was pressed by somebody who is not on the day's list"]);
  return found;
}

/** What was done to it by whoever had not heard of the stop, and nobody has looked at since; known by what did it. */
function ofLateActs(item: ItemRecord, ticket: string, day: DayRecord, byId: Things): Found[] {
  return lateActs(item).map((act) => ({
    ...onItem(item, ticket, "heard-late", lateWords(item, act, day, byId)),
    at: `#/item/${item.record_id}/stop`,
    key: keyOf("heard-late", item.record_id, act.id),
  }));
}

/**
 * The things that a check-in's difference names, and the numbers that are named with a load: each is told once; and the
 * visits whose owner has left.
 */
export type NamedElsewhere = {
  noted: ReadonlySet<string>;
  withLoads: ReadonlySet<string>;
  gone: ReadonlySet<string>;
};

/**
 * What lies in isolation where it belongs, under a caution that nobody has cleared, and whose thing it is has gone:
 * whoever could say what becomes of it is asked no more today. Of all such things in one line.
 */
export function ofWaiting(
  items: readonly ItemRecord[],
  { day, byId, gone, ticket }: { day: DayRecord; byId: Things; gone: ReadonlySet<string>; ticket: TicketOf },
): Found[] {
  const waiting = items.filter(
    (item) =>
      gone.has(item.visit_id) &&
      whereIs(item, byId).place === "isolation" &&
      !(fieldValue(item, "merged")?.into_id || isStopped(item)) &&
      standingCautions(item).some(({ value }) => value.level === "amber"),
  );
  if (!waiting.length) return [];
  const named = someOf(waiting, (item) => itemNamed(item, ticket(item)), { between: "; " });
  const ids = waiting.map(({ record_id }) => record_id).sort();
  const words = `In isolation, nobody has cleared it, and its owner is gone: ${named}`;
  return [{ kind: "held", words, at: "#/places", key: keyOf("held", day.record_id, ids.join(",")) }];
}

type TicketOf = (item: ItemRecord) => string;

/** What is in the way of one item; nothing if it went home, since who signed for that stands with its visit. */
export function ofItem(
  item: ItemRecord,
  ticket: string,
  plan: Plan | null,
  byId: Things,
  { noted, withLoads, gone }: NamedElsewhere,
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
    ...whereabouts(item, where, pieces, gone),
    ...leftBehind(item, where, pieces, byId, withLoads),
    ...brokenChain(item, byId),
  ].map((named) => onItem(item, ticket, ...named));
}

function checkedIn(item: ItemRecord): Named[] {
  const differs = differsBy(item);
  if (differs?.state === "not-here")
    return isNotCome(item)
      ? [["item-short", ["was not there as it was unpacked", differs.words].filter(Boolean).join(": ")]]
      : [];
  return differs
    ? [["new-damage", `differs from what was recorded: ${differs.words || "nothing written"}`]]
    : [];
}

export function differsBy(item: ItemRecord) {
  const found = checksOf(item).flatMap(({ value }) => (value.state === "as-recorded" ? [] : value));
  // That something differs is graver than that some of it is still looked for.
  return found.find(({ state }) => state === "differs") ?? found[0];
}

/** What a check-in notes of a thing by itself. */
export const OF_CHECK_IN: ReadonlySet<string> = new Set(["new-damage", "piece-short", "item-short"]);

/** The things of which such a difference was noted: it stands for the check-in, until it is settled and afterwards. */
export function notedAtCheckIn(day: DayRecord): ReadonlySet<string> {
  return new Set(
    listed(day, "differences/").flatMap(({ value }) =>
      value.thing_id && OF_CHECK_IN.has(value.difference) ? [value.thing_id] : [],
    ),
  );
}

function contested(item: ItemRecord, byId: Things): Named[] {
  const beside = contestedBeside(item);
  const isBeside = new Set(beside.map(({ disagreement_id }) => disagreement_id));
  const read = unsettled(item)
    .filter(({ disagreement_id }) => !isBeside.has(disagreement_id))
    .map((between): Named => {
      const claim = claimIn(between);
      if (!claim) return setOtherwise(between.field);
      const other = thingName(byId.get(claim.item_id) ?? item);
      const of = `${claim.tag} ${claim.item_id}`;
      return ["tag-on-two", `tag ${shown(claim.tag)} was tied to “${other}” as well`, of];
    });
  return [...read, ...beside.map(({ family }) => setOtherwise(family))];
}

function setOtherwise(field: string): Named {
  return ["disagreement", `two people set ${fieldWords(field)} otherwise`];
}

/** What nobody has settled of fields that not every device reads, this one perhaps; what was settled here is. */
function contestedBeside({ contested_beside = [], disagreements }: ItemRecord) {
  const here = new Set(disagreements.flatMap((one) => (one.settled ? one.disagreement_id : [])));
  return contested_beside.filter(({ disagreement_id }) => !here.has(disagreement_id));
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
function whereabouts(
  item: ItemRecord,
  { place, inside }: Where,
  pieces: Pieces,
  gone: ReadonlySet<string>,
): Named[] {
  const found: Named[] = [];
  if (takenAway(item)) return found;
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
  // In isolation it lies where it belongs.
  if (place === "table" && isKeptApart(item) && !isStopped(item) && gone.has(item.visit_id))
    found.push(["held", "held apart, nobody has cleared it, and its owner is gone"]);
  const of = Math.max(1, ...pieces.map((piece) => piece.of));
  // Its number went back with it: that it has none here is no gap.
  const back = piecesAway(item);
  const away = back.filter((number) => !pieces.some(({ piece }) => piece === number));
  if (of > 1 && pieces.length < of - away.length)
    found.push(["item-without-tag", `${pieces.length} of its ${of} numbers ${isOrAre(pieces.length)} tied`]);
  for (const words of onMoreWords(item)) found.push(["disagreement", words]);
  // What is with its owner is in no place of ours; that it went is named until it is signed for.
  const stand = pieces
    .filter(({ piece }) => !back.includes(piece))
    .sort((one, other) => one.piece - other.piece);
  const places = new Set(
    stand.map(({ where }) => [where.place, ...where.inside.map((outer) => outer.record_id)].join()),
  );
  if (places.size > 1) {
    const each = stand.map(
      ({ tag, where, ...number }) => `${shown(tag)}, ${partWords(item, number)}, ${liesWords(where)}`,
    );
    // A part and a container may get another name: it is known by what closings of before said of it.
    const known = stand.map(
      (piece) => `${piece.piece} of ${piece.of} ${placeWords(piece.where.place).toLowerCase()}`,
    );
    const of = `its pieces are apart: ${known.join(", ")}`;
    found.push(["pieces-apart", `it is apart: ${each.join("; ")}`, of]);
  }
  return found;
}
