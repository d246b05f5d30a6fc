/** What a receipt says of a thing, and what nobody has signed for yet. Source: common practice. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  lineOfReturned,
  receiptLine,
  receiptState,
  receiptsOf,
  slightFaults,
} from "../../web/job/receipt.ts";
import { record, STOP, set, tag } from "./made.js";

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
    "teapot; 2 pieces; hair line on the rim, viewer's left, moderate; held apart; " +
      "slight faults are on record besides",
  );
  assert.deepEqual(line.tags, ["00002Y", "00003A"]);
  assert.equal(receiptLine(item("jug")).words, "jug", "one piece is not counted");
});

test("what is on record and not on the receipt, since it is slight, is named beside it", () => {
  const finding = (term, severity, more = {}) => ({
    term,
    zone: "mount",
    severity,
    withdrawn: false,
    ...more,
  });
  const ring = item("ring", {
    "findings/1": finding("wear", 1),
    "findings/2": finding("bent", 2),
    "findings/3": finding("split", 1, { withdrawn: true }),
    "findings/4": finding("resized", 0),
  });
  assert.deepEqual(slightFaults(ring), ["wear on the mount"]);
  assert.equal(
    receiptLine(ring).words,
    "ring; bent on the mount, moderate; slight faults are on record besides",
  );
});

test("what is missing is on the receipt, however slight", () => {
  const finding = (term, severity) => ({ term, zone: "mount", severity, withdrawn: false });
  const ring = item("ring", { "findings/1": finding("missing-part", 1) });
  assert.deepEqual(slightFaults(ring), []);
  assert.equal(receiptLine(ring).words, "ring; a part is missing: mount");
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
  assert.deepEqual([ids(gone.staying), ids(gone.backInPart)], [[], []], "nothing of it stays");
  assert.deepEqual([ids(gone.back), ids(gone.backUnsigned)], [["pair"], ["pair"]], "and that is signed for");
  const last = lineOfReturned(item("pair", both));
  assert.deepEqual([last.tags, last.words], [["00002Y", "00003A"], "pair; 2 pieces"]);
  const signedFor = { ...both, "whereabouts/00002Y": back(true).whereabouts };
  const half = stateOf({}, [item("pair", signedFor)]);
  assert.deepEqual(ids(half.backUnsigned), ["pair"], "of one piece nobody has");
  const all = { ...signedFor, "whereabouts/00003A": back(true).whereabouts };
  assert.deepEqual(ids(stateOf({}, [item("pair", all)]).backUnsigned), [], "each by its move");
  assert.equal(receiptLine(item("pair", both)).words, "pair; back with the owner");
});

test("what went back a second time is all of it with its faults, under the number that nobody has signed for", () => {
  const chip = { zone: "rim", term: "chip", severity: 4, withdrawn: false };
  const twice = item("jug", {
    "tags/00002Y": tag("00002Y", { gone: "taken-back" }),
    "tags/00003A": tag("00003A"),
    "findings/1": chip,
    ...back(false),
  });
  const { tags, words } = lineOfReturned(twice, new Set(["00002Y"]));
  assert.deepEqual([tags, words], [["00003A"], "jug; chip on the rim, severe"]);
});

test("a fault of a piece that went back is not said of those that stay", () => {
  const chip = (piece) => ({ zone: "rim", term: "chip", severity: 4, withdrawn: false, piece });
  const three = {
    "tags/00002Y": tag("00002Y", { of: 3 }),
    "tags/00003A": tag("00003A", { piece: 2, of: 3 }),
    "findings/1": chip("2"),
    "findings/2": { ...chip("3"), term: "crack" },
  };
  const went = item("set", { ...three, "tags/00003A": { ...three["tags/00003A"], gone: "taken-back" } });
  const stays = "set; 2 of 3 pieces here, 1 back with the owner; crack on the rim, severe, on piece 3";
  assert.equal(receiptLine(went).words, stays);
  assert.match(receiptLine(item("set", three)).words, /chip on the rim, severe, on piece 2/);
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
  const corrected = { ...first, "receipts/2": { ...receipt("Q01/2", "left", "vase"), replaces: "1" } };
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

test("the piece that is here without its number is not back because the other is", () => {
  const pair = item("pair", {
    "tags/00002Y": tag("00002Y", { of: 2, gone: "lost" }),
    "tags/00003A": tag("00003A", { piece: 2, of: 2 }),
    "whereabouts/00003A": back(false).whereabouts,
  });
  const signed = receipt("Q01/1", "left", "pair");
  signed.lines[0].tags = ["00002Y", "00003A"];
  const state = stateOf({ "receipts/1": signed }, [pair]);
  assert.deepEqual(
    [ids(state.staying), ids(state.toTie), ids(state.back), ids(state.backInPart), ids(state.untagged)],
    [["pair"], ["pair"], [], ["pair"], []],
  );
  const never = stateOf({}, [pair]);
  assert.deepEqual([ids(never.hereUnsigned), ids(never.untagged)], [[], ["pair"]], "nobody signed for it");
});

test("what two tables had signed apart stands on both receipts, and the next one lists all of it", () => {
  const apart = {
    "receipts/1": receipt("Q01/A1", "left", "fan", "cup"),
    "receipts/2": receipt("Q01/B1", "left", "bowl"),
  };
  const fan = item("fan", { "tags/00002Y": tag("00002Y", { gone: "lost" }) });
  const cup = item("cup", back(true));
  const things = [fan, item("bowl"), cup];
  const state = stateOf(apart, things);
  assert.deepEqual(
    [ids(state.staying), ids(state.toTie), ids(state.untagged), ids(state.hereUnsigned)],
    [["fan", "bowl"], ["fan"], [], []],
  );
  assert.deepEqual(
    state.standing.map(({ number, lines }) => [number, lines.map(({ item_id }) => item_id)]),
    [
      ["Q01/A1", ["fan", "cup"]],
      ["Q01/B1", ["bowl"]],
    ],
  );
  const later = ({ receipts, laterOf }) => receipts.map((one) => laterOf(one)?.receipt.number);
  assert.deepEqual(later(state), [undefined, undefined]);
  const next = { ...receipt("Q01/A2", "left", "fan", "bowl"), replaces: "2" };
  const anew = stateOf({ ...apart, "receipts/3": next }, things);
  assert.deepEqual(later(anew), ["Q01/A2", "Q01/A2", undefined], "each thing stands on one");
  assert.ok(anew.receipts.slice(0, 2).every((one) => anew.laterOf(one).tookItsPlace));
});

test("of two that were signed apart the one that reads as it is now holds, and neither took the other's place", () => {
  const bowl = item("bowl", { short_description: "green bowl" });
  const signed = (number, words, replaces = null) => {
    const one = { ...receipt(number, "left", "bowl"), replaces };
    return { ...one, lines: one.lines.map((line) => ({ ...line, ...receiptLine(bowl), words })) };
  };
  const of = (...receipts) => {
    const state = stateOf(Object.fromEntries(receipts.map((one, at) => [`receipts/${at + 1}`, one])), [bowl]);
    const later = state.receipts.map((one) => state.laterOf(one));
    return [
      state.standing.map(({ number }) => number),
      later.map((one) => one && [one.receipt.number, one.tookItsPlace, one.isApart]),
    ];
  };
  const [so, otherwise] = [signed("Q01/A1", "green bowl"), signed("Q01/B1", "bowl")];
  assert.deepEqual(of(so, otherwise), [["Q01/A1"], [undefined, ["Q01/A1", false, true]]]);
  assert.deepEqual(of(otherwise, so), [["Q01/A1"], [["Q01/A1", false, true], undefined]]);
  assert.deepEqual(of(otherwise, signed("Q01/C1", "a bowl"))[0], ["Q01/C1"], "neither: the newest");
  const next = signed("Q01/A2", "bowl", "1");
  assert.deepEqual(of(so, otherwise, next)[0], ["Q01/A2"], "the next one is for both");
});

test("a receipt for a second record of a thing took the place of none", () => {
  const merged = (made_at) => ({ ...set({ into_id: "jug", why: "" }, made_at) });
  const twice = item("jug twice");
  const of = (made_at, more = {}) => {
    const behind = { ...twice, fields: { ...twice.fields, merged: merged(made_at) } };
    const signed = {
      "receipts/1": receipt("Q01/1", "left", "jug twice"),
      "receipts/2": receipt("Q01/2", "left", "jug"),
      ...more,
    };
    const visit = record("visit", "v", signed);
    for (const [index, field] of Object.values(visit.fields).entries())
      field.made_at = `2026-03-14T10:0${index}:00.000Z`;
    const things = [{ ...item("jug"), doubles: [behind] }, behind];
    const { receipts, laterOf } = receiptState(visit, things, new Map());
    return receipts
      .map((one) => laterOf(one))
      .map((later) => later && [later.receipt.number, later.tookItsPlace]);
  };
  const after = "2026-03-14T10:01:30.000Z";
  assert.deepEqual(of(after), [["Q01/2", false], undefined], "both were signed before anybody knew");
  const anew = { "receipts/3": { ...receipt("Q01/3", "left", "jug"), replaces: "2" } };
  assert.deepEqual(of(after, anew), [["Q01/3", true], ["Q01/3", true], undefined], "the new one is for both");
});

test("a line goes on with the record that stands for the thing, and its numbers are on that", () => {
  const jug = item("jug", { merged: { into_id: "jug twice", why: "" } });
  const twice = { ...item("jug twice", { "tags/00002Y": tag("00002Y", { gone: "lost" }) }), doubles: [jug] };
  const state = stateOf({ "receipts/1": receipt("Q01/1", "left", "jug") }, [jug, twice]);
  assert.deepEqual(
    [ids(state.staying), ids(state.toTie), ids(state.untagged), ids(state.hereUnsigned)],
    [["jug twice"], [], [], []],
  );
  assert.deepEqual(receiptLine(twice).tags, ["00002Y"]);
  const unsigned = stateOf({}, [jug, twice]);
  assert.deepEqual([ids(unsigned.hereUnsigned), ids(unsigned.untagged)], [["jug twice"], []]);
  const home = {
    ...twice,
    doubles: [{ ...jug, fields: { ...jug.fields, ...item("x", back(true)).fields } }],
  };
  assert.deepEqual(receiptLine(home).tags, [], "that went back under the record behind it");
});

test("a line says how grave a fault is and how large, the gravest first", () => {
  const fault = (term, severity, more = {}) => ({ zone: "rim", term, severity, withdrawn: false, ...more });
  const jug = item("jug", {
    "findings/1": fault("chip", 2, { extent_count: 3 }),
    "findings/2": fault("crack", 4, { extent_mm: 40, extent_mm_across: 2 }),
    "findings/3": fault("wear", 3, { extent_percent: 30 }),
  });
  assert.equal(
    receiptLine(jug).words,
    "jug; crack on the rim, severe, 40 x 2 mm; wear on the rim, serious, 30 %; chip on the rim, moderate, 3 of them",
  );
});

test("what a line cannot hold is counted, and no word is cut", () => {
  const chips = Array.from({ length: 40 }, (_, index) => [
    `findings/${index}`,
    { zone: "decoration-front", term: "chip", severity: 2, withdrawn: false },
  ]);
  const amber = { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" };
  const { words } = receiptLine(item("jug", { ...Object.fromEntries(chips), "cautions/1": amber }));
  assert.ok(words.length <= 400);
  assert.match(words, /chip on the decoration front, moderate; and \d+ more faults; held apart/);
  assert.equal(words.match(/chip/g).length + Number(words.match(/and (\d+) more/)[1]), 40);
  const long = receiptLine(item("jug", { short_description: "ewer of great length ".repeat(20) }));
  assert.match(long.words, /^(ewer of great length )+(ewer|ewer of|ewer of great) …$/);
});

test("what an authority took away since it was signed for is on no new receipt, and named beside that", () => {
  const decided = { decision: "taken-away", decided_by: "the police", place: "", paper_given: true };
  const of = [item("tin", { "cautions/1": STOP, "caution-decisions/1": decided }), item("jug")];
  const { standing, staying, stopped, outOfHand, hereUnsigned } = stateOf(
    { "receipts/1": receipt("Q01/1", "left", "tin", "jug") },
    of,
  );
  assert.deepEqual([staying, stopped, outOfHand, hereUnsigned].map(ids), [["jug"], [], ["tin"], []]);
  assert.deepEqual(ids(standing[0].lines.map(({ item_id }) => ({ record_id: item_id }))), ["tin", "jug"]);
});
