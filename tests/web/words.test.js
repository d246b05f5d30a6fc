/**
 * The record in words: worked examples (invented, a proposal), and what must hold for every record. Chance is seeded.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { gradeOf } from "../../web/job/condition.ts";
import { DATE_CONVENTIONS } from "../../web/job/dates.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { wholeBook, wholePlan } from "../../web/job/plan.ts";
import { keysOf } from "../../web/job/progress.ts";
import { asText } from "../../web/job/sentences.ts";
import { chance } from "./chance.js";
import { book } from "./plan_book.js";
import { sampled } from "./samples.js";

const { cases } = JSON.parse(readFileSync(new URL("../../fixtures/words.json", import.meta.url), "utf-8"));

const recordOf = (values) => ({
  fields: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, { value }])),
  disagreements: [],
});

function textOf(plan, record) {
  const sentences = [
    ...conditionParagraph(plan, book, record),
    lotHeading(book, record),
    ...lotDescription(plan, book, record),
  ].filter(Boolean);
  return { sentences, text: asText(sentences) };
}

for (const one of cases) {
  test(`worked example ${one.name}`, () => {
    const plan = book.plans[one.class_id];
    const record = recordOf(one.fields);
    const grade = gradeOf(plan, record);
    assert.equal(grade.word, one.expected.word);
    assert.equal(grade.index.toFixed(1), one.expected.index.toFixed(1));
    const { text, sentences } = textOf(plan, record);
    for (const words of one.expected.must_say)
      assert.ok(text.toLowerCase().includes(words.toLowerCase()), `"${words}" is not in: ${text}`);
    for (const words of one.expected.must_not_say)
      assert.ok(!text.toLowerCase().includes(words.toLowerCase()), `"${words}" is in: ${text}`);
    const from = new Set(sentences.flatMap((sentence) => sentence.from));
    for (const [name, value] of Object.entries(one.fields)) {
      if (name.startsWith("findings/") && value.severity >= 2)
        assert.ok(from.has(name), `${name} is left out`);
    }
  });
}

/**
 * A record of any class: states, findings, denials, origins, tests, marks and measures, by a seeded generator (Park and
 * Miller's minimal standard).
 */
function anyRecord(seed) {
  const below = chance(seed);
  const one = (list) => list[below(list.length)];
  const plans = Object.values(book.plans).filter((plan) => !plan.refer_only);
  const plan = one(plans);
  const terms = book.vocabulary.terms.map(({ term }) => term);
  const values = {
    short_description: "thing",
    told_words: "SECRET told",
    dates: { words: "circa 1880", earliest: 1875, latest: 1885, edtf: "1880~" },
    dates_certainty: "probable",
    maker: "Thornapple",
    maker_certainty: one(["by", "after", "unknown"]),
  };
  const keys = plan.zones.flatMap(keysOf);
  for (const key of keys) {
    if (below(10) === 0) continue;
    const reason = below(8) === 0 ? one(["sealed", "no-tool", "not-applicable"]) : null;
    values[`zones/${key}`] = {
      state: reason ? "not-examined" : "clear",
      reason,
      light: reason ? null : one(["lamp", "ultraviolet", "torch"]),
      count: null,
    };
  }
  for (let number = 0; number < below(12); number += 1) {
    const zone = one(keys);
    values[`findings/${number}`] = {
      zone,
      term: one(terms),
      side: null,
      severity: below(5),
      extent_mm: one([null, 3, 240]),
      extent_mm_across: one([null, 2]),
      extent_percent: one([null, 30]),
      extent_count: one([null, 1, 4]),
      extent_words: null,
      activity: one(["n", "w", "P"]),
      certainty: one(["certain", "probable", "possible", "not-determined"]),
      origin: one([null, "replaced"]),
      note: one(["", "noted"]),
      withdrawn: below(6) === 0,
    };
    if (values[`zones/${zone}`]?.state === "clear")
      values[`zones/${zone}`] = { state: "finding", reason: null, light: "lamp", count: null };
  }
  for (let number = 0; number < below(6); number += 1) {
    const [zone, term] = [one(keys), one(terms)];
    values[`denials/${zone}/${term}`] = {
      zone,
      term,
      light: one(["lamp", "ultraviolet"]),
      withdrawn: below(5) === 0,
    };
    values[`origins/${one(keys)}`] = {
      origin: one(["replaced", "original-probably", null]),
      note: one(["", "felt"]),
    };
  }
  for (const { test: name } of plan.tests)
    if (below(2))
      values[`tests/${name}`] = {
        result: one(["works", "works-in-part", "no-response", "not-done"]),
        why: "no-tool",
        note: "",
      };
  for (const { measure, unit } of plan.measures)
    if (below(2)) values[`measures/${measure}`] = { value: 1 + below(900), unit, typed: "" };
  values["marks/0"] = {
    place: "base",
    technique: "printed",
    colour: "",
    completeness: "worn",
    text: "ABC\nDEF",
    reading: "",
    withdrawn: below(2) === 0,
  };
  return { plan, values, below };
}

/** Some of the first records, of each class. */
function someRecords(first) {
  const made = Array.from({ length: first }, (_, at) => ({ seed: at + 1, ...anyRecord(at + 1) }));
  return sampled(made, 3, ({ plan }) => plan.class_id);
}

test("no sentence without a record behind it, and every finding of severity 2 or more is there", () => {
  for (const { seed, plan, values } of someRecords(300)) {
    const { sentences, text } = textOf(plan, recordOf(values));
    for (const { words, from, keys } of sentences) {
      if (keys.some((key) => /^(untried\/|unmeasured$|not-measured$|which-piece$)/.test(key))) continue;
      assert.ok(from.length || /nothing (else )?is recorded/i.test(words), `nothing stands behind: ${words}`);
      for (const field of from)
        assert.ok(field in values, `${words} rests on ${field}, which is not on record`);
    }
    const from = new Set(sentences.flatMap((sentence) => sentence.from));
    for (const [name, value] of Object.entries(values)) {
      if (name.startsWith("findings/") && (value.withdrawn || value.severity >= 1))
        assert.equal(from.has(name), !value.withdrawn, `seed ${seed}: ${name}`);
    }
    assert.ok(!text.includes("SECRET"), "what the owner told is never printed as ours");
    assert.ok(!/undefined|null|NaN|\[object/.test(text), text);
  }
});

test("the order of entry never changes the words", () => {
  for (const { seed, plan, values, below } of someRecords(200)) {
    const shuffled = Object.entries(values)
      .map((entry) => [below(1 << 20), entry])
      .sort(([one], [other]) => one - other)
      .map(([, entry]) => entry);
    // Ids are made on devices, so that two records of the same thing have other ids in another order.
    assert.equal(
      textOf(plan, recordOf(Object.fromEntries(shuffled))).text,
      textOf(plan, recordOf(values)).text,
      `seed ${seed}`,
    );
  }
});

test("what date words cover is the same in the house's data and where nobody has any", () => {
  assert.deepEqual(book.words.dates, DATE_CONVENTIONS);
});

test("a record made with a plan of an earlier shape still opens, in words too", () => {
  const { scale, ...now } = book.plans.glass;
  const old = {
    ...now,
    zones: now.zones.map(({ optional, ...zone }) => zone),
    tests: now.tests.map(({ said, ...one }) => one),
    measures: now.measures.map(({ measure, words }) => ({ measure, words })),
    negatives: now.negatives.map(({ words, needs }) => ({ words, needs })),
    questions: now.questions.map(({ question }) => question),
  };
  const plan = wholePlan(old);
  const { values } = anyRecord(5);
  assert.doesNotThrow(() => textOf(plan, recordOf(values)));
  assert.equal(fiveAnswers(plan, book, recordOf(values)).length, 5);
  assert.deepEqual(wholePlan(book.plans.glass), book.plans.glass, "a plan of today's shape stays as it is");
});

test("a book of plans from before classes had drawings still opens", () => {
  const { classes, views, ...before } = book;
  assert.deepEqual(
    wholeBook(before).classes,
    {},
    "each stands under its plan's name and is drawn as a parcel",
  );
  assert.deepEqual(wholeBook(before).views, [], "each is drawn as its class");
  assert.deepEqual(wholeBook(book), { ...wholeBook(before), classes, views });
});

test("a book of plans from before its terms said so much reads as if they said nothing more", () => {
  const withTerms = (terms) => ({ ...book, vocabulary: { ...book.vocabulary, terms } });
  const [added] = wholeBook(withTerms([{}])).vocabulary.terms;
  const isNothing = (value) => value === null || value === false || value?.length === 0;
  const terms = book.vocabulary.terms.map((term) =>
    Object.fromEntries(Object.entries(term).filter(([name, value]) => !(name in added && isNothing(value)))),
  );
  assert.deepEqual(wholeBook(withTerms(terms)).vocabulary.terms, book.vocabulary.terms);
});

test("a book of plans from before a house chose its units is printed in all of them", () => {
  const { print: _, ...before } = book;
  assert.deepEqual(wholeBook(before).print.sizes, { inches: true, troy_ounces: true });
});

test("a class with a scale of its own is printed on that one", () => {
  const plan = book.plans["medal-coin"];
  const clear = Object.fromEntries(
    plan.zones
      .flatMap(keysOf)
      .map((key) => [`zones/${key}`, { state: "clear", reason: null, light: "loupe", count: null }]),
  );
  const says = (more) => asText(conditionParagraph(plan, book, recordOf({ ...clear, ...more })));
  assert.match(says({ class_grade: "very fine" }), /^Very fine, as coins and medals are graded\./);
  assert.match(
    says({}),
    /^Not graded on the scale for coins and medals\. Examined with/,
    "the computed word is not printed for it",
  );
});

test("a denial is said of a zone unless it was not examined, or the fault was found on it", () => {
  const plan = book.plans.ceramics;
  const denial = { "denials/rim/chip": { zone: "rim", term: "chip", light: "fingertip", withdrawn: false } };
  const examined = { "zones/rim": { state: "clear", reason: null, light: "lamp", count: null } };
  const found = {
    "findings/0": {
      zone: "rim",
      term: "chip",
      severity: 2,
      certainty: "certain",
      note: "",
      withdrawn: false,
    },
  };
  const says = (values) =>
    /No chip felt on the rim with a fingertip/.test(asText(conditionParagraph(plan, book, recordOf(values))));
  assert.ok(says({ ...denial, ...examined }));
  assert.ok(says(denial), "whoever looked for a fault looked at the zone");
  const unseen = { state: "not-examined", reason: "no-time", light: null, count: null };
  assert.ok(!says({ ...denial, "zones/rim": unseen }), "a zone nobody looked at denies nothing");
  assert.ok(!says({ ...denial, ...examined, ...found }));
});

test("a question is answered no only where it was denied, and otherwise not noted", () => {
  const plan = book.plans["soft-toy"];
  const [all] = fiveAnswers(plan, book, recordOf({}));
  assert.deepEqual([all.determined, all.answer[0].from], [false, []]);
  assert.match(all.answer[0].words, /^Not examined/);
  const clear = Object.fromEntries(
    ["cover", "filling", "outline"].map((zone) => [
      `zones/${zone}`,
      { state: "clear", reason: null, light: "lamp", count: null },
    ]),
  );
  const [, looked] = fiveAnswers(plan, book, recordOf(clear));
  assert.equal(looked.determined, false);
  assert.match(asText(looked.answer), /^Whether it has a smell was not noted\. No fault noted on/);
  const [, denied] = fiveAnswers(
    plan,
    book,
    recordOf({
      ...clear,
      "denials/cover/live-insects": { zone: "cover", term: "live-insects", light: "lamp", withdrawn: false },
    }),
  );
  assert.ok(denied.determined);
  assert.match(asText(denied.answer), /^No live insect seen on the cover under a lamp/);
});

test("a denial answers only a question that asks for its term where it was looked for", () => {
  for (const plan of Object.values(book.plans)) {
    const keys = plan.zones.flatMap(keysOf);
    const state = { state: "clear", reason: null, light: "lamp", count: null };
    const clear = Object.fromEntries(keys.map((key) => [`zones/${key}`, state]));
    for (const [index, { terms, anywhere, zones }] of plan.questions.entries()) {
      if (!terms.length || anywhere.length || !zones.length) continue;
      const answered = (zone, term) => {
        const denial = { zone, term, light: "lamp", withdrawn: false };
        const name = `denials/${zone}/${term}`;
        const { answer } = fiveAnswers(plan, book, recordOf({ ...clear, [name]: denial }))[index];
        return answer.some(({ from }) => from.includes(name));
      };
      const asked = keys.find((key) => key.split("/")[0] === zones[0]);
      const of = `${plan.class_id}: ${index}`;
      if (asked) assert.ok(answered(asked, terms[0]), of);
      const related = (term) => [
        term,
        ...(book.vocabulary.terms.find((one) => one.term === term)?.covers ?? []),
      ];
      const known = new Set(terms.flatMap(related));
      const other = book.vocabulary.terms.find(
        ({ term, covers }) => !known.has(term) && !covers.some((one) => known.has(one)),
      );
      if (asked) assert.ok(!answered(asked, other.term), `${of}, ${other.term}`);
    }
  }
});

test("a valuer's word stands one step from the computed one, and only while that holds", () => {
  const plan = book.plans.glass;
  const clear = Object.fromEntries(
    plan.zones
      .flatMap(keysOf)
      .map((key) => [`zones/${key}`, { state: "clear", reason: null, light: "lamp", count: null }]),
  );
  const moved = (word, more = {}) =>
    gradeOf(plan, recordOf({ ...clear, grade: { word, computed: "excellent", reason: "dull" }, ...more }));
  assert.deepEqual([moved("very good").word, moved("very good").computed], ["very good", "excellent"]);
  assert.equal(moved("fair").word, "excellent", "more than one step is not taken");
  const chip = {
    "findings/0": {
      zone: "rim",
      term: "chip",
      severity: 3,
      certainty: "certain",
      note: "",
      withdrawn: false,
    },
  };
  assert.deepEqual([moved("very good", chip).word, moved("very good", chip).stale], ["fair", true]);
});

test("of what should run the word goes so far as examined while nobody tried whether it does", () => {
  const graded = (class_id, fields = {}) => {
    const clear = { state: "clear", reason: null, light: "lamp", count: null };
    const zones = book.plans[class_id].zones.flatMap(keysOf).map((key) => [`zones/${key}`, clear]);
    const { word, so_far } = gradeOf(
      book.plans[class_id],
      recordOf({ ...Object.fromEntries(zones), ...fields }),
    );
    return so_far ? `${word}, so far` : word;
  };
  const tried = (result) => ({ result, why: result === "not-done" ? "no-time" : "", note: "" });
  for (const class_id of ["clock", "watch", "tinplate-diecast", "camera-scientific"])
    assert.equal(graded(class_id), "good, so far", class_id);
  assert.equal(graded("clock", { "tests/is-it-going": tried("not-done") }), "good, so far");
  assert.equal(graded("clock", { "tests/is-it-going": tried("works") }), "excellent");
  assert.equal(
    graded("clock", { "tests/wind-part": tried("no-response") }),
    "good",
    "what should go and does not is not excellent",
  );
  const sealed = { state: "not-examined", reason: "sealed", light: null, count: null };
  assert.equal(
    graded("watch", { "zones/movement": sealed }),
    "good, so far",
    "nobody could look, and that is said",
  );
  assert.equal(graded("glass"), "excellent");
});

test("a standing caution answers the question that asks for restrictions, without naming what it may be", () => {
  const plan = book.plans["camera-scientific"];
  const caution = {
    hazard: "H10",
    level: "amber",
    sign: "cream paint on the scale",
    zone: null,
    called: "",
    place: "",
  };
  const [restricted] = fiveAnswers(plan, book, recordOf({ "cautions/1": caution }));
  assert.match(
    asText(restricted.answer),
    /^Held back, and not offered until cleared; noted: cream paint on the scale\./,
  );
  assert.ok(!/radi/i.test(asText(restricted.answer)));
});
