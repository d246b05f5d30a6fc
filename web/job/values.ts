/** Reading a record: what stands under a name, or under each name of a family. */
import type { Families, Family, FieldName, FindingValue, ValueAt } from "./fields.ts";
import type { FieldValue, RecordCopy } from "./types.ts";

type Fields = Pick<RecordCopy, "fields">;

/**
 * The value of a field; undefined if nobody set it.
 * That it has the shape of its name is the office's promise, which read it with the model of its kind.
 */
export function fieldValue<Name extends FieldName>(
  record: Fields | null | undefined,
  name: Name,
): ValueAt<Name> | undefined {
  return record?.fields[name]?.value as ValueAt<Name> | undefined;
}

/** Whether two people set a field otherwise, and nobody has settled it. */
export function isContested({ disagreements }: Pick<RecordCopy, "disagreements">, name: string) {
  return disagreements.some((between) => between.field === name && !between.settled);
}

/** One field of a family: `id` is what stands behind the family's name. */
export type Listed<Value> = { id: string; value: Value; set: FieldValue<Value> };

/** Families that were read, by the fields they were read of: a record is never changed, another takes its place. */
const known = new WeakMap<Fields["fields"], Map<string, readonly Listed<unknown>[]>>();

/** The fields of a family, such as `listed(item, "tags/")`. */
export function listed<Name extends Family>(
  record: Fields,
  prefix: `${Name}/`,
): readonly Listed<Families[Name]>[] {
  const families = known.get(record.fields) ?? new Map<string, readonly Listed<unknown>[]>();
  const family = families.get(prefix) ?? familyOf(record, prefix);
  known.set(record.fields, families.set(prefix, family));
  return family as readonly Listed<Families[Name]>[];
}

function familyOf(record: Fields, prefix: string): Listed<unknown>[] {
  return Object.entries(record.fields)
    .filter(([name]) => name.startsWith(prefix))
    .map(([name, set]) => ({ id: name.slice(prefix.length), value: set.value, set }));
}

/** The live findings on a zone. */
export function findingsOn(record: Fields, zone: string): Listed<FindingValue>[] {
  return listed(record, "findings/").filter(({ value }) => value.zone === zone && !value.withdrawn);
}
