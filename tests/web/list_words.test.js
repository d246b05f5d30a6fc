/**
 * The history tells every kind of operation on every key of every list of the shipped plans in the house's own words:
 * no key, no spaced key and no bare number. The lists are the source of what each key is called.
 */
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { gradedWords } from "../../web/job/graded.ts";
import { historyWords } from "../../web/job/history_words.ts";
import { findingWords, testWords, viewWords } from "../../web/job/list_words.ts";
import { personalIn } from "../../web/job/operation.ts";
import { isTest, keysOf } from "../../web/job/progress.ts";
import { fieldWords, valueWords } from "../../web/job/value_words.ts";
import { finding } from "./any_words.js";
import { book } from "./plan_book.js";

const { words: house, vocabulary, print } = book;
const nothing = { tableName: () => "", hazardName: () => "", containerName: () => "", disagreements: [] };
const told = (plan, op) => historyWords(op, { ...nothing, lists: { plan, book } });

/** That a key is not in what is told, hyphened or spaced, unless the list's own words are spelled so. */
function assertNoKey(said, key, ...own) {
  if (!key.includes("-")) return;
  for (const raw of [key, key.replaceAll("-", " ")]) {
    const isOwn = own.some((words) => words?.toLowerCase().includes(raw));
    if (!isOwn) assert.ok(!said.toLowerCase().includes(raw), `“${raw}” is in: ${said}`);
  }
}

const zoneOwn = (key) => {
  const [zone, member = ""] = key.split("/");
  const name = print.zones.find((one) => one.zone === zone) ?? {};
  const of = print.members.find((one) => one.member === member) ?? {};
  return [name.one, name.many, ...(name.counted ?? []), of.before, of.after, of.alone];
};

/** Where a plan's zone is not named in print, its key is all that the house has said of it. */
const isNamed = (key) => print.zones.some(({ zone }) => zone === key.split("/")[0]);

for (const plan of Object.values(book.plans))
  test(`the history of ${plan.name.toLowerCase()}`, () => {
    for (const zone of plan.zones.flatMap(keysOf)) {
      assert.ok(isNamed(zone), `${zone} has no name in print`);
      const looked = { kind: "examine_zone", zone, reason: null, light: "hall-light", count: null };
      const ops = [
        { ...looked, state: "clear" },
        { ...looked, state: "not-examined", light: null, reason: "not-accessible" },
        { kind: "examine_rest", zones: [zone] },
        { kind: "record_origin", zone, origin: "original-probably", note: "" },
        { kind: "record_denial", zone, term: "hairline", light: "lamp", withdrawn: false },
        { kind: "record_finding", ...finding({ zone, term: "chip" }) },
      ];
      for (const op of ops) {
        const said = told(plan, op);
        assertNoKey(said, zone.split("/")[0], ...zoneOwn(zone));
        for (const key of ["hall-light", "not-accessible", "original-probably", "not-examined"])
          assertNoKey(said, key);
      }
      assertNoKey(fieldWords(`zones/${zone}`, { plan, book }), zone.split("/")[0], ...zoneOwn(zone));
    }
    for (const { view, words } of plan.views) {
      const photo = told(plan, { kind: "attach_photo", view, zone: null, withdrawn: false });
      const skipped = told(plan, { kind: "skip_view", view, reason: "not-applicable", note: "" });
      for (const said of [photo, skipped]) assertNoKey(said, view, words);
      assertNoKey(skipped, "not-applicable");
    }
    for (const { measure, unit, words, print: printed } of plan.measures) {
      const said = told(plan, { kind: "record_measure", measure, unit, value: 96, typed: "96", basis: "" });
      assertNoKey(said, measure, words, printed);
      if (unit !== "n") assert.match(said, unit === "g" ? /: 96 g/ : /: 9\.6 cm/);
    }
    for (const one of plan.tests.filter(isTest))
      for (const result of ["works", "works-in-part", "no-response", "not-done"]) {
        const why = result === "not-done" ? "no-tool" : "";
        const said = told(plan, { kind: "record_test", test: one.test, result, why, note: "" });
        for (const key of [one.test, result, why].filter((word) => word !== "no-response"))
          assertNoKey(
            said,
            key,
            ...[one.name, one.said, one.undone, one.failed, one.in_part, one.tried, one.how],
          );
      }
  });

test("the history of every term, light, reason, origin and evidence", () => {
  const plan = book.plans.ceramics;
  for (const { term, noun, says, plural, verbs, sought, absent } of vocabulary.terms) {
    // A term without a noun is its own: "dye bleed".
    const own = [noun ?? term.replaceAll("-", " "), says, plural, sought, absent, ...(verbs ?? [])];
    assertNoKey(told(plan, { kind: "record_finding", ...finding({ zone: "spout", term }) }), term, ...own);
    const denied = { kind: "record_denial", zone: "spout", term, light: "lamp", withdrawn: false };
    assertNoKey(told(plan, denied), term, ...own);
    assertNoKey(fieldWords(`denials/spout/${term}`, { plan, book }), term, ...own);
  }
  const looked = { kind: "examine_zone", zone: "spout", state: "clear", reason: null, count: null };
  for (const { light, how, words } of house.lights)
    assertNoKey(told(plan, { ...looked, light }), light, how, words);
  const skipped = { ...looked, state: "not-examined", light: null };
  for (const { reason, words, print: printed } of house.reasons) {
    const said = told(plan, { ...skipped, reason });
    assertNoKey(said, reason, words, printed);
    assert.ok(said.includes(printed ?? words), said);
  }
  for (const { originality, words, print: printed } of house.originalities)
    assertNoKey(
      told(plan, { kind: "record_origin", zone: "spout", origin: originality, note: "" }),
      originality,
      words,
      printed,
    );
  for (const field of ["maker_evidence", "dates_evidence"])
    for (const { evidence, words } of house.evidences) {
      const said = told(plan, { kind: "set_item", field, value: [evidence] });
      assertNoKey(said, evidence, words);
      assert.ok(said.endsWith(`“${words}”`), said);
    }
  for (const { class_id, name } of Object.values(book.plans)) {
    const said = told(null, { kind: "set_item", field: "class_id", value: class_id });
    assertNoKey(said, class_id, name);
  }
});

test("a history speaks as the paragraphs do", () => {
  const said = (class_id, op) => told(book.plans[class_id], op);
  const tried = { kind: "record_test", note: "", why: "" };
  assert.equal(
    said("ceramics", { ...tried, test: "ultraviolet", result: "works" }),
    "noted what was tried: looked at under ultraviolet for restoration",
  );
  assert.equal(
    said("ceramics", { ...tried, test: "light-behind", result: "not-done", why: "no-tool" }),
    "noted what was tried: not looked at against the light: the tool for it was not at hand",
  );
  assert.equal(
    said("furniture", { kind: "skip_view", view: "drawer-joint", reason: "not-applicable", note: "" }),
    "said of the view “a drawer out, showing its joint”: not taken, it never had it",
  );
  assert.equal(
    said("glass", {
      kind: "record_measure",
      measure: "height-without",
      unit: "mm",
      value: 210,
      typed: "210",
    }),
    "measured height without stopper: 21.0 cm (8 1/4 in)",
  );
  assert.equal(
    said("ceramics", {
      kind: "record_measure",
      measure: "height",
      unit: "mm",
      value: 209.6,
      typed: "8 1/4 in",
    }),
    "measured height: 21.0 cm (8 1/4 in), read off as 8 1/4 in",
  );
});

test("a view is called by its words up to the advice for whoever takes it", () => {
  const called = (words) => viewWords({ plan: { views: [{ view: "top", words }] }, book: null }, "top");
  assert.equal(called("whole item with scale and tag; the first frame"), "whole item with scale and tag");
  assert.equal(called("from above"), "from above");
  assert.equal(viewWords({ plan: null, book: null }, "from-above"), "from above");
});

test("the two values of a disagreement are told in the same words", () => {
  const lists = { plan: book.plans.furniture, book };
  assert.equal(
    valueWords({ container_id: "c1" }, "inside", {
      ...lists,
      container: (id) => (id === "c1" ? "crate 009-3QD" : ""),
    }),
    "in crate 009-3QD",
    "two crates said of one thing are told apart",
  );
  assert.equal(valueWords({ container_id: "c2" }, "inside", lists), "in a container");
  assert.equal(
    valueWords({ result: "no-response", why: "", note: "" }, "tests/doors-locks", lists),
    "the doors and locks did not open when tried",
  );
  assert.equal(fieldWords("tests/doors-locks", lists), "the test doors and locks");
  assert.equal(fieldWords("views/drawer-joint", lists), "the view a drawer out, showing its joint");
  assert.equal(
    valueWords({ value: 96, unit: "g", typed: "96" }, "measures/weight", lists),
    "96 g",
    "a weight has its unit without any list, too",
  );
  assert.equal(
    valueWords(["provenance-paper", "mark"], "dates_evidence", lists),
    "papers, mark or signature",
  );
});

test("of a trial that no plan has it is told why it was not made, by the reason's own words", () => {
  const tried = (why, note) => testWords({ plan: null, book }, "shake-it", { result: "not-done", why, note });
  assert.equal(tried("no-time", "after lunch"), "shake it: not done, time did not allow it, after lunch");
  assert.equal(tried(null, ""), "shake it: not done");
});

test("what was weighed does not work: it is said as on the key that was pressed", () => {
  const weighed = (plan) => testWords({ plan, book }, "weigh", { result: "works", why: null, note: "" });
  assert.equal(weighed(book.plans["silver-plate"]), "weighed");
  assert.equal(weighed(null), "weigh: works", "no plan says what it was");
});

test("beside an answer stands how grave the faults are that it rests on, the gravest first", () => {
  const fault = (term, severity, withdrawn = false) => ({
    ...finding({ zone: "body", term, severity }),
    withdrawn,
  });
  const fields = Object.fromEntries(
    [
      fault("scratches", 1),
      fault("crack", 2),
      fault("dent", 3),
      fault("tear", 4, true),
      fault("chip", 4),
    ].map((value, at) => [`findings/${at}`, { value }]),
  );
  const from = (...ats) => ({ from: ats.map((at) => `findings/${at}`) });
  const lists = { plan: null, book };
  assert.equal(
    gradedWords(lists, { fields }, [from(0, 1), from(2, 3), { from: ["zones/body"] }]),
    "dent, body: serious; crack, body: moderate",
  );
  assert.equal(gradedWords(lists, { fields }, [from(0, 3)]), "", "a slight one is called that in the text");
});

test("a word for the whole is a person's, or the reckoned one and said to be that", () => {
  assert.equal(valueWords({ computed: "good", word: null }, "overall"), "good, as computed");
  assert.equal(valueWords({ computed: "good", word: "fair" }, "overall"), "fair");
});

test("of a finding where no plan is at hand the severity is a figure, and in words where one is", () => {
  const chip = finding({ zone: "rim", term: "chip", severity: 2 });
  assert.equal(findingWords({ plan: null, book: null }, chip), "chip on rim, severity 2");
  const { words } = house.severities.find(({ severity }) => severity === 2);
  assert.ok(findingWords({ plan: book.plans.ceramics, book }, chip).endsWith(`, severity 2 (${words})`));
});

/** As the office sends an operation in a history: what is personal stands beside the log, and a digest in its place. */
function withWordsApart(op) {
  const apart = { ...op, private_sha256: "0".repeat(64) };
  for (const name of personalIn(op)) {
    const [several, word] = name.split(".");
    if (word === undefined) delete apart[several];
    else apart[several] = op[several].map(({ [word]: _, ...line }) => line);
  }
  return apart;
}

const folder = new URL("../../fixtures/operations/", import.meta.url);

test("a history tells what was done also where its words stand apart", () => {
  const cases = readdirSync(folder).map((file) => JSON.parse(readFileSync(new URL(file, folder), "utf-8")));
  const personal = cases
    .flatMap(({ before, given, operation }) => [...before, ...given, operation])
    .filter((op) => personalIn(op).length);
  const kinds = new Set(personal.map((op) => op.kind));
  assert.ok(
    kinds.has("record_finding") && kinds.has("set_consignor") && kinds.has("sign_receipt"),
    [...kinds].join(),
  );
  for (const plan of Object.values(book.plans))
    for (const op of personal) assert.doesNotMatch(told(plan, withWordsApart(op)), /undefined|null/, op.kind);
});

test("of a place of marks that has none nobody is told that it never had one, since a mark may be worn away", () => {
  const never = { state: "not-examined", reason: "not-applicable", light: null, count: null };
  for (const plan of Object.values(book.plans))
    for (const { zone, wording } of plan.zones) {
      const told_of = told(plan, { kind: "examine_zone", item_id: "i", zone, ...never });
      const value = valueWords(never, `zones/${zone}`, { plan, book });
      for (const words of [told_of, value])
        if (wording?.length) assert.ok(words.includes("none seen") && !/never had/.test(words), words);
        else assert.match(words, /it never had it$/);
    }
});
