/**
 * What was changed on a day after it was closed: two people signed for it as it was. At the office:
 * `intake/custody/changed_since.py`, held to the same lines by `fixtures/closing.json`.
 */

import { itemNamed } from "./closing_found.ts";
import { thingName } from "./custody.ts";
import type { CloseDay } from "./operations.ts";
import { shown } from "./tag.ts";
import { ticketWords } from "./tickets.ts";
import type { ContainerRecord, DayRecord, FieldValue, ItemRecord, RecordCopy, VisitRecord } from "./types.ts";
import { fieldWords } from "./value_words.ts";
import { fieldValue, groupedBy, instant } from "./values.ts";

/** A record of the day that is otherwise than at the closing: in words, and where to look. */
export type Changed = { key: string; words: string; at: string };

/** What a closing does not rest on: the closing itself, what another field says too, and the desk's own words. */
const BESIDE: ReadonlySet<string> = new Set([
  ...[
    "closed",
    "first-signings",
    "reasons",
    "moves",
    "handed",
    "plan_version",
    "pieces-back",
    "settlement-notes",
  ],
  ...["entry", "heading", "lot_description", "sentences", "sentence-order"],
]);
const OPENED = { day: "", visit: "opened", item: "put on the table", container: "opened" } as const;

export type OfDay = {
  day: DayRecord;
  visits: readonly VisitRecord[];
  items: readonly ItemRecord[];
  containers: readonly ContainerRecord[];
};

/**
 * Each record that was opened or changed after the closing, by the clocks as they were put right, and of which
 * something made before it came later; none of a day that is open.
 */
export function changedSince({ day, visits, items, containers }: OfDay): Changed[] {
  const { closed } = day.fields;
  if (!closed) return [];
  const since = instant(closed.made_at);
  const heard = heardTo(fieldValue(day, "closed")?.heard);
  const tickets = new Map(visits.map((visit) => [visit.record_id, ticketWords(visit)]));
  return [day, ...visits, ...items, ...containers].flatMap((record) => {
    const restsOn = Object.entries(record.fields)
      .filter(([name, set]) => set && !BESIDE.has(name.split("/")[0] ?? ""))
      .sort(([name], [other]) => (name < other ? -1 : 1));
    const said = restsOn.filter(([, set]) => instant(set.made_at) > since);
    const late = restsOn.filter(
      ([name, set]) => instant(set.made_at) <= since && heard?.(set) === false && !NOT_HELD.test(name),
    );
    const isNew = instant(record.opened_at ?? "") > since;
    const what = isNew
      ? openedWords(record)
      : whatChanged(
          said.map(([name]) => name),
          record,
        );
    const by = isNew ? [record.opened_by] : said.map(([, set]) => set.made_by);
    const at = record.kind === "day" ? "#/day" : `#/${record.kind}/${record.record_id}`;
    const name = nameOf(record, tickets);
    const lateWords = `came later: ${name}: ${counted(late.map(([name]) => name))}`;
    const lateBy = byWords(
      late.map(([, set]) => set.made_by),
      day,
    );
    const { record_id } = record;
    return [
      ...(late.length ? [{ key: `later ${record_id}`, words: lateWords + lateBy, at }] : []),
      ...(what ? [{ key: `changed ${record_id}`, words: `${name}: ${what}${byWords(by, day)}`, at }] : []),
    ];
  });
}

/** What no device that closes a day holds, so that it has never heard of it. */
const NOT_HELD = /^(consignor\/signatures\/|called)/;

type Made = Pick<FieldValue, "device_id" | "device_seq">;

/** Whether the closing's device had heard what is here; undefined of a closing that does not say how far it had. */
function heardTo(heard: CloseDay["heard"]) {
  if (!heard?.length) return;
  const by = new Map(heard.map(({ device_id, device_seq }) => [device_id, device_seq]));
  return ({ device_id, device_seq = 0 }: Made) => device_seq <= (by.get(device_id) ?? 0);
}

/** The list of `close_day.heard` holds so many devices. */
const MOST_HEARD = 300;

/** How far this device has heard each that something on the day's records is from, as a closing says it. */
export function heardFrom({ day, visits, items, containers }: OfDay): NonNullable<CloseDay["heard"]> {
  const heard = new Map<string, number>();
  for (const { fields } of [day, ...visits, ...items, ...containers])
    for (const { device_id, device_seq = 0 } of Object.values(fields))
      if (device_id && device_seq > (heard.get(device_id) ?? 0)) heard.set(device_id, device_seq);
  // Of more than a closing can name it says nothing: one left out would read as not heard at all.
  if (heard.size > MOST_HEARD) return [];
  return [...heard].map(([device_id, device_seq]) => ({ device_id, device_seq }));
}

function openedWords(record: RecordCopy) {
  const allowed = fieldValue(record, "allowed_by");
  return `${OPENED[record.kind]} after the closing${allowed ? `, ${allowed} allowed it` : ""}`;
}

/** Who allowed what was changed beside it, each by the name of the manager, who may have said why. */
const ALLOWED_BY = ["allowed_by", "stage_allowed_by"] as const;
type AllowedBy = (typeof ALLOWED_BY)[number];
const isAllowed = (name: string): name is AllowedBy => ALLOWED_BY.includes(name as AllowedBy);

/**
 * The fields by what they are called, each once: of several that are called alike with their count; and who allowed it.
 */
function whatChanged(names: readonly string[], record: RecordCopy) {
  const changed = names.filter((name) => !isAllowed(name));
  const words = counted(changed);
  const allowed = names.filter(isAllowed).map((name) => `allowed by ${fieldValue(record, name)}`);
  return [words, ...allowed].filter(Boolean).join("; ");
}

function counted(names: readonly string[]) {
  return [...groupedBy(names, calledSince)]
    .map(([words, { length }]) => (length === 1 ? words : `${words} (${length})`))
    .join(", ");
}

/** A number as it is printed on the tag. */
function calledSince(name: string) {
  return name.startsWith(TAG) ? `tag ${shown(name.slice(TAG.length))}` : fieldWords(name);
}

const TAG = "tags/";

function nameOf(record: RecordCopy, tickets: ReadonlyMap<string, string>) {
  if (record.kind === "day") return "the day";
  if (record.kind === "visit") return ticketWords(record);
  return record.kind === "item"
    ? itemNamed(record, tickets.get(record.visit_id) ?? "no visit")
    : thingName(record);
}

function byWords(by: readonly (string | undefined)[], day: DayRecord) {
  const names = [...new Set(by)].flatMap(
    (person_id) => fieldValue(day, `people/${person_id ?? ""}`)?.name ?? [],
  );
  return names.length ? ` (by ${names.join(", ")})` : "";
}
