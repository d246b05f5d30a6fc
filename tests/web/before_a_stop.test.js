/** What was done before a thing was stopped or set apart is a fact: the device's side of the office's rule. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { applyOperation } from "../../web/job/record.ts";
import { heardOf, knewOf } from "../../web/job/stopped.ts";
import { differencesOn } from "./differences_of.js";

const { cases: KNEW_OF, stops: STOPS } = JSON.parse(
  readFileSync(new URL("../../fixtures/knew-of.json", import.meta.url), "utf-8"),
);

const [EARLIER, STOP, LATER] = ["00", "05", "10"].map((minute) => `2026-03-14T11:${minute}:00.000Z`);
let made = 0;
const make = (kind, body, { at = LATER, on = "one" } = {}) => ({
  operation_id: `op-${++made}`,
  kind,
  made_at: at,
  made_by: "hester",
  device_id: on,
  device_seq: made,
  ...body,
});
const raise = (at) =>
  make(
    "raise_caution",
    {
      item_id: "i",
      caution_id: `c-${at}`,
      hazard: "H02",
      level: "red",
      sign: "",
      still_allowed: [],
      seen: null,
    },
    { at },
  );
const tie = (more) => make("tie_tag", { item_id: "i", tag: "0002D4", piece: 1 }, more);
const fact = (value, seen = null) => make("set_item", { item_id: "i", field: "materials", value, seen });
const moveTo = (to_place, more) =>
  make(
    "record_move",
    { move_id: `m-${made}`, thing_id: "i", to_place, at: "", given_by: "a", taken_by: "b" },
    more,
  );

function play(...operations) {
  let record = null;
  for (const op of [make("open_item", { item_id: "i", visit_id: "v", day_id: "d" }), ...operations]) {
    const result = applyOperation(record, op);
    assert.ok("record" in result, JSON.stringify(result));
    record = result.record;
  }
  return record;
}
const codeOf = (record, op) => applyOperation(record, op).refusal?.code;

for (const { says, said, operation, knew } of KNEW_OF)
  test(`device and office say alike what was known: ${says}`, () => {
    assert.equal(knewOf(operation, said), knew);
  });

for (const { says, stop, operation, heard } of STOPS)
  test(`device and office say alike which stop was heard of: ${says}`, () => {
    assert.equal(heardOf(operation, stop), heard);
  });

test("what waits on a phone that had not heard of the stop stands there, and tells what was done", () => {
  const stopped = play(raise(STOP));
  const late = moveTo("van", { on: "two" });
  assert.equal(codeOf(stopped, late), "item_stopped", "of an app of before the clocks tell");
  const { record } = applyOperation(stopped, { ...late, heard_stops: [] });
  assert.equal(record.fields.whereabouts.value.to_place, "van");
  assert.deepEqual(record.fields[`heard-late/${late.operation_id}`].value, {
    kind: "record_move",
    of: "i",
    to_place: "van",
  });
  const [heard] = Object.values(stopped.fields).map(({ operation_id }) => operation_id);
  assert.equal(codeOf(stopped, { ...late, heard_stops: [heard] }), "item_stopped");
});

test("what an authority took away is moved by nobody who has heard of it, and by others it is named", () => {
  const decided = { decision: "taken-away", decided_by: "the police", place: "", paper_given: true };
  const more = { item_id: "i", caution_id: `c-${STOP}`, cleared_for: "", note: "", seen: null };
  const taken = make("decide_caution", { ...more, ...decided }, { at: STOP });
  const gone = play(raise(STOP), taken);
  const late = moveTo("store", { on: "two" });
  assert.equal(codeOf(gone, late), "taken_away", "of an app of before the clocks tell");
  const [stop] = Object.values(gone.fields).map(({ operation_id }) => operation_id);
  assert.equal(codeOf(gone, { ...late, heard_stops: [stop, taken.operation_id] }), "taken_away");
  const { record } = applyOperation(gone, { ...late, heard_stops: [stop] });
  assert.deepEqual(record.fields[`heard-late/${late.operation_id}`].value, {
    kind: "record_move",
    of: "i",
    to_place: "store",
    taken_away: true,
  });
});

test("what a device did before its own Stop, and that had to wait, is shown", () => {
  const before = tie({ at: LATER });
  const stopped = play(raise(STOP));
  assert.equal(codeOf(stopped, before), undefined);
  assert.equal(codeOf(stopped, tie({ at: EARLIER })), "item_stopped");
});

test("what another device did before the Stop is taken, and noted as heard late", () => {
  const stopped = play(raise(STOP));
  assert.equal(codeOf(stopped, tie({ on: "two" })), "item_stopped");
  assert.equal(codeOf(stopped, tie({ at: EARLIER })), "item_stopped", "who pressed Stop knew");
  const late = tie({ at: EARLIER, on: "two" });
  const { record } = applyOperation(stopped, late);
  assert.equal(record.fields["tags/0002D4"].value.tag, "0002D4");
  assert.deepEqual(record.fields[`heard-late/${late.operation_id}`].value, {
    kind: "tie_tag",
    of: "i",
    tag: "0002D4",
  });
});

test("the first of two Stops counts", () => {
  const stopped = play(raise(STOP), raise(LATER));
  assert.equal(codeOf(stopped, tie({ at: STOP.replace("05", "07"), on: "two" })), "item_stopped");
});

test("a shelf before it was set apart is where it is", () => {
  const finding = {
    item_id: "i",
    finding_id: "f",
    zone: "nose",
    activity: "Q",
    withdrawn: false,
    seen: null,
  };
  const apart = play(make("record_finding", finding, { at: STOP }));
  assert.equal(codeOf(apart, moveTo("shelf", { on: "two" })), "not_isolation");
  assert.equal(codeOf(apart, moveTo("shelf", { at: EARLIER, on: "two" })), undefined);
});

test("a settlement changes a stopped item as far as the caution lets it", () => {
  const other = fact("oak");
  const stopped = play(fact("tin"), other, raise(LATER));
  const settle = (choose) =>
    make("settle_disagreement", { record_id: "i", disagreement_id: other.operation_id, choose, note: "" });
  assert.equal(codeOf(stopped, settle("other")), "item_stopped");
  assert.equal(codeOf(stopped, settle("kept")), undefined);
});

test("the closing names what was heard late of a thing that is still stopped", () => {
  const named = (item) =>
    differencesOn({
      day: { kind: "day", record_id: "d", tables: [], fields: {}, disagreements: [] },
      visits: [],
      items: [item],
      containers: [],
      plan: () => null,
    }).filter(({ kind }) => ["heard-late", "held"].includes(kind));
  assert.deepEqual(named(play(raise(STOP))), []);
  const cleared = make("decide_caution", {
    item_id: "i",
    caution_id: `c-${STOP}`,
    decision: "cleared",
    seen: null,
  });
  const [still] = named(play(raise(STOP), moveTo("shelf", { at: EARLIER, on: "two" }), cleared));
  assert.equal(still.kind, "heard-late", "a clock may be behind: what became of it changes nothing");
  const [held, late] = named(play(raise(STOP), moveTo("shelf", { at: EARLIER, on: "two" })));
  assert.match(held.words, /held, and the ledger says shelf/);
  assert.match(late.words, /it was moved to shelf at .*, before that device had heard of the stop/);
});
