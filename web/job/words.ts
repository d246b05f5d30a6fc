/** Words shown for the ids in records. */

import type { RecordTest, SetEntry } from "./operations.ts";
import { zoneName } from "./progress.ts";
import type { Operation } from "./types.ts";

export const CLASSES_WITHOUT_PLAN = "free";

export const STATE_WORDS: Record<string, string> = {
  clear: "Clear",
  finding: "Finding",
  "not-examined": "Not examined",
};
/** Where an owner is on the day. */
export const STAGES = [
  ["waiting", "Waiting"],
  ["at-table", "At the table"],
  ["left", "Left"],
] as const;
export type Stage = (typeof STAGES)[number][0];
export type EntryState = SetEntry["state"];
export const ENTRY_STATES: readonly (readonly [EntryState, string])[] = [
  ["waiting", "Waiting"],
  ["picked-up", "Picked up"],
  ["described", "Described"],
];
export const ENTRY_WORDS: Record<string, string> = Object.fromEntries(ENTRY_STATES);

/** What came of trying something. */
export const TEST_RESULTS: readonly (readonly [RecordTest["result"], string])[] = [
  ["works", "Works"],
  ["works-in-part", "Works in part"],
  ["no-response", "No response"],
  ["not-done", "Not done"],
];

/** How near the maker stands. Source: the trade's usual ladder, common practice. */
export const MAKER_CERTAINTIES: [string, string][] = [
  ["by", "By them, in our opinion"],
  ["attributed-to", "Attributed to"],
  ["workshop-of", "Workshop of"],
  ["circle-of", "Circle of"],
  ["follower-of", "Follower of"],
  ["manner-of", "Manner of"],
  ["after", "After"],
  ["region-period", "Place and period only"],
  ["unknown", "Not determined"],
];
export const DATE_CERTAINTIES: [string, string][] = [
  ["certain", "Certain"],
  ["probable", "Probable"],
  ["possible", "Possible"],
  ["not-determined", "Not determined"],
];

export const FIELD_WORDS: Record<string, string> = {
  class_id: "class",
  plan_version: "plan",
  short_description: "short description",
  seen_words: "seen",
  concluded_words: "concluded",
  told_words: "told by the owner",
  materials: "materials",
  maker: "maker",
  maker_certainty: "how sure of the maker",
  dates: "date",
  dates_certainty: "how sure of the date",
  marks_looked: "where marks were looked for",
  maker_evidence: "what speaks for the maker",
  dates_evidence: "what speaks for the date",
  colour_now: "colour now",
  colour_was: "colour where light did not reach",
  condition_words: "condition",
  grade: "the valuer's word",
  class_grade: "grade on the scale of its class",
  packaging: "packaging",
  heading: "heading",
  lot_description: "lot description",
  entry: "place in the queue",
  ticket: "ticket",
  bags: "bags",
  kinds: "kinds",
  needs: "needs",
  stage: "stage",
  table_id: "table",
  item_count: "things counted",
  note: "note",
};

/** A field's name for people. */
export function fieldWords(name: string) {
  const [head, ...rest] = name.split("/");
  const tail = rest.join(", ").replaceAll("-", " ");
  switch (head) {
    case "zones":
      return `zone ${tail}`;
    case "findings":
      return "a finding";
    case "photos":
      return "a photo";
    case "tags":
      return `tag ${tail}`;
    case "measures":
      return `measure ${tail}`;
    case "consignor":
      return `owner's ${tail.replaceAll("_", " ")}`;
    case "people":
      return "a person";
    case "denials":
      return `what was not found on ${tail}`;
    case "origins":
      return `what happened to ${tail}`;
    case "statements":
      return `the statement ${tail}`;
    case "tests":
      return `the test ${tail}`;
    case "marks":
      return "a mark";
    case "cautions":
      return "a caution";
    case "caution-decisions":
      return "the decision on a caution";
    case "sentences":
      return `a sentence of the ${rest[0] ?? "text"}`;
    case "sentence-order":
      return `the order of the ${rest[0] ?? "text"}'s sentences`;
    default:
      return FIELD_WORDS[name] ?? name;
  }
}

/** The name of something for people: "under-a-lamp" is "under a lamp". */
export function spaced(name: string | null | undefined) {
  return (name ?? "").replaceAll("-", " ");
}

/** A value for people. */
export function valueWords(given: unknown): string {
  if (given === null || given === undefined || given === "") return "nothing";
  if (typeof given !== "object") return String(given);
  if (Array.isArray(given)) return given.join(", ").replaceAll("-", " ") || "nothing";
  // Which family it is of is told by its members; all but a few of them are words.
  const value = given as Partial<Record<string, string>>;
  const withdrawn = value.withdrawn ? ", withdrawn" : "";
  if ("typed" in value) return value.typed || valueWords(value.value);
  if ("edtf" in value) return value.words || "nothing";
  if ("result" in value)
    return [spaced(value.result), spaced(value.why), value.note].filter(Boolean).join(", ");
  if ("reading" in value) return `“${value.text?.replaceAll("\n", " / ")}”, ${value.place}${withdrawn}`;
  if ("origin" in value && !value.term)
    return [spaced(value.origin) || "nothing", value.note].filter(Boolean).join(", ");
  if ("record_words" in value) return sentenceWords(value);
  if ("computed" in value) return value.word ?? `${value.computed}, as computed`;
  if (value.hazard) return `${value.level} caution ${value.hazard}: ${value.sign}`;
  if (value.decision) return `${value.decision} by ${value.decided_by}`;
  if (value.light && value.term)
    return `no ${spaced(value.term)} on ${zoneName(value.zone ?? "")}, ${spaced(value.light)}${withdrawn}`;
  if (value.words) return `${value.words}${withdrawn}`;
  if (value.state)
    return [
      STATE_WORDS[value.state] ?? ENTRY_WORDS[value.state] ?? value.state,
      spaced(value.reason),
      value.light,
    ]
      .filter(Boolean)
      .join(", ");
  if (value.term)
    return `${spaced(value.term)} on ${zoneName(value.zone ?? "")}, severity ${value.severity}${withdrawn}`;
  if (value.sha256) return `${value.view ?? "picture"}${withdrawn}`;
  if (value.tag)
    return [value.tag, value.piece && `piece ${value.piece} of ${value.of}`, value.mark]
      .filter(Boolean)
      .join(", ");
  if (value.name) return value.name;
  return JSON.stringify(value);
}

type SaidOfSentence = { version?: string; words?: string; record_words?: string };

/** What the desk made of a sentence. */
function sentenceWords({ version, words, record_words }: SaidOfSentence) {
  switch (version) {
    case "struck":
      return `struck: “${record_words}”`;
    case "rewritten":
      return `“${words}”`;
    default:
      return `as the record has it: “${record_words}”`;
  }
}

/** Whether a value names something by its id or its digest, which says nothing to a person. */
function isId(value: unknown) {
  return typeof value === "string" && /^([0-9a-f]{8}-[0-9a-f-]{27}|[0-9a-f]{12,64})$/.test(value);
}

/** What an operation did, in words. */
export function operationWords(op: Operation) {
  switch (op.kind) {
    case "open_day":
      return "set up the day";
    case "open_visit":
      return `opened the visit ${op.ticket}`;
    case "open_item":
      return "put it on the table";
    case "set_visit":
    case "set_item":
      return isId(op.value)
        ? `set ${fieldWords(op.field)}`
        : `set ${fieldWords(op.field)} to "${valueWords(op.value)}"`;
    case "set_consignor":
      return `set the owner's ${op.field.replaceAll("_", " ")}`;
    case "examine_zone":
      return `${zoneName(op.zone)}: ${valueWords({ state: op.state, reason: op.reason, light: op.light })}`;
    case "examine_rest":
      return `rest clear, ${op.zones.length} zones: ${op.zones.map(zoneName).join("; ")}`;
    case "record_finding":
      return `${op.withdrawn ? "withdrew" : "found"} ${valueWords({ ...op, withdrawn: false })}`;
    case "record_denial":
      return `${op.withdrawn ? "took back" : "looked for and did not find"}: ${op.term.replaceAll("-", " ")} on ${zoneName(op.zone)}, ${op.light.replaceAll("-", " ")}`;
    case "record_statement":
      return `${op.withdrawn ? "took back" : "stated"}: ${op.words}`;
    case "record_origin":
      return `said what happened to ${zoneName(op.zone)}: ${op.origin?.replaceAll("-", " ") ?? "nothing"}`;
    case "record_mark":
      return `${op.withdrawn ? "withdrew" : "transcribed"} a mark at ${op.place || "a place not noted"}: “${op.text.replaceAll("\n", " / ")}”`;
    case "record_date":
      return `set the date to "${op.words}"`;
    case "record_measure":
      return `measured ${op.measure.replaceAll("-", " ")}: ${op.typed || op.value || "nothing"}`;
    case "record_test":
      return `tried ${op.test.replaceAll("-", " ")}: ${valueWords({ result: op.result, why: op.why, note: op.note })}`;
    case "record_grade":
      return op.word
        ? `moved the overall word from ${op.computed} to ${op.word}: ${op.reason}`
        : "left the overall word as computed";
    case "raise_caution":
      return `raised a ${op.level} caution ${op.hazard}: ${op.sign}`;
    case "decide_caution":
      return `recorded the decision on a caution: ${op.decision}, by ${op.decided_by}`;
    case "attach_record_photo":
      return op.difference_id ? "photographed a difference" : "photographed what was unpacked";
    case "count_load":
      return `${op.taken_by} counted the load: crates ${op.crates} of ${op.scanned_crates} scanned, loose pieces ${op.pieces} of ${op.scanned_pieces}`;
    case "attach_photo":
      return `${op.withdrawn ? "withdrew" : "took"} a photo: ${op.view ?? op.zone ?? "no view named"}`;
    case "tie_tag":
      return `tied the tag ${op.tag.slice(0, 3)}-${op.tag.slice(3)}`;
    case "remove_tag":
      return `noted that the tag ${op.tag.slice(0, 3)}-${op.tag.slice(3)} is ${op.why.replaceAll("-", " ")}`;
    case "record_move":
      return `moved it to ${op.to_place}${op.at ? `, ${op.at}` : ""}: ${op.given_by} to ${op.taken_by}`;
    case "sign_receipt":
      return `signed receipt ${op.number}: ${op.lines.length} ${op.what === "left" ? "left" : "taken back"}, for the house ${op.house_by}`;
    case "put_inside":
      return op.container_id ? "put it into a container" : "took it out of its container";
    case "seal_container":
      return `seal ${op.seal}: ${op.state}`;
    case "check_in":
      return `compared it with its photographs: ${op.state.replaceAll("-", " ")}${op.words ? `, ${op.words}` : ""}`;
    case "merge_item":
      return op.into_id
        ? `put it behind another record of the same thing: ${op.why}`
        : "took it out from behind another record";
    case "set_entry":
      return `moved it to "${ENTRY_WORDS[op.state]}"`;
    case "write_sentence":
      return `${op.record_words ? "worded" : "added"} a sentence of the ${op.text}: ${sentenceWords(op)}`;
    case "order_sentences":
      return `put the sentences of the ${op.text} into ${op.order.length ? "another order" : "the record's order"}`;
    case "settle_disagreement":
      return `settled a disagreement${op.note ? `: ${op.note}` : ""}`;
    case "erase_consignor":
      return "asked for the owner's words to be erased";
    case "add_person":
      return `added ${op.person.name}`;
    default:
      return op.kind.replaceAll("_", " ");
  }
}

export function firstUpper(words: string) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** A count with its noun: "1 photo", "2 photos". */
export function countWords(count: number, noun: string) {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}
