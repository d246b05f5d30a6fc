/** Tickets that several visits have, and those that another device was to give. */

import { asOneTicket, ticketRuns } from "./tickets.ts";
import type { DayRecord, VisitRecord } from "./types.ts";
import { fieldValue, groupedBy } from "./values.ts";

/**
 * The visits that have a ticket which another visit has as well, by the ticket. Nobody can be called by one of these.
 */
export function doubledTickets(visits: readonly VisitRecord[]): Map<string, VisitRecord[]> {
  const byTicket = groupedBy(visits, (visit) => asOneTicket(fieldValue(visit, "ticket") ?? ""));
  return new Map([...byTicket].filter(([ticket, sharing]) => ticket && sharing.length > 1));
}

/** The other visits with the ticket of this one. */
export function sharersOf(visit: VisitRecord, visits: readonly VisitRecord[]): VisitRecord[] {
  const ticket = asOneTicket(fieldValue(visit, "ticket") ?? "");
  const sharing = doubledTickets(visits).get(ticket) ?? [];
  return sharing.filter(({ record_id }) => record_id !== visit.record_id);
}

/** Whose run a visit's ticket is of, where neither that device nor its first owner gave it: it may give it, too. */
export function ofOthersRun(day: DayRecord, visit: VisitRecord, visits: readonly VisitRecord[]): string {
  const set = visit.fields.ticket;
  const number = Number(/^Q(\d+)$/.exec(asOneTicket(fieldValue(visit, "ticket") ?? ""))?.[1]);
  const run = ticketRuns(day, visits).find(({ first, last }) => first <= number && number <= last);
  return run?.for_device_id && run.for_device_id !== set?.device_id ? run.given_to : "";
}
