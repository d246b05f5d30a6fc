/**
 * What an operation does to a record: the office's rules, so that a device can show what waits on it.
 * The cases under fixtures/operations are read by the office's tests and by this module's.
 */
import { between, comesIntoForce, same } from "./between.ts";
import { holdsApart, isStopped } from "./cautions.ts";
import { APART } from "./custody.ts";
import type { FindingValue, MoveValue, TagValue, ValueAt, ZoneState } from "./fields.ts";
import { FIELD_KINDS, KINDS, type OpeningKind, type OtherKind } from "./kinds.ts";
import { fieldOf, nameIn, only, personalIn, recordIdOf, saysOf, setBy } from "./operation.ts";
import type {
  AddPerson,
  Kind,
  PutInside,
  RecordFinding,
  RecordMove,
  RemoveTag,
  SealContainer,
  SettleDisagreement,
  TieTag,
} from "./operations.ts";
import { mostCounted } from "./pieces.ts";
import { saidTakenAway } from "./referred.ts";
import { heardOf, isStoppedFor, knewOf } from "./stopped.ts";
import type { Disagreement, FieldValue, Operation, RecordCopy } from "./types.ts";
import { fieldValue, findingsOn, isContested, type Listed, listed, TO_LOOK_AT, zoneSaid } from "./values.ts";
import { isBackWithOwner, isReturn, movesInOrder } from "./with_owner.ts";

/** Operations of some kinds. Where all of them are told apart, a new one does not compile until it is followed. */
type Of<K extends Kind> = Extract<Operation, { kind: K }>;
type Applied = { record: RecordCopy } | { refusal: { code: string; detail: string } };

const NUMBER_GONE = "This number is gone from the item and does not come back.";

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
  const result = edit ? applyEdit(next, op, ...edit) : applyOther(next, op as Of<OtherKind>);
  if ("refusal" in result) return result;
  if (op.kind === "count_pieces" && op.back != null && next.fields.pieces?.operation_id === op.operation_id)
    next.fields["pieces-back"] = setBy(op, op.back);
  if (op.kind === "record_finding" && op.note && personalIn(op).length)
    next.fields[`finding-notes/${op.finding_id}`] = setBy(op, toldOn(record, op));
  if (isStoppedFor(record, kindObeyed(record, op), () => true))
    next.fields[`heard-late/${op.operation_id}`] = setBy(op, saidLate(op));
  else if (isPlaced(op, record, (taken) => knewOf(op, taken)))
    next.fields[`heard-late/${op.operation_id}`] = setBy(op, { ...saidLate(op), taken_away: true });
  // What was read of it while it was in the making must not be remembered of it: families are, by their fields.
  return { record: { ...next, fields: { ...next.fields } } };
}

/** Whether it says where a thing is that an authority took away, of which `counts` says that it is to be gone by. */
function isPlaced(op: Operation, record: RecordCopy, counts: (taken: FieldValue) => boolean) {
  const taken = op.kind === "record_move" || op.kind === "put_inside" ? saidTakenAway(record) : undefined;
  return taken !== undefined && counts(taken.set);
}

/** What is noted of it on a stopped item that it was done to, as far as it tells where that went. */
function saidLate(op: Operation) {
  const said = { kind: op.kind };
  if (!saysOf(op)?.hands_on) return said;
  const members = only(op as RecordMove & PutInside & SealContainer & RemoveTag, SAID_LATE);
  const told = Object.entries(members).filter(([, value]) => value);
  return { ...said, of: recordIdOf(op), ...Object.fromEntries(told) };
}

const SAID_LATE = ["to_place", "container_id", "tag", "why", "seal", "state"] as const;

/** What the owner told of a finding; what somebody else had noted of it who had not seen this stays beside it. */
function toldOn({ fields }: RecordCopy, { finding_id, note, seen }: RecordFinding) {
  const stands = fields[`finding-notes/${finding_id}`];
  const isAlone = !stands || (seen && wasSeen(stands, seen)) || stands.value === note;
  return isAlone ? note : `${stands.value}\n${note}`;
}

/** A record with operations on top, in their order; one that is refused changes nothing. */
export function withOperations(
  record: RecordCopy | null,
  operations: readonly Operation[],
): RecordCopy | null {
  return operations.reduce<RecordCopy | null>((current, op) => {
    const result = applyOperation(current, op);
    return "record" in result ? result.record : current;
  }, record);
}

/** The record that an operation opens; null if it opens none. */
function openedBy(op: Operation): RecordCopy | null {
  return saysOf(op)?.opens ? opens(op as Of<OpeningKind>) : null;
}

function opens(op: Of<OpeningKind>): RecordCopy {
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
      const fields = {
        ...only(op, ["ticket", "bags", "kinds"]),
        stage: "waiting",
        ...(op.allowed_by ? { allowed_by: op.allowed_by } : {}),
      };
      return { kind: "visit", ...opened(op, op.visit_id, fields) };
    }
    case "open_item": {
      const fields = op.allowed_by ? { allowed_by: op.allowed_by } : {};
      return { kind: "item", ...opened(op, op.item_id, fields), visit_id: op.visit_id };
    }
    case "open_container":
      return { kind: "container", ...opened(op, op.container_id, {}), ...only(op, ["number", "kind_of"]) };
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

/**
 * The kind whose rules an operation obeys: a settlement on a value that is to come into force those of its field's
 * kind.
 */
function kindObeyed(record: RecordCopy, op: Operation): string {
  if (op.kind !== "settle_disagreement") return op.kind;
  const two = record.disagreements.find(
    (disagreement) => disagreement.disagreement_id === op.disagreement_id,
  );
  const kinds: Readonly<Record<string, Readonly<Record<string, string>>>> = FIELD_KINDS;
  return two && comesIntoForce(record, two, op.choose)
    ? (kinds[record.kind]?.[two.field.replace(/\/.*/, "/")] ?? "")
    : op.kind;
}

/** Why an operation is refused for what stands on the record; null if nothing speaks against it. */
function whatSpeaksAgainst(record: RecordCopy, op: Operation) {
  if (isStoppedFor(record, kindObeyed(record, op), (value) => heardOf(op, value)))
    return refusal("item_stopped", "A red caution stands on this item, so nobody goes on with it.");
  if (isPlaced(op, record, (taken) => heardOf(op, taken)))
    return refusal("taken_away", "This thing was taken away by an authority: it is with the house no more.");
  if (saysOf(op)?.once?.some((template) => record.fields[nameIn(template, op)]))
    return refusal("already_there", "This is on record already.");
  if ((op.kind === "put_inside" || op.kind === "record_move") && op.tag && !record.fields[`tags/${op.tag}`]) {
    return refusal("not_found", "This tag was never on it.");
  }
  const difference =
    op.kind === "settle_difference" || op.kind === "attach_record_photo" ? op.difference_id : null;
  if (difference && !record.fields[`differences/${difference}`]) {
    return refusal("not_found", "Nobody has raised this difference.");
  }
  if (
    op.kind === "record_finding" &&
    personalIn(op).length &&
    [...toldOn(record, op)].length > KINDS.record_finding.longest.note
  )
    return refusal("too_long_together", "It is too long beside what was told before.");
  if (op.kind === "give_roll" && !record.fields[`rolls/${op.roll_id}`]) {
    return refusal("not_found", "There is no such roll.");
  }
  if (op.kind === "settle_incident" && !record.fields[`incidents/${op.incident_id}`]) {
    return refusal("not_found", "There is no such incident.");
  }
  const edit = fieldOf(op);
  const softened = edit && whatSoftens(record, ...edit);
  if (softened) return softened;
  if (op.kind === "decide_caution" && !record.fields[`cautions/${op.caution_id}`]) {
    return refusal("not_found", "There is no such caution.");
  }
  return null;
}

/** Operations that are no edit of one field: they set several, add to a list, or build on what stands there. */
function applyOther(next: RecordCopy, op: Of<OtherKind>): Applied {
  switch (op.kind) {
    case "add_person":
      return listPerson(next, op);
    case "tie_tag":
      return tie(next, op);
    case "remove_tag": {
      const tied = fieldValue(next, `tags/${op.tag}`);
      if (!tied) return refusal("not_found", "This tag is not on it.");
      if (tied.gone && tied.gone !== op.why && op.why !== "on-another-item")
        return refusal("tag_gone", "This number is off the item already.");
      next.fields[`tags/${op.tag}`] = setBy(op, { ...tied, gone: op.why, replaced_by: op.replaced_by });
      break;
    }
    case "issue_roll":
    case "carry_roll":
      next.fields[`rolls/${op.roll_id}`] = setBy(op, {
        ...only(op, ["first_tag", "last_tag", "count"]),
        ...(op.kind === "carry_roll" && only(op, ["from_roll_id"])),
      });
      next.fields[`roll-holders/${op.roll_id}`] = setBy(op, only(op, ["given_to", "for_device_id"]));
      break;
    case "spoil_tag":
      next.fields[`spoiled/${op.tag}`] = setBy(op, only(op, ["tag", "why"]));
      break;
    case "record_move":
      if (!APART.has(op.to_place) && holdsApart(next).some((value) => knewOf(op, value)))
        return refusal("not_isolation", "It is held apart: take it to isolation or back to its owner.");
      move(next, op);
      break;
    case "sign_receipt":
      next.fields[`receipts/${op.receipt_id}`] = setBy(op, {
        ...only(op, ["number", "what", "lines", "replaces"]),
        ...(op.head ? { head: op.head } : {}),
        ...(op.on_paper ? { is_on_paper: true } : {}),
        ...(op.what === "taken-back" && !op.signed_by.trim() ? { is_unnamed: true } : {}),
      });
      next.fields[`consignor/signatures/${op.receipt_id}`] = setBy(
        op,
        only(op, ["signed_by", "strokes", "house_by", "on_paper"]),
      );
      break;
    case "count_load":
      next.fields[`loads/${op.load_id}`] = setBy(op, {
        ...only(op, [
          "to_place",
          "at",
          "given_by",
          "taken_by",
          "crates",
          "pieces",
          "scanned_crates",
          "scanned_pieces",
        ]),
        ...(op.numbers?.length ? { numbers: op.numbers } : {}),
        ...(op.packed?.length ? { packed: op.packed } : {}),
        ...(op.driver ? { driver: op.driver } : {}),
        ...(op.of_load ? { of_load: op.of_load } : {}),
      });
      break;
    case "record_preflight":
      next.fields[`preflights/${op.preflight_id}`] = setBy(
        op,
        only(op, ["items_expected", "labels_printed", "ready", "not_ready"]),
      );
      break;
    case "close_day":
      if (next.fields.closed) return refusal("day_closed", "The day was closed before.");
      next.fields.closed = setBy(op, {
        ...only(op, ["closed_by", "second_by", "named"]),
        ...(op.second_device ? { second_device: op.second_device } : {}),
        ...(op.digest && op.first_signing ? { first_signing: op.first_signing } : {}),
        ...(op.digest && op.heard?.length ? { heard: op.heard } : {}),
        ...(op.digest
          ? only(op, ["reason_ids", "count", "digest", "first_digest"])
          : op.reasons?.length && { reasons: op.reasons }),
      });
      break;
    case "examine_rest":
      for (const zone of op.zones) {
        if (zoneSaid(next, zone) || findingsOn(next, zone).length) continue;
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
    case "erase_consignor":
      break; // the office does it, and this device hears of it
    default:
      return laterKind(op);
  }
  return { record: next };
}

/** Somebody on the day's list; an app of before did not say what it had seen, and replaces what stands. */
function listPerson(next: RecordCopy, op: AddPerson): Applied {
  const name = `people/${op.person.person_id}`;
  const stands = next.fields[name];
  return applyEdit(next, { ...op, seen: op.seen ?? stands?.operation_id ?? null }, name, op.person);
}

/**
 * A tag is on the item. Of two pieces that two devices tied to one number the first stands, and a person settles it; of
 * what one device said of it, its later word holds, and so does that of whoever had seen what stood.
 */
function tie(next: RecordCopy, op: TieTag): Applied {
  const name = `tags/${op.tag}`;
  const stands = next.fields[name];
  if (fieldValue(next, `tags/${op.tag}`)?.gone) return refusal("tag_spoiled", NUMBER_GONE);
  const { of = 1, mark = "", parts } = op;
  const tied = {
    ...only(op, ["tag", "piece"]),
    of,
    mark,
    ...(parts && { parts }),
    gone: null,
    replaced_by: null,
  };
  const isOwnLater = stands?.device_id === op.device_id && (stands.device_seq ?? 0) < op.device_seq;
  if (!stands || isOwnLater || (op.seen && wasSeen(stands, op.seen))) next.fields[name] = setBy(op, tied);
  else if (stands.device_id !== op.device_id && !same(stands.value, tied))
    next.disagreements.push(between(name, stands, setBy(op, tied)));
  return { record: next };
}

/** A kind that a later version made; none that this one's table has. */
function laterKind(op: never): Applied {
  return refusal("unreadable", `This app does not know the kind ${(op as Operation).kind}.`);
}

/**
 * A piece moves by itself; the whole takes its pieces along, but none that is back with its owner, unless all of it
 * comes from there. Where they are follows from all moves in the order of their clocks, whichever was heard first.
 */
function move(next: RecordCopy, op: RecordMove) {
  const made = only(op, ["from_place", "to_place", "at", "given_by", "taken_by", "count", "signed", "tag"]);
  const names = personalIn(op).slice(1) as (keyof typeof op)[];
  if (names.length) next.fields[`handed/${op.move_id}`] = setBy(op, only(op, names));
  for (const name of names) Object.assign(made, { [name]: "" });
  next.fields[`moves/${op.move_id}`] = setBy(op, made);
  const pieces = Object.keys(next.fields).filter((name) => name.startsWith("whereabouts/"));
  const moves = movesInOrder({ fields: { ...next.fields } }); // what was read of these fields before lacks this one
  for (const name of op.tag ? [`whereabouts/${op.tag}`] : ["whereabouts", ...pieces]) {
    const last = lastMoveOf(moves, name.slice("whereabouts/".length));
    if (last) next.fields[name] = { ...last.set, value: { move_id: last.id, ...last.value } };
  }
}

/** The last move of a thing, or of the piece of it that has a tag; which passes it over while it is with its owner. */
function lastMoveOf(moves: readonly Listed<MoveValue>[], tag: string): Listed<MoveValue> | undefined {
  let last: Listed<MoveValue> | undefined;
  for (const move of moves) {
    const isPassedOver = !move.value.tag && last?.value.tag && isReturn(last.set);
    if (move.value.tag ? move.value.tag === tag : !isPassedOver || move.value.from_place === "returned")
      last = move;
  }
  return last;
}

/** Why a value may not be said beside a caution that stands: it would hide it, or make it milder. */
function whatSoftens(record: RecordCopy, name: string, value: unknown) {
  if (name === "merged" && isStopped((value as ValueAt<"merged">).into_id ? alone(record) : record)) {
    return refusal("item_stopped", "What a red caution stops stands behind no other record.");
  }
  const raised = name.startsWith("cautions/") ? record.fields[name] : undefined;
  if (raised && !same(raised.value, value)) {
    return refusal("already_there", "This caution was raised before: what follows is a decision.");
  }
  return null;
}

/** The record without the others of the same thing. */
function alone({ doubles, ...record }: RecordCopy): RecordCopy {
  return record as RecordCopy;
}

/** Why a value may not come into force, be it said or settled on; null if nothing speaks against it. */
function whatSpeaksAgainstValue(record: RecordCopy, name: string, value: unknown) {
  const softened = whatSoftens(record, name, value);
  if (softened) return softened;
  if (name.startsWith("ticket-runs/")) {
    const run = value as ValueAt<"ticket-runs/">;
    if (takesFromItsDevice(record.fields[name]?.value as typeof run | undefined, run))
      return refusal(
        "tickets_given",
        "A device has this run, and may have given some of it with no network.",
      );
    if (overlapsAnother(record, name, run))
      return refusal("tickets_overlap", "Another run of the day has some of these tickets.");
  }
  const gone = name.startsWith("tags/") && (record.fields[name]?.value as TagValue | undefined)?.gone;
  if (gone && gone !== "on-another-item") return refusal("tag_spoiled", NUMBER_GONE);
  const state = name === "entry" ? (value as ValueAt<"entry">).state : "waiting";
  if (state !== "waiting" && fieldValue(record, "merged")?.into_id)
    return refusal("stands_behind", "This thing was recorded twice: go on with the other record.");
  if (state === "described" && isBackWithOwner(record))
    return refusal(
      "back_with_owner",
      "It went back to its owner: nothing is described for sale that went back.",
    );
  const zone = name.startsWith("zones/") ? name.slice("zones/".length) : null;
  if (zone !== null && (value as ZoneState).state === "clear" && findingsOn(record, zone).length) {
    return refusal("findings_on_zone", "A zone with findings is not clear: withdraw the findings first.");
  }
  if (name.startsWith("findings/")) {
    const { piece, piece_count, withdrawn } = value as FindingValue;
    const [all, on] = [mostCounted(record), piece_count ?? Number(piece)];
    if (all > 1 && on > all && !withdrawn)
      return refusal("more_pieces", "Fewer pieces were counted: say first on which of them it is.");
  }
  return null;
}

/** Whether a run that a device has would be another's, or would lose some of its tickets. */
function takesFromItsDevice(run: ValueAt<"ticket-runs/"> | undefined, to: ValueAt<"ticket-runs/">) {
  if (!run?.for_device_id) return false;
  return to.for_device_id !== run.for_device_id || to.first !== run.first || to.last < run.last;
}

/** Whether a run of tickets meets another one of the day. */
function overlapsAnother(record: RecordCopy, name: string, { first, last }: ValueAt<"ticket-runs/">) {
  return listed(record, "ticket-runs/").some(
    ({ id, value }) => name !== `ticket-runs/${id}` && first <= value.last && value.first <= last,
  );
}

/** A person says which of two values holds; the other stays on record. */
function settle(next: RecordCopy, op: SettleDisagreement): Applied {
  const index = next.disagreements.findIndex(
    (disagreement) => disagreement.disagreement_id === op.disagreement_id,
  );
  const two = next.disagreements[index];
  // Heard in another order the two stand otherwise: the office finds them, and this device hears of it.
  const isAsRead = two && (!op.kept_id || op.kept_id === two.kept.operation_id);
  if (!isAsRead) return refusal("not_found", "There is no such disagreement.");
  if (two.settled) return refusal("already_there", "It was settled before.");
  const comes = comesIntoForce(next, two, op.choose);
  const against = comes && whatSpeaksAgainstValue(next, two.field, comes.value);
  if (against) return against;
  const settled = only(op, ["choose", "made_by", "made_at", "operation_id"]);
  if (op.note) next.fields[`settlement-notes/${op.disagreement_id}`] = setBy(op, op.note);
  next.disagreements[index] = { ...two, settled };
  if (comes) {
    keepTicket(next, op, two.field, comes.value);
    next.fields[two.field] = settledOn(next, op, two.field, comes.value);
    lookAgain(next, op, two.field, comes.value);
  }
  return { record: next };
}

/**
 * A zone on which something was found is to be looked at again once all of it is withdrawn. Where two say of the zone
 * otherwise a person settles that first.
 */
function lookAgain(next: RecordCopy, op: Operation, name: string, value: unknown) {
  const field = name.startsWith("findings/") ? `zones/${(value as FindingValue).zone}` : name;
  const said = next.fields[field]?.value as ZoneState | undefined;
  if (said?.state !== "finding" || isContested(next, field)) return;
  const found = Object.entries(next.fields)
    .flatMap(([key, set]) => (key.startsWith("findings/") ? (set.value as FindingValue) : []))
    .filter(({ zone }) => `zones/${zone}` === field);
  if (found.length && found.every(({ withdrawn }) => withdrawn))
    next.fields[field] = setBy(op, {
      state: "not-examined",
      reason: TO_LOOK_AT,
      light: null,
      count: said.count,
    });
}

/** A ticket that was changed is used up: its owner may hold that paper still. */
function keepTicket({ fields }: RecordCopy, op: Operation, name: string, value: unknown) {
  const before = name === "ticket" ? fields.ticket : undefined;
  if (before && before.value !== value)
    fields[`tickets-before/${before.operation_id}`] = setBy(op, before.value);
}

/** The value that comes into force; a day stays closed since its first closing, whichever was settled on. */
function settledOn({ fields }: RecordCopy, op: Operation, field: string, value: unknown): FieldValue {
  const first = field === "closed" ? fields.closed : undefined;
  return first ? { ...first, operation_id: op.operation_id, value } : setBy(op, value);
}

/**
 * An edit replaces the value that its editor saw, or had said as well; another value beside it is a disagreement. Of
 * two who say the same the first stands, and the other has seen it. A later word of whoever said one of two goes on
 * from it: in place of what is open still, or of what was settled on.
 */
function applyEdit(next: RecordCopy, op: Operation, name: string, value: unknown): Applied {
  const seen = "seen" in op ? op.seen : null;
  const current = next.fields[name];
  if (!current || (seen && wasSeen(current, seen))) {
    const against = whatSpeaksAgainstValue(next, name, value);
    if (against) return against;
    keepTicket(next, op, name, value);
    next.fields[name] = setBy(op, value);
    lookAgain(next, op, name, value);
    return { record: next };
  }
  const goesOn = next.disagreements.find((two) => two.field === name && wasSaidBy(two, seen, current));
  const isSame = same(current.value, value);
  if (goesOn?.settled && !isSame) {
    const against = whatSpeaksAgainstValue(next, name, value);
    if (against) return against;
    keepTicket(next, op, name, value);
    next.fields[name] = setBy(op, value);
    lookAgain(next, op, name, value);
    return { record: next };
  }
  const others = next.disagreements.filter((two) => two !== goesOn || two.settled);
  const { agreed, ...kept } = current;
  if (isSame) next.fields[name] = { ...kept, agreed: { ...agreed, [op.device_id]: op.operation_id } };
  next.disagreements = isSame ? others : [...others, between(name, kept, setBy(op, value))];
  return { record: next };
}

/** Whether this operation said the value beside the one in force, or the one settled on and in force since. */
function wasSaidBy(
  { kept, other, settled }: Disagreement,
  seen: string | null | undefined,
  current: FieldValue,
) {
  if (!settled) return other.operation_id === seen;
  if (settled.operation_id !== current.operation_id) return false;
  return (settled.choose === "kept" ? kept : other).operation_id === seen;
}

/** Whether an editor who saw what this operation said saw the value in force. */
function wasSeen({ operation_id, agreed = {} }: FieldValue, seen: string) {
  return operation_id === seen || Object.values(agreed).includes(seen);
}
