/** What a receipt is numbered by: the ticket of its visit, and the letters of the device on which it is signed. */

import { asOneTicket, lettersOf, type Numbering, ticketWords } from "./tickets.ts";
import type { VisitRecord } from "./types.ts";
import { listed } from "./values.ts";

/**
 * The number of the receipt that a device signs next for a visit, such as Q36/A2: two devices that sign for one owner,
 * or for two owners with one ticket, never write the same, nor does one device for two owners with one ticket.
 */
export function nextReceiptNumber(
  visit: VisitRecord,
  visits: readonly VisitRecord[],
  device: Numbering,
): string {
  const beginning = `${ticketWords(visit)}/${lettersOf(device)}`;
  const own = listed(visit, "receipts/").filter(({ set }) => set.device_id === device.device_id);
  const figures = [visit, ...visits]
    .flatMap((each) => listed(each, "receipts/"))
    .map(({ value: { number } }) => asOneTicket(number))
    .filter((number) => number.startsWith(asOneTicket(beginning)))
    .map((number) => Number(number.slice(asOneTicket(beginning).length)) || 0);
  return `${beginning}${1 + Math.max(own.length, ...figures)}`;
}
