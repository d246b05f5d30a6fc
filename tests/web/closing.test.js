/** The closing of a day: on a day in order it names nothing, and one thing amiss is named as what it is and nothing else. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { differencesOf } from "../../web/job/closing.ts";
import { KINDS } from "../../web/job/closing_kinds.ts";
import { run } from "../../web/job/tag.ts";
import { tag } from "./made.js";

const [VASE, JUG, SPARE, CRATE] = run("00002Y", 4);
const PLAN = {
  refer_only: false,
  zones: [
    { zone: "body", members: [] },
    { zone: "handles", members: ["left", "right"] },
  ],
  views: [
    { view: "front", words: "whole from the front" },
    { view: "inside", words: "inside, if it opens" },
  ],
};
const set = (value, more = {}) => ({
  value,
  operation_id: "",
  made_by: "hester",
  made_at: "",
  device_id: "",
  ...more,
});
const fieldsOf = (values) =>
  Object.fromEntries(Object.entries(values).map(([name, value]) => [name, set(value)]));
const record = (kind, record_id, values, more = {}) => ({
  kind,
  record_id,
  day_id: "d",
  disagreements: [],
  fields: fieldsOf(values),
  ...more,
});
const move = (to_place, from_place = null) => ({
  from_place,
  to_place,
  at: "",
  given_by: "a",
  taken_by: "b",
  count: null,
  signed: false,
  tag: null,
});
const thing = (record_id, number) =>
  record(
    "item",
    record_id,
    {
      short_description: record_id,
      class_id: "ceramics",
      [`tags/${number}`]: tag(number),
      "zones/body": { state: "clear", reason: null },
      "zones/handles/left": { state: "clear", reason: null },
      "zones/handles/right": { state: "not-examined", reason: "sealed" },
      "photos/1": { view: "front", zone: null, withdrawn: false, taken_at: "" },
      "moves/1": move("holding", "table"),
      "moves/2": move("store", "holding"),
      whereabouts: { move_id: "2", ...move("store") },
    },
    { visit_id: "v" },
  );

/** A day on which all is as it should be: two things of one owner, signed for and in the store. */
function inOrder() {
  const vase = thing("vase", VASE);
  const jug = thing("jug", JUG);
  const lines = [vase, jug].map(({ record_id }) => ({ item_id: record_id, tags: [], words: record_id }));
  const visit = record("visit", "v", {
    ticket: "Q01",
    stage: "left",
    item_count: 2,
    "receipts/1": { number: "Q01/1", what: "left", lines },
  });
  const crate = record(
    "container",
    "crate",
    { seal: { seal: "7103", state: "whole" }, whereabouts: { move_id: "c", ...move("store") } },
    { number: CRATE, kind_of: "crate" },
  );
  const day = record("day", "d", {
    "people/hester": { name: "Hester", roles: ["valuer"] },
    "rolls/r": { first_tag: VASE, last_tag: CRATE, count: 4 },
    "roll-holders/r": { given_to: "Table 2", for_device_id: null },
    [`spoiled/${SPARE}`]: { tag: SPARE, why: "wet" },
  });
  return { day, visits: [visit], items: [vase, jug], containers: [crate], plan: () => PLAN };
}

const put = (on, values) => Object.assign(on.fields, fieldsOf(values));
const raise = (difference) => (all) =>
  put(all.day, { "differences/1": { difference, thing_id: null, words: "a spoon", owner_told: true } });
const caution = (level, still_allowed) => ({
  hazard: "H26",
  level,
  sign: "",
  zone: null,
  called: "",
  place: "",
  still_allowed,
});
const between = (field, kept, other) => ({
  disagreement_id: "1",
  field,
  kept: set(kept),
  other: set(other),
  settled: null,
});

/** For each kind, in whichever way it comes about: what is amiss, and words that say it. */
const AMISS = [
  [
    "incident",
    ({ day }) =>
      put(day, {
        "incidents/1": { hazard: "H02", level: "red", sign: "", ticket: "", place: "", seen_at: "" },
      }),
    /^Stop at .*\(H02\)$/,
  ],
  [
    "stopped",
    ({ items: [vase] }) => put(vase, { "cautions/1": caution("red", ["move"]) }),
    /stopped/,
    ["held"],
  ],
  ["held", ({ items: [vase] }) => put(vase, { "cautions/1": caution("amber") }), /the ledger says store$/],
  [
    "held",
    ({ items: [vase] }) =>
      put(vase, {
        "findings/1": { zone: "body", term: "moth", severity: 2, activity: "Q", withdrawn: false },
      }),
    /the ledger says store$/,
  ],
  ["heard-late", ({ items: [vase] }) => put(vase, { "heard-late/1": {} }), /a change by the clock/],
  ["no-receipt", ({ visits: [visit] }) => visit.fields["receipts/1"].value.lines.pop(), /1 of 2 left here/],
  [
    "unsigned",
    ({ items: [vase], visits: [visit] }) => {
      put(vase, { whereabouts: move("returned") });
      visit.fields["receipts/1"].value.lines.shift();
    },
    /^Q01, vase .*nobody has signed/,
  ],
  [
    "ticket-on-two",
    ({ visits }) => visits.push(record("visit", "w", { ticket: "q01", stage: "left" })),
    /2 owners hold this ticket/,
  ],
  ["visit", ({ visits: [visit] }) => put(visit, { stage: "at-table" }), /still open/],
  ["record-without-item", raise("record-without-item"), /a spoon$/],
  ["item-short", raise("item-short"), /a spoon$/],
  ["wrong-item", raise("wrong-item"), /a spoon$/],
  [
    "piece-short",
    ({ items: [vase] }) => put(vase, { [`tags/${VASE}`]: tag(VASE, { of: 2 }) }),
    /1 of its 2 pieces/,
  ],
  [
    "piece-short",
    ({ items: [vase] }) =>
      put(vase, {
        [`tags/${VASE}`]: tag(VASE, { of: 2 }),
        [`tags/${SPARE}`]: tag(SPARE, { piece: 2, of: 2 }),
        [`whereabouts/${SPARE}`]: { ...move("shelf"), tag: SPARE },
      }),
    /its pieces are apart: 1 of 2 store, 2 of 2 shelf$/,
  ],
  ["item-over", raise("item-over"), /a spoon$/],
  [
    "count",
    ({ visits: [visit] }) => put(visit, { item_count: 3 }),
    /3 things counted at the table, 2 on record/,
  ],
  [
    "not-moved",
    ({ items: [vase] }) => {
      for (const name of ["whereabouts", "moves/1", "moves/2"]) delete vase.fields[name];
    },
    /still at the table$/,
  ],
  [
    "left-behind",
    ({ items: [vase] }) => put(vase, { whereabouts: move("holding") }),
    /still in the holding area$/,
  ],
  [
    "item-without-tag",
    ({ items: [vase], day, visits: [visit] }) => {
      delete vase.fields[`tags/${VASE}`];
      put(day, { "rolls/r": { first_tag: JUG, last_tag: CRATE, count: 3 } });
      visit.fields["receipts/1"].value.lines.shift();
    },
    /no tag is on it$/,
  ],
  ["tag-without-item", raise("tag-without-item"), /a spoon$/],
  [
    "tag-on-two",
    ({ items: [vase] }) =>
      vase.disagreements.push(between(`tags/${JUG}`, { tag: JUG, item_id: "jug" }, tag(JUG))),
    /was tied to “jug” as well$/,
  ],
  [
    "tag-gone",
    ({ items: [vase] }) =>
      put(vase, { [`tags/${VASE}`]: tag(VASE, { gone: "fallen-off" }), [`tags/${SPARE}`]: tag(SPARE) }),
    /is fallen off and was not replaced$/,
  ],
  [
    "new-damage",
    ({ items: [vase] }) => put(vase, { "check-in": { state: "differs", words: "chip", second_by: "a" } }),
    /its photographs: chip$/,
  ],
  [
    "wrong-place",
    ({ items: [vase] }) => put(vase, { "moves/2": move("store", "bench") }),
    /moved from bench, while the ledger said holding area$/,
  ],
  [
    "load-short",
    ({ day }) =>
      put(day, {
        "loads/1": { to_place: "van", at: "trip 1", driver: "Jonty", numbers: [CRATE, VASE, "007T0E"] },
      }),
    /^Load to van, trip 1, driven by Jonty: 1 of 3 things not come: 007-T0E, on nothing this device knows$/,
  ],
  ["not-arrived", ({ containers: [crate] }) => put(crate, { whereabouts: move("van") }), /still in the van$/],
  [
    "seal-differs",
    ({ containers: [crate] }) => put(crate, { seal: { seal: "7103", state: "broken" } }),
    /seal 7103 is broken$/,
  ],
  [
    "seal-differs",
    ({ containers: [crate] }) => put(crate, { seal: { seal: "7103", state: "differs" } }),
    /seal 7103 differs$/,
  ],
  [
    "disagreement",
    ({ items: [vase] }) => vase.disagreements.push(between("maker", "one", "two")),
    /two people set/,
  ],
  [
    "class",
    (all) => {
      all.plan = ({ record_id }) => (record_id === "vase" ? null : PLAN);
    },
    /^Q01, vase .*no class/,
  ],
  ["passed-over", ({ day }) => delete day.fields[`spoiled/${SPARE}`], /^Table 2: .* passed over/],
  ["zones", ({ items: [vase] }) => delete vase.fields["zones/handles/left"], /^Q01, vase .*: 1 of its zones/],
  [
    "views",
    ({ items: [vase] }) => put(vase, { "photos/1": { view: "back", taken_at: "" } }),
    /view is missing$/,
  ],
];

test("a view that the table said no to is not named as missing", () => {
  const all = inOrder();
  put(all.items[0], {
    "photos/1": { view: "back", taken_at: "" },
    "views/front": { reason: "sealed", note: "" },
  });
  assert.deepEqual(differencesOf(all), []);
});

test("a day in order has nothing to name", () => {
  assert.deepEqual(differencesOf(inOrder()), []);
});

for (const [kind, disturb, words, more = []] of AMISS) {
  test(`one thing amiss is named as ${kind} and as nothing else: ${words.source}`, () => {
    const all = inOrder();
    disturb(all);
    const found = differencesOf(all);
    const kinds = new Set(found.map((one) => one.kind));
    assert.deepEqual(kinds, new Set([kind, ...more]), JSON.stringify(found));
    for (const one of found.filter((one) => one.kind === kind)) {
      assert.match(one.words, words);
      assert.match(one.at, /^#\//);
    }
  });
}

test("every kind of difference comes about on some day", () => {
  const kinds = new Set(KINDS.map(([kind]) => kind));
  assert.deepEqual(new Set(AMISS.map(([kind]) => kind)), kinds);
});
