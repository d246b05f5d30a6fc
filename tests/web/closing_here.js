/** What a device reads off the records of a day that it holds; run by itself it answers for the days in a file. */
import { readFileSync, writeSync } from "node:fs";
import { idsOfThing } from "../../web/job/doubles.ts";
import { wholePlan } from "../../web/job/plan.ts";
import { differencesOn } from "./differences_of.js";

/** The records as a device puts them together, with the others of the same thing beside each. */
export function withDoubles(records) {
  const byId = new Map(records.map((record) => [record.record_id, record]));
  const merged = ({ record_id, fields }) => {
    const into = fields.merged?.value?.into_id;
    return into ? [[record_id, into]] : [];
  };
  const behind = new Map(records.flatMap(merged));
  return records.map((record) => {
    const doubles = idsOfThing(record.record_id, behind).slice(1);
    return doubles.length ? { ...record, doubles: doubles.flatMap((id) => byId.get(id) ?? []) } : record;
  });
}

/**
 * The differences of a day, each as its kind, its words, where to look, what it is and was known by. Doubles are put
 * together as a device does.
 */
export function differencesHere({ records, plans, rows, classes = {} }) {
  const of = (kind) => withDoubles(records).filter((record) => record.kind === kind);
  const [day] = of("day");
  const found = differencesOn({
    day,
    visits: of("visit"),
    items: of("item"),
    containers: of("container"),
    plan: (item) => {
      const written = plans[item.fields.class_id?.value];
      return written
        ? wholePlan({ tests: [], measures: [], negatives: [], questions: [], ...written })
        : null;
    },
    rowName: (hazard) => rows[hazard] ?? "",
    className: (class_id) => classes[class_id] ?? "",
  });
  return found.map(({ kind, words, at, key, former = "" }) => [kind, words, at, key, former]);
}

const file = process.argv[2];
if (import.meta.filename === process.argv[1] && file) {
  const days = JSON.parse(readFileSync(file, "utf-8"));
  writeSync(1, JSON.stringify(days.map(differencesHere)));
}
