/** What a receipt says of a thing, and what nobody has signed for yet. Source: common practice. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lineOfReturned, receiptLine, receiptState, receiptsOf } from "../../web/job/receipt.ts";
import { record, STOP, tag } from "./made.js";

const item = (record_id, values = {}) =>
  record(
    "item",
    record_id,
    { short_description: record_id, "tags/00002Y": tag("00002Y"), ...values },
    { visit_id: "v" },
  );
const back = (signed) => ({ whereabouts: { to_place: "returned", at: "", signed } });
const lines = (...items) => items.map((item_id) => ({ item_id, tags: [], words: item_id }));
const receipt = (number, what, ...items) => ({ number, what, lines: lines(...items), replaces: null });
const ids = (items) => items.map(({ record_id }) => record_id);
const stateOf = (receipts, items) =>
  receiptState(record("visit", "v", receipts), items, new Map(items.map((one) => [one.record_id, one])));

test("a line says what it is, in how many pieces, its visible faults where they are, and that it is held", () => {
  const finding = (severity, more = {}) => ({
    zone: "rim/viewers-left",
    term: "hair-line",
    severity,
    withdrawn: false,
    ...more,
  });
  const line = receiptLine(
    item("teapot", {
      "tags/00002Y": tag("00002Y", { of: 2 }),
      "tags/00003A": tag("00003A", { piece: 2, of: 2 }),
      "findings/1": finding(2),
      "findings/2": finding(1, { term: "wear" }),
      "findings/3": finding(4, { term: "loss", withdrawn: true }),
      "cautions/1": { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" },
    }),
  );
  assert.equal(
    line.words,
    "teapot; 2 pieces; hair line, rim, viewer's left; held apart, as the owner was told",
  );
  assert.deepEqual(line.tags, ["00002Y", "00003A"]);
  assert.equal(receiptLine(item("jug")).words, "jug", "one piece is not counted");
});

test("a line has the numbers that are on the thing, and of what went back those it had", () => {
  const gone = tag("00002Y", { gone: "fallen-off" });
  const again = item("jug", { "tags/00002Y": gone, "tags/00003A": tag("00003A") });
  assert.deepEqual(receiptLine(again).tags, ["00003A"]);
  assert.deepEqual(receiptLine(item("jug", { "tags/00002Y": gone })).tags, []);
  const taken = item("jug", { "tags/00002Y": tag("00002Y", { gone: "taken-back" }), ...back(true) });
  assert.deepEqual(lineOfReturned(taken).tags, ["00002Y"]);
  assert.deepEqual(lineOfReturned(item("jug", back(true))).tags, ["00002Y"]);
  const two = item("pair", {
    "tags/00002Y": tag("00002Y", { of: 2, gone: "taken-back" }),
    "tags/00003A": tag("00003A", { piece: 2, of: 2, gone: "taken-back" }),
    ...back(true),
  });
  assert.equal(lineOfReturned(two).words, "pair; 2 pieces", "all of it, not a part");
});

test("of a pair of which one went back a line says what stays, and another what went", () => {
  const pair = {
    "tags/00002Y": tag("00002Y", { of: 2 }),
    "tags/00003A": tag("00003A", { piece: 2, of: 2 }),
  };
  const moved = item("pair", { ...pair, "whereabouts/00003A": back(false).whereabouts });
  const taken = item("pair", { ...pair, "tags/00003A": { ...pair["tags/00003A"], gone: "taken-back" } });
  const lines = (one) => [receiptLine(one), lineOfReturned(one)].map(({ tags, words }) => [tags, words]);
  for (const one of [moved, taken]) {
    assert.deepEqual(lines(one), [
      [["00002Y"], "pair; 1 of 2 pieces here, 1 back with the owner"],
      [["00003A"], "pair; 1 of 2 pieces"],
    ]);
    const state = stateOf({ "receipts/1": receipt("Q01/1", "left", "pair") }, [one]);
    assert.deepEqual([ids(state.staying), ids(state.backInPart), ids(state.toTie)], [["pair"], ["pair"], []]);
  }
  const both = {
    ...pair,
    ...Object.fromEntries(
      ["00002Y", "00003A"].map((number) => [`whereabouts/${number}`, back(false).whereabouts]),
    ),
  };
  const gone = stateOf({ "receipts/1": receipt("Q01/1", "left", "pair") }, [item("pair", both)]);
  assert.deepEqual([ids(gone.staying), ids(gone.backInPart)], [[], ["pair"]], "nothing of it stays");
  assert.equal(receiptLine(item("pair", both)).words, "pair; back with the owner");
});

test("what was signed for and is here is on the next receipt, and first gets the number that it lost", () => {
  const lost = tag("00002Y", { gone: "fallen-off" });
  const on = (...tags) => ({
    "receipts/1": {
      ...receipt("Q01/1", "left", "vase"),
      lines: [{ item_id: "vase", tags, words: "vase" }],
    },
  });
  const signed = (one, ...tags) => {
    const state = stateOf(on(...tags), [one, item("jug")]);
    return [ids(state.staying), ids(state.toTie), ids(state.untagged)];
  };
  const both = ["vase", "jug"];
  assert.deepEqual(signed(item("vase"), "00002Y"), [both, [], []]);
  assert.deepEqual(signed(item("vase", { "tags/00002Y": lost }), "00002Y"), [both, ["vase"], []]);
  assert.deepEqual(
    signed(item("vase", { "tags/00002Y": lost })),
    [both, ["vase"], []],
    "signed for without one",
  );
  const again = item("vase", { "tags/00002Y": lost, "tags/00003A": tag("00003A") });
  assert.deepEqual(signed(again, "00002Y"), [both, [], []], "another number is on it");
  const half = item("vase", {
    "tags/00002Y": tag("00002Y", { of: 2 }),
    "tags/00003A": tag("00003A", { piece: 2, of: 2, gone: "lost" }),
  });
  assert.deepEqual(signed(half, "00002Y", "00003A"), [both, ["vase"], []], "a piece of it");
  assert.deepEqual(signed(half, "00002Y"), [both, [], []], "it was signed for as it is");
  const stopped = item("vase", { "tags/00002Y": lost, "cautions/1": STOP });
  assert.deepEqual(signed(stopped, "00002Y"), [both, [], []], "nobody may tie a tag to it now");
  const merged = item("vase", { merged: { into_id: "jug", why: "" } });
  assert.deepEqual(signed(merged, "00002Y"), [["jug"], [], []]);
  assert.deepEqual(signed(item("vase", back(true)), "00002Y"), [["jug"], [], []]);
  assert.deepEqual(
    ids(stateOf({}, [item("vase", { "tags/00002Y": lost })]).staying),
    [],
    "nobody signed for it",
  );
});

test("what was left is signed for on the last receipt, not on one that it replaced", () => {
  const [vase, jug] = [item("vase"), item("jug")];
  const first = { "receipts/1": receipt("Q01/1", "left", "vase", "jug") };
  assert.deepEqual(ids(stateOf(first, [vase, jug]).hereUnsigned), []);
  const corrected = { ...first, "receipts/2": receipt("Q01/2", "left", "vase") };
  const state = stateOf(corrected, [vase, jug]);
  assert.deepEqual([state.last.number, ids(state.hereUnsigned)], ["Q01/2", ["jug"]]);
  const taken = { ...first, "receipts/2": receipt("Q01/2", "taken-back", "vase") };
  assert.equal(
    stateOf(taken, [vase, jug]).last.number,
    "Q01/1",
    "one for what went back is not of what is here",
  );
});

test("what went back is signed for on a receipt for that or in the ledger, not on the one for leaving it", () => {
  const left = { "receipts/1": receipt("Q01/1", "left", "vase") };
  assert.deepEqual(ids(stateOf(left, [item("vase", back(false))]).backUnsigned), ["vase"]);
  assert.deepEqual(ids(stateOf(left, [item("vase", back(true))]).backUnsigned), []);
  const taken = { ...left, "receipts/2": receipt("Q01/2", "taken-back", "vase") };
  assert.deepEqual(ids(stateOf(taken, [item("vase", back(false))]).backUnsigned), []);
  const never = { ...item("vase", back(false)), fields: record("item", "vase", back(false)).fields };
  assert.deepEqual(ids(stateOf({}, [never]).backUnsigned), [], "what never had a number was never taken in");
});

test("a thing is on its own visit's receipt, once, and under a number", () => {
  const others = [
    { ...item("another's"), visit_id: "w" },
    item("doubled", { merged: { into_id: "vase", why: "" } }),
    item("bare", { "tags/00002Y": tag("00002Y", { gone: "fallen-off" }) }),
  ];
  const state = stateOf({}, [item("vase"), ...others]);
  assert.deepEqual(
    [ids(state.recorded), ids(state.here), ids(state.untagged)],
    [["vase", "bare"], ["vase"], ["bare"]],
  );
});

test("receipts stand in the order of their making, each with whatever of the signature is on this device", () => {
  const visit = record("visit", "v", {
    "receipts/2": receipt("Q01/2", "left"),
    "receipts/1": receipt("Q01/1", "left"),
    "consignor/signatures/2": { signed_by: "Barnaby Tumblewick", strokes: "M1 1L2 2" },
  });
  const shown = receiptsOf(visit).map(({ number, is_here, signed_by }) => [number, is_here, signed_by]);
  assert.deepEqual(shown, [
    ["Q01/1", false, ""],
    ["Q01/2", true, "Barnaby Tumblewick"],
  ]);
});

test("what is stopped and never got a number is nobody's to take home, also once it was decided on", () => {
  const decided = (decision) => ({ decision, by: "the police", contact: "", place: "gone with the police" });
  const bare = { "tags/00002Y": tag("00002Y", { gone: "fallen-off" }), "cautions/1": STOP };
  const tin = (decision) => item("tin", { ...bare, "caution-decisions/1": decided(decision) });
  const beside = (one) => {
    const state = stateOf({}, [one]);
    return [ids(state.stopped), ids(state.untagged)];
  };
  assert.deepEqual(beside(item("tin", bare)), [["tin"], []]);
  assert.deepEqual(beside(tin("referred")), [["tin"], []]);
  assert.deepEqual(beside(tin("isolated")), [["tin"], []]);
  assert.deepEqual(beside(tin("returned")), [[], ["tin"]], "it was decided that its owner has it");
});

test("what was signed for stays on its receipt, whatever becomes of it: no number, a Stop", () => {
  const signed = { "receipts/1": receipt("Q01/1", "left", "vase") };
  for (const since of [{ "tags/00002Y": tag("00002Y", { gone: "fallen-off" }) }, { "cautions/1": STOP }]) {
    const state = stateOf(signed, [item("vase", since)]);
    assert.deepEqual([ids(state.stopped), ids(state.untagged), ids(state.hereUnsigned)], [[], [], []]);
    const before = stateOf({}, [item("vase", since)]);
    assert.deepEqual([...ids(before.stopped), ...ids(before.untagged)], ["vase"], "nobody signed for it");
  }
});
