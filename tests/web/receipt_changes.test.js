/** A signed receipt shows what was signed; what an owner would care about and was changed since is said beside it. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { isPieceOpen } from "../../web/job/piece_open.ts";
import { faultInLine, faultWords, receiptLine, receiptsOf } from "../../web/job/receipt.ts";
import { besideSince, changesSince, isPieceBack } from "../../web/job/receipt_changes.ts";
import { STOP, tag } from "./made.js";

const BEFORE = "2026-03-14T10:00:00.000Z";
const SIGNED = "2026-03-14T11:00:00Z";
const AFTER = "2026-03-14T11:00:00.500Z";
const set = (value, made_at = BEFORE) => ({ value, operation_id: "", made_by: "", made_at, device_id: "" });
const finding = (severity, more = {}) => ({ zone: "rim", term: "chip", severity, withdrawn: false, ...more });
const AT_SIGNING = {
  class_id: set("vessel"),
  short_description: set("blue jar"),
  "tags/00002Y": set(tag("00002Y")),
  "findings/1": set(finding(2)),
};
const item = (fields = {}) => ({
  kind: "item",
  record_id: "jar",
  visit_id: "v",
  disagreements: [],
  fields: { ...AT_SIGNING, ...fields },
});
const receiptOn = (signed) => {
  const value = { number: "Q01/A1", what: "left", lines: [receiptLine(signed)], replaces: null };
  const visit = {
    kind: "visit",
    record_id: "v",
    disagreements: [],
    fields: { "receipts/1": set(value, SIGNED) },
  };
  return receiptsOf(visit)[0];
};
const changes = (now) => changesSince(receiptOn(item()), [now], (id) => `class ${id}`);
const what = (fields) => changes(item(fields)).flatMap((change) => change.what);

test("nothing is said of a thing on which nothing was changed", () => {
  assert.deepEqual(changes(item()), []);
  assert.deepEqual(changes({ ...item(), record_id: "other" }), [], "not on this device");
});

test("class, name, pieces and visible condition are named, each by itself", () => {
  assert.deepEqual(what({ class_id: set("toy", AFTER) }), ["its class: class toy, was class vessel"]);
  assert.deepEqual(what({ short_description: set("green jar", AFTER) }), ["what it is called"]);
  assert.deepEqual(what({ "tags/00003A": set(tag("00003A", { piece: 2, of: 2 }), AFTER) }), [
    "its numbers or pieces",
  ]);
  assert.deepEqual(what({ "findings/2": set(finding(3, { term: "crack" }), AFTER) }), ["its condition"]);
  assert.deepEqual(what({ "findings/1": set(finding(2, { withdrawn: true }), AFTER) }), ["its condition"]);
});

test("what was counted stands on the line, and is told where it is another count", () => {
  const counted = (letters, made_at = BEFORE) => ({
    "measures/letters": set({ value: letters, unit: "n", typed: "" }, made_at),
    "measures/envelope-count": set({ value: 1, unit: "n", typed: "" }),
  });
  const signed = receiptOn(item(counted(62)));
  const words = "blue jar; 62 letters or documents, 1 envelope counted; chip on the rim, moderate";
  assert.equal(signed.lines[0].words, words);
  const told = (receipt, now) => changesSince(receipt, [now], String).flatMap((change) => change.what);
  assert.deepEqual(told(signed, item(counted(62))), []);
  assert.deepEqual(told(signed, item(counted(61, AFTER))), ["how many were counted"]);
  assert.deepEqual(told(receiptOn(item()), item(counted(62))), [], "a receipt of before does not say it");
});

test("how large in words, and on which side, is part of the condition", () => {
  const told = (signed, now) =>
    changesSince(
      receiptOn(item({ "findings/1": set(finding(2, signed)) })),
      [item({ "findings/1": set(finding(2, now), AFTER) })],
      String,
    ).flatMap((change) => change.what);
  assert.deepEqual(told({ extent_words: "a finger long" }, { extent_words: "all round" }), ["its condition"]);
  assert.deepEqual(told({ side: "proper-left" }, { side: "proper-right" }), ["its condition"]);
  assert.deepEqual(told({ side: "proper-left" }, { side: "proper-left" }), []);
});

test("a receipt of before, which says neither, is no change by itself", () => {
  const signed = receiptOn(item());
  const now = item({ "findings/1": set(finding(2, { side: "proper-left", extent_words: "all round" })) });
  assert.deepEqual(changesSince(signed, [now], String), []);
});

const { blank, faults, lines, open } = JSON.parse(
  readFileSync(new URL("../../fixtures/receipt-faults.json", import.meta.url), "utf8"),
);
for (const [of, words] of faults)
  test(`a fault reads: ${words}`, () => assert.equal(faultWords({ ...blank, ...of }), words));

for (const [of, isOpen, words] of lines)
  test(`on a line a fault reads: ${words}`, () =>
    assert.equal(faultInLine({ ...blank, ...of }, isOpen), words));

test("of which faults of a set nobody noted on which piece they are", () => {
  for (const [of, isOpen, called = ""] of open)
    assert.equal(
      isPieceOpen({ fields: { short_description: { value: called } } }, { ...blank, ...of }),
      isOpen,
      JSON.stringify(of),
    );
});

const tried = (result, made_at, device_id = "") => ({
  "tests/is-it-going": { ...set({ result, why: null, note: "" }, made_at), device_id },
});

test("a line signed before it said what is missing, and which piece was not noted, stays as it was signed", () => {
  const lost = {
    zone: "set-count",
    term: "missing-part",
    severity: 3,
    note: "one saucer of six",
    withdrawn: false,
  };
  const set_of = (more = {}, at) =>
    item({
      pieces: set(14),
      "findings/1": set({ ...blank, ...finding(2) }),
      "findings/2": set({ ...blank, ...lost, ...more }, at),
    });
  const now = receiptLine(set_of()).words;
  const before = now
    .replace(" (one saucer of six)", "")
    .replace(", on which piece not noted", "; which of the pieces not noted");
  assert.notEqual(before, now);
  const signed = (words) => ({ ...receiptOn(set_of()), lines: [{ ...receiptOn(set_of()).lines[0], words }] });
  assert.deepEqual(changesSince(signed(before), [set_of()], String), []);
  assert.deepEqual(changesSince(signed(now), [set_of()], String), []);
  // Said since of another part, it is no more what was signed.
  const [change] = changesSince(signed(now), [set_of({ note: "two saucers of six" }, AFTER)], String);
  assert.deepEqual(change?.what, ["its condition"]);
});

test("what did not work is on the line to sign, in words, as a fault is", () => {
  const line = (fields) => receiptLine(item(fields)).words;
  assert.equal(line(tried("no-response")), "blue jar; chip on the rim, moderate; not going when examined");
  assert.equal(line(tried("works")), "blue jar; chip on the rim, moderate");
  assert.equal(line({ "tests/ultraviolet": set({ result: "no-response" }) }), line({}), "not tried to work");
});

test("what did not work is a condition: tried since, or otherwise since, it is changed", () => {
  const told = (then, now) =>
    changesSince(receiptOn(item(then)), [item(now)], String).flatMap(({ what }) => what);
  assert.deepEqual(told({}, tried("no-response", AFTER)), ["its condition"]);
  assert.deepEqual(told(tried("no-response"), tried("works", AFTER)), ["its condition"]);
  assert.deepEqual(told(tried("no-response"), tried("no-response", AFTER)), []);
  assert.deepEqual(told({}, tried("no-response", BEFORE)), [], "a receipt of before says nothing of trials");
  assert.deepEqual(told({}, tried("no-response", BEFORE, "other")), ["its condition"], "heard of only since");
});

test("the line that was signed stands beside how it would read now", () => {
  const [change] = changes(item({ short_description: set("green jar", AFTER) }));
  assert.equal(change.line.words, "blue jar; chip on the rim, moderate");
  assert.equal(change.now.words, "green jar; chip on the rim, moderate");
});

test("a thing that is held apart since is not on the receipt as one that is not", () => {
  const caution = { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" };
  assert.deepEqual(what({ "cautions/1": set(caution, AFTER) }), ["that it is held apart"]);
});

test("what an owner would not care about is not said: a fault too small for a receipt, the same words again", () => {
  assert.deepEqual(what({ "findings/2": set(finding(1), AFTER) }), []);
  assert.deepEqual(what({ short_description: set("blue jar", AFTER) }), []);
  assert.deepEqual(what({ materials: set("tin", AFTER) }), []);
});

test("a version that words a fault otherwise has changed nothing", () => {
  const signed = receiptOn(item());
  const otherwise = { ...signed, lines: [{ ...signed.lines[0], words: "blue jar; a chip on the rim" }] };
  assert.deepEqual(changesSince(otherwise, [item()], String), []);
});

test("a receipt that says a fault in the words of lists has changed nothing, also of what it only counts", () => {
  const more = (made_at) => ({ "findings/2": set(finding(3, { term: "crack" }), made_at) });
  const signed = (words) => ({ ...receiptOn(item()), lines: [{ ...receiptOn(item()).lines[0], words }] });
  const told = (words, fields) =>
    changesSince(signed(words), [item(fields)], String).flatMap(({ what }) => what);
  assert.deepEqual(told("blue jar; chip, rim, moderate", { "findings/1": set(finding(2), AFTER) }), []);
  assert.deepEqual(told("blue jar; chip, rim, moderate", more(AFTER)), ["its condition"]);
  assert.deepEqual(told("blue jar; chip, rim, moderate", { "findings/1": set(finding(3), AFTER) }), [
    "its condition",
  ]);
});

test("what another device had said before the signing, and was heard after it, is a change", () => {
  const late = (value) => ({ ...set(value), device_id: "a phone that was away" });
  assert.deepEqual(what({ short_description: late("gilt bronze lamp") }), ["what it is called"]);
  assert.deepEqual(what({ "findings/2": late(finding(3, { term: "crack" })) }), ["its condition"]);
  assert.deepEqual(what({ "tags/00003A": late(tag("00003A", { piece: 2, of: 2 })) }), [
    "its numbers or pieces",
  ]);
  assert.deepEqual(what({ short_description: late("blue jar") }), [], "the owner read the same");
});

test("a fault that is less than it was, a lost number, a piece that went back, a Stop, a double: each is said", () => {
  assert.deepEqual(what({ "findings/1": set(finding(1), AFTER) }), ["its condition"]);
  assert.deepEqual(what({ "tags/00002Y": set(tag("00002Y", { gone: "fallen-off" }), AFTER) }), [
    "its number is gone",
  ]);
  const back = { to_place: "returned", at: "", signed: false };
  assert.deepEqual(what({ "whereabouts/00002Y": set(back, AFTER) }), [], "its one piece is all of it");
  assert.deepEqual(what({ "cautions/1": set(STOP, AFTER) }), ["that it is stopped"]);
  assert.deepEqual(what({ merged: set({ into_id: "pot", why: "twice on record" }, AFTER) }), [
    "that it is one with another on record",
  ]);
  assert.deepEqual(what({ whereabouts: set(back, AFTER) }), [], "what went back stands by itself");
});

test("a name that holds a semicolon is the whole name", () => {
  const named = item({ short_description: set("jar; its lid") });
  const now = { ...named, fields: { ...named.fields, short_description: set("jar; its lid", AFTER) } };
  assert.deepEqual(changesSince(receiptOn(named), [now], String), []);
});

test("a class is said by the line that was signed, whichever clock is behind and whenever it was heard", () => {
  for (const made_at of [BEFORE, SIGNED, AFTER])
    for (const device_id of ["", "a phone that was away"])
      assert.deepEqual(what({ class_id: { ...set("toy", made_at), device_id } }), [
        "its class: class toy, was class vessel",
      ]);
  assert.deepEqual(what({ class_id: set("vessel", AFTER) }), [], "the same again");
  const unnamed = changesSince(receiptOn(item()), [item({ class_id: set("toy") })], () => "");
  assert.deepEqual(unnamed[0].what, ["its class: another one"], "its plan is not on this device");
  assert.deepEqual(what({ class_id: set("", AFTER) }), ["its class: none, was class vessel"]);
  const none = item({ class_id: set("") });
  assert.deepEqual(
    changesSince(receiptOn(none), [item()], String).flatMap((change) => change.what),
    ["its class: vessel"],
    "signed for before it had one",
  );
});

test("a receipt of before says no class: what its own device said later is a change", () => {
  const signed = receiptOn(item());
  const [{ class_id, ...line }] = signed.lines;
  const of = (seq, made_at) => {
    const now = item({ class_id: { ...set("toy", made_at), device_seq: seq } });
    return changesSince({ ...signed, device_seq: 7, lines: [line] }, [now], String).length;
  };
  assert.deepEqual([of(6, AFTER), of(8, BEFORE)], [0, 1], "by its own order, not by its clock");
  assert.deepEqual([of(undefined, BEFORE), of(undefined, AFTER)], [0, 1], "nothing but a clock is known");
});

test("whatever the clocks say, what a line says otherwise is said", () => {
  assert.deepEqual(what({ short_description: set("green jar") }), ["what it is called"]);
  assert.deepEqual(what({ "tags/00003A": set(tag("00003A", { piece: 2, of: 2 })) }), [
    "its numbers or pieces",
  ]);
  assert.deepEqual(what({ "tags/00002Y": set(tag("00002Y", { of: 2 })) }), ["its numbers or pieces"]);
  assert.deepEqual(what({ "cautions/1": set(STOP) }), ["that it is stopped"]);
  assert.deepEqual(what({ merged: set({ into_id: "pot", why: "" }) }), [
    "that it is one with another on record",
  ]);
  const later = { ...set(finding(3)), device_seq: 8 };
  const clockBack = changesSince(
    { ...receiptOn(item()), device_seq: 7 },
    [item({ "findings/1": later })],
    String,
  );
  assert.deepEqual(clockBack[0].what, ["its condition"], "graver than it was");
  const crack = { ...set(finding(3, { term: "crack" })), device_seq: 8 };
  const changed = changesSince(
    { ...receiptOn(item()), device_seq: 7 },
    [item({ "findings/2": crack })],
    String,
  );
  assert.deepEqual(changed[0].what, ["its condition"]);
});

test("once a piece went back and that was signed for, nothing is changed; a lost number is not read again", () => {
  const two = {
    "tags/00002Y": set(tag("00002Y", { of: 2 })),
    "tags/00003A": set(tag("00003A", { piece: 2, of: 2 })),
  };
  const gone = item({ ...two, "whereabouts/00003A": set({ to_place: "returned", at: "", signed: false }) });
  const [change] = changesSince(receiptOn(item(two)), [gone], String);
  assert.deepEqual(change.what, ["a piece of it went back"]);
  assert.deepEqual(change.now.tags, ["00002Y"]);
  assert.match(change.now.words, /1 of 2 pieces here, 1 back with the owner/);
  assert.deepEqual(changesSince(receiptOn(gone), [gone], String), []);
  const lost = item({ "tags/00002Y": set(tag("00002Y", { gone: "lost" })) });
  assert.deepEqual(changesSince(receiptOn(item()), [lost], String)[0].now.tags, []);
});

test("that a piece went back with its fault is no other condition of those that stay", () => {
  const two = {
    "tags/00002Y": set(tag("00002Y", { of: 2 })),
    "tags/00003A": set(tag("00003A", { piece: 2, of: 2 })),
    "findings/9": { ...set(finding(4, { piece: "2" })), device_id: "another" },
  };
  const gone = item({ ...two, "whereabouts/00003A": set({ to_place: "returned", at: "", signed: false }) });
  const [change] = changesSince(receiptOn(item(two)), [gone], String);
  assert.deepEqual(change.what, ["a piece of it went back"]);
  assert.deepEqual(changesSince(receiptOn(gone), [gone], String), []);
});

test("of a line whose words were erased only numbers and class are said", () => {
  const signed = receiptOn(item());
  const erased = { ...signed, lines: [{ ...signed.lines[0], words: "" }] };
  assert.deepEqual(changesSince(erased, [item({ short_description: set("green jar", AFTER) })], String), []);
  const toy = changesSince(erased, [item({ class_id: set("toy", AFTER) })], String);
  assert.deepEqual(toy[0].what, ["its class: toy, was vessel"]);
});

test("the same faults in another order are the same condition", () => {
  const [chip, crack] = [set(finding(2), AFTER), set(finding(2, { term: "crack" }), AFTER)];
  const signed = receiptOn(item({ "findings/1": chip, "findings/2": crack }));
  const turned = item({ "findings/1": crack, "findings/2": chip });
  assert.notEqual(receiptLine(turned).words, signed.lines[0].words);
  assert.deepEqual(changesSince({ ...signed, made_at: BEFORE }, [turned], String), []);
});

test("a fault that is graver, larger, or another in the same place is another condition", () => {
  assert.deepEqual(what({ "findings/1": set(finding(4), AFTER) }), ["its condition"]);
  assert.deepEqual(what({ "findings/1": set(finding(2, { extent_mm: 400 }), AFTER) }), ["its condition"]);
  const another = {
    "findings/1": set(finding(2, { withdrawn: true }), AFTER),
    "findings/2": set(finding(4), AFTER),
  };
  assert.deepEqual(what(another), ["its condition"]);
  assert.deepEqual(what({ "findings/1": set(finding(2, { note: "seen again" }), AFTER) }), []);
});

test("a receipt of before says neither: of its faults all that was said after it counts", () => {
  const signed = receiptOn(item());
  const old = { ...signed, lines: [{ ...signed.lines[0], words: "blue jar; chip, rim" }] };
  const since = (fields) => changesSince(old, [item(fields)], String).flatMap((change) => change.what);
  assert.deepEqual(since({}), []);
  assert.deepEqual(since({ "findings/1": set(finding(4), AFTER) }), ["its condition"]);
  assert.deepEqual(since({ "findings/1": set(finding(4)) }), [], "nobody knows that it was otherwise");
  const another = {
    "findings/1": set(finding(2, { withdrawn: true }), AFTER),
    "findings/2": set(finding(4), AFTER),
  };
  assert.deepEqual(since(another), ["its condition"]);
});

test("a fault that the line only counts is a change as well", () => {
  const many = Object.fromEntries(
    Array.from({ length: 40 }, (_, index) => [`findings/${index}`, set(finding(2, { term: "crack" }))]),
  );
  const since = (fields) =>
    changesSince(receiptOn(item(many)), [item({ ...many, ...fields })], String).flatMap(
      (change) => change.what,
    );
  assert.deepEqual(since({}), []);
  assert.deepEqual(since({ "findings/x": set(finding(4, { term: "loss" }), AFTER) }), ["its condition"]);
  assert.deepEqual(since({ "findings/x": set(finding(2, { term: "loss" }), AFTER) }), ["its condition"]);
  assert.deepEqual(since({ "findings/39": set(finding(2, { zone: "foot" }), AFTER) }), ["its condition"]);
  assert.deepEqual(since({ "findings/x": set(finding(1, { term: "loss" }), AFTER) }), [], "too small for it");
  const counted = item({ ...many, "findings/x": set(finding(2, { zone: "foot" })) });
  assert.doesNotMatch(receiptLine(counted).words, /foot/);
  assert.deepEqual(changesSince(receiptOn(counted), [counted], String), [], "it was counted then, too");
});

test("a name that is cut at its semicolon is another name", () => {
  const named = (name, made_at) => ({ short_description: set(name, made_at) });
  const of = receiptOn(item(named("pair of candlesticks; silver, George III, 1765")));
  const since = (fields) => changesSince(of, [item(fields)], String).flatMap((change) => change.what);
  assert.deepEqual(since(named("pair of candlesticks; silver, George III, 1765", AFTER)), []);
  assert.ok(since(named("pair of candlesticks", AFTER)).includes("what it is called"));
});

test("a name that was written again is the same name beside a fault, however a receipt words that", () => {
  const signed = receiptOn(item());
  const again = item({ short_description: set("blue jar", AFTER) });
  for (const words of ["blue jar; chip, rim", "blue jar; chip on the rim"]) {
    const old = { ...signed, lines: [{ ...signed.lines[0], words }] };
    assert.deepEqual(changesSince(old, [again], String), []);
  }
});

test("a long name is not another one because a line has no room for it", () => {
  const long = { short_description: set("ewer of great length ".repeat(20)) };
  assert.deepEqual(changesSince(receiptOn(item(long)), [item(long)], String), []);
});

test("the line of a record that stands behind another one reads as that one", () => {
  const behind = item({ merged: set({ into_id: "pot", why: "" }, AFTER) });
  const pot = { ...item({ "tags/00002Y": undefined }), record_id: "pot", doubles: [behind] };
  delete pot.fields["tags/00002Y"];
  const [change] = changesSince(receiptOn(item()), [behind, pot], String);
  assert.deepEqual([change.now.item_id, change.now.tags], ["pot", ["00002Y"]]);
  assert.deepEqual(change.what, ["that it is one with another on record"]);
});

test("one of a set under one number went back: the owner signs anew for what stays", () => {
  const six = { pieces: set(6) };
  const went = (number, piece, at = AFTER) => ({
    [`tags/${number}`]: set(tag(number, { piece, of: piece, gone: "taken-back" }), at),
  });
  const since = (signed, now) => changesSince(receiptOn(item(signed)), [item(now)], String);
  const one = { ...six, ...went("00003A", 2) };
  const [change] = since(six, one);
  assert.deepEqual(change.what, ["a piece of it went back"]);
  assert.ok(isPieceBack([change]));
  assert.deepEqual(since(one, one), [], "signed for since it went");
  const [another] = since(one, { ...one, ...went("00003B", 3) });
  assert.deepEqual(another.what, ["a piece of it went back"]);
});

test("what no line names is told of since it was signed, and is no change", () => {
  const words = (fields) => besideSince(receiptOn(item()), [item(fields)]).map((one) => one.words);
  const torn = finding(1, { term: "tear", zone: "ears/proper-left" });
  const said = {
    "findings/2": set(torn, AFTER),
    seen_words: set("torn ear, much mended", AFTER),
    materials: set("mohair", AFTER),
  };
  assert.deepEqual(words(said), [
    "slight: tear on the ears, proper left; seen: “torn ear, much mended”; materials: “mohair”",
  ]);
  assert.ok(!what({ seen_words: said.seen_words, materials: said.materials }).length);
  assert.deepEqual(
    words({ "findings/2": set(torn), materials: set("mohair") }),
    [],
    "said before it was signed",
  );
  assert.deepEqual(words({ "findings/2": set({ ...torn, withdrawn: true }, AFTER) }), []);
  assert.deepEqual(words({ "findings/2": set(finding(3), AFTER) }), [], "that is a change");
});
