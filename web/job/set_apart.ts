/**
 * Of a set under one number each piece that goes back gets a number first. Two devices that had not heard of each other
 * give theirs the same place: these are two pieces all the same, also if one of them stays.
 * `intake/custody/set_apart.py` has the same rules.
 */

import type { MoveValue, TagValue } from "./fields.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { instant } from "./values.ts";

type Fields = RecordCopy["fields"];
type Tied = { name: string; set: FieldValue<TagValue> };

/**
 * The fields of a thing with each of those on a place of its own: the first that no number has, as far as pieces were
 * counted. What one device gave back twice, what was noted as come from its owner and what takes the place of a lost
 * number is on the same piece. `records` are the fields of each of its records: two numbers of two of them are on one
 * piece.
 */
export function setApart(fields: Fields, records: readonly Fields[]): Fields {
  const counted = (fields.pieces?.value as number | null | undefined) ?? 0;
  if (counted < 3) return fields;
  const places = new Set(tiedOf(fields, fields).map(placeOf));
  let apart = fields;
  for (const own of records) {
    const devices = new Map<number, Set<string>>();
    const tiedThere = tiedOf(own, fields);
    const isGone = ({ set }: Tied) => set.value.gone === "taken-back";
    for (const tied of [...tiedThere.filter(isGone), ...tiedThere.filter(({ set }) => !set.value.gone)]) {
      const { name, set } = tied;
      const gaveBack = devices.get(placeOf(tied)) ?? new Set();
      const isKnown = isFromOwner(fields, set.value) || isInstead(tiedThere, set.value);
      const isSame = isKnown || !gaveBack.size || gaveBack.has(set.device_id);
      if (isGone(tied)) devices.set(placeOf(tied), gaveBack.add(set.device_id));
      const piece = isSame ? counted + 1 : firstWithout(places);
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

/** The numbers of one of its records as they are on all of it, in the order in which they were tied or came off. */
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

/** Whether a number took the place of one that was lost, and is on what that was on. */
function isInstead(numbers: readonly Tied[], { tag }: TagValue): boolean {
  return numbers.some(({ set }) => set.value.replaced_by === tag);
}
