/**
 * Of a set under one number each piece that goes back gets a number first. Two devices that had not heard of each other
 * give theirs the same place: these are two pieces all the same. `intake/custody/set_apart.py` has the same rules.
 */

import type { MoveValue, TagValue } from "./fields.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { instant } from "./values.ts";

type Fields = RecordCopy["fields"];
type Tied = { name: string; set: FieldValue<TagValue> };

/**
 * The fields of a thing with each of those on a place of its own: the first that no number has, as far as pieces were
 * counted. What one device gave back twice, or what was noted as come from its owner, came again between. `records` are
 * the fields of each of its records: two numbers of two of them are on one piece.
 */
export function setApart(fields: Fields, records: readonly Fields[]): Fields {
  const counted = (fields.pieces?.value as number | null | undefined) ?? 0;
  if (counted < 3) return fields;
  const places = new Set(tiedOf(fields, fields).map(placeOf));
  let apart = fields;
  for (const own of records) {
    const devices = new Map<number, Set<string>>();
    for (const tied of tiedOf(own, fields)) {
      const { name, set } = tied;
      if (set.value.gone !== "taken-back") continue;
      const gaveBack = devices.get(placeOf(tied)) ?? new Set();
      const isAgain = !gaveBack.size || gaveBack.has(set.device_id) || isFromOwner(fields, set.value);
      devices.set(placeOf(tied), gaveBack.add(set.device_id));
      const piece = isAgain ? counted + 1 : firstWithout(places);
      if (piece > counted) continue;
      places.add(piece);
      const of = Math.max(piece, set.value.of ?? 1);
      apart = { ...apart, [name]: { ...set, value: { ...set.value, piece, of } } };
    }
  }
  return apart;
}

const placeOf = ({ set }: Tied) => set.value.piece ?? 1;

function firstWithout(places: ReadonlySet<number>): number {
  let piece = 1;
  while (places.has(piece)) piece += 1;
  return piece;
}

/** The numbers of one of its records as they are on all of it, in the order in which they came off. */
function tiedOf(own: Fields, fields: Fields): Tied[] {
  const key = ({ name, set }: Tied) => `${instant(set.made_at)} ${name}`;
  return Object.keys(own)
    .filter((name) => name.startsWith("tags/"))
    .map((name) => ({ name, set: fields[name] as FieldValue<TagValue> }))
    .sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

function isFromOwner(fields: Fields, { tag }: TagValue): boolean {
  return Object.entries(fields).some(([name, { value }]) => {
    const moved = value as MoveValue;
    return name.startsWith("moves/") && moved.from_place === "returned" && (moved.tag ?? tag) === tag;
  });
}
