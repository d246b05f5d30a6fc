/**
 * What stands above the lines of a receipt: whose day it was, where and when. It stays as it was signed; what is
 * corrected of the day since is said beside it, as what changed on the things is.
 */
import { dateWords, dayFacts } from "./day_facts.ts";
import { instant } from "./operation.ts";
import type { ReceiptHead } from "./operations.ts";
import type { Receipt } from "./receipt.ts";
import { asOneTicket, ticketWords } from "./tickets.ts";
import type { DayRecord, VisitRecord } from "./types.ts";
import { fieldValue } from "./values.ts";
import { isSince } from "./with_owner.ts";

const PARTS = ["house", "place", "held_on"] as const;
/** What each is called to an owner. */
const NAMES: Record<keyof ReceiptHead, string> = {
  house: "the house",
  place: "the place",
  held_on: "the date",
};

/** As it would be signed now. */
export function headNow(day: DayRecord): ReceiptHead {
  const { house, place, held_on } = dayFacts(day);
  return { house, place, held_on };
}

/** As it was signed; of a receipt that does not say it, what the day was set up with if that was corrected since. */
export function headOf({ head, made_at }: Receipt, day: DayRecord): ReceiptHead {
  if (head) return head;
  const now = headNow(day);
  const [house, place, held_on] = PARTS.map((part) => {
    const set = day.fields[part];
    return set && instant(set.made_at) > instant(made_at) ? day[part] : now[part];
  });
  return { house: house ?? "", place: place ?? "", held_on: held_on ?? "" };
}

export function headWords({ house, place, held_on }: ReceiptHead): string {
  return `${house}, ${place}, ${dateWords(held_on)}`;
}

/** The ticket that its owner held as they signed: its number begins with it. */
export function ticketSigned({ number }: Pick<Receipt, "number">): string {
  return number.slice(0, Math.max(0, number.lastIndexOf("/")));
}

/** Whether the owner's name, or another one, was written after they signed. Which one stood there is not kept. */
export function isRenamed(receipt: Receipt, visit: VisitRecord): boolean {
  const name = visit.fields["consignor/name"];
  return Boolean(name?.value && isSince(name, receipt));
}

/** What of it is otherwise now, in words: "the house, now Millbrook Rooms"; with whose receipt it is. */
export function headChanges(
  receipt: Receipt,
  day: DayRecord,
  visit: VisitRecord | null | undefined,
): string[] {
  const [signed, now] = [headOf(receipt, day), headNow(day)];
  const ofDay = PARTS.flatMap((part) => {
    if (signed[part].trim() === now[part].trim()) return [];
    return [`${NAMES[part]}, now ${part === "held_on" ? dateWords(now[part]) : now[part]}`];
  });
  if (!visit) return ofDay;
  const [held, holds] = [ticketSigned(receipt), ticketWords(visit)];
  return [
    ...ofDay,
    ...(held && asOneTicket(held) !== asOneTicket(holds) ? [`the ticket, now ${holds}`] : []),
    ...(isRenamed(receipt, visit) ? [`the owner’s name, now ${fieldValue(visit, "consignor/name")}`] : []),
  ];
}

/**
 * What stands at the top of a screen with these receipts: of a single one its head as it was signed, and of one that is
 * yet to be signed that of now. Null where each stands under its own.
 */
export function headOnTop(receipts: readonly Receipt[], toSign: string | null, day: DayRecord) {
  const [only] = receipts;
  if (!only) return headNow(day);
  return receipts.length === 1 && !toSign ? headOf(only, day) : null;
}
