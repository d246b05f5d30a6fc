/** An owner who comes again on the same day goes on with their own visit: found by its ticket, or by their name. */

import { asOneTicket } from "./tickets.ts";
import type { VisitRecord } from "./types.ts";
import { fieldValue, isPrivate, listed, ownerWords } from "./values.ts";

const wordsOf = (text: string) => text.trim().toLowerCase().split(/\s+/).filter(Boolean);

/** A ticket as somebody may remember it: "4" and "q4" of Q04. */
const bare = (ticket: string) => asOneTicket(ticket).replace(/^([A-Z]*)0+(?=\d)/, "$1");

/**
 * Those of a day's visits that answer to what was typed: by the ticket that they have or had, or by what their owner is
 * called on this device, each word of it from its beginning. A private owner is found by the ticket alone.
 */
export function visitsFound(visits: readonly VisitRecord[], typed: string): VisitRecord[] {
  const asked = wordsOf(typed);
  const ticket = bare(typed);
  if (!asked.length) return [];
  return visits.filter((visit) => {
    const had = listed(visit, "tickets-before/").map(({ value }) => value);
    const tickets = [fieldValue(visit, "ticket") ?? "", ...had].map(bare);
    if (tickets.some((one) => one === ticket || one.replace(/^[A-Z]+/, "") === ticket)) return true;
    const names = isPrivate(visit) ? [] : wordsOf(ownerWords(visit));
    return asked.every((word) => names.some((name) => name.startsWith(word)));
  });
}
