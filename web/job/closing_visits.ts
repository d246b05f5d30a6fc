/** What is open with the owners: their tickets, what they left and what they signed for. */

import { isStopped } from "./cautions.ts";
import { type Found, knownBy, onItem, someOf, type Things } from "./closing_found.ts";
import { type DifferenceKind, keyOf } from "./closing_kinds.ts";
import { piecesOf, thingName } from "./custody.ts";
import { tablesOf } from "./day_facts.ts";
import { timeWords } from "./incidents.ts";
import { type Receipt, receiptState } from "./receipt.ts";
import { type Change, changesOnAll } from "./receipt_changes.ts";
import { mayBeReturned } from "./stopped.ts";
import { ticketWords } from "./tickets.ts";
import { doubledTickets } from "./tickets_shared.ts";
import type { DayRecord, ItemRecord, VisitRecord } from "./types.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";

/** So many things tell an owner from another. */
const MOST_BROUGHT = 2;

/**
 * A ticket that two owners hold, at each of them, with when they came and what they brought to tell them apart: whoever
 * calls it, or looks it up, may have the wrong one. No owner is named, since what a closing names stands in the log.
 */
export function ofTickets(
  visits: VisitRecord[],
  itemsOf: ReadonlyMap<string, ItemRecord[]>,
  came: (visit: VisitRecord) => string,
): Found[] {
  return [...doubledTickets(visits)].flatMap(([ticket, sharing]) =>
    sharing.map((visit) => {
      const { record_id } = visit;
      const hold = `${sharing.length} owners hold this ticket`;
      const brought = broughtWords(itemsOf.get(record_id) ?? []);
      return {
        kind: "ticket-on-two",
        words: `${ticket}${came(visit)}: ${hold}, this one with ${brought}; give one of them another`,
        at: `#/visit/${record_id}`,
        key: keyOf("ticket-on-two", record_id),
      };
    }),
  );
}

function broughtWords(items: ItemRecord[]): string {
  return items.length ? someOf(items, thingName, { most: MOST_BROUGHT }) : "nothing on record";
}

/** Which of two owners with one ticket it is: when they came, and to which table. */
export function cameWords(visit: VisitRecord, day: DayRecord): string {
  const table = tablesOf(day).find(({ table_id }) => table_id === fieldValue(visit, "table_id"));
  return ` (came ${timeWords(visit.opened_at)}, ${table?.name ?? "no table"})`;
}

type NameOfClass = (class_id: string) => string;

/** `items` are those of the visit; `came` tells it from another with the same ticket. */
export function ofVisit(
  visit: VisitRecord,
  items: ItemRecord[],
  byId: Things,
  { came, className }: { came: string; className: NameOfClass },
): Found[] {
  const ticket = ticketWords(visit);
  const which = ticket + came;
  const hasLeft = fieldValue(visit, "stage") === "left";
  const { recorded, here, hereUnsigned, backUnsigned, standing } = receiptState(visit, items, byId);
  const counted = fieldValue(visit, "item_count");
  const address = `#/visit/${visit.record_id}`;
  const found: Found[] = [];
  const find = (
    kind: DifferenceKind,
    words: string,
    at = address,
    known = knownBy(kind, visit.record_id, words),
  ) =>
    found.push({
      kind,
      words: `${which}: ${words}`,
      at,
      ...known,
      ...(hasLeft ? isOutOfReach(visit) && ({ holds: "no-number" } as const) : ({ holds: "here" } as const)),
    });
  if (!hasLeft) find("visit", "the visit is still open");
  for (const item of backUnsigned)
    found.push(onItem(item, ticket, "unsigned", "taken back, and nobody has signed for it"));
  const signed = listed(visit, "receipts/").filter(({ value }) => value.what === "taken-back");
  for (const { value } of signed)
    if (value.is_unnamed)
      find(
        "unsigned",
        `receipt ${value.number} for what was taken back names nobody who took it`,
        `${address}/receipt`,
      );
  const back = new Set(signed.flatMap(({ value }) => value.lines.map(({ item_id }) => item_id)));
  for (const item of items)
    if (back.has(item.record_id) && isStopped(item) && !mayBeReturned(item))
      found.push(
        onItem(item, ticket, "stopped", "the owner has signed for having it back, and it is stopped"),
      );
  // What is signed for at the end of a visit still may have gone on its way before that.
  const gone = hasLeft ? [] : hereUnsigned.filter((item) => hasGone(item, byId));
  if (gone.length)
    find(
      "no-receipt",
      `${gone.length} of ${here.length} left the hall without the owner's signature`,
      `${address}/receipt`,
    );
  if (hasLeft && hereUnsigned.length)
    find(
      "no-receipt",
      `${hereUnsigned.length} of ${here.length} left here without the owner's signature`,
      `${address}/receipt`,
    );
  // What was said of it holds under whichever name a house gives a class.
  const changes = changesOnAll(standing, items, () => "");
  const known = knownBy(
    "receipt-changed",
    visit.record_id,
    changedWords(changes, standing),
    changedOf(changes),
  );
  const changed = changedWords(changesOnAll(standing, items, className), standing);
  if (changed) find("receipt-changed", changed, `${address}/receipt`, known);
  if (Number.isInteger(counted) && counted !== recorded.length)
    find("count", `${counted} things counted at the table, ${recorded.length} on record`);
  return found;
}

/** Whether something is known of an owner on this device, and no telephone number. */
function isOutOfReach({ fields }: VisitRecord) {
  const isKnown = Object.keys(fields).some((name) => name.startsWith("consignor/"));
  return isKnown && !fields["consignor/telephone"]?.value;
}

const ON_ITS_WAY: ReadonlySet<string> = new Set(["van", "store", "shelf"]);

/** Whether a thing, or a piece of it, has left the hall. */
function hasGone(item: ItemRecord, byId: Things): boolean {
  return piecesOf(item, byId).some(({ where }) => ON_ITS_WAY.has(where.place));
}

/** The same by ids alone: which thing of which receipt, and what of it. */
function changedOf(changes: readonly Change[]): string {
  return changes
    .map(({ receipt_id, now, what }) => `${receipt_id} ${now.item_id} ${what.join(", ")}`)
    .join("; ");
}

/** What is otherwise than the receipts of a visit say, thing by thing; "" if nothing is. */
function changedWords(changes: readonly Change[], standing: readonly Receipt[]): string {
  if (!changes.length) return "";
  const numbers = standing.filter(({ id }) => changes.some(({ receipt_id }) => receipt_id === id));
  const things = [...groupedBy(changes, ({ now }) => now.item_id).values()];
  const nameOf = (of: readonly Change[]) => {
    const what = new Set(of.flatMap((change) => change.what)); // of one thing two lines may stand
    return `${of[0]?.name} (${[...what].join(", ")})`;
  };
  const since = `changed since ${numbers.map(({ number }) => number).join(" and ")}`;
  const signed = `${numbers.length === 1 ? "was" : "were"} signed`;
  return `${since} ${signed}: ${someOf(things, nameOf, { between: "; " })}`;
}
