/**
 * What was changed on a day after it was closed: two people signed for it as it was. At the office:
 * `intake/custody/changed_since.py`, held to the same lines by `fixtures/closing.json`.
 */

import { itemNamed } from "./closing_found.ts";
import { thingName } from "./custody.ts";
import { shown } from "./tag.ts";
import { ticketWords } from "./tickets.ts";
import type { ContainerRecord, DayRecord, ItemRecord, RecordCopy, VisitRecord } from "./types.ts";
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
 * Each record that was opened or changed after the closing, by the clocks as they were put right; none of a day that is
 * open.
 */
export function changedSince({ day, visits, items, containers }: OfDay): Changed[] {
  const { closed } = day.fields;
  if (!closed) return [];
  const since = instant(closed.made_at);
  const tickets = new Map(visits.map((visit) => [visit.record_id, ticketWords(visit)]));
  return [day, ...visits, ...items, ...containers].flatMap((record) => {
    const said = Object.entries(record.fields)
      .filter(([name, set]) => set && instant(set.made_at) > since && !BESIDE.has(name.split("/")[0] ?? ""))
      .sort(([name], [other]) => (name < other ? -1 : 1));
    const isNew = instant(record.opened_at ?? "") > since;
    const what = isNew
      ? openedWords(record)
      : whatChanged(
          said.map(([name]) => name),
          record,
        );
    const by = isNew ? [record.opened_by] : said.map(([, set]) => set.made_by);
    if (!what) return [];
    const at = record.kind === "day" ? "#/day" : `#/${record.kind}/${record.record_id}`;
    const words = `${nameOf(record, tickets)}: ${what}${byWords(by, day)}`;
    return [{ key: `changed ${record.record_id}`, words, at }];
  });
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
  const words = [...groupedBy(changed, calledSince)]
    .map(([words, { length }]) => (length === 1 ? words : `${words} (${length})`))
    .join(", ");
  const allowed = names.filter(isAllowed).map((name) => `allowed by ${fieldValue(record, name)}`);
  return [words, ...allowed].filter(Boolean).join("; ");
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
