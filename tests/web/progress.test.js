/** What is still missing on an item: each gap by itself, counted, in the order of the work. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  asked,
  lightsBeside,
  missing,
  shutIn,
  viewsLeft,
  viewsSkipped,
  walk,
  zoneAsKept,
  zoneName,
  zonesLeft,
} from "../../web/job/progress.ts";
import { recordOf } from "./any_words.js";
import { book } from "./plan_book.js";

test("a zone is called by a name, and not by its key", () => {
  assert.equal(zoneName("set-count"), "count of the set");
  assert.equal(zoneName("tines-blades/2"), "tines or blades, 2");
  assert.equal(zoneName("marks-body"), "marks on the body");
  assert.equal(zoneName("ears/proper-right"), "ears, proper right");
  assert.equal(zoneName("rim/viewers-left"), "rim, viewer's left");
  assert.equal(zoneAsKept("set-count"), "set count", "what was signed is read as it was signed");
});

const PLAN = {
  refer_only: false,
  zones: [
    { zone: "body", members: [] },
    { zone: "handles", members: ["left", "right"] },
  ],
  tests: [
    { test: "rings", never_when: "", stopped_by: [] },
    { test: "runs", never_when: "", stopped_by: ["H20"] },
    { test: "fired", never_when: "always", stopped_by: [] },
  ],
  views: [
    { view: "front", words: "whole from the front" },
    { view: "back", words: "from the back" },
    { view: "inside", words: "inside, if it opens" },
  ],
};
const clear = { state: "clear", reason: null };
const photo = (view, withdrawn = false) => ({ view, withdrawn, taken_at: "", zone: null });
const WHOLE = {
  short_description: "jug",
  maker_certainty: "unknown",
  dates_certainty: "probable",
  "zones/body": clear,
  "zones/handles/left": clear,
  "zones/handles/right": clear,
  marks_looked: "base",
  "tests/rings": { result: "works" },
  "tests/runs": { result: "not-done" },
  "measures/height": { value: 10 },
  "photos/1": photo("front"),
  "photos/2": photo("back"),
  "tags/00002Y": { tag: "00002Y", gone: null },
};
const caution = (hazard) => ({ hazard, level: "amber", sign: "", zone: null, called: "", place: "" });

/** The gaps of a whole record without some of its fields, or with others in their place. */
function gaps(without, more = {}, plan = PLAN) {
  const values = Object.entries({ ...WHOLE, ...more }).filter(([name]) => !without.includes(name));
  const fields = Object.fromEntries(values.map(([name, value]) => [name, { value }]));
  return missing(plan, { fields, disagreements: [] }).map(({ what, words }) => [what, words]);
}

test("a whole record misses nothing, and one of a class that is only referred is asked for no zones", () => {
  assert.deepEqual(gaps([]), []);
  const bare = Object.keys(WHOLE).filter(
    (name) => /[/_]/.test(name) && !/^(short|maker|dates|tags)/.test(name),
  );
  assert.deepEqual(gaps(bare, {}, { ...PLAN, refer_only: true }), []);
});

for (const [words, without, more] of [
  ["name: Say in a few words what it is", ["short_description"]],
  ["maker: Maker, or that it is not determined", ["maker_certainty"]],
  ["maker: Say how sure you are of the maker", ["maker_certainty"], { maker: "A. Smith" }],
  ["dates: Date, or that it is not determined", ["dates_certainty"]],
  ["dates: Say how sure you are of the date", ["dates_certainty"], { dates: { form: "year", year: 1870 } }],
  ["zones: 1 zone is left", ["zones/body"]],
  ["zones: 2 zones are left", ["zones/body", "zones/handles/left"]],
  ["marks: No mark is noted, nor where one was looked for", ["marks_looked"]],
  [
    "marks: No mark is noted, nor where one was looked for",
    ["marks_looked"],
    { "marks/1": { withdrawn: true } },
  ],
  ["tests: 1 test has no result", ["tests/rings"]],
  ["tests: 2 tests have no result", ["tests/rings", "tests/runs"]],
  ["tests: 1 test has no result", ["tests/rings", "tests/runs"], { "cautions/1": caution("H20") }],
  ["measures: Nothing is measured", ["measures/height"]],
  ["measures: Nothing is measured", [], { "measures/height": { value: null } }],
  ["views: 1 view is missing", ["photos/1"]],
  ["views: 1 view is missing", [], { "photos/1": photo("front", true) }],
  ["views: 2 views are missing", ["photos/1", "photos/2"]],
  ["views: 1 view is missing", ["photos/1"], { "views/front": { reason: null, note: "" } }],
  ["tag: No tag is tied to it", ["tags/00002Y"]],
  ["tag: No tag is tied to it", [], { "tags/00002Y": { tag: "00002Y", gone: "fallen-off" } }],
])
  test(`one gap and no other: ${words} (${[...without, ...Object.keys(more ?? {})].join(", ")})`, () => {
    assert.deepEqual(
      gaps(without, more).map((gap) => gap.join(": ")),
      [words],
    );
  });

test("a view that does not apply is not missing, and what a picture shows all the same was not skipped", () => {
  const never = { reason: "not-applicable", note: "" };
  assert.deepEqual(gaps(["photos/1"], { "views/front": never }), []);
  const skipped = (values) => {
    const fields = Object.fromEntries(Object.entries(values).map(([name, value]) => [name, { value }]));
    return viewsSkipped({ fields, disagreements: [] }).map(({ id }) => id);
  };
  assert.deepEqual(skipped({ "views/front": never, "views/back": { reason: null, note: "" } }), ["front"]);
  assert.deepEqual(skipped({ "views/front": never, "photos/1": photo("front") }), []);
});

test("of an empty record all is asked, in the order of the work", () => {
  assert.deepEqual(
    gaps(Object.keys(WHOLE)).map(([what]) => what),
    ["name", "maker", "dates", "zones", "marks", "tests", "measures", "views", "tag"],
  );
  assert.deepEqual(
    gaps(Object.keys(WHOLE), {}, null).map(([what]) => what),
    ["class", "name", "maker", "dates", "tag"],
  );
});

test("what is left is counted once for a plan and a state of the record, anew for another of either", () => {
  let looks = 0;
  const watched = { ...PLAN, zones: PLAN.zones };
  Object.defineProperty(watched, "zones", {
    get: () => {
      looks += 1;
      return PLAN.zones;
    },
  });
  const of = (fields) => ({
    fields: Object.fromEntries(Object.entries(fields).map(([name, value]) => [name, { value }])),
    disagreements: [],
  });
  const record = of({ "zones/body": clear, "photos/1": photo("front") });
  const larger = { ...PLAN, zones: [...PLAN.zones, { zone: "foot", members: [] }], views: [] };
  assert.deepEqual([zonesLeft(watched, record), zonesLeft(watched, { ...record }), looks], [2, 2, 1]);
  assert.deepEqual([zonesLeft(larger, record), zonesLeft(watched, record)], [3, 2]);
  assert.equal(zonesLeft(watched, of({ "zones/body": clear, "zones/handles/left": clear })), 1);
  assert.deepEqual([viewsLeft(PLAN, record), viewsLeft(larger, record)], [1, 0]);
});

const WATCH = {
  zones: [
    { zone: "case", members: [], holds: ["lugs"] },
    { zone: "lugs", members: ["1", "2"], holds: [] },
    { zone: "movement", members: [], holds: [] },
    { zone: "balance", members: [], holds: [], inside: ["movement"] },
    { zone: "hairspring", members: [], holds: [], inside: ["balance"] },
  ],
};
const sealed = { state: "not-examined", reason: "sealed" };

for (const [zones, within] of [
  [{}, []],
  [{ movement: clear, balance: sealed }, [["hairspring", "balance"]]],
  [
    { movement: sealed },
    [
      ["balance", "movement"],
      ["hairspring", "movement"],
    ],
  ],
  [{ case: sealed }, [["lugs", "case"]]],
])
  test(`nobody saw what lies inside what was not examined: ${Object.keys(zones).join(", ")}`, () => {
    const fields = Object.entries(zones).map(([zone, value]) => [`zones/${zone}`, { value }]);
    const steps = walk(WATCH, { fields: Object.fromEntries(fields), disagreements: [] });
    assert.deepEqual([...shutIn(steps)], within);
  });

test("what is of zones alone that the thing never had is not asked, and what is of one that it has is", () => {
  const plan = {
    ...PLAN,
    tests: [...PLAN.tests, { test: "cover-fit", never_when: "", stopped_by: [], of: ["handles"] }],
    views: [
      ...PLAN.views,
      { view: "joins", words: "joins of the handles", of: ["handles"] },
      { view: "top", words: "top", of: ["handles", "body"] },
    ],
  };
  const open = [
    ["tests", "1 test has no result"],
    ["views", "2 views are missing"],
  ];
  assert.deepEqual(gaps([], {}, plan), open);
  const never = { state: "not-examined", reason: "not-applicable" };
  const one = { "zones/handles/left": never };
  assert.deepEqual(gaps([], one, plan), open, "one handle is left");
  const both = { ...one, "zones/handles/right": never };
  assert.deepEqual(gaps([], both, plan), [["views", "1 view is missing"]]);
  const found = { ...both, "findings/1": { zone: "handles/left", term: "chip", severity: 1 } };
  assert.deepEqual(gaps([], found, plan), open, "something was found on it after all");
});

test("a light that is said as used and as not used is missing until one of the two is taken back", () => {
  const plan = {
    ...PLAN,
    tests: [{ test: "ultraviolet", looks: "ultraviolet", never_when: "", stopped_by: [] }],
  };
  const said = (denied) => ({
    fields: Object.fromEntries(
      Object.entries({
        ...WHOLE,
        "tests/ultraviolet": { result: "not-done", why: "no-time" },
        "denials/body/filled-area": { zone: "body", term: "filled-area", light: "ultraviolet", ...denied },
      }).map(([name, value]) => [name, { value }]),
    ),
  });
  const at = (denied) => missing(plan, said(denied)).map(({ words, at }) => [words, at]);
  assert.deepEqual(at({ withdrawn: false }), [["Ultraviolet: said as used and as not used", "/works"]]);
  assert.deepEqual(at({ withdrawn: true }), []);
  assert.deepEqual(lightsBeside(said({ withdrawn: false }), { key: "body" }, "hall-light"), ["ultraviolet"]);
  assert.deepEqual(lightsBeside(said({ withdrawn: false }), { key: "body" }, "ultraviolet"), []);
  assert.deepEqual(lightsBeside(said({ withdrawn: true }), { key: "body" }, "hall-light"), []);
});

test("a test that is not needed is not missing", () => {
  const tap = { test: "tap", how: "not needed; if at all, one soft tap", never_when: "", stopped_by: [] };
  const needed = { ...tap, how: "one soft tap" };
  assert.deepEqual(gaps([], {}, { ...PLAN, tests: [tap] }), []);
  assert.deepEqual(gaps([], {}, { ...PLAN, tests: [needed] }), [["tests", "1 test has no result"]]);
});

test("a ring is asked for nothing of a pair, of a clasp or of a brooch, whatever it is set with", () => {
  const plan = book.plans.jewellery;
  const of = (short_description) => {
    const item = recordOf({ short_description });
    const rows = [
      ...asked(plan, item, plan.views).map(({ view }) => view),
      ...asked(plan, item, plan.tests).map(({ test }) => test),
      ...asked(plan, item, plan.measures).map(({ measure }) => measure),
    ];
    return ["pair", "clasp-open", "inside", "clasp", "inner-diameter", "length", "width"].filter((row) =>
      rows.includes(row),
    );
  };
  const ring = ["inside", "inner-diameter"];
  assert.deepEqual(of("gold ring with a brooch pin"), ring);
  assert.deepEqual(of("Ring, set with a red stone"), ring);
  // What they are says what is asked of them, not that there are two.
  assert.deepEqual(of("pair of earrings"), ["pair", "clasp-open", "clasp", "inner-diameter"]);
  assert.deepEqual(of("brooch"), ["clasp-open", "clasp", "inner-diameter", "width"]);
  assert.deepEqual(of("necklace with a bolt ring"), ["clasp-open", "clasp", "inner-diameter", "length"]);
  assert.ok(of("").includes("clasp-open"), "of what has no name yet nothing is left out");
  assert.ok(!of("").includes("pair"));
});
