/** The closing of a day: what does not agree, read off the records, so that it can be read with no network. */

import { holdingCautions, isHeldApart, isStopped } from "./cautions.ts";
import {
  claimIn,
  DIFFERENCES,
  isReturned,
  piecesOf,
  placeWords,
  rollCounts,
  thingName,
  whereIs,
} from "./custody.ts";
import { incidentWords, standingIncidents } from "./incidents.ts";
import { isRequired, photosOf, tagsOf, zonesLeft } from "./progress.ts";
import { receiptState } from "./receipt.ts";
import { isLeftAlone } from "./stopped.ts";
import { shown } from "./tag.ts";
import type {
  ContainerRecord,
  DayRecord,
  ItemRecord,
  Plan,
  RecordCopy,
  ThingRecord,
  VisitRecord,
} from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { fieldWords } from "./words.ts";

/** So many numbers are named in one line. */
const MOST_NAMED = 12;

/** A difference: of what kind, in words, and the address where to look. */
export type Found = { kind: string; words: string; at: string };

/** What the closing of a day has to name. Every line is one difference, with where to look. */
export function differencesOf({
  day,
  visits,
  items,
  containers,
  plan,
}: {
  day: DayRecord;
  visits: VisitRecord[];
  items: ItemRecord[];
  containers: ContainerRecord[];
  plan: (item: ItemRecord) => Plan | null;
}): Found[] {
  const found: Found[] = [];
  const byId = new Map([...items, ...containers].map((one) => [one.record_id, one]));
  const tickets = new Map(visits.map((visit) => [visit.record_id, fieldValue(visit, "ticket")]));
  const ticket = (item: ItemRecord) => tickets.get(item.visit_id) ?? "no visit";
  const say = (kind: string, thing: ThingRecord, words: string) =>
    found.push({
      kind,
      words: `${thing.kind === "item" ? `${ticket(thing)}, ` : ""}${thingName(thing)}${thing.kind === "item" && tagsOf(thing).length ? ` ${tagsOf(thing).map(shown).join(", ")}` : ""}: ${words}`,
      at: thing.kind === "item" ? `#/item/${thing.record_id}` : `#/container/${thing.record_id}`,
    });
  // First of all what may hurt somebody.
  for (const incident of standingIncidents(day))
    found.push({ kind: "incident", words: incidentWords(incident), at: "#/stop" });
  for (const item of items)
    if (isStopped(item) && !isReturned(item) && !fieldValue(item, "merged")?.into_id)
      say("stopped", item, isLeftAlone(item) ? "stopped, and nobody has decided" : "stopped, as was decided");
  for (const item of items) {
    const { place, inside } = whereIs(item, byId);
    const its = plan(item);
    if (place === "returned") continue; // who signed for it stands with its visit
    if (fieldValue(item, "merged")?.into_id) continue; // the record it stands behind is the one that counts
    const checkIn = fieldValue(item, "check-in");
    if (checkIn?.state === "differs")
      say("new-damage", item, `differs from its photographs: ${checkIn.words || "nothing written"}`);
    for (const one of item.disagreements.filter((between) => !between.settled)) {
      const claim = claimIn(one);
      if (claim)
        say(
          "tag-on-two",
          item,
          `tag ${shown(claim.tag)} was tied to “${thingName(byId.get(claim.item_id) ?? item)}” as well`,
        );
      else say("disagreement", item, `two people set ${fieldWords(one.field)} otherwise`);
    }
    const stopped = isStopped(item); // then nothing is asked of it but what was decided
    if (!tagsOf(item).length && !isLeftAlone(item)) say("item-without-tag", item, "no tag is on it");
    for (const { value } of listed(item, "tags/")) {
      if (value.gone && !["taken-back", "on-another-item"].includes(value.gone) && !value.replaced_by)
        say(
          "tag-gone",
          item,
          `tag ${shown(value.tag)} is ${value.gone.replace("-", " ")} and was not replaced`,
        );
    }
    if (its && !its.refer_only && !stopped) {
      const left = zonesLeft(its, item);
      if (left) say("zones", item, `${left} of its zones were not spoken of`);
      const taken = new Set(photosOf(item).map(({ value }) => value.view));
      const views = its.views.filter((view) => isRequired(view) && !taken.has(view.view)).length;
      if (views) say("views", item, `${views} views are missing`);
    }
    if (!its && !stopped) say("class", item, "no class was chosen");
    const pieces = piecesOf(item, byId);
    if (
      !isLeftAlone(item) &&
      place === "table" &&
      !inside.length &&
      pieces.every((one) => one.where.place === "table")
    )
      say("not-moved", item, "still at the table");
    if ((holdingCautions(item).length || isHeldApart(item)) && !["isolation", "table"].includes(place))
      say("held", item, `held, and the ledger says ${placeWords(place).toLowerCase()}`);
    const late = listed(item, "heard-late/").length;
    if (late && holdingCautions(item).length)
      say(
        "heard-late",
        item,
        `${late === 1 ? "a change" : `${late} changes`} by the clock from before it was stopped, heard after it: ask who touched it when`,
      );
    const of = Math.max(1, ...pieces.map((one) => one.of));
    if (of > 1 && pieces.length < of)
      say("piece-short", item, `${pieces.length} of its ${of} pieces have a tag`);
    const places = new Set(
      pieces.map((one) => [one.where.place, ...one.where.inside.map((outer) => outer.record_id)].join()),
    );
    if (places.size > 1)
      say(
        "piece-short",
        item,
        `its pieces are apart: ${pieces.map((one) => `${one.piece} of ${one.of} ${placeWords(one.where.place).toLowerCase()}`).join(", ")}`,
      );
    for (const words of brokenChain(item)) say("wrong-place", item, words);
  }
  const farthest = ["table", "bench", "holding", "van", "store", "shelf"];
  const top = Math.max(0, ...containers.map((one) => farthest.indexOf(whereIs(one, byId).place)));
  for (const one of containers) {
    const place = whereIs(one, byId).place;
    if (farthest.indexOf(place) >= 0 && farthest.indexOf(place) < Math.min(top, farthest.indexOf("store")))
      say(
        "not-arrived",
        one,
        `${placeWords(place).toLowerCase()}, while others are at the ${placeWords(farthest[top]).toLowerCase()}`,
      );
    const seal = fieldValue(one, "seal");
    if (seal && ["differs", "broken"].includes(seal.state))
      say("seal-differs", one, `seal ${seal.seal} ${seal.state === "broken" ? "is broken" : "differs"}`);
    for (const words of brokenChain(one)) say("wrong-place", one, words);
  }
  for (const { given_to, passed } of rollCounts(day, items, containers)) {
    if (passed.length)
      found.push({
        kind: "passed-over",
        words: `${given_to}: ${passed.slice(0, MOST_NAMED).map(shown).join(", ")}${passed.length > MOST_NAMED ? ` and ${passed.length - MOST_NAMED} more` : ""} passed over and not struck through`,
        at: "#/rolls",
      });
  }
  for (const { id, value } of listed(day, "differences/")) {
    if (fieldValue(day, `difference-ends/${id}`)) continue;
    const words = DIFFERENCES.find(([key]) => key === value.difference)?.[1] ?? value.difference;
    found.push({
      kind: value.difference,
      words: `${words}: ${value.words || "nothing written"}${value.owner_told ? "" : ", the owner is not told"}`,
      at: "#/closing",
    });
  }
  for (const visit of visits) {
    if (fieldValue(visit, "stage") !== "left")
      found.push({
        kind: "visit",
        words: `${fieldValue(visit, "ticket")}: the visit is still open`,
        at: `#/visit/${visit.record_id}`,
      });
    const { its, here, hereUnsigned, backUnsigned } = receiptState(visit, items, byId);
    for (const item of backUnsigned) say("unsigned", item, "taken back, and nobody has signed for it");
    if (fieldValue(visit, "stage") === "left" && hereUnsigned.length) {
      const left = `${hereUnsigned.length} of ${here.length} left here without the owner's signature`;
      found.push({
        kind: "no-receipt",
        words: `${fieldValue(visit, "ticket")}: ${left}`,
        at: `#/visit/${visit.record_id}/receipt`,
      });
    }
    const told = fieldValue(visit, "item_count");
    const recorded = its.length;
    if (Number.isInteger(told) && told !== recorded)
      found.push({
        kind: "count",
        words: `${fieldValue(visit, "ticket")}: ${told} things counted at the table, ${recorded} on record`,
        at: `#/visit/${visit.record_id}`,
      });
  }
  return found;
}

/** Moves that began elsewhere than the one before had ended; their order is that of devices' clocks, so a person looks. */
function brokenChain(thing: RecordCopy) {
  const moves = listed(thing, "moves/")
    .filter(({ value }) => !value.tag)
    .sort((one, other) => one.id.localeCompare(other.id));
  return moves.flatMap(({ value }, number) => {
    const before = moves[number - 1]?.value.to_place;
    return before && value.from_place && value.from_place !== before
      ? [
          `moved from ${placeWords(value.from_place).toLowerCase()}, while the ledger said ${placeWords(before).toLowerCase()}`,
        ]
      : [];
  });
}
