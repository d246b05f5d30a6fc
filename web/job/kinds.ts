/**
 * What each kind of operation says of itself, and which kind sets the fields of a family.
 *
 * Written by `python -m intake.app_types` from the office's models. Change the models, then write it anew.
 */
import type { Kind } from "./operations.ts";

export interface KindSays {
  /** The member that has the id of the record which it changes or opens. */
  record: string;
  /** Whether it opens that record. */
  opens?: true;
  /** The roles of device that may make it; the manager's may make every kind. */
  roles: readonly string[];
  /** The field that it sets; what stands in [ ] is left out if its member is null. */
  field?: string;
  /** The members that make the field's value, or the one member that is all of it. */
  value?: readonly string[] | string;
  /** Members of it that stand in the value only if something was said with them. */
  if_said?: readonly string[];
  /** What members are that a device left out; null if nothing is said here. */
  left_out?: Readonly<Record<string, unknown>>;
  /** Fields that it sets and that are never set again: a second one is refused. */
  once?: readonly string[];
  /** Whether one that was never tried to send may be changed in place. */
  replaceable?: true;
  /** Its words that stay out of the log and may be erased; salt is among them. `lines.words` are those of each line. */
  personal?: readonly string[];
  /** Of a kind that sets any of several fields, those whose words are personal. */
  personal_fields?: readonly string[];
  /** Of a kind some of whose words are personal: those that are where the place in another member is the owner's. */
  of_owner?: Readonly<Record<string, string>>;
  /** Of a kind whose words are personal at times: the member that says so, and by which word. */
  personal_if?: Readonly<Record<string, string>>;
  /** Whether it says what hands have done to a thing, and of which stops its device had heard by then. */
  hands_on?: true;
  /** Whether it is a word on what stood by then, so that nothing said before it is changed in place. */
  on_what_stood?: true;
  /** Whether it is taken whoever made it. */
  always_taken?: true;
  /** The most characters of a member's text, or of each text in its list. */
  longest?: Readonly<Record<string, number>>;
}

export const KINDS = {
  add_person: {
    "record": "day_id",
    "roles": [],
    "longest": {"person.person_id": 80, "person.name": 400, "person.roles": 40},
  },
  attach_photo: {
    "record": "item_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "photos/{photo_id}",
    "value": [
      "sha256",
      "bytes",
      "media_type",
      "width",
      "height",
      "thumb_sha256",
      "thumb_bytes",
      "taken_at",
      "withdrawn",
      "view",
      "zone",
      "finding_id",
    ],
    "longest": {"zone": 80},
  },
  attach_record_photo: {
    "record": "of_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "photos/{photo_id}",
    "value": [
      "sha256",
      "bytes",
      "media_type",
      "width",
      "height",
      "thumb_sha256",
      "thumb_bytes",
      "taken_at",
      "withdrawn",
      "difference_id",
    ],
  },
  carry_roll: {
    "record": "day_id",
    "roles": [],
    "once": ["rolls/{roll_id}"],
    "longest": {"first_tag": 6, "last_tag": 6, "given_to": 400, "for_device_id": 80},
  },
  check_in: {
    "record": "item_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "check-in[/{tag}]",
    "value": ["state", "words", "second_by", "pieces", "of"],
    "if_said": ["pieces", "of"],
    "on_what_stood": true,
    "hands_on": true,
    "longest": {"words": 8000, "second_by": 400, "tag": 6},
  },
  close_day: {
    "record": "day_id",
    "roles": [],
    "on_what_stood": true,
    "longest": {"closed_by": 400, "second_by": 400, "named": 400, "second_device": 80, "reasons": 400},
  },
  correct_day: {
    "record": "day_id",
    "roles": [],
    "field": "{field}",
    "value": "value",
    "replaceable": true,
    "longest": {"value": 400},
  },
  correct_told_note: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "finding-notes/{finding_id}",
    "value": "value",
    "replaceable": true,
    "personal": ["salt", "value"],
    "longest": {"value": 8000},
  },
  count_load: {
    "record": "day_id",
    "roles": ["desk", "door", "porter", "table"],
    "once": ["loads/{load_id}"],
    "longest": {"at": 400, "given_by": 400, "taken_by": 400, "driver": 400},
  },
  count_pieces: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "pieces",
    "value": "pieces",
    "replaceable": true,
    "longest": {"correction": 400},
  },
  decide_caution: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "caution-decisions/{caution_id}",
    "value": ["decision", "decided_by", "cleared_for", "place", "paper_given", "note"],
    "longest": {"decided_by": 400, "cleared_for": 400, "place": 400, "note": 8000},
  },
  erase_consignor: {"record": "visit_id", "roles": []},
  examine_rest: {"record": "item_id", "roles": ["table"], "longest": {"zones": 80, "light": 400}},
  examine_zone: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "zones/{zone}",
    "value": ["state", "reason", "light", "count"],
    "longest": {"correction": 400, "zone": 80, "light": 400},
  },
  explain_differences: {
    "record": "day_id",
    "roles": [],
    "field": "reasons/{reason_id}",
    "value": ["reason", "of", "said_by"],
    "if_said": ["said_by"],
    "left_out": {"said_by": ""},
    "longest": {"reason": 400, "said_by": 400},
  },
  give_roll: {
    "record": "day_id",
    "roles": ["door", "porter", "table"],
    "field": "roll-holders/{roll_id}",
    "value": ["given_to", "for_device_id"],
    "replaceable": true,
    "longest": {"given_to": 400, "for_device_id": 80},
  },
  give_tickets: {
    "record": "day_id",
    "roles": [],
    "field": "ticket-runs/{run_id}",
    "value": ["first", "last", "given_to", "for_device_id"],
    "replaceable": true,
    "longest": {"given_to": 400, "for_device_id": 80},
  },
  issue_roll: {
    "record": "day_id",
    "roles": [],
    "once": ["rolls/{roll_id}"],
    "longest": {"first_tag": 6, "last_tag": 6, "given_to": 400, "for_device_id": 80},
  },
  list_piece: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "listed/{line_id}",
    "value": ["words", "count", "withdrawn"],
    "replaceable": true,
    "longest": {"correction": 400, "words": 400},
  },
  merge_item: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "merged",
    "value": ["into_id", "why"],
    "longest": {"why": 400},
  },
  open_container: {
    "record": "container_id",
    "roles": ["desk", "door", "porter", "table"],
    "opens": true,
    "longest": {"number": 6},
  },
  open_day: {"record": "day_id", "roles": [], "opens": true, "longest": {"house": 400, "place": 400}},
  open_item: {"record": "item_id", "roles": ["desk", "table"], "opens": true, "longest": {"allowed_by": 400}},
  open_visit: {
    "record": "visit_id",
    "roles": ["desk", "door", "table"],
    "opens": true,
    "personal": ["salt", "kinds"],
    "longest": {"ticket": 20, "kinds": 400, "allowed_by": 400},
  },
  order_sentences: {
    "record": "item_id",
    "roles": ["desk"],
    "field": "sentence-order/{text}",
    "value": "order",
    "replaceable": true,
    "longest": {"order": 200},
  },
  print_labels: {
    "record": "day_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "prints/{print_id}",
    "value": ["roll_id", "label", "rows"],
  },
  put_inside: {
    "record": "thing_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "inside[/{tag}]",
    "value": ["container_id"],
    "hands_on": true,
    "longest": {"tag": 6},
  },
  raise_caution: {
    "record": "item_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "cautions/{caution_id}",
    "value": ["hazard", "level", "sign", "zone", "called", "place", "still_allowed"],
    "always_taken": true,
    "longest": {"sign": 8000, "zone": 80, "called": 400, "place": 400},
  },
  raise_difference: {
    "record": "day_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "differences/{difference_id}",
    "value": ["difference", "thing_id", "words", "owner_told", "told"],
    "left_out": {"told": ""},
    "longest": {"words": 8000, "told": 400},
  },
  record_date: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "dates",
    "value": ["words", "earliest", "latest", "edtf"],
    "replaceable": true,
    "longest": {"correction": 400, "words": 400, "edtf": 60},
  },
  record_denial: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "denials/{zone}/{term}",
    "value": ["zone", "term", "light", "withdrawn"],
    "replaceable": true,
    "longest": {"correction": 400, "zone": 80, "light": 400},
  },
  record_finding: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "findings/{finding_id}",
    "value": [
      "zone",
      "term",
      "side",
      "severity",
      "extent_mm",
      "extent_mm_across",
      "extent_percent",
      "extent_count",
      "extent_words",
      "activity",
      "certainty",
      "origin",
      "light",
      "piece",
      "piece_count",
      "piece_words",
      "note",
      "withdrawn",
    ],
    "if_said": ["light", "piece", "piece_count", "piece_words"],
    "replaceable": true,
    "personal": ["salt", "note"],
    "personal_if": {"certainty": "told"},
    "longest": {"correction": 400, "zone": 80, "extent_words": 400, "light": 400, "piece_words": 400, "note": 8000},
  },
  record_grade: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "grade",
    "value": ["word", "computed", "reason"],
    "replaceable": true,
    "longest": {"reason": 400},
  },
  record_incident: {
    "record": "day_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "incidents/{incident_id}",
    "value": ["hazard", "level", "sign", "ticket", "place", "seen_at"],
    "replaceable": true,
    "always_taken": true,
    "longest": {"sign": 8000, "ticket": 400, "place": 400},
  },
  record_mark: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "marks/{mark_id}",
    "value": ["place", "technique", "colour", "completeness", "text", "reading", "standing", "withdrawn"],
    "if_said": ["standing"],
    "replaceable": true,
    "longest": {"correction": 400, "place": 400, "colour": 400, "text": 8000, "reading": 400},
  },
  record_measure: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "measures/{measure}",
    "value": ["value", "unit", "typed", "basis"],
    "if_said": ["basis"],
    "left_out": {"basis": ""},
    "replaceable": true,
    "longest": {"correction": 400, "measure": 40, "typed": 400, "basis": 400},
  },
  record_move: {
    "record": "thing_id",
    "roles": ["desk", "door", "porter", "table"],
    "once": ["moves/{move_id}"],
    "hands_on": true,
    "personal": ["salt", "given_by", "taken_by", "at"],
    "of_owner": {"given_by": "from_place", "taken_by": "to_place", "at": "to_place"},
    "longest": {"at": 400, "given_by": 400, "taken_by": 400, "tag": 6},
  },
  record_origin: {
    "record": "item_id",
    "roles": ["table"],
    "field": "origins/{zone}",
    "value": ["origin", "note"],
    "replaceable": true,
    "longest": {"zone": 80, "note": 400},
  },
  record_preflight: {
    "record": "day_id",
    "roles": [],
    "once": ["preflights/{preflight_id}"],
    "longest": {"ready": 400, "not_ready": 400},
  },
  record_statement: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "statements/{statement}",
    "value": ["words", "withdrawn"],
    "replaceable": true,
    "longest": {"correction": 400, "words": 400},
  },
  record_test: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "tests/{test}",
    "value": ["result", "why", "note"],
    "replaceable": true,
    "longest": {"correction": 400, "why": 400, "note": 400},
  },
  remove_tag: {
    "record": "item_id",
    "roles": ["desk", "door", "porter", "table"],
    "hands_on": true,
    "longest": {"tag": 6, "replaced_by": 6},
  },
  seal_container: {
    "record": "container_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "seal",
    "value": ["seal", "state", "second_by", "numbers", "sealed_at", "put_on", "read"],
    "if_said": ["numbers", "sealed_at", "put_on", "read"],
    "hands_on": true,
    "longest": {"seal": 400, "second_by": 400, "put_on": 400, "read": 400},
  },
  set_consignor: {
    "record": "visit_id",
    "roles": ["desk", "door", "table"],
    "field": "consignor/{field}",
    "value": "value",
    "replaceable": true,
    "personal": ["salt", "value"],
    "longest": {"value": 8000},
  },
  set_entry: {
    "record": "item_id",
    "roles": ["desk"],
    "field": "entry",
    "value": ["state", "reason"],
    "if_said": ["reason"],
    "left_out": {"reason": ""},
    "on_what_stood": true,
    "longest": {"reason": 400},
  },
  set_item: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "{field}",
    "value": "value",
    "replaceable": true,
    "personal": ["salt", "value"],
    "personal_fields": [
      "consignor/",
      "consignor/signatures/",
      "finding-notes/",
      "handed/",
      "kinds",
      "needs",
      "note",
      "receipts/",
      "settlement-notes/",
      "told_words",
    ],
    "longest": {"correction": 400, "field": 60, "value": 8000},
  },
  set_table: {
    "record": "day_id",
    "roles": [],
    "field": "tables/{table_id}",
    "value": ["name", "gone"],
    "replaceable": true,
    "longest": {"table_id": 40, "name": 400},
  },
  set_visit: {
    "record": "visit_id",
    "roles": ["desk", "door", "table"],
    "field": "{field}",
    "value": "value",
    "replaceable": true,
    "personal": ["salt", "value"],
    "personal_fields": [
      "consignor/",
      "consignor/signatures/",
      "finding-notes/",
      "handed/",
      "kinds",
      "needs",
      "note",
      "receipts/",
      "settlement-notes/",
      "told_words",
    ],
    "longest": {"value": 8000},
  },
  settle_difference: {
    "record": "day_id",
    "roles": ["desk", "door", "porter", "table"],
    "field": "difference-ends/{difference_id}",
    "value": ["ended", "words", "second_by"],
    "longest": {"words": 8000, "second_by": 400},
  },
  settle_disagreement: {
    "record": "record_id",
    "roles": ["desk"],
    "personal": ["salt", "note"],
    "longest": {"note": 400},
  },
  settle_incident: {
    "record": "day_id",
    "roles": ["desk", "table"],
    "field": "incident-ends/{incident_id}",
    "value": ["ended", "settled_by", "present", "words"],
    "longest": {"settled_by": 400, "present": 400, "words": 8000},
  },
  settle_late_act: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "late-ends/{late_id}",
    "value": ["words"],
    "longest": {"words": 8000},
  },
  sign_closing: {
    "record": "day_id",
    "roles": [],
    "field": "first-signings/{signing_id}",
    "value": ["signed_by", "reason_ids", "count", "digest", "withdrawn"],
    "if_said": ["withdrawn"],
    "left_out": {"withdrawn": false},
    "on_what_stood": true,
    "longest": {"signed_by": 400},
  },
  sign_receipt: {
    "record": "visit_id",
    "roles": ["desk", "door", "table"],
    "once": ["receipts/{receipt_id}"],
    "on_what_stood": true,
    "personal": ["salt", "signed_by", "strokes", "lines.words", "house_by", "on_paper", "head"],
    "longest": {"number": 400, "house_by": 400, "on_paper": 400, "signed_by": 400, "strokes": 20000},
  },
  skip_view: {
    "record": "item_id",
    "roles": ["desk", "table"],
    "field": "views/{view}",
    "value": ["reason", "note"],
    "replaceable": true,
    "longest": {"note": 400},
  },
  spoil_tag: {"record": "day_id", "roles": ["desk", "door", "porter", "table"], "longest": {"tag": 6, "why": 400}},
  tie_tag: {
    "record": "item_id",
    "roles": ["desk", "porter", "table"],
    "hands_on": true,
    "longest": {"tag": 20, "mark": 400},
  },
  write_sentence: {
    "record": "item_id",
    "roles": ["desk"],
    "field": "sentences/{text}/{sentence}",
    "value": ["text", "sentence", "speaks_of", "record_words", "version", "words"],
    "replaceable": true,
    "longest": {"sentence": 200, "speaks_of": 200, "record_words": 40000, "words": 8000},
  },
} as const satisfies Record<Kind, KindSays>;

/** The kind whose rules hold for the fields of a family, by the kind of record that can be stopped. */
export const FIELD_KINDS = {
  item: {
    "caution-decisions/": "decide_caution",
    "cautions/": "raise_caution",
    "check-in": "check_in",
    "check-in/": "check_in",
    "dates": "record_date",
    "denials/": "record_denial",
    "entry": "set_entry",
    "finding-notes/": "correct_told_note",
    "findings/": "record_finding",
    "grade": "record_grade",
    "inside": "put_inside",
    "inside/": "put_inside",
    "late-ends/": "settle_late_act",
    "listed/": "list_piece",
    "marks/": "record_mark",
    "measures/": "record_measure",
    "merged": "merge_item",
    "origins/": "record_origin",
    "photos/": "attach_photo",
    "pieces": "count_pieces",
    "sentence-order/": "order_sentences",
    "sentences/": "write_sentence",
    "statements/": "record_statement",
    "tags/": "tie_tag",
    "tests/": "record_test",
    "views/": "skip_view",
    "zones/": "examine_zone",
  },
} as const;

/** What a stopped item may still have, by the kinds of operation that carry it. */
export const STILL_CARRIED = {
  "place": [],
  "photo-from-distance": ["attach_photo"],
  "photo": ["attach_photo"],
  "tag": ["remove_tag", "tie_tag"],
  "move": ["put_inside", "record_move"],
  "check-in": ["check_in"],
} as const;
export type Still = keyof typeof STILL_CARRIED;
/** The kinds that a stopped item always takes. */
export const ALWAYS_TAKEN: readonly string[] = [
  "decide_caution",
  "merge_item",
  "raise_caution",
  "settle_disagreement",
  "settle_late_act",
];
/** What it may have besides once whoever was called has decided. */
export const ONCE_DECIDED: readonly Still[] = ["place", "tag", "move", "check-in"];

/** What fields are called, or what the names of several begin with. */
export type FamilyKey =
  | "allowed_by"
  | "bags"
  | "called"
  | "caution-decisions/"
  | "cautions/"
  | "check-in"
  | "check-in/"
  | "class_grade"
  | "class_id"
  | "closed"
  | "colour_now"
  | "colour_was"
  | "concluded_words"
  | "condition_words"
  | "consignor/"
  | "consignor/signatures/"
  | "dates"
  | "dates_certainty"
  | "dates_evidence"
  | "denials/"
  | "difference-ends/"
  | "differences/"
  | "entry"
  | "finding-notes/"
  | "findings/"
  | "first-signings/"
  | "grade"
  | "handed/"
  | "heading"
  | "heard-late/"
  | "held_on"
  | "house"
  | "incident-ends/"
  | "incidents/"
  | "inside"
  | "inside/"
  | "item_count"
  | "kinds"
  | "late-ends/"
  | "let_go"
  | "listed/"
  | "loads/"
  | "lot_description"
  | "maker"
  | "maker_certainty"
  | "maker_evidence"
  | "marks/"
  | "marks_looked"
  | "materials"
  | "measures/"
  | "merged"
  | "moves/"
  | "needs"
  | "note"
  | "origins/"
  | "packaging"
  | "people/"
  | "photos/"
  | "pieces"
  | "pieces-back"
  | "place"
  | "plan_version"
  | "preflights/"
  | "prints/"
  | "private"
  | "reasons/"
  | "receipts/"
  | "roll-holders/"
  | "rolls/"
  | "seal"
  | "seen_words"
  | "sentence-order/"
  | "sentences/"
  | "settlement-notes/"
  | "short_description"
  | "spoiled/"
  | "stage"
  | "stage_allowed_by"
  | "statements/"
  | "table_id"
  | "tables/"
  | "tags/"
  | "tests/"
  | "ticket"
  | "ticket-runs/"
  | "tickets-before/"
  | "told_words"
  | "views/"
  | "whereabouts"
  | "whereabouts/"
  | "zones/";

type KindsThatSay<Member extends string> = {
  [K in Kind]: (typeof KINDS)[K] extends Readonly<Record<Member, unknown>> ? K : never;
}[Kind];
/** The kinds that open a record, those that set one field, and those that do something else. */
export type OpeningKind = KindsThatSay<"opens">;
export type EditKind = KindsThatSay<"field">;
export type OtherKind = Exclude<Kind, OpeningKind | EditKind>;

/** How near the maker stands, and how sure a date is, as the office takes it. */
export type MakerCertainty =
  | "by"
  | "attributed-to"
  | "workshop-of"
  | "circle-of"
  | "follower-of"
  | "manner-of"
  | "after"
  | "region-period"
  | "unknown";
export type DateCertainty = "certain" | "probable" | "possible" | "not-determined";
