/** Reading a record: what stands under a name, or under each name of a family. */
import type { Families, Family, FieldName, FindingValue, ValueAt } from "./fields.ts";
import type { FieldValue, RecordCopy, VisitRecord } from "./types.ts";
import type { Stage } from "./words.ts";

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

/** Why a zone was not examined of which something was said that does not hold. */
export const TO_LOOK_AT = "to-look-at";

/** What was said of a zone; nothing while it is to be looked at again. */
export function zoneSaid(record: Fields, key: string) {
  const state = fieldValue(record, `zones/${key}`);
  return state?.reason === TO_LOOK_AT ? undefined : state;
}

/** Whether two people set a field otherwise, and nobody has settled it. */
export function isContested({ disagreements }: Pick<RecordCopy, "disagreements">, name: string) {
  return disagreements.some((between) => between.field === name && !between.settled);
}

/** One field of a family: `id` is what stands behind the family's name. */
export type Listed<Value> = { id: string; value: Value; set: FieldValue<Value> };

type Said = Pick<RecordCopy, "fields" | "disagreements">;

/**
 * All that is said of a field: the value in force, and both sides of each disagreement about it that nobody has
 * settled, either of which may come to hold. For whatever is to be careful.
 */
export function saidOf<Name extends FieldName>(
  { fields, disagreements }: Said,
  name: Name,
): FieldValue<ValueAt<Name>>[] {
  const sides = disagreements.flatMap(({ field, kept, other, settled }) =>
    field === name && !settled ? [kept, other] : [],
  );
  const current = fields[name];
  return (current ? [current, ...sides] : sides) as FieldValue<ValueAt<Name>>[];
}

/** Families by the fields they were read of: a record is never changed, another takes its place. */
const known = new WeakMap<Fields["fields"], Map<string, Listed<unknown>[]>>();
const NONE: readonly Listed<never>[] = [];

/** Something made of a record's fields alone, once for each state of them. */
export function onceEachState<Value>(make: (record: RecordCopy) => Value): (record: RecordCopy) => Value {
  const made = new WeakMap<Fields["fields"], { value: Value }>();
  return (record) => {
    const before = made.get(record.fields);
    if (before) return before.value;
    const value = make(record);
    made.set(record.fields, { value });
    return value;
  };
}

/** The same for what is made of a record's fields and of one other thing, such as the plan that it was made with. */
export function onceEachStateWith<Other extends object, Value>(
  make: (other: Other, record: RecordCopy) => Value,
): (other: Other, record: RecordCopy) => Value {
  const made = new WeakMap<Other, (record: RecordCopy) => Value>();
  return (other, record) => {
    const before = made.get(other) ?? onceEachState((of) => make(other, of));
    made.set(other, before);
    return before(record);
  };
}

/** The fields of a family, such as `listed(item, "tags/")`. */
export function listed<Name extends Family>(
  record: Fields,
  prefix: `${Name}/`,
): readonly Listed<Families[Name]>[] {
  const families = known.get(record.fields) ?? familiesOf(record);
  known.set(record.fields, families);
  return (families.get(prefix) as Listed<Families[Name]>[] | undefined) ?? NONE;
}

const SIGNATURES = "consignor/signatures/"; // the one family whose name has two parts

/** All of them in one pass: whoever asks for one mostly asks for the others. */
function familiesOf(record: Fields) {
  const families = new Map<string, Listed<unknown>[]>();
  for (const [name, set] of Object.entries(record.fields)) {
    const prefix = name.startsWith(SIGNATURES) ? SIGNATURES : name.slice(0, name.indexOf("/") + 1);
    if (!prefix) continue;
    const family = families.get(prefix) ?? [];
    families.set(prefix, family);
    family.push({ id: name.slice(prefix.length), value: set.value, set });
  }
  return families;
}

/** An instant as it is compared, whether or not parts of a second were said. */
export const instant = (made_at: string) => made_at.replace("Z", "");

/** The members of a list by what each is grouped by, in their order. */
export function groupedBy<Member>(list: Iterable<Member>, keyOf: (member: Member) => string) {
  const groups = new Map<string, Member[]>();
  for (const member of list) {
    const group = groups.get(keyOf(member)) ?? [];
    groups.set(keyOf(member), group);
    group.push(member);
  }
  return groups;
}

/** The live findings on a zone. */
export function findingsOn(record: Fields, zone: string): Listed<FindingValue>[] {
  return listed(record, "findings/").filter(({ value }) => value.zone === zone && !value.withdrawn);
}

/** What stands in `private` of a visit whose owner is named on no screen that the hall can read. */
export const PRIVATE = "yes";

/** Whether it is private; where two people said otherwise it is, until a person has settled it. */
export function isPrivate(visit: Said | null | undefined): boolean {
  return Boolean(visit) && saidOf(visit as Said, "private").some(({ value }) => value === PRIVATE);
}

/** Whether the words of its owner are here: what they bring stands on each visit from the first, though it be blank. */
export function readsOwner(visit: Said | null | undefined): boolean {
  return Boolean(visit && "kinds" in visit.fields);
}

/** A device as far as it says which owners sit at it. */
export type Seat = { role: string; device_id: string; table_id: string };

/** Whether an owner sits at a table now: at its seat, or called by it to no seat that anybody said. */
export function sitsAt(visit: Said | null | undefined, here: Seat): boolean {
  const { stage, table_id: seat } = visit?.fields ?? {};
  if (stage?.value !== "at-table") return false;
  return seat?.value ? seat.value === here.table_id : stage.device_id === here.device_id;
}

/**
 * Whether what the owner of a visit tells of a thing is asked for at a device: at a table where it reads them, or where
 * they sit by what is on record here, though the office has not heard yet that they were called and has sent no words.
 */
export function hearsOwner(visit: Said | null | undefined, here: Seat): boolean {
  return here.role !== "table" || readsOwner(visit) || sitsAt(visit, here);
}

/**
 * What an owner brought, in the door's words, where others may look on. The words are the owner's: a table has them,
 * and what they need, of who was called to it, and of nobody who waits for another.
 */
export function brought(visit: VisitRecord): string {
  return isPrivate(visit) ? "" : fieldValue(visit, "kinds") || "";
}

/** What an owner needs, as lists say it; of a private visit only that there is something to read on it. */
export function needsWords(visit: VisitRecord): string {
  const needs = fieldValue(visit, "needs") || "";
  return needs && isPrivate(visit) ? "see the visit" : needs;
}

/**
 * What the owner of a visit is called on a screen: by the whole name where this device reads it, and of a private visit
 * on no screen at all but those on which the name is written down and signed.
 */
export function ownerWords(visit: Said | null | undefined): string {
  if (isPrivate(visit)) return "Private";
  return fieldValue(visit, "consignor/name") || fieldValue(visit, "called") || "";
}

/** The visits of those who are at a stage of the day. */
export function atStage(visits: readonly VisitRecord[], stage: Stage) {
  return visits.filter((visit) => fieldValue(visit, "stage") === stage);
}
