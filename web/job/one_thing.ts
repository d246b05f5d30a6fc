/** The numbers, moves and whereabouts of a thing that was recorded more than once, as if one record had them all. */

import type { TagValue, ValueAt } from "./fields.ts";
import { setApart } from "./set_apart.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { fieldOfPiece, isLater, isReturn, latestOf } from "./with_owner.ts";

type Thing = Pick<RecordCopy, "fields" | "doubles">;
type Fields = RecordCopy["fields"];

const joinedOnce = new WeakMap<Thing, Fields>();
/** What came out of it: none of these is looked through again, as if all its numbers were those of one record. */
const madeOne = new WeakSet<Fields>();

/**
 * A record as it is if it is the only one of its thing; else with the numbers and moves of the others on it. Pieces
 * that two devices gave one place have each their own.
 */
export function oneThing<Of extends Thing>(record: Of): Of {
  if (madeOne.has(record.fields) || !(record.doubles?.length || fieldValue(record, "pieces"))) return record;
  const fields = joinedOnce.get(record) ?? joinedApart(record, record.doubles ?? []);
  joinedOnce.set(record, fields);
  if (fields === record.fields) return record;
  madeOne.add(fields);
  return { ...record, fields, doubles: [] };
}

function joinedApart(own: Thing, doubles: readonly RecordCopy[]): Fields {
  const fields = doubles.length ? joined(own, doubles) : own.fields;
  return setApart(
    fields,
    [own, ...doubles].map((one) => one.fields),
  );
}

type Tied = { id: string; on: Thing; value: TagValue; set: FieldValue };

function joined(own: Thing, doubles: readonly RecordCopy[]): Fields {
  const records: Thing[] = [own, ...doubles].map(({ fields }) => ({ fields }));
  const fields = { ...own.fields };
  // A number that two of them have is void if either says so, else it is on it.
  const weight = ({ value }: FieldValue) => {
    const { gone } = value as TagValue;
    return gone === "taken-back" ? 2 : gone ? 0 : 1;
  };
  for (const { fields: others } of doubles)
    for (const [name, set] of Object.entries(others)) {
      const known = fields[name];
      if (/^(tags|moves)\//.test(name) && (!known || weight(set) > weight(known))) fields[name] = set;
    }
  const tied: Tied[] = records.flatMap((on) =>
    listed(on, "tags/").flatMap((number) =>
      (fields[`tags/${number.id}`]?.value as TagValue | undefined)?.gone ? [] : { ...number, on },
    ),
  );
  const said = latestOf(
    records.flatMap(({ fields: { merged } }) =>
      (merged?.value as ValueAt<"merged"> | undefined)?.into_id ? (merged ?? []) : [],
    ),
  );
  for (const name of ["whereabouts", "inside"] as const) {
    // Nobody had both in mind who noted, before it was known that they are one, that one of them went back.
    const isOfOneAlone = (on: Thing, set: FieldValue) =>
      isReturn(set) &&
      !(said && isLater(set, said)) &&
      tied.some((number) => number.on !== on && !isReturn(fieldOfPiece(number.on, name, number.id)));
    const wholes = records.flatMap((on) => {
      const set = on.fields[name];
      return set && !isOfOneAlone(on, set) ? { on, set } : [];
    });
    const last = latestOf(wholes.map(({ set }) => set));
    if (last) fields[name] = last;
    else delete fields[name];
    for (const number of tied) {
      const { id, on, value, set } = number;
      const mine = fieldOfPiece(on, name, id);
      const others = [
        ...wholes.filter((whole) => whole.on !== on).map((whole) => whole.set),
        ...tied.flatMap((other) => {
          const its = other.on === on || (other.value.piece ?? 1) !== (value.piece ?? 1);
          const moved = its ? undefined : fieldOfPiece(other.on, name, other.id);
          // What was tied after this one went back is on what came again without it.
          const isFresh = mine && isReturn(mine) && isLater(other.set, mine);
          return moved && !isFresh && !isOfOneAlone(other.on, moved) ? moved : [];
        }),
      ].filter((other) => !(isReturn(other) && isLater(set, other)));
      const where = latestOf([mine ?? [], others].flat());
      if (where) fields[`${name}/${id}`] = where;
    }
  }
  return fields;
}

/** The record of a thing that has a number: operations name it by that. */
export function recordWith(record: RecordCopy, tag: string): RecordCopy {
  return [record, ...(record.doubles ?? [])].find((one) => fieldValue(one, `tags/${tag}`)) ?? record;
}
