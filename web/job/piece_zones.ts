/** Pieces of which each is a zone of its own, such as a tureen, its cover and its stand. */
import { numberOf } from "./english.ts";
import type { Described } from "./families.ts";
import { countAlike } from "./piece_open.ts";
import { nounOf, zoneNameOf } from "./places.ts";
import { fieldValue } from "./values.ts";

const BETWEEN = /,\s*(?:and\s+)?|\s+(?:and|with)\s+/;

/**
 * Whether the name of a thing lists its pieces, one by one, and all but the first are zones: "tureen, cover and stand".
 * A fault on the stand is on none of the others, and what is no zone of its own is the first piece's.
 */
export function arePiecesZones({ plan, book, record }: Pick<Described, "plan" | "book" | "record">): boolean {
  const all = countAlike(record);
  if (all < 2) return false;
  const listed = (fieldValue(record, "short_description") ?? "").trim().toLowerCase().split(BETWEEN);
  const [first = "", ...others] = listed.map((piece) => piece.replace(/^(?:an?|the|its) /, ""));
  if (others.length !== all - 1 || new Set(others).size < others.length) return false;
  // Of two tureens with a cover nobody knows which has the fault.
  if (first.split(/[^\p{L}\d]+/u).some((word) => (numberOf(word) ?? 0) > 1)) return false;
  const zones = plan.zones.map(({ zone }) => nounOf(zoneNameOf(book, zone), 1));
  return others.every((piece) => zones.includes(piece));
}
