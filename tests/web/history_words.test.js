/** What a history says of an operation. The sentences are our own; that no id or code is shown is what is checked. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { historyWords, inRuns, placeOf, severityChange, signedOf } from "../../web/job/history_words.ts";
import { operationWords } from "../../web/job/operation_words.ts";
import { photoWords } from "../../web/job/value_words.ts";

const ID = "019cebae-7930-775f-8dc5-196c875cade5";
const named = {
  lists: {
    plan: null,
    book: {
      plans: { "soft-toy": { name: "Stuffed and soft toys" } },
      classes: { "soft-toy": { words: "Soft toys" } },
    },
  },
  containerName: (id) => (id === "c1" ? "crate 7K3-QW5" : ""),
  tableName: (table_id) => (table_id === "t2" ? "Table 2" : ""),
  hazardName: (hazard) => (hazard === "H02" ? "Ammunition" : ""),
  disagreements: [
    {
      disagreement_id: ID,
      field: "maker",
      kept: { value: "unmarked" },
      other: { value: "a metal button" },
      settled: null,
    },
    {
      disagreement_id: "tag",
      field: "tags/7K3QW5",
      kept: { value: { tag: "7K3QW5", item_id: ID } },
      other: {},
    },
  ],
};

const SAID = [
  [
    { kind: "set_item", field: "plan_version", value: "f3332b" },
    "took the zones, trials and questions that its class had then",
  ],
  [{ kind: "set_item", field: "maker", value: "unmarked" }, "set maker to “unmarked”"],
  [{ kind: "set_item", field: "maker", value: null }, "took out what stood as “maker”"],
  [{ kind: "set_item", field: "seen_words", value: "" }, "took out what stood as “seen”"],
  [{ kind: "set_item", field: "seen_words", value: "a cat" }, "set what was seen to “a cat”"],
  [{ kind: "record_date", words: "early 20th century" }, "set the date to “early 20th century”"],
  [{ kind: "set_item", field: "told_words" }, "wrote down what its owner told"],
  [{ kind: "set_item", field: "class_id", value: "soft-toy" }, "said what kind of thing it is: Soft toys"],
  [
    { kind: "set_item", field: "class_id", value: "answer-desk" },
    "said what kind of thing it is: answer desk",
  ],
  [{ kind: "set_visit", field: "table_id", value: "t2" }, "said the table: Table 2"],
  [{ kind: "raise_caution", level: "red", hazard: "H02", sign: "shells" }, "raised Stop: Ammunition, shells"],
  [
    { kind: "settle_disagreement", disagreement_id: ID, choose: "other", note: "seen in the hand" },
    "said which maker holds: “a metal button”, not “unmarked”: seen in the hand",
  ],
  [
    { kind: "settle_disagreement", disagreement_id: "tag", choose: "kept", note: "" },
    "said that the tag 7K3-QW5 is on the other thing",
  ],
  [
    { kind: "settle_disagreement", disagreement_id: "gone", choose: "kept" },
    "said which of two values holds",
  ],
  [{ kind: "spoil_tag", tag: "00002Y", why: "torn" }, "struck the number 000-02Y through: torn"],
  [{ kind: "spoil_tag", tag: "00002Y", why: "" }, "struck the number 000-02Y through: nothing written"],
  [{ kind: "set_entry", state: "waiting" }, "moved it to “waiting”"],
  [
    { kind: "set_entry", state: "described", reason: "Sold as seen" },
    "moved it to “described”, although something was open: Sold as seen",
  ],
];

for (const [op, words] of SAID)
  test(`${op.kind} ${op.field ?? op.state ?? op.disagreement_id ?? op.hazard}`, () => {
    assert.equal(historyWords(op, named), words);
    assert.doesNotMatch(words, /[0-9a-f]{8}-|_|\bH\d\d\b/);
  });

test("a picture is called by the view it serves, else by its zone", () => {
  assert.equal(photoWords({ view: "underside", zone: "rim" }), "underside");
  assert.equal(photoWords({ view: null, zone: "rim" }), "rim");
  assert.equal(photoWords({}), "no view named");
});

test("what was put into a container says into which, and which piece of it", () => {
  const put = (container_id, tag = null) =>
    historyWords({ kind: "put_inside", thing_id: "i", container_id, tag, seen: null }, named);
  assert.equal(put("c1"), "put it into crate 7K3-QW5");
  assert.equal(put("c1", "00002Y"), "put 000-02Y into crate 7K3-QW5");
  assert.equal(put("elsewhere"), "put it into a container");
  assert.equal(put(null), "took it out of its container");
  const waiting = { kind: "put_inside", thing_id: "i", container_id: "c1", seen: null };
  assert.equal(operationWords(waiting, undefined, named.containerName), "put it into crate 7K3-QW5");
});

test("what was corrected says why", () => {
  const materials = { kind: "set_item", field: "materials", value: "maple, spruce" };
  const words = historyWords(materials, named);
  const corrected = historyWords({ ...materials, correction: "its belly is spruce" }, named);
  assert.equal(corrected, `${words}, corrected: its belly is spruce`);
  assert.equal(historyWords({ ...materials, correction: "" }, named), words);
});

test("what its owner signed stands between what was said before it and what came after", () => {
  const past = [logged("unmarked", "10"), logged("a button", "40", { clock_off_s: 5, device_id: "t2" })];
  const receipt = (number, made_at, item_id, more = {}) => ({
    value: { number, what: "left", lines: [{ item_id }], ...more },
    ...{ operation_id: number, made_by: "ana", made_at, device_id: "t2" },
  });
  const fields = {
    "receipts/b": receipt("Q17/2", "2026-03-14T10:00:47.000Z", ID, { is_on_paper: true, what: "taken-back" }),
    "receipts/a": receipt("Q17/1", "2026-03-14T10:00:20.000Z", ID),
    "receipts/c": receipt("Q17/3", "2026-03-14T10:00:20.000Z", "another"),
  };
  const signed = signedOf({ fields, disagreements: [] }, ID, past);
  assert.deepEqual(
    signed.map(({ words }) => words),
    ["signed Q17/1: it was left here", "signed on paper Q17/2: it was taken back"],
  );
  assert.deepEqual(
    signed.map((one) => placeOf(one, inRuns(past))),
    [1, 2],
    "by the clock of the device that signed, as far as its words tell how much that was off",
  );
});

test("a fault that is graver than it was says so", () => {
  const lists = {
    plan: null,
    book: {
      words: {
        severities: [
          { severity: 3, words: "serious" },
          { severity: 4, words: "severe" },
        ],
      },
    },
  };
  const found = (severity, at, more = {}) =>
    logged(`${severity}`, at, {
      ...{ kind: "record_finding", finding_id: "f", zone: "table", term: "crack", severity },
      ...{ withdrawn: false, ...more },
    });
  const runs = inRuns([
    found(3, "01"),
    found(3, "02", { finding_id: "other" }),
    found(4, "03", { outcome: "refused" }),
    found(4, "10", { made_by: "bo" }),
    found(3, "20", { withdrawn: true }),
  ]);
  const words = runs.map((_, index) => severityChange(runs, index, lists));
  assert.deepEqual(words, ["", "", ", from serious to severe", ", from serious to severe", ""]);
});

test("a place is named once with what was noted of it", () => {
  const move = { kind: "record_move", to_place: "van", given_by: "Ana", taken_by: "Bo" };
  assert.match(operationWords({ ...move, given_by: "Bo" }), /: Bo alone$/);
  assert.equal(
    operationWords({ ...move, at: "van 1, first trip" }),
    "moved it to van 1, first trip: Ana to Bo",
  );
  assert.equal(operationWords({ ...move, at: "first trip" }), "moved it to van, first trip: Ana to Bo");
});

const logged = (value, at, more = {}) => ({
  outcome: more.outcome ?? "kept",
  clock_off_s: more.clock_off_s ?? 0,
  received_at: "2026-03-14T10:00:30.000Z",
  operation: {
    ...{ kind: "set_item", item_id: ID, field: "maker", value, made_by: "ana", device_id: "t1" },
    ...{ operation_id: `${value} ${at}`, made_at: `2026-03-14T10:00:${at}.000Z`, ...more },
  },
});
const runs = (...past) => inRuns(past).map(({ said, records }) => [said.operation.value, records]);

test("a text that was typed with pauses is one line of a history, as it stood at the end", () => {
  const typed = [
    logged("a pair", "01"),
    logged("a pair of vases", "08"),
    logged("a pair of blue vases", "20"),
  ];
  assert.deepEqual(runs(...typed), [["a pair of blue vases", 3]]);
});

test("what others said, what replaces a text, and what was refused or said later are lines of their own", () => {
  const first = logged("vase", "01");
  for (const other of [
    logged("vases", "05", { made_by: "bram" }),
    logged("vases", "05", { device_id: "t2" }),
    logged("vases", "05", { field: "materials" }),
    logged("ewer", "05"),
    logged("vases", "05", { outcome: "refused" }),
    logged("vases", "05", { made_at: "2026-03-14T10:02:00.000Z" }),
  ])
    assert.equal(runs(first, other).length, 2);
});

test("a history is in the order of what was done, whenever the office heard it, by its own clock", () => {
  const late = logged("jug", "10", { made_by: "bram", device_id: "t2" });
  const byAFastClock = logged("bowl", "59", { made_by: "cleo", device_id: "t3", clock_off_s: 54 });
  const shown = runs(logged("vase", "01"), logged("ewer", "20"), late, byAFastClock);
  assert.deepEqual(
    shown.map(([value]) => value),
    ["vase", "bowl", "jug", "ewer"],
  );
  const never = logged("urn", "05", { made_at: "2026-02-30T25:00:00.000Z" });
  assert.deepEqual(
    runs(never, logged("vase", "01")).map(([value]) => value),
    ["vase", "urn"],
  );
});
