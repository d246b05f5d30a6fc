/**
 * Which ticket a door gives next, and which were given twice: read off the records, so that no network is needed.
 * A device has a run of its own, as tables have rolls of tags; without one it goes on with its own letters.
 */
import type { Families } from "./fields.ts";
import type { DayRecord, VisitRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/** What a device is known by where tickets and receipts are numbered. */
export type Numbering = { device_id: string; letters?: string | null | undefined };
/** `by`: the operation that gave it. */
export type TicketRun = Families["ticket-runs"] & { run_id: string; used: number; by: string };
/** The next ticket, how many are left in the device's runs, whether that is few, and whether it ever had one. */
export type NextTicket = { ticket: string; left: number; isFew: boolean; hasRun: boolean };

/** From so few on a door should have its next run at hand; of a small run from a third of it on. */
const FEW_LEFT = 10;
/** A ticket of a run has four signs at most, so that it can be called out in a hall. */
export const HIGHEST_TICKET = 999;
const LETTERS = "ABFMRWY";

/** The ticket of a run's number: Q and at least two figures. */
export function ticketOf(number: number): string {
  return `Q${String(number).padStart(2, "0")}`;
}

/** A ticket as it is compared: however it was typed. */
export function asOneTicket(ticket: string): string {
  return ticket.replace(/\s/g, "").toUpperCase();
}

/** A ticket that somebody typed, as it is called and written on slips. */
export function typedTicket(typed: string): string {
  return typed.trim().replace(/\s+/g, " ").toUpperCase();
}

/** The ticket of a visit; "no ticket" where its field was emptied. */
export function ticketWords(visit: VisitRecord | null | undefined): string {
  return fieldValue(visit, "ticket")?.trim() || "no ticket";
}

/**
 * What a device's own tickets and receipts begin with. One that was paired before the office gave letters out takes
 * some from its number, four of them, since nobody has seen to it that no other has the same.
 */
export function lettersOf({ device_id, letters }: Numbering): string {
  if (letters) return letters;
  let rest = Number.parseInt(device_id.replace(/\W/g, "").slice(-8), 16) || 0;
  let made = "";
  for (; made.length < 4; rest = Math.floor(rest / LETTERS.length)) made += LETTERS[rest % LETTERS.length];
  return made;
}

/** The numbers behind a beginning that visits have, such as those of Q in Q07. */
export function numbersOf(visits: readonly VisitRecord[], beginning: string): number[] {
  return visits.flatMap((visit) => {
    const ticket = asOneTicket(fieldValue(visit, "ticket") ?? "");
    const digits = ticket.startsWith(beginning) ? ticket.slice(beginning.length) : "";
    return /^\d+$/.test(digits) ? [Number(digits)] : [];
  });
}

/**
 * The tickets that were changed for another, as they are compared: whoever got that paper may hold it still, so it is
 * given to nobody else. They are passed over and not counted on from, since one of them may have been a slip of the
 * hand.
 */
export function usedUp(visits: readonly VisitRecord[]): ReadonlySet<string> {
  const changed = visits.flatMap((visit) => [
    ...listed(visit, "tickets-before/").map(({ value }) => value),
    ...visit.disagreements
      .filter(({ field }) => field === "ticket")
      .flatMap(({ kept, other }) => [String(kept.value), String(other.value)]),
  ]);
  return new Set(changed.map(asOneTicket));
}

/** The runs of a day in their order, with how many of each are used up: a run is gone through from its first on. */
export function ticketRuns(day: DayRecord, visits: readonly VisitRecord[]): TicketRun[] {
  const given = numbersOf(visits, "Q");
  return listed(day, "ticket-runs/")
    .map(({ id, value, set }) => {
      const within = given.filter((number) => number >= value.first && number <= value.last);
      return {
        run_id: id,
        by: set.operation_id,
        ...value,
        used: Math.max(value.first, ...within.map((number) => number + 1)) - value.first,
      };
    })
    .sort((a, b) => a.first - b.first);
}

/** Operations that the office was not heard about; `again` are those that it had before. */
type Unheard = readonly { operation_id: string; again?: unknown }[];

/** Whether the office is still to say that a run is given: another manager may have given its numbers elsewhere. */
export function isPromised(run: TicketRun, unheard: Unheard): boolean {
  return unheard.some(({ operation_id, again }) => operation_id === run.by && !again);
}

/**
 * The ticket that this device gives next: of its runs, and when they are used up or it has none, of its letters. No
 * ticket is given of a run that the office has not kept: a manager's own device would do so.
 */
export function nextTicket(
  day: DayRecord,
  visits: readonly VisitRecord[],
  device: Numbering,
  unheard: Unheard,
): NextTicket {
  const own = ticketRuns(day, visits).filter(
    (run) => run.for_device_id === device.device_id && !isPromised(run, unheard),
  );
  const gone = usedUp(visits);
  const free = own.flatMap(({ first, last, used }) =>
    Array.from({ length: last - first + 1 - used }, (_, index) => ticketOf(first + used + index)).filter(
      (ticket) => !gone.has(ticket),
    ),
  );
  const left = free.length;
  const given = own.reduce((sum, { first, last }) => sum + last - first + 1, 0);
  const isFew = left <= Math.min(FEW_LEFT, given / 3);
  if (free[0]) return { ticket: free[0], left, isFew, hasRun: true };
  const letters = lettersOf(device);
  const ofLetters = (number: number) => `${letters}${String(number).padStart(2, "0")}`;
  let next = 1 + Math.max(0, ...numbersOf(visits, letters));
  while (gone.has(ofLetters(next))) next += 1;
  return { ticket: ofLetters(next), left: 0, isFew, hasRun: own.length > 0 };
}
