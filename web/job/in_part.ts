/** What is so of a part of a thing, or of some of several, and of the rest for nobody to tell: a plated odd fork. */
import { type Described, seenFindings } from "./families.ts";
import { zoneNameOf, zoneOf } from "./places.ts";
import { isNamedIn } from "./there.ts";
import { isOnSomePieces, piecesOf } from "./which_piece.ts";

/** Whether all that was found on some zones is of some pieces, or of what a note names: all of it is not so. */
export function isInPartAlone({ plan, book, record }: Described, zones: readonly string[]) {
  const found = seenFindings(record).filter(({ value }) => zones.includes(zoneOf(value.zone)));
  const namesAnother = (zone: string, note: string) =>
    plan.zones.some((row) => row.zone !== zoneOf(zone) && isNamedIn(note, zoneNameOf(book, row.zone)));
  const isOfAPart = (note: string, zone: string) =>
    note.trim() !== "" && (piecesOf(record) > 1 || namesAnother(zone, note));
  return (
    found.length > 0 &&
    found.every(({ value }) => isOnSomePieces(record, value) || isOfAPart(value.note, value.zone))
  );
}

/** The subject of what is open then: "whether the others are". */
export function theRest({ record }: Described) {
  const all = piecesOf(record);
  if (all < 2) return "the rest of it is";
  return all === 2 ? "the other is" : "the others are";
}
