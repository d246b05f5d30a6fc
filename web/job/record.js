/**
 * What an operation does to a record: the office's rules, so that a device can show what waits on it.
 * The cases under fixtures/operations are read by the office's tests and by this module's.
 *
 * @import { Operation, RecordCopy, FieldValue } from "./types.js"
 */

const OF_DAY = new Set(["open_day", "add_person", "issue_roll", "give_roll", "spoil_tag", "raise_difference", "settle_difference", "count_load", "close_day", "record_preflight"]);
const OF_THING = new Set(["put_inside", "record_move"]);

/** The record that an operation touches. @param {Operation} op @returns {string} */
export function recordIdOf(op) {
  if (op.kind === "settle_disagreement") return op["record_id"];
  if (OF_DAY.has(op.kind)) return op["day_id"];
  if (OF_THING.has(op.kind)) return op["thing_id"];
  return op["item_id"] ?? op["of_id"] ?? op["visit_id"] ?? op["container_id"];
}

const FINDING = ["zone", "term", "side", "severity", "extent_mm", "extent_mm_across", "extent_percent", "extent_count", "extent_words", "activity", "certainty", "origin", "note", "withdrawn"];
const PHOTO_FILE = ["sha256", "bytes", "media_type", "width", "height", "thumb_sha256", "thumb_bytes"];

/** @param {Operation} op @param {string[]} names */
function only(op, names) {
  return Object.fromEntries(names.map((name) => [name, op[name] ?? null]));
}

/**
 * The field that an edit sets, and the value it gets; null for operations that are no edit of one field.
 * @param {Operation} op @returns {[string, any]|null}
 */
export function fieldOf(op) {
  switch (op.kind) {
    case "set_visit":
    case "set_item":
      return [op["field"], op["value"]];
    case "set_consignor":
      return [`consignor/${op["field"]}`, op["value"]];
    case "examine_zone":
      return [`zones/${op["zone"]}`, only(op, ["state", "reason", "light", "count"])];
    case "record_finding":
      return [`findings/${op["finding_id"]}`, only(op, FINDING)];
    case "record_denial":
      return [`denials/${op["zone"]}/${op["term"]}`, only(op, ["zone", "term", "light", "withdrawn"])];
    case "record_statement":
      return [`statements/${op["statement"]}`, only(op, ["words", "withdrawn"])];
    case "record_origin":
      return [`origins/${op["zone"]}`, only(op, ["origin", "note"])];
    case "record_mark":
      return [`marks/${op["mark_id"]}`, only(op, ["place", "technique", "colour", "completeness", "text", "reading", "withdrawn"])];
    case "record_date":
      return ["dates", only(op, ["words", "earliest", "latest", "edtf"])];
    case "record_measure":
      return [`measures/${op["measure"]}`, only(op, ["value", "unit", "typed"])];
    case "record_test":
      return [`tests/${op["test"]}`, only(op, ["result", "why", "note"])];
    case "record_grade":
      return ["grade", only(op, ["word", "computed", "reason"])];
    case "raise_caution":
      return [`cautions/${op["caution_id"]}`, only(op, ["hazard", "level", "sign", "zone", "called", "place"])];
    case "decide_caution":
      return [`caution-decisions/${op["caution_id"]}`, only(op, ["decision", "decided_by", "cleared_for", "place", "paper_given", "note"])];
    case "attach_photo":
      return [`photos/${op["photo_id"]}`, only(op, [...PHOTO_FILE, "view", "zone", "finding_id", "taken_at", "withdrawn"])];
    case "attach_record_photo":
      return [`photos/${op["photo_id"]}`, only(op, [...PHOTO_FILE, "difference_id", "taken_at", "withdrawn"])];
    case "give_roll":
      return [`roll-holders/${op["roll_id"]}`, only(op, ["given_to", "for_device_id"])];
    case "put_inside":
      return [op["tag"] ? `inside/${op["tag"]}` : "inside", only(op, ["container_id"])];
    case "seal_container":
      return ["seal", only(op, ["seal", "state", "second_by"])];
    case "raise_difference":
      return [`differences/${op["difference_id"]}`, { ...only(op, ["difference", "thing_id", "words", "owner_told"]), told: op["told"] ?? "" }];
    case "settle_difference":
      return [`difference-ends/${op["difference_id"]}`, only(op, ["ended", "words", "second_by"])];
    case "check_in":
      return ["check-in", only(op, ["state", "words", "second_by"])];
    case "merge_item":
      return ["merged", only(op, ["into_id", "why"])];
    case "set_entry":
      return ["entry", { state: op["state"] }];
    default:
      return null;
  }
}

/** @param {Operation} op @param {any} value @returns {FieldValue} */
function said(op, value) {
  return { value, operation_id: op.operation_id, made_by: op.made_by, made_at: op.made_at, device_id: op.device_id };
}

/** @param {any} one @param {any} other */
function same(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** The live findings on a zone. @param {RecordCopy} record @param {string} zone */
export function findingsOn(record, zone) {
  return listed(record, "findings/").filter(({ value }) => value.zone === zone && !value.withdrawn);
}

/**
 * The fields whose names begin so, as `{id, value, set}`.
 * @param {RecordCopy} record @param {string} prefix
 * @returns {{id: string, value: any, set: FieldValue}[]}
 */
export function listed(record, prefix) {
  return Object.entries(record.fields)
    .filter(([name]) => name.startsWith(prefix))
    .map(([name, set]) => ({ id: name.slice(prefix.length), value: set.value, set }));
}

/** @param {RecordCopy|null|undefined} record @param {string} name @returns {any} */
export function valueOf(record, name) {
  return record?.fields[name]?.value;
}

/**
 * The cautions that nobody has cleared, the gravest first.
 * @param {RecordCopy} record
 */
export function standingCautions(record) {
  const levels = ["red", "amber", "note"];
  return listed(record, "cautions/")
    .filter(({ id }) => valueOf(record, `caution-decisions/${id}`)?.decision !== "cleared")
    .sort((one, other) => levels.indexOf(one.value.level) - levels.indexOf(other.value.level));
}

/** The standing cautions that ask for more than to be noted. @param {RecordCopy} record */
export function holdingCautions(record) {
  return standingCautions(record).filter(({ value }) => value.level !== "note");
}

/** Whether a red caution stands: then nobody goes on with the item. @param {RecordCopy} record */
export function isStopped(record) {
  return standingCautions(record)[0]?.value.level === "red";
}

/**
 * What a label says of the cautions that stand on what it is tied to; "" if none asks for more than a note.
 * @param {RecordCopy[]} items
 */
export function cautionMark(items) {
  const levels = items.flatMap((item) => standingCautions(item).map(({ value }) => value.level));
  if (levels.includes("red")) return "stopped, do not handle";
  return levels.includes("amber") || items.some(isHeldApart) ? "held apart" : "";
}

/** What may still be said of a stopped item: a photo taken, a tag tied, a caution and what was decided. */
const NOT_STOPPED = new Set([
  "attach_photo", "tie_tag", "remove_tag", "put_inside", "record_move", "check_in", "merge_item", "raise_caution", "decide_caution", "settle_disagreement",
]);
/** Where something that is held apart may go. */
const APART = new Set(["isolation", "returned", "table"]);

/** Whether something on it can spread, or whoever decides has set it apart and nobody cleared it. @param {RecordCopy} record */
export function isHeldApart(record) {
  return listed(record, "caution-decisions/").some(({ value }) => value.decision === "isolated")
    || listed(record, "findings/").some(({ value }) => value.activity === "Q" && !value.withdrawn);
}

/** @param {Operation} op @param {RecordCopy["kind"]} kind @param {object} head @param {Record<string, any>} values @returns {RecordCopy} */
function opened(op, kind, head, values) {
  const fields = Object.fromEntries(Object.entries(values).map(([name, value]) => [name, said(op, value)]));
  return {
    kind, record_id: recordIdOf(op), day_id: op["day_id"], opened_at: op.made_at, opened_by: op.made_by,
    ...head, fields, disagreements: [],
  };
}

/** @param {string} code @param {string} detail */
function refusal(code, detail) {
  return { refusal: { code, detail } };
}

/**
 * Apply one operation to its record; the record given is left as it is.
 * @param {RecordCopy|null} record @param {Operation} op
 * @returns {{record: RecordCopy}|{refusal: {code: string, detail: string}}}
 */
export function applyOperation(record, op) {
  if (op.kind.startsWith("open_")) {
    if (record) return refusal("already_there", "This exists already.");
    if (op.kind === "open_visit") {
      return { record: opened(op, "visit", {}, { ticket: op["ticket"], bags: op["bags"], kinds: op["kinds"], stage: "waiting" }) };
    }
    if (op.kind === "open_container") return { record: opened(op, "container", only(op, ["number", "kind_of"]), {}) };
    if (op.kind === "open_item") return { record: opened(op, "item", { visit_id: op["visit_id"] }, {}) };
    const people = Object.fromEntries(op["people"].map((/** @type {any} */ person) => [`people/${person.person_id}`, person]));
    return { record: opened(op, "day", only(op, ["house", "place", "held_on", "currency", "tables"]), people) };
  }
  if (!record) return refusal("not_found", "There is no such record.");
  if (record.kind === "item" && !NOT_STOPPED.has(op.kind) && isStopped(record)) {
    return refusal("item_stopped", "A red caution stands on this item, so nobody goes on with it.");
  }
  if (OF_THING.has(op.kind) && op["tag"] && !record.fields[`tags/${op["tag"]}`]) return refusal("not_found", "This tag was never on it.");
  const difference = op.kind === "settle_difference" || op.kind === "attach_record_photo" ? op["difference_id"] : null;
  if (difference && !record.fields[`differences/${difference}`]) {
    return refusal("not_found", "Nobody has raised this difference.");
  }
  if (op.kind === "decide_caution" && !record.fields[`cautions/${op["caution_id"]}`]) {
    return refusal("not_found", "There is no such caution.");
  }
  const next = { ...record, fields: { ...record.fields }, disagreements: [...record.disagreements] };
  const edit = fieldOf(op);
  if (edit) return applyEdit(next, op, edit[0], edit[1]);
  switch (op.kind) {
    case "add_person":
      next.fields[`people/${op["person"].person_id}`] = said(op, op["person"]);
      break;
    case "tie_tag":
      if (valueOf(next, `tags/${op["tag"]}`)?.gone) return refusal("tag_spoiled", "This number is gone from the item and does not come back.");
      next.fields[`tags/${op["tag"]}`] = said(op, { ...only(op, ["tag", "piece"]), of: op["of"] ?? 1, mark: op["mark"] ?? "", gone: null, replaced_by: null });
      break;
    case "remove_tag": {
      const told = valueOf(next, `tags/${op["tag"]}`);
      if (!told) return refusal("not_found", "This tag is not on it.");
      next.fields[`tags/${op["tag"]}`] = said(op, { ...told, gone: op["why"], replaced_by: op["replaced_by"] });
      break;
    }
    case "issue_roll":
      next.fields[`rolls/${op["roll_id"]}`] = said(op, only(op, ["first_tag", "last_tag", "count"]));
      next.fields[`roll-holders/${op["roll_id"]}`] = said(op, only(op, ["given_to", "for_device_id"]));
      break;
    case "spoil_tag":
      next.fields[`spoiled/${op["tag"]}`] = said(op, only(op, ["tag", "why"]));
      break;
    case "record_move": {
      if (isHeldApart(next) && !APART.has(op["to_place"])) return refusal("not_isolation", "It is held apart: take it to isolation or back to its owner.");
      const told = only(op, ["from_place", "to_place", "at", "given_by", "taken_by", "count", "signed", "tag"]);
      next.fields[`moves/${op["move_id"]}`] = said(op, told);
      const all = ["whereabouts", ...Object.keys(next.fields).filter((name) => name.startsWith("whereabouts/"))];
      for (const name of op["tag"] ? [`whereabouts/${op["tag"]}`] : all) next.fields[name] = said(op, { move_id: op["move_id"], ...told });
      break;
    }
    case "sign_receipt":
      if (next.fields[`receipts/${op["receipt_id"]}`]) return refusal("already_there", "This receipt was signed before.");
      next.fields[`receipts/${op["receipt_id"]}`] = said(op, only(op, ["number", "what", "lines", "replaces", "house_by", "on_paper"]));
      next.fields[`consignor/signatures/${op["receipt_id"]}`] = said(op, only(op, ["signed_by", "strokes"]));
      break;
    case "count_load":
      if (next.fields[`loads/${op["load_id"]}`]) return refusal("already_there", "This load was counted.");
      next.fields[`loads/${op["load_id"]}`] = said(op, only(op, ["to_place", "at", "given_by", "taken_by", "crates", "pieces", "scanned_crates", "scanned_pieces"]));
      break;
    case "record_preflight":
      if (next.fields[`preflights/${op["preflight_id"]}`]) return refusal("already_there", "This pre-flight was kept.");
      next.fields[`preflights/${op["preflight_id"]}`] = said(op, only(op, ["items_expected", "labels_printed", "ready", "not_ready"]));
      break;
    case "close_day":
      next.fields["closed"] = said(op, only(op, ["closed_by", "second_by", "named"]));
      break;
    case "examine_rest":
      for (const zone of op["zones"]) {
        if (next.fields[`zones/${zone}`] || findingsOn(next, zone).length) continue;
        next.fields[`zones/${zone}`] = said(op, { state: "clear", reason: null, light: op["light"], count: null });
      }
      break;
    case "settle_disagreement": {
      const place = next.disagreements.findIndex((one) => one.disagreement_id === op["disagreement_id"]);
      const between = next.disagreements[place];
      if (!between) return refusal("not_found", "There is no such disagreement.");
      if (between.settled) return refusal("already_there", "It was settled before.");
      const settled = { choose: op["choose"], made_by: op.made_by, made_at: op.made_at, note: op["note"], operation_id: op.operation_id };
      next.disagreements[place] = { ...between, settled };
      if (op["choose"] === "other") next.fields[between.field] = said(op, between.other.value);
      break;
    }
    default:
      return refusal("unreadable", `This app does not know the kind ${op.kind}.`);
  }
  return { record: next };
}

/** @param {RecordCopy} next @param {Operation} op @param {string} name @param {any} value */
function applyEdit(next, op, name, value) {
  const current = next.fields[name];
  if (op.kind === "examine_zone" && op["state"] === "clear" && findingsOn(next, op["zone"]).length) {
    if (!current || current.operation_id === op.seen) {
      return refusal("findings_on_zone", "A zone with findings is not clear: withdraw the findings first.");
    }
  }
  if (!current || current.operation_id === op.seen) {
    next.fields[name] = said(op, value);
  } else if (!same(current.value, value)) {
    next.disagreements.push({ disagreement_id: op.operation_id, field: name, kept: current, other: said(op, value), settled: null });
  }
  return { record: next };
}
