/**
 * The kinds of operations as the office reads them.
 *
 * Written by `python -m intake.app_types` from the office's models. Change the models, then write it anew.
 */

/** What every kind shares. */
export interface Envelope {
  operation_id: string;
  made_at: string;
  made_by: string;
  device_id: string;
  device_seq: number;
}

/** Somebody comes to help who was not on the list, comes under other hats, or has left. */
export interface AddPerson extends Envelope {
  day_id: string;
  kind: "add_person";
  person: Person;
  seen?: string | null;
}

/** A picture was taken of an item: the view it serves, the zone or finding it shows. */
export interface AttachPhoto extends Envelope {
  seen: string | null;
  item_id: string;
  photo_id: string;
  sha256: string;
  bytes: number;
  media_type: "image/jpeg" | "image/png" | "image/webp" | "image/heic";
  width: number;
  height: number;
  thumb_sha256: string;
  thumb_bytes: number;
  taken_at: string;
  withdrawn: boolean;
  kind: "attach_photo";
  view: string | null;
  zone: string | null;
  finding_id: string | null;
}

/** A picture of what is no item yet, or none any more: what was unpacked of a visit, what a difference looks like. */
export interface AttachRecordPhoto extends Envelope {
  seen: string | null;
  photo_id: string;
  sha256: string;
  bytes: number;
  media_type: "image/jpeg" | "image/png" | "image/webp" | "image/heic";
  width: number;
  height: number;
  thumb_sha256: string;
  thumb_bytes: number;
  taken_at: string;
  withdrawn: boolean;
  kind: "attach_record_photo";
  of_id: string;
  difference_id: string | null;
}

/** Unused numbers of another day's roll go on on this one, as a roll of its own. */
export interface CarryRoll extends Envelope {
  day_id: string;
  roll_id: string;
  first_tag: string;
  last_tag: string;
  count: number;
  given_to: string;
  for_device_id: string | null;
  kind: "carry_roll";
  from_roll_id: string;
}

/** Two people compared an item with its photographs of the table, when its crate was opened. */
export interface CheckIn extends Envelope {
  heard_stops?: string[] | null;
  seen: string | null;
  item_id: string;
  kind: "check_in";
  state: "as-recorded" | "differs" | "not-here";
  words: string;
  second_by: string;
  tag?: string | null;
  pieces?: number | null;
  of?: number | null;
}

/** Two people close the day with the differences that they have read, each with what is known of it. */
export interface CloseDay extends Envelope {
  day_id: string;
  kind: "close_day";
  closed_by: string;
  second_by: string;
  named: string[];
  second_device?: string | null;
  reasons?: string[];
  reason_ids?: string[];
  count?: number;
  digest?: string | null;
  first_digest?: string | null;
  first_signing?: string | null;
  heard?: HeardTo[];
}

/** The manager corrects what a day was set up with. What it was opened with stays on its record beside it. */
export interface CorrectDay extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "correct_day";
  field: "house" | "place" | "held_on" | "allowed_by" | "let_go";
  value: string;
}

/** What the owner told of a finding, put right by whoever reads it, or taken out. The finding stays as it is. */
export interface CorrectToldNote extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "correct_told_note";
  finding_id: string;
  value: string;
  salt?: string | null;
}

/** Whoever takes a load has counted it by hand: crates and loose pieces, beside how many were scanned. */
export interface CountLoad extends Envelope {
  day_id: string;
  kind: "count_load";
  load_id: string;
  to_place: "table" | "bench" | "holding" | "van" | "store" | "shelf" | "isolation" | "returned";
  at: string;
  given_by: string;
  taken_by: string;
  crates: number;
  pieces: number;
  scanned_crates: number;
  scanned_pieces: number;
  numbers?: string[] | null;
  packed?: Packed[] | null;
  driver?: string;
  of_load?: string | null;
}

/** How many pieces a thing has, as somebody counted them: one, a pair, six glasses; a cover goes with its pot. */
export interface CountPieces extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "count_pieces";
  pieces: number;
  back?: number | null;
}

/** What whoever was called decided. A cleared caution stays on record, with the name of who cleared it. */
export interface DecideCaution extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "decide_caution";
  caution_id: string;
  decision: "cleared" | "isolated" | "returned" | "referred" | "taken-away";
  decided_by: string;
  cleared_for: string;
  place: string;
  paper_given: boolean;
  note: string;
}

/** The personal words of a visit are erased for good; what else is on record of it stays. */
export interface EraseConsignor extends Envelope {
  visit_id: string;
  kind: "erase_consignor";
}

/** A person says "rest clear" after having read the list it covers; it is stored zone by zone. */
export interface ExamineRest extends Envelope {
  item_id: string;
  kind: "examine_rest";
  zones: string[];
  light: string | null;
}

/** What a person found on one zone: clear, finding, or not examined and why. */
export interface ExamineZone extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "examine_zone";
  zone: string;
  state: "clear" | "finding" | "not-examined";
  reason: string | null;
  light: string | null;
  count: number | null;
}

/** What is known of one difference of the day, or of several at once; said before anybody closes it. */
export interface ExplainDifferences extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "explain_differences";
  reason_id: string;
  reason: string;
  of: Explained[];
  said_by?: string;
}

/** A difference of which a reason is said: what it is known by, and what it is called now. */
export interface Explained {
  key: string;
  words: string;
}

/** A roll changes hands, such as a spare given to a table whose own runs out. Nobody needs a network for it. */
export interface GiveRoll extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "give_roll";
  roll_id: string;
  given_to: string;
  for_device_id: string | null;
}

/** The manager gives a device a run of ticket numbers, or changes one. */
export interface GiveTickets extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "give_tickets";
  run_id: string;
  first: number;
  last: number;
  given_to: string;
  for_device_id: string | null;
}

/** How far the closing device had heard another: the last place in that one's order of which it held something. */
export interface HeardTo {
  device_id: string;
  device_seq: number;
}

/** A run of numbers is given out. */
export interface IssueRoll extends Envelope {
  day_id: string;
  roll_id: string;
  first_tag: string;
  last_tag: string;
  count: number;
  given_to: string;
  for_device_id: string | null;
  kind: "issue_roll";
}

/** A line of what a thing of unlike pieces consists of: two chisels, a plane, of a box of fourteen tools. */
export interface ListPiece extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "list_piece";
  line_id: string;
  words: string;
  count: number;
  withdrawn: boolean;
}

/** The same thing was recorded twice: this record stands behind another. Both keep their histories. */
export interface MergeItem extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "merge_item";
  into_id: string | null;
  why: string;
}

/** So many numbers one after the other, from one on. */
export interface NumbersInRow {
  first_tag: string;
  count: number;
}

/** A bag, box or crate gets its number. `kind_of` says which; numbers come from the same rolls as tags. */
export interface OpenContainer extends Envelope {
  kind: "open_container";
  container_id: string;
  day_id: string;
  number: string;
  kind_of: "bag" | "box" | "crate";
}

/** The manager sets up a day. */
export interface OpenDay extends Envelope {
  day_id: string;
  kind: "open_day";
  house: string;
  place: string;
  held_on: string;
  currency: string;
  tables: Table[];
  people: Person[];
}

/** A thing is on the table. */
export interface OpenItem extends Envelope {
  item_id: string;
  kind: "open_item";
  visit_id: string;
  day_id: string;
  allowed_by?: string;
}

/** The door gives a ticket, counts the bags, and hears what is in them. */
export interface OpenVisit extends Envelope {
  visit_id: string;
  kind: "open_visit";
  day_id: string;
  ticket: string;
  bags: number;
  kinds: string;
  allowed_by?: string;
  salt?: string | null;
}

/** The order of a text's sentences, by their keys; empty is the record's own order. */
export interface OrderSentences extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "order_sentences";
  text: "heading" | "description" | "condition";
  order: string[];
}

/** What lay in a container when it left, directly: the numbers of items, of their pieces, of other containers. */
export interface Packed {
  container: string;
  numbers: string[];
}

/** Somebody of the house. `roles` are the hats they may wear that day: valuer, clerk, door ... */
export interface Person {
  person_id: string;
  name: string;
  roles: string[];
  left?: boolean;
}

/** Labels are made for numbers of a roll, which are on nothing and on no label yet: no two files have one number. */
export interface PrintLabels extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "print_labels";
  print_id: string;
  roll_id: string;
  label: "tag" | "bag" | "box" | "crate";
  rows: NumbersInRow[];
}

/** An item or a container goes into a container, or out of it: null is not inside anything. */
export interface PutInside extends Envelope {
  heard_stops?: string[] | null;
  seen: string | null;
  kind: "put_inside";
  thing_id: string;
  container_id: string | null;
  tag?: string | null;
}

/** A sign was noticed. `level` is that of the country pack on the day; `sign` is what was seen, not what it is. */
export interface RaiseCaution extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "raise_caution";
  caution_id: string;
  hazard: string;
  level: "red" | "amber" | "note";
  sign: string;
  zone: string | null;
  called: string;
  place: string;
  still_allowed?: ("place" | "photo-from-distance" | "photo" | "tag" | "move" | "check-in")[] | null;
}

/** Something does not agree: what kind it is, of which item or container, what was done first, who was told. */
export interface RaiseDifference extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "raise_difference";
  difference_id: string;
  difference:
    | "item-short"
    | "item-over"
    | "piece-short"
    | "tag-without-item"
    | "item-without-tag"
    | "seal-differs"
    | "new-damage"
    | "record-without-item"
    | "wrong-item"
    | "wrong-place"
    | "load-count";
  thing_id: string | null;
  words: string;
  owner_told: boolean;
  told?: string;
}

/** What stood above the lines: whose day it was, where and when. What is corrected of the day since is another's. */
export interface ReceiptHead {
  house: string;
  place: string;
  held_on: string;
}

/** One item as the owner read it: its numbers, words by which a stranger could match it, and its class. */
export interface ReceiptLine {
  item_id: string;
  tags: string[];
  words: string;
  class_id?: string | null;
}

/** When it was made: the words as typed, the earliest and the latest year, and an EDTF string (ISO 8601-2). */
export interface RecordDate extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_date";
  words: string;
  earliest: number | null;
  latest: number | null;
  edtf: string | null;
}

/** A fault looked for on a zone and not found, with the light or tool that could have shown it. */
export interface RecordDenial extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_denial";
  zone: string;
  term: string;
  light: string;
  withdrawn: boolean;
}

/** One term on one zone: what was seen there, never why or what it costs. */
export interface RecordFinding extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_finding";
  finding_id: string;
  zone: string;
  term: string;
  side: string | null;
  severity: number;
  extent_mm: number | null;
  extent_mm_across?: number | null;
  extent_percent?: number | null;
  extent_count?: number | null;
  extent_words: string | null;
  activity: "n" | "w" | "P" | "Q" | null;
  certainty: string | null;
  origin: string | null;
  light?: string | null;
  piece?: string | null;
  piece_count?: number | null;
  piece_words?: string | null;
  note: string;
  withdrawn: boolean;
  salt?: string | null;
}

/** The valuer's own overall word beside the computed one, and why; null goes back to the computed word. */
export interface RecordGrade extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "record_grade";
  word: "excellent" | "very good" | "good" | "fair" | "poor" | "as found" | null;
  computed: "excellent" | "very good" | "good" | "fair" | "poor" | "as found";
  reason: string;
}

/** A sign was noticed, and no item of it is on record. `level` is that of the country pack on the day. */
export interface RecordIncident extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "record_incident";
  incident_id: string;
  hazard: string;
  level: "red" | "amber" | "note";
  sign: string;
  ticket: string;
  place: string;
  seen_at: string;
}

/** A mark as it stands, line by line, with its place. The reading is kept apart from the transcription. */
export interface RecordMark extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_mark";
  mark_id: string;
  place: string;
  technique: string | null;
  colour: string;
  completeness: "complete" | "worn" | "partial" | "illegible" | null;
  text: string;
  reading: string;
  standing?: "makers-own" | "borne" | "not-relied-on" | null;
  withdrawn: boolean;
}

/** One measure. `value` is in millimetres or grams to the hundredth, or a count; `typed` is what was read off. */
export interface RecordMeasure extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_measure";
  measure: string;
  value: number | null;
  unit: "mm" | "g" | "n";
  typed: string;
  basis?: string;
}

/** An item or a container changed hands and place. */
export interface RecordMove extends Envelope {
  heard_stops?: string[] | null;
  kind: "record_move";
  move_id: string;
  thing_id: string;
  from_place: "table" | "bench" | "holding" | "van" | "store" | "shelf" | "isolation" | "returned" | null;
  to_place: "table" | "bench" | "holding" | "van" | "store" | "shelf" | "isolation" | "returned";
  at: string;
  given_by: string;
  taken_by: string;
  count: number | null;
  signed: boolean;
  tag?: string | null;
  salt?: string | null;
}

/** What has happened to a zone since it was made; null takes back what was said. */
export interface RecordOrigin extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "record_origin";
  zone: string;
  origin:
    | "original"
    | "original-probably"
    | "replaced"
    | "restored"
    | "repaired"
    | "later-added"
    | "associated"
    | "married"
    | "altered"
    | "refinished"
    | "not-determined"
    | null;
  note: string;
}

/** The manager has read what is ready and what is not, and opens the doors. */
export interface RecordPreflight extends Envelope {
  day_id: string;
  kind: "record_preflight";
  preflight_id: string;
  items_expected: number;
  labels_printed: number | null;
  ready: string[];
  not_ready: string[];
}

/** Something the class expects to be stated of the examination itself, such as "movement not opened". */
export interface RecordStatement extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_statement";
  statement: string;
  words: string;
  withdrawn: boolean;
}

/** A function test: its result, or that it was not made and why. A result left out is no result. */
export interface RecordTest extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "record_test";
  test: string;
  result: "works" | "works-in-part" | "no-response" | "not-done";
  why: string;
  note: string;
}

/** A tag is off the item: fallen off, lost, voided since the owner took the item back, or another item's after all. */
export interface RemoveTag extends Envelope {
  heard_stops?: string[] | null;
  item_id: string;
  kind: "remove_tag";
  tag: string;
  why: "fallen-off" | "lost" | "damaged" | "taken-back" | "on-another-item";
  replaced_by: string | null;
}

/** A numbered seal is put on, read at a check, or found broken; two people look at it. */
export interface SealContainer extends Envelope {
  heard_stops?: string[] | null;
  seen: string | null;
  kind: "seal_container";
  container_id: string;
  seal: string;
  state: "sealed" | "intact" | "differs" | "broken" | "opened";
  second_by: string;
  numbers?: string[] | null;
  sealed_at?: string | null;
  put_on?: string | null;
  read?: string | null;
}

/** One fact about the consignor. Its words stay out of the log and can be erased. */
export interface SetConsignor extends Envelope {
  seen: string | null;
  visit_id: string;
  kind: "set_consignor";
  field:
    | "name"
    | "address"
    | "telephone"
    | "email"
    | "preferred_contact"
    | "acting_as"
    | "acting_for"
    | "identity_seen";
  value: string;
  salt: string;
}

/** A cataloguer picks an item up, puts it back, or has described it. */
export interface SetEntry extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "set_entry";
  state: "waiting" | "picked-up" | "described";
  reason?: string;
}

/** One fact about what the item is, in words or as one of a list. What its owner told of it can be erased. */
export interface SetItem extends Envelope {
  seen: string | null;
  item_id: string;
  correction?: string;
  kind: "set_item";
  field:
    | "class_grade"
    | "class_id"
    | "colour_now"
    | "colour_was"
    | "concluded_words"
    | "condition_words"
    | "dates_certainty"
    | "dates_evidence"
    | "heading"
    | "lot_description"
    | "maker"
    | "maker_certainty"
    | "maker_evidence"
    | "marks_looked"
    | "materials"
    | "packaging"
    | "plan_version"
    | "seen_words"
    | "short_description"
    | "told_words";
  value: string | string[] | null;
  salt?: string | null;
}

/** A table comes, gets another name, or goes. One that goes keeps its name for what was recorded at it. */
export interface SetTable extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "set_table";
  table_id: string;
  name: string;
  gone: boolean;
}

/** One fact about the visit: where the owner is, how many things were counted, whether it is private ... */
export interface SetVisit extends Envelope {
  seen: string | null;
  visit_id: string;
  kind: "set_visit";
  field:
    | "ticket"
    | "bags"
    | "kinds"
    | "needs"
    | "stage"
    | "stage_allowed_by"
    | "table_id"
    | "item_count"
    | "note"
    | "private";
  value: string | number;
  salt?: string | null;
}

/** How a difference ended, and who was there. It stays on record as settled. */
export interface SettleDifference extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "settle_difference";
  difference_id: string;
  ended: "found" | "owner-has-it" | "matched" | "re-tagged" | "moved" | "corrected" | "claim-opened";
  words: string;
  second_by: string;
}

/** A person settles which of two values holds. The other stays on record. */
export interface SettleDisagreement extends Envelope {
  kind: "settle_disagreement";
  record_id: string;
  disagreement_id: string;
  kept_id?: string | null;
  standing_id?: string | null;
  beside_ids?: string[] | null;
  choose: "kept" | "other" | "standing";
  note: string;
  salt?: string | null;
}

/** How an incident ended, who says so by name, and who was there. It stays on record as settled. */
export interface SettleIncident extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "settle_incident";
  incident_id: string;
  ended: "taken-away" | "set-apart" | "let-go-on" | "left-with-owner" | "on-an-item" | "by-mistake";
  settled_by: string;
  present: string;
  words: string;
}

/** Somebody has looked at what was done to a stopped thing before its doer had heard of the stop, and says what is */
export interface SettleLateAct extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "settle_late_act";
  late_id: string;
  words: string;
}

/** A manager has read the differences of the day with what is said of each, and signs first. */
export interface SignClosing extends Envelope {
  seen: string | null;
  day_id: string;
  kind: "sign_closing";
  signing_id: string;
  signed_by: string;
  reason_ids: string[];
  count: number;
  digest: string | null;
  withdrawn?: boolean;
}

/** An owner signs for what was left, or for what was taken back. A correction is a new one that names the old. */
export interface SignReceipt extends Envelope {
  visit_id: string;
  kind: "sign_receipt";
  receipt_id: string;
  number: string;
  what: "left" | "taken-back";
  lines: ReceiptLine[];
  replaces: string | null;
  house_by: string;
  on_paper: string;
  head?: ReceiptHead | null;
  signed_by: string;
  strokes: string;
  salt: string;
}

/** A view that the class asks for is not taken, and why; null takes that back, and the view is asked for again. */
export interface SkipView extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "skip_view";
  view: string;
  reason: string | null;
  note: string;
}

/** A number that was never tied is struck through: torn, misprinted, wet. It is kept and counted. */
export interface SpoilTag extends Envelope {
  day_id: string;
  kind: "spoil_tag";
  tag: string;
  why: string;
}

export interface Table {
  table_id: string;
  name: string;
}

/** A tag is on the item. `piece` 1 is the whole or its first piece, `of` how many numbers it takes: one for each of */
export interface TieTag extends Envelope {
  heard_stops?: string[] | null;
  item_id: string;
  kind: "tie_tag";
  tag: string;
  piece: number;
  of?: number;
  mark?: string;
  parts?: boolean;
  seen?: string | null;
}

/** The desk's version of one sentence: struck, rewritten, or back as the record has it. */
export interface WriteSentence extends Envelope {
  seen: string | null;
  item_id: string;
  kind: "write_sentence";
  text: "heading" | "description" | "condition";
  sentence: string;
  speaks_of: string[];
  record_words: string;
  version: "struck" | "rewritten" | "as-recorded";
  words: string;
}

export type Operation =
  | AddPerson
  | AttachPhoto
  | AttachRecordPhoto
  | CarryRoll
  | CheckIn
  | CloseDay
  | CorrectDay
  | CorrectToldNote
  | CountLoad
  | CountPieces
  | DecideCaution
  | EraseConsignor
  | ExamineRest
  | ExamineZone
  | ExplainDifferences
  | GiveRoll
  | GiveTickets
  | IssueRoll
  | ListPiece
  | MergeItem
  | OpenContainer
  | OpenDay
  | OpenItem
  | OpenVisit
  | OrderSentences
  | PrintLabels
  | PutInside
  | RaiseCaution
  | RaiseDifference
  | RecordDate
  | RecordDenial
  | RecordFinding
  | RecordGrade
  | RecordIncident
  | RecordMark
  | RecordMeasure
  | RecordMove
  | RecordOrigin
  | RecordPreflight
  | RecordStatement
  | RecordTest
  | RemoveTag
  | SealContainer
  | SetConsignor
  | SetEntry
  | SetItem
  | SetTable
  | SetVisit
  | SettleDifference
  | SettleDisagreement
  | SettleIncident
  | SettleLateAct
  | SignClosing
  | SignReceipt
  | SkipView
  | SpoilTag
  | TieTag
  | WriteSentence;

export type Kind = Operation["kind"];
