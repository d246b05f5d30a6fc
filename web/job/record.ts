/**
 * What an operation does to a record: the office's rules, so that a device can show what waits on it.
 * The cases under fixtures/operations are read by the office's tests and by this module's.
 */
import { isHeldApart, isStopped } from "./cautions.ts";
import type { Kind, RecordMove, SettleDisagreement } from "./operations.ts";
import type { FieldValue, Operation, RecordCopy } from "./types.ts";
import { fieldValue, findingsOn } from "./values.ts";

const OF_DAY = new Set<Kind>([
  "open_day",
  "add_person",
  "issue_roll",
  "give_roll",
  "spoil_tag",
  "raise_difference",
  "settle_difference",
  "count_load",
  "close_day",
  "record_preflight",
]);
const OF_THING = new Set<Kind>(["put_inside", "record_move"]);

type IdName = "item_id" | "of_id" | "visit_id" | "container_id" | "day_id" | "thing_id";

/** The record that an operation touches. */
export function recordIdOf(op: Operation): string {
  if (op.kind === "settle_disagreement") return op.record_id;
  const ids = op as Partial<Record<IdName, string>>; // each kind has some of them
  if (OF_DAY.has(op.kind)) return ids.day_id ?? "";
  if (OF_THING.has(op.kind)) return ids.thing_id ?? "";
  return ids.item_id ?? ids.of_id ?? ids.visit_id ?? ids.container_id ?? "";
}

const FINDING = [
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
  "note",
  "withdrawn",
] as const;
const PHOTO_FILE = [
  "sha256",
  "bytes",
  "media_type",
  "width",
  "height",
  "thumb_sha256",
  "thumb_bytes",
] as const;

/** These members of an operation; what a device left out is null. */
function only<Op extends Operation, Name extends keyof Op>(op: Op, names: readonly Name[]) {
  return Object.fromEntries(names.map((name) => [name, op[name] ?? null])) as {
    [Member in Name]-?: Exclude<Op[Member], undefined>;
  };
}

/** The field that an edit sets, and the value it gets; null for operations that are no edit of one field. */
export function fieldOf(op: Operation): [name: string, value: unknown] | null {
  switch (op.kind) {
    case "set_visit":
    case "set_item":
      return [op.field, op.value];
    case "set_consignor":
      return [`consignor/${op.field}`, op.value];
    case "examine_zone":
      return [`zones/${op.zone}`, only(op, ["state", "reason", "light", "count"])];
    case "record_finding":
      return [`findings/${op.finding_id}`, only(op, FINDING)];
    case "record_denial":
      return [`denials/${op.zone}/${op.term}`, only(op, ["zone", "term", "light", "withdrawn"])];
    case "record_statement":
      return [`statements/${op.statement}`, only(op, ["words", "withdrawn"])];
    case "record_origin":
      return [`origins/${op.zone}`, only(op, ["origin", "note"])];
    case "record_mark":
      return [
        `marks/${op.mark_id}`,
        only(op, ["place", "technique", "colour", "completeness", "text", "reading", "withdrawn"]),
      ];
    case "record_date":
      return ["dates", only(op, ["words", "earliest", "latest", "edtf"])];
    case "record_measure":
      return [`measures/${op.measure}`, only(op, ["value", "unit", "typed"])];
    case "record_test":
      return [`tests/${op.test}`, only(op, ["result", "why", "note"])];
    case "record_grade":
      return ["grade", only(op, ["word", "computed", "reason"])];
    case "raise_caution":
      return [`cautions/${op.caution_id}`, only(op, ["hazard", "level", "sign", "zone", "called", "place"])];
    case "decide_caution":
      return [
        `caution-decisions/${op.caution_id}`,
        only(op, ["decision", "decided_by", "cleared_for", "place", "paper_given", "note"]),
      ];
    case "attach_photo":
      return [
        `photos/${op.photo_id}`,
        only(op, [...PHOTO_FILE, "view", "zone", "finding_id", "taken_at", "withdrawn"]),
      ];
    case "attach_record_photo":
      return [`photos/${op.photo_id}`, only(op, [...PHOTO_FILE, "difference_id", "taken_at", "withdrawn"])];
    case "give_roll":
      return [`roll-holders/${op.roll_id}`, only(op, ["given_to", "for_device_id"])];
    case "put_inside":
      return [op.tag ? `inside/${op.tag}` : "inside", only(op, ["container_id"])];
    case "seal_container":
      return ["seal", only(op, ["seal", "state", "second_by"])];
    case "raise_difference":
      return [
        `differences/${op.difference_id}`,
        { ...only(op, ["difference", "thing_id", "words", "owner_told"]), told: op.told ?? "" },
      ];
    case "settle_difference":
      return [`difference-ends/${op.difference_id}`, only(op, ["ended", "words", "second_by"])];
    case "check_in":
      return ["check-in", only(op, ["state", "words", "second_by"])];
    case "merge_item":
      return ["merged", only(op, ["into_id", "why"])];
    case "set_entry":
      return ["entry", { state: op.state }];
    default:
      return null;
  }
}

/** A value as whoever made the operation set it. */
function setBy<Value>(op: Operation, value: Value): FieldValue<Value> {
  return {
    value,
    operation_id: op.operation_id,
    made_by: op.made_by,
    made_at: op.made_at,
    device_id: op.device_id,
  };
}

function same(one: unknown, other: unknown) {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** What may still be said of a stopped item: a photo taken, a tag tied, a caution and what was decided. */
const NOT_STOPPED = new Set<Kind>([
  "attach_photo",
  "tie_tag",
  "remove_tag",
  "put_inside",
  "record_move",
  "check_in",
  "merge_item",
  "raise_caution",
  "decide_caution",
  "settle_disagreement",
]);
/** Where something that is held apart may go. */
const APART = new Set(["isolation", "returned", "table"]);

type Applied = { record: RecordCopy } | { refusal: { code: string; detail: string } };

function refusal(code: string, detail: string) {
  return { refusal: { code, detail } };
}

/** Apply one operation to its record; the record given is left as it is. */
export function applyOperation(record: RecordCopy | null, op: Operation): Applied {
  const opening = openedBy(op);
  if (opening) return record ? refusal("already_there", "This exists already.") : { record: opening };
  if (!record) return refusal("not_found", "There is no such record.");
  const against = whatSpeaksAgainst(record, op);
  if (against) return against;
  const next = { ...record, fields: { ...record.fields }, disagreements: [...record.disagreements] };
  const edit = fieldOf(op);
  return edit ? applyEdit(next, op, ...edit) : applyOther(next, op);
}

/** The record that an operation opens; null if it opens none. */
function openedBy(op: Operation): RecordCopy | null {
  switch (op.kind) {
    case "open_day": {
      const people = Object.fromEntries(op.people.map((person) => [`people/${person.person_id}`, person]));
      return {
        kind: "day",
        ...opened(op, op.day_id, people),
        ...only(op, ["house", "place", "held_on", "currency", "tables"]),
      };
    }
    case "open_visit": {
      const fields = { ...only(op, ["ticket", "bags", "kinds"]), stage: "waiting" };
      return { kind: "visit", ...opened(op, op.visit_id, fields) };
    }
    case "open_item":
      return { kind: "item", ...opened(op, op.item_id, {}), visit_id: op.visit_id };
    case "open_container":
      return { kind: "container", ...opened(op, op.container_id, {}), ...only(op, ["number", "kind_of"]) };
    default:
      return null;
  }
}

/** What every record has when it is opened. */
function opened(op: Operation & { day_id: string }, record_id: string, values: Record<string, unknown>) {
  const fields = Object.fromEntries(Object.entries(values).map(([name, value]) => [name, setBy(op, value)]));
  return {
    record_id,
    day_id: op.day_id,
    opened_at: op.made_at,
    opened_by: op.made_by,
    fields,
    disagreements: [],
  };
}

/** Why an operation is refused for what stands on the record; null if nothing speaks against it. */
function whatSpeaksAgainst(record: RecordCopy, op: Operation) {
  if (record.kind === "item" && !NOT_STOPPED.has(op.kind) && isStopped(record)) {
    return refusal("item_stopped", "A red caution stands on this item, so nobody goes on with it.");
  }
  if ((op.kind === "put_inside" || op.kind === "record_move") && op.tag && !record.fields[`tags/${op.tag}`]) {
    return refusal("not_found", "This tag was never on it.");
  }
  const difference =
    op.kind === "settle_difference" || op.kind === "attach_record_photo" ? op.difference_id : null;
  if (difference && !record.fields[`differences/${difference}`]) {
    return refusal("not_found", "Nobody has raised this difference.");
  }
  if (op.kind === "decide_caution" && !record.fields[`cautions/${op.caution_id}`]) {
    return refusal("not_found", "There is no such caution.");
  }
  return null;
}

/** Operations that are no edit of one field: they set several, add to a list, or build on what stands there. */
function applyOther(next: RecordCopy, op: Operation): Applied {
  switch (op.kind) {
    case "add_person":
      next.fields[`people/${op.person.person_id}`] = setBy(op, op.person);
      break;
    case "tie_tag":
      if (fieldValue(next, `tags/${op.tag}`)?.gone)
        return refusal("tag_spoiled", "This number is gone from the item and does not come back.");
      next.fields[`tags/${op.tag}`] = setBy(op, {
        ...only(op, ["tag", "piece"]),
        of: op.of ?? 1,
        mark: op.mark ?? "",
        gone: null,
        replaced_by: null,
      });
      break;
    case "remove_tag": {
      const told = fieldValue(next, `tags/${op.tag}`);
      if (!told) return refusal("not_found", "This tag is not on it.");
      next.fields[`tags/${op.tag}`] = setBy(op, { ...told, gone: op.why, replaced_by: op.replaced_by });
      break;
    }
    case "issue_roll":
      next.fields[`rolls/${op.roll_id}`] = setBy(op, only(op, ["first_tag", "last_tag", "count"]));
      next.fields[`roll-holders/${op.roll_id}`] = setBy(op, only(op, ["given_to", "for_device_id"]));
      break;
    case "spoil_tag":
      next.fields[`spoiled/${op.tag}`] = setBy(op, only(op, ["tag", "why"]));
      break;
    case "record_move":
      if (isHeldApart(next) && !APART.has(op.to_place))
        return refusal("not_isolation", "It is held apart: take it to isolation or back to its owner.");
      move(next, op);
      break;
    case "sign_receipt":
      if (next.fields[`receipts/${op.receipt_id}`])
        return refusal("already_there", "This receipt was signed before.");
      next.fields[`receipts/${op.receipt_id}`] = setBy(
        op,
        only(op, ["number", "what", "lines", "replaces", "house_by", "on_paper"]),
      );
      next.fields[`consignor/signatures/${op.receipt_id}`] = setBy(op, only(op, ["signed_by", "strokes"]));
      break;
    case "count_load":
      if (next.fields[`loads/${op.load_id}`]) return refusal("already_there", "This load was counted.");
      next.fields[`loads/${op.load_id}`] = setBy(
        op,
        only(op, [
          "to_place",
          "at",
          "given_by",
          "taken_by",
          "crates",
          "pieces",
          "scanned_crates",
          "scanned_pieces",
        ]),
      );
      break;
    case "record_preflight":
      if (next.fields[`preflights/${op.preflight_id}`])
        return refusal("already_there", "This pre-flight was kept.");
      next.fields[`preflights/${op.preflight_id}`] = setBy(
        op,
        only(op, ["items_expected", "labels_printed", "ready", "not_ready"]),
      );
      break;
    case "close_day":
      next.fields.closed = setBy(op, only(op, ["closed_by", "second_by", "named"]));
      break;
    case "examine_rest":
      for (const zone of op.zones) {
        if (next.fields[`zones/${zone}`] || findingsOn(next, zone).length) continue;
        next.fields[`zones/${zone}`] = setBy(op, {
          state: "clear",
          reason: null,
          light: op.light,
          count: null,
        });
      }
      break;
    case "settle_disagreement":
      return settle(next, op);
    default:
      return refusal("unreadable", `This app does not know the kind ${op.kind}.`);
  }
  return { record: next };
}

/** A piece moves by itself; the whole takes its pieces along. */
function move(next: RecordCopy, op: RecordMove) {
  const made = only(op, ["from_place", "to_place", "at", "given_by", "taken_by", "count", "signed", "tag"]);
  next.fields[`moves/${op.move_id}`] = setBy(op, made);
  const pieces = Object.keys(next.fields).filter((name) => name.startsWith("whereabouts/"));
  for (const name of op.tag ? [`whereabouts/${op.tag}`] : ["whereabouts", ...pieces])
    next.fields[name] = setBy(op, { move_id: op.move_id, ...made });
}

/** A person says which of two values holds; the other stays on record. */
function settle(next: RecordCopy, op: SettleDisagreement): Applied {
  const index = next.disagreements.findIndex((between) => between.disagreement_id === op.disagreement_id);
  const between = next.disagreements[index];
  if (!between) return refusal("not_found", "There is no such disagreement.");
  if (between.settled) return refusal("already_there", "It was settled before.");
  const settled = only(op, ["choose", "made_by", "made_at", "note", "operation_id"]);
  next.disagreements[index] = { ...between, settled };
  if (op.choose === "other") next.fields[between.field] = setBy(op, between.other.value);
  return { record: next };
}

/** An edit replaces the value that its editor saw; another value beside it is a disagreement. */
function applyEdit(next: RecordCopy, op: Operation, name: string, value: unknown): Applied {
  const seen = "seen" in op ? op.seen : null;
  const current = next.fields[name];
  if (op.kind === "examine_zone" && op.state === "clear" && findingsOn(next, op.zone).length) {
    if (!current || current.operation_id === seen) {
      return refusal("findings_on_zone", "A zone with findings is not clear: withdraw the findings first.");
    }
  }
  if (!current || current.operation_id === seen) {
    next.fields[name] = setBy(op, value);
  } else if (!same(current.value, value)) {
    next.disagreements.push({
      disagreement_id: op.operation_id,
      field: name,
      kept: current,
      other: setBy(op, value),
      settled: null,
    });
  }
  return { record: next };
}
