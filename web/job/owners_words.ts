/** An owner's words on records: which they are, and at which table they are read. */
import { KINDS } from "./kinds.ts";
import { fieldOf } from "./operation.ts";
import { withOperations } from "./record.ts";
import type { FieldValue, Operation, RecordCopy, VisitRecord } from "./types.ts";
import { type Seat, sitsAt } from "./values.ts";

const ERASED_FIELDS = [...KINDS.set_visit.personal_fields, "called"];

/** Whether a field has an owner's words, by its name or its family's. */
export function isOfOwner(name: string): boolean {
  return ERASED_FIELDS.some((key) => (key.endsWith("/") ? name.startsWith(key) : name === key));
}

/** The record with those alone of its owner's words that were said by these operations. */
export function withoutOwnersWords(record: RecordCopy, since: ReadonlySet<string> = new Set()): RecordCopy {
  return without(record, isOfOwner, ({ operation_id }) => since.has(operation_id));
}

/** The record with no field of its owner's, nor a picture of a visit, but for what stays. */
function without(
  record: RecordCopy,
  goes: (name: string) => boolean,
  stays: (set: FieldValue) => boolean,
): RecordCopy {
  const isPicture = (name: string) => record.kind === "visit" && name.startsWith("photos/");
  const fields = Object.entries(record.fields).filter(
    ([name, set]) => !(goes(name) || isPicture(name)) || stays(set),
  );
  return {
    ...record,
    fields: Object.fromEntries(fields),
    disagreements: record.disagreements.filter(({ field }) => !goes(field)),
  } as RecordCopy;
}

/** A table as it reads owners: where it sits, and its last operation before it took that seat. */
type Table = Seat & { sat_down_after?: number };

/**
 * Whether a table reads the owner of a visit: it opened the visit, or they sit at it now. The office says the same
 * (`own_visits` in reading.py; fixtures/own-visits.json has cases for both), and tells of it once it is reached.
 */
export function isOwnVisit(visit: VisitRecord, table: Table): boolean {
  const isOpening = ({ device_id, made_at }: FieldValue) =>
    device_id === table.device_id && made_at === visit.opened_at;
  return sitsAt(visit, table) || Object.values(visit.fields).some(isOpening);
}

type Made = Operation & { device_seq: number };

/**
 * The last operation of a table before an owner was none of its own: it took another seat, or let them go, by what
 * waits on the visit.
 */
export function readUntil(waiting: readonly Made[], { sat_down_after = 0 }: Table): number {
  const goes = waiting.findLast((op) => ["stage", "table_id"].includes(fieldOf(op)?.[0] ?? ""));
  return Math.max(sat_down_after, goes?.device_seq ?? 0);
}

/**
 * A visit that is none of a table's own, or a thing of it: with none of its owner's words but those that were typed
 * here since, which nobody but this device has. That there is a name is said, so that it is not asked for once more.
 */
export function asReadElsewhere(
  copy: RecordCopy | null,
  waiting: readonly Made[],
  until: number,
): RecordCopy | null {
  const then = withOperations(
    copy,
    waiting.filter(({ device_seq }) => device_seq <= until),
  );
  const since = waiting.filter(({ device_seq }) => device_seq > until);
  return withOperations(then && withNameUnread(then), since);
}

/** What a receipt lists everybody reads, though it goes with the owner's words, and what an owner is called by. */
const isReadByFew = (name: string) => isOfOwner(name) && name !== "called" && !name.startsWith("receipts/");

function withNameUnread(record: RecordCopy): RecordCopy {
  const bare = without(record, isReadByFew, () => false);
  const name = record.fields["consignor/name"];
  if (!name?.value || bare.fields.called) return bare;
  return { ...bare, fields: { ...bare.fields, called: { ...name, value: "" } } } as RecordCopy;
}
