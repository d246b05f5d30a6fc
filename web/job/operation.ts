/** What an operation says by the table of kinds: which record and which field it is about, and what it sets there. */
import { KINDS, type KindSays } from "./kinds.ts";
import type { FieldValue, Operation } from "./types.ts";

/** What a kind says of itself; undefined for one that a later version made. */
export function saysOf(op: Operation): KindSays | undefined {
  return KINDS[op.kind];
}

/** A member of an operation by its name, which the table of kinds knows. */
function member(op: object, name: string): unknown {
  return (op as Record<string, unknown>)[name];
}

/** Who takes a thing back, or brings it again, where nobody typed a name. */
export const OWNER = "the owner";

/** The members of an operation that stay out of the log and may be erased, by their names in the table of kinds. */
export function personalIn(op: Operation): readonly string[] {
  const says: Partial<KindSays> = saysOf(op) ?? {};
  const { personal = [], personal_fields, personal_if = {}, of_owner } = says;
  if (Object.entries(personal_if).some(([name, word]) => member(op, name) !== word)) return [];
  if (of_owner) {
    const isOwners = ([name, place]: [string, string]) =>
      member(op, place) === "returned" && !["", OWNER].includes(member(op, name) as string);
    const own = Object.entries(of_owner).filter(isOwners);
    return own.length ? ["salt", ...own.map(([name]) => name)] : [];
  }
  return personal_fields && !personal_fields.includes(String(member(op, "field"))) ? [] : personal;
}

/** An instant as a text that sorts in its order, with a fraction of a second or without. */
export function instant(at: string): string {
  return at.replace("Z", "");
}

/** The record that an operation touches. */
export function recordIdOf(op: Operation): string {
  return String(member(op, saysOf(op)?.record ?? "record_id") ?? "");
}

/** These members of an operation; what a device left out is null. */
export function only<Op extends Operation, Name extends keyof Op>(op: Op, names: readonly Name[]) {
  return Object.fromEntries(names.map((name) => [name, op[name] ?? null])) as {
    [Member in Name]-?: Exclude<Op[Member], undefined>;
  };
}

/** The field that an edit sets, and the value it gets; null for operations that are no edit of one field. */
export function fieldOf(op: Operation): [name: string, value: unknown] | null {
  const says = saysOf(op);
  if (!says?.field || !says.value) return null;
  return [nameIn(says.field, op), valueIn(says, op)];
}

/** A field's name from its template: `inside[/{tag}]` is `inside` for an operation without a tag. */
export function nameIn(template: string, op: Operation) {
  const filled = template.replace(/\[(.*?){(\w+)}\]/, (_, start, name) =>
    (member(op, name) ?? null) === null ? "" : `${start}{${name}}`,
  );
  return filled.replace(/{(\w+)}/g, (_, name) => String(member(op, name)));
}

/** Of a kind that has them at times only, words that are personal stand apart from the value that it sets. */
function valueIn(says: KindSays, op: Operation) {
  const { value: members = [], left_out = {}, if_said = [], personal_if } = says;
  if (typeof members === "string") return member(op, members) ?? ("private_sha256" in op ? "" : undefined);
  const apart = personal_if ? personalIn(op) : [];
  const said = (name: string) => (apart.includes(name) ? "" : (member(op, name) ?? left_out[name] ?? null));
  const all = members.map((name) => [name, said(name)] as const);
  return Object.fromEntries(all.filter(([name, value]) => value || !if_said.includes(name)));
}

/** A value as whoever made the operation set it. */
export function setBy<Value>(op: Operation, value: Value): FieldValue<Value> {
  return {
    value,
    operation_id: op.operation_id,
    made_by: op.made_by,
    made_at: op.made_at,
    device_id: op.device_id,
    device_seq: op.device_seq,
  };
}
