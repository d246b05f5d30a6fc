/** What an operation did, in words: the one place where an operation is told to people. */

import { toWords } from "./custody.ts";
import {
  denialWords,
  findingWords,
  type Lists,
  lightWords,
  measureWords,
  NO_LISTS,
  originalityWords,
  reasonWords,
  sizeWords,
  testWords,
  viewWords,
  zoneWords,
} from "./list_words.ts";
import { OWNER } from "./operation.ts";
import { shown } from "./tag.ts";
import { ticketOf } from "./tickets.ts";
import type { Operation, OperationOf } from "./types.ts";
import { fieldWords, photoWords, sentenceWords, skippedWords, valueWords } from "./value_words.ts";
import { countWords, ENTRY_WORDS, spaced } from "./words.ts";

/** What a container is called, by its id; "" if it is not known here. */
type ContainerName = (container_id: string) => string;
const nobodyKnows: ContainerName = () => "";

/** What an operation did, in words; `lists` are those of the plan that its record was made with. */
export function operationWords(op: Operation, lists = NO_LISTS, containerName = nobodyKnows): string {
  switch (op.kind) {
    case "open_day":
      return "set up the day";
    case "open_visit":
      return op.allowed_by
        ? `opened the visit ${op.ticket}, after the day was closed: ${op.allowed_by} allowed it`
        : `opened the visit ${op.ticket}`;
    case "open_item":
      return op.allowed_by
        ? `put it on the table, after the day was closed: ${op.allowed_by} allowed it`
        : "put it on the table";
    case "correct_day":
      if (op.field === "let_go") return `let this day go, since it was set up twice: ${op.value}`;
      return setWords(op.field, op.value, lists);
    case "set_visit":
    case "set_item":
      return setWords(op.field, op.value, lists);
    case "set_consignor":
      return `set the owner's ${op.field.replaceAll("_", " ")}`;
    case "examine_zone":
      return zoneStateWords(op, lists);
    case "examine_rest":
      return restWords(lists, op.zones);
    case "record_finding":
      return `${op.withdrawn ? "withdrew" : "found"}: ${foundWords(lists, op)}`;
    case "correct_told_note":
      return `put right what the owner told of a finding${op.value === undefined ? "" : `: ${op.value || "nothing"}`}`;
    case "record_denial":
      return `${op.withdrawn ? "took back" : "looked and noted"}: ${denialWords(lists, op)}`;
    case "record_statement":
      return `${op.withdrawn ? "took back" : "stated"}: ${op.words}`;
    case "record_origin":
      return originWords(lists, op);
    case "record_mark":
      return `${op.withdrawn ? "withdrew" : "transcribed"} ${markWords(op)}`;
    case "record_date":
      return op.words ? `set the date to “${op.words}”` : "took out what stood as “date”";
    case "record_measure":
      return `measured ${measureWords(lists, op.measure)}: ${sizeWords(lists, { basis: "", ...op })}`;
    case "record_test":
      return `noted what was tried: ${testWords(lists, op.test, op)}`;
    case "count_pieces":
      return `counted ${countWords(op.pieces, "piece")}`;
    case "list_piece":
      return `${op.withdrawn ? "took off" : "put on"} the list of its pieces: ${op.count} ${op.words}`;
    case "record_grade":
      return op.word
        ? `moved the overall word from ${op.computed} to ${op.word}: ${op.reason}`
        : "left the overall word as computed";
    case "raise_caution":
      return `raised a ${valueWords(op)}`;
    case "decide_caution":
      return `recorded the decision on a caution: ${spaced(op.decision)}, by ${op.decided_by}`;
    case "attach_record_photo":
      return op.difference_id ? "photographed a difference" : "photographed what was unpacked";
    case "count_load":
      return `${op.taken_by} counted the load: ${loadWords(op)}`;
    case "attach_photo":
      return `${op.withdrawn ? "withdrew" : "took"} a photo: ${photoWords(op, lists)}`;
    case "skip_view":
      return `said of the view “${viewWords(lists, op.view)}”: ${skippedWords(op, lists)}`;
    case "tie_tag":
      return `tied the tag ${shown(op.tag)}`;
    case "remove_tag":
      return `noted that the tag ${shown(op.tag)} is ${spaced(op.why)}`;
    case "record_move":
      return `moved it ${moveWords(op)}`;
    case "sign_receipt":
      return `signed receipt ${op.number}: ${linesWords(op)}${op.house_by ? `, for the house ${op.house_by}` : ""}`;
    case "put_inside":
      return insideWords(op, containerName);
    case "seal_container":
      return `seal ${op.seal}: ${spaced(op.state)}`;
    case "check_in": {
      const how =
        op.state === "not-here"
          ? `looked for ${op.tag ? shown(op.tag) : "it"} as it was unpacked`
          : `compared ${op.tag ? shown(op.tag) : "it"} with what was recorded`;
      return `${how}: ${spaced(op.state)}${op.words ? `, ${op.words}` : ""}`;
    }
    case "settle_late_act":
      return `looked at what was done before the stop was heard of: ${op.words}`;
    case "merge_item":
      return op.into_id
        ? `put it behind another record of the same thing: ${op.why}`
        : "took it out from behind another record";
    case "set_entry":
      return entryWords(op);
    case "write_sentence":
      return `${op.record_words ? "worded" : "added"} a sentence of the ${op.text}: ${sentenceWords(op)}`;
    case "order_sentences":
      return `put the sentences of the ${op.text} into ${op.order.length ? "another order" : "the record's order"}`;
    case "settle_disagreement":
      return `settled a disagreement${op.note ? `: ${op.note}` : ""}`;
    case "erase_consignor":
      return "asked for the owner's words to be erased";
    case "add_person":
      return op.person.left ? `${op.person.name} has left` : `put ${op.person.name} on the list`;
    case "set_table":
      return op.gone ? `took ${op.name} away` : `named a table ${op.name}`;
    case "give_tickets":
      return `gave the tickets ${ticketOf(op.first)} to ${ticketOf(op.last)} to ${op.given_to}`;
    case "issue_roll":
      return `gave out ${countWords(op.count, "number")} from ${shown(op.first_tag)} on to ${op.given_to}`;
    case "carry_roll":
      return `gave ${op.given_to} ${countWords(op.count, "number")} left of another day, from ${shown(op.first_tag)}`;
    case "give_roll":
      return `gave a roll of numbers to ${op.given_to}`;
    case "print_labels":
      return "made labels";
    case "spoil_tag":
      return `struck the number ${shown(op.tag)} through: ${op.why || "nothing written"}`;
    case "open_container":
      return `opened the ${op.kind_of} ${shown(op.number)}`;
    case "record_preflight":
      return `opened the doors: ${op.ready.length} ready, ${op.not_ready.length} not`;
    case "raise_difference":
      return `noted a difference: ${op.words || "nothing written"}`;
    case "settle_difference":
      return `settled a difference: ${spaced(op.ended)}${op.words ? `, ${op.words}` : ""}`;
    case "record_incident":
      return `pressed Stop${op.place ? ` at ${op.place}` : ""}: ${op.sign || "nothing written"}`;
    case "settle_incident":
      return `settled an incident: ${spaced(op.ended)}, by ${op.settled_by}`;
    case "explain_differences":
      return `said of ${countWords(op.of.length, "difference")}: ${op.reason || "nothing any more"}`;
    case "sign_closing":
      return op.withdrawn
        ? `took back the first signature of ${op.signed_by}`
        : `signed ${countWords(op.count, "difference")} first, to close the day`;
    case "close_day":
      return `closed the day, with ${op.second_by} as the second`;
    default:
      return ofLaterVersion(op);
  }
}

type Examined = OperationOf<"examine_zone">;

/** A finding of one length has no more of these. */
const NO_EXTENT = { extent_mm_across: null, extent_percent: null, extent_count: null };

/** A kind that gets no words above does not compile here; one that a later version made is said to be so. */
function ofLaterVersion(_: never) {
  return "did something that this version of the app has no words for";
}

/** What is called otherwise in a sentence than over its box. */
const IN_A_SENTENCE: Record<string, string> = {
  seen_words: "what was seen",
  concluded_words: "what follows from it",
  told_words: "what its owner told",
  maker_certainty: "how sure the maker is",
  dates_certainty: "how sure the date is",
};

/** `value` is undefined where its words are personal, which the log lacks. */
function setWords(field: string, value: string | number | string[] | null | undefined, lists: Lists) {
  const named = IN_A_SENTENCE[field] ?? fieldWords(field);
  switch (field) {
    case "plan_version":
      return "took the zones, trials and questions that its class had then";
    case "private":
      return value ? "made it private" : "made it private no more";
    case "table_id":
      return "took it to a table";
    default:
      if (value === undefined) return `wrote down ${named}`;
      return isEmpty(value)
        ? `took out what stood as “${fieldWords(field)}”`
        : `set ${named} to “${valueWords(value, field, lists)}”`;
  }
}

function isEmpty(value: string | number | string[] | null) {
  return value === null || value === "" || (Array.isArray(value) && !value.length);
}

/** What an owner told of it stands beside the log, and is not sent with a history. */
function foundWords(lists: Lists, op: Extract<Operation, { kind: "record_finding" }>) {
  return findingWords(lists, { ...NO_EXTENT, ...op, note: op.note ?? "" });
}

/** What came of looking at a zone. */
function zoneStateWords({ zone, state, reason, light, count }: Examined, lists: Lists) {
  const words = zoneWords(lists, zone);
  if (state === "not-examined")
    return `did not examine ${words}${reason ? `: ${reasonWords(lists, reason, zone)}` : ""}`;
  const came = state === "clear" ? "nothing found" : "something found";
  const how = [light && lightWords(lists, light), count && `${count} counted`].filter(Boolean).join(", ");
  return `looked at ${words}: ${came}${how && `, ${how}`}`;
}

function restWords(lists: Lists, zones: string[]) {
  const names = zones.map((zone) => zoneWords(lists, zone)).join("; ");
  return `said that the rest is clear, ${countWords(zones.length, "zone")}: ${names}`;
}

function originWords(lists: Lists, { zone, origin, note }: OperationOf<"record_origin">) {
  const happened = origin ? originalityWords(lists, origin) : "nothing";
  return `said what happened to ${zoneWords(lists, zone)}: ${happened}${note ? `, ${note}` : ""}`;
}

function markWords({ place, text }: OperationOf<"record_mark">) {
  return `a mark at ${place || "a place not noted"}: “${text.replaceAll("\n", " / ")}”`;
}

function loadWords(load: OperationOf<"count_load">) {
  const crates = `crates ${load.crates} of ${load.scanned_crates} scanned`;
  return `${crates}, loose pieces ${load.pieces} of ${load.scanned_pieces}`;
}

/** What went into or out of which container: the thing, or the piece of it that has the number. */
function insideWords({ container_id, tag }: OperationOf<"put_inside">, containerName: ContainerName) {
  const what = tag ? shown(tag) : "it";
  return container_id
    ? `put ${what} into ${containerName(container_id) || "a container"}`
    : `took ${what} out of its container`;
}

function moveWords({ to_place, at, given_by, taken_by }: OperationOf<"record_move">) {
  const [from, to] = [given_by ?? OWNER, taken_by ?? OWNER]; // the log lacks the names of owners
  return `${toWords(to_place, at ?? "")}: ${from === to ? `${to} alone` : `${from} to ${to}`}`;
}

function linesWords({ lines, what }: OperationOf<"sign_receipt">) {
  return `${lines.length} ${what === "left" ? "left" : "taken back"}`;
}

function entryWords({ state, reason }: OperationOf<"set_entry">) {
  const words = `moved it to “${ENTRY_WORDS[state]?.toLowerCase()}”`;
  return reason ? `${words}, although something was open: ${reason}` : words;
}
