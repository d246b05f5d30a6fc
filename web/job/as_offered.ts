/** A record as its texts are made of it: the graver of two readings, and of what went back in part what is here. */
import { readingsOf } from "./families.ts";
import { backInPart, piecesCounted } from "./pieces.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { gravestOf } from "./unsettled.ts";
import { fieldValue, findingsOn, listed } from "./values.ts";

const known = new WeakMap<RecordCopy, RecordCopy>();

export function asOffered(said: RecordCopy): RecordCopy {
  const record = gravestOf(said);
  if (!backInPart(record)) return record;
  const before = known.get(record);
  if (before) return before;
  const fields = { ...record.fields, ...namedAsOne(record), ...clearOfOthers(record) };
  const offered = { ...record, fields };
  known.set(record, offered);
  known.set(offered, offered);
  return offered;
}

/** Of a pair of which one is here: "one of a pair of vases". */
function namedAsOne(record: RecordCopy): RecordCopy["fields"] {
  const { short_description: name } = record.fields;
  const [, pair = ""] =
    /^(?:(?:an?|one) )?(pair of .+)$/i.exec(fieldValue(record, "short_description") ?? "") ?? [];
  const { said, walked } = piecesCounted(record);
  if (!name || !pair || (said || walked) !== 2) return {};
  return {
    short_description: { ...name, value: `one of a ${pair.charAt(0).toLowerCase()}${pair.slice(1)}` },
  };
}

/** A zone was looked at whose faults are all on what went: of what is here nothing was found on it. */
function clearOfOthers(record: RecordCopy): RecordCopy["fields"] {
  const zones = listed(record, "zones/").flatMap(({ id, value, set }) => {
    if (value.state !== "finding") return [];
    const found = findingsOn(record, id);
    const areGone = found.length > 0 && found.every((one) => !readingsOf(record, one).length);
    const isTold = found.some((one) => one.value.certainty === "told");
    return areGone && !isTold
      ? [[`zones/${id}`, { ...set, value: { ...value, state: "clear" } }] as const]
      : [];
  });
  return Object.fromEntries(zones) as Record<string, FieldValue>;
}
