/** What an operation did, in words: the one place where an operation is told to people. */

import { placeWords } from "./custody.ts";
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
import { shown } from "./tag.ts";
import { ticketOf } from "./tickets.ts";
import type { Operation, OperationOf } from "./types.ts";
import { fieldWords, photoWords, sentenceWords, skippedWords, valueWords } from "./value_words.ts";
import { countWords, ENTRY_WORDS, spaced } from "./words.ts";

/** What an operation did, in words; `lists` are those of the plan that its record was made with. */
export function operationWords(op: Operation, lists = NO_LISTS) {
  switch (op.kind) {
    case "open_day":
      return "set up the day";
    case "open_visit":
      return `opened the visit ${op.ticket}${op.allowed_by ? `, after the day was closed: ${op.allowed_by} allowed it` : ""}`;
    case "open_item":
      return "put it on the table";
    case "set_visit":
    case "set_item":
    case "correct_day":
      return setWords(op.field, op.value, lists);
    case "set_consignor":
      return `set the owner's ${op.field.replaceAll("_", " ")}`;
    case "examine_zone":
      return zoneStateWords(op, lists);
    case "examine_rest":
      return `said that the rest is clear, ${countWords(op.zones.length, "zone")}: ${op.zones.map((zone) => zoneWords(lists, zone)).join("; ")}`;
    case "record_finding":
      return `${op.withdrawn ? "withdrew" : "found"}: ${findingWords(lists, { extent_mm_across: null, extent_percent: null, extent_count: null, ...op })}`;
    case "record_denial":
      return `${op.withdrawn ? "took back" : "looked and noted"}: ${denialWords(lists, op)}`;
    case "record_statement":
      return `${op.withdrawn ? "took back" : "stated"}: ${op.words}`;
    case "record_origin":
      return `said what happened to ${zoneWords(lists, op.zone)}: ${op.origin ? originalityWords(lists, op.origin) : "nothing"}${op.note ? `, ${op.note}` : ""}`;
    case "record_mark":
      return `${op.withdrawn ? "withdrew" : "transcribed"} a mark at ${op.place || "a place not noted"}: “${op.text.replaceAll("\n", " / ")}”`;
    case "record_date":
      return `set the date to "${op.words}"`;
    case "record_measure":
      return `measured ${measureWords(lists, op.measure)}: ${sizeWords(lists, { basis: "", ...op })}`;
    case "record_test":
      return `noted what was tried: ${testWords(lists, op.test, op)}`;
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
      return `${op.taken_by} counted the load: crates ${op.crates} of ${op.scanned_crates} scanned, loose pieces ${op.pieces} of ${op.scanned_pieces}`;
    case "attach_photo":
      return `${op.withdrawn ? "withdrew" : "took"} a photo: ${photoWords(op, lists)}`;
    case "skip_view":
      return `said of the view “${viewWords(lists, op.view)}”: ${skippedWords(op, lists)}`;
    case "tie_tag":
      return `tied the tag ${shown(op.tag)}`;
    case "remove_tag":
      return `noted that the tag ${shown(op.tag)} is ${spaced(op.why)}`;
    case "record_move":
      return `moved it to ${placeWords(op.to_place).toLowerCase()}${op.at ? `, ${op.at}` : ""}: ${op.given_by} to ${op.taken_by}`;
    case "sign_receipt":
      return `signed receipt ${op.number}: ${op.lines.length} ${op.what === "left" ? "left" : "taken back"}, for the house ${op.house_by}`;
    case "put_inside":
      return op.container_id ? "put it into a container" : "took it out of its container";
    case "seal_container":
      return `seal ${op.seal}: ${spaced(op.state)}`;
    case "check_in":
      return `compared it with its photographs: ${spaced(op.state)}${op.words ? `, ${op.words}` : ""}`;
    case "merge_item":
      return op.into_id
        ? `put it behind another record of the same thing: ${op.why}`
        : "took it out from behind another record";
    case "set_entry":
      return `moved it to “${ENTRY_WORDS[op.state]?.toLowerCase()}”${op.reason ? `, although something was open: ${op.reason}` : ""}`;
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
    case "give_roll":
      return `gave a roll of numbers to ${op.given_to}`;
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
    case "close_day":
      return `closed the day, with ${op.second_by} as the second`;
    default:
      return ofLaterVersion(op);
  }
}

type Examined = OperationOf<"examine_zone">;

/** A kind that gets no words above does not compile here; one that a later version made is said to be so. */
function ofLaterVersion(_: never) {
  return "did something that this version of the app has no words for";
}

/** `value` is undefined where its words are personal, which the log lacks. */
function setWords(field: string, value: string | number | string[] | null | undefined, lists: Lists) {
  if (value === undefined) return `set ${fieldWords(field)}`;
  switch (field) {
    case "plan_version":
      return "took its class's plan as it stood then";
    case "private":
      return value ? "made it private" : "made it private no more";
    case "table_id":
      return "took it to a table";
    default:
      return `set ${fieldWords(field)} to “${valueWords(value, field, lists)}”`;
  }
}

/** What came of looking at a zone. */
function zoneStateWords({ zone, state, reason, light, count }: Examined, lists: Lists) {
  const words = zoneWords(lists, zone);
  if (state === "not-examined")
    return `did not examine ${words}${reason ? `: ${reasonWords(lists, reason)}` : ""}`;
  const came = state === "clear" ? "nothing found" : "something found";
  const how = [light && lightWords(lists, light), count && `${count} counted`].filter(Boolean).join(", ");
  return `looked at ${words}: ${came}${how && `, ${how}`}`;
}
