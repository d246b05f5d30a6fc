/** What one press said of several zones together, read off the record. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { keysOf, walk } from "../../web/job/progress.ts";
import {
  alongWith,
  canLack,
  coveredIn,
  leftOpen,
  namedAsNone,
  sweepsOf,
  zonesStillSaid,
} from "../../web/job/sweeps.ts";
import { clear, finding, recordOf } from "./any_words.js";
import { book } from "./plan_book.js";

const NEVER = { state: "not-examined", reason: "not-applicable" };
const CLEAR = { state: "clear", reason: null };
const FOUND = { state: "finding", reason: null };
const AGAIN = { state: "not-examined", reason: "to-look-at" };

const record = (...said) => ({
  fields: Object.fromEntries(
    said.map(([zone, value, made_at, operation_id = zone, device_id = "d1"]) => [
      `zones/${zone}`,
      { value, made_at, operation_id, device_id },
    ]),
  ),
  disagreements: [],
});
const told = (of) => sweepsOf(of).map(({ zones, state, ids }) => [zones, state.reason, [...ids]]);

test("zones that were said to be so at one moment are a sweep, the newest first", () => {
  const of = record(
    ["rim", NEVER, "10:00"],
    ["foot", NEVER, "10:00"],
    ["body", CLEAR, "11:00", "rest"],
    ["neck", CLEAR, "11:00", "rest"],
  );
  assert.deepEqual(told(of), [
    [["body", "neck"], null, ["rest"]],
    [["rim", "foot"], "not-applicable", ["rim", "foot"]],
  ]);
});

test("a zone by itself, of another device, with a finding or to be looked at again is none", () => {
  assert.deepEqual(told(record(["rim", NEVER, "10:00"], ["foot", NEVER, "10:01"])), []);
  assert.deepEqual(told(record(["rim", NEVER, "10:00"], ["foot", NEVER, "10:00", "foot", "d2"])), []);
  assert.deepEqual(told(record(["rim", CLEAR, "10:00"], ["foot", NEVER, "10:00"])), []);
  assert.deepEqual(told(record(["rim", FOUND, "10:00"], ["foot", FOUND, "10:00"])), []);
  assert.deepEqual(told(record(["rim", AGAIN, "10:00"], ["foot", AGAIN, "10:00"])), []);
});

test("nothing is without its whole, nor what it is made of, nor without what its other zones lie on", () => {
  const zone = (zone, weight, holds = [], optional = false) => ({ zone, weight, holds, optional });
  const zones = [
    zone("outline", "supporting"),
    zone("body", "key", ["glaze"]),
    zone("spout", "key"),
    zone("frame", "key", ["corners"], true),
    zone("margins", "supporting", ["edges"]),
    { ...zone("metal", "supporting"), inherent: true },
  ];
  assert.deepEqual(
    zones.filter(canLack).map(({ zone }) => zone),
    ["spout", "frame", "margins"],
  );
});

test("what only a light or a trial shows is called clear with the rest in that light, or once it was tried", () => {
  const plan = book.plans["stringed-instrument"];
  const covered = (values, light) => {
    const violin = recordOf(values);
    const { covered, unlit } = coveredIn(walk(plan, violin), violin, light);
    return [covered, unlit].map((steps) => steps.map(({ key }) => key));
  };
  const within = ["sound-post", "inside", "label"];
  const [lit, unlit] = covered({}, "hall-light");
  assert.deepEqual(unlit, within);
  assert.ok(lit.includes("table") && !lit.some((key) => within.includes(key)));
  assert.deepEqual(covered({}, "inside-lamp")[1], []);
  assert.deepEqual(covered({}, "")[1], [], "no light is said yet");
  const looked = { "tests/inside-look": { result: "works", why: "", note: "" } };
  assert.deepEqual(covered(looked, "hall-light")[1], ["sound-post"]);
  const not_done = { "tests/inside-look": { result: "not-done", why: "no-time", note: "" } };
  assert.deepEqual(covered(not_done, "hall-light")[1], within);
  const said = { ...looked, "zones/sound-post": clear("hall-light") };
  assert.deepEqual(
    covered(said, "hall-light")[1],
    [],
    "whoever said it of the zone alone is taken at their word",
  );
});

test("what lies in a zone that was not examined is named with that", () => {
  const watch = recordOf({ "zones/movement": { state: "not-examined", reason: "sealed" } });
  const { covered, within, unlit } = coveredIn(walk(book.plans.watch, watch), watch, "lamp");
  assert.deepEqual(
    within.map(({ step, by }) => [step.key, by]),
    [["balance", "movement"]],
  );
  assert.deepEqual(
    unlit.map(({ key }) => key),
    ["pushers", "inner-cover", "case-marks"],
    "nobody tried the pushers, nor opened the back, so that nobody saw what is behind it",
  );
  assert.ok(covered.every(({ key }) => key !== "balance"));
});

const left = (class_id, values, light = "hall-light") => {
  const of = recordOf(values);
  const { unlit, other } = coveredIn(walk(book.plans[class_id], of), of, light);
  return [unlit, other].map((steps) => steps.map(({ key }) => key));
};

test("what was neither fired, turned nor opened is not called clear with the rest, and no answer to what is unsafe", () => {
  const [unlit] = left("camera-scientific", { short_description: "box camera" });
  for (const zone of ["shutter", "aperture", "focus", "transport", "film-inside", "tubes-liquid"])
    assert.ok(unlit.includes(zone), zone);
  const fired = { "tests/shutter-fire": { result: "works", why: "", note: "" } };
  assert.ok(!left("camera-scientific", fired)[0].includes("shutter"));
  const not_fired = { "tests/shutter-fire": { result: "not-done", why: "no-time", note: "" } };
  assert.ok(left("camera-scientific", not_fired)[0].includes("shutter"));
});

test("what a frame covers is seen once it was said to be out of it, or never had one", () => {
  const under = ["verso", "watermark", "stamps", "hinges", "support"];
  const among = (values) => left("work-on-paper", values)[0].filter((key) => under.includes(key));
  assert.deepEqual(among({ short_description: "lithograph, framed" }), under);
  assert.deepEqual(among({ "zones/frame": NEVER }), ["watermark"]);
  const stated = { words: "examined out of the frame", withdrawn: false };
  assert.deepEqual(among({ "statements/out-of-frame": stated }), ["watermark"]);
  assert.deepEqual(among({ "statements/out-of-frame": { ...stated, withdrawn: true } }), under);
});

test("what a thing called so mostly never had is not called clear with the rest", () => {
  assert.ok(left("textile-rug", { short_description: "rug" })[1].includes("fastenings"));
  assert.ok(!left("textile-rug", { short_description: "silk dress" })[1].includes("fastenings"));
  assert.deepEqual(left("medal-coin", { short_description: "group of medals" })[1], ["note-paper"]);
});

test("what a thing never had takes along what lies in it, but for what was said or found there", () => {
  const along = (class_id, keys, values = {}) =>
    alongWith(walk(book.plans[class_id], recordOf(values)), keys);
  assert.deepEqual(along("furniture", ["drawers"]), ["drawer-linings", "runners"]);
  assert.deepEqual(along("furniture", ["drawers"], { "zones/runners": clear() }), ["drawer-linings"]);
  assert.deepEqual(
    along("furniture", ["drawers"], { "findings/1": finding({ zone: "runners", term: "wear" }) }),
    ["drawer-linings"],
  );
  assert.deepEqual(along("furniture", ["drawers", "runners"]), ["drawer-linings"]);
  assert.deepEqual(along("furniture", ["doors"]), []);
  assert.deepEqual(along("painting", ["frame"]).includes("frame-ornament"), true);
  assert.deepEqual(along("glass", ["stopper"]), ["stopper-peg"]);
  const [left, right] = keysOf(book.plans.furniture.zones.find(({ zone }) => zone === "sides"));
  const zones = book.plans.furniture.zones;
  const shelf = { ...zones.find(({ zone }) => zone === "runners"), zone: "shelf", inside: ["sides"] };
  const plan = { ...book.plans.furniture, zones: [...zones, shelf] };
  const none = (values, keys) => alongWith(walk(plan, recordOf(values)), keys);
  assert.deepEqual(none({}, [left]), [], "one of two sides is there");
  assert.deepEqual(none({ [`zones/${left}`]: NEVER }, [right]), ["shelf"]);
});

test("what was said of a zone since is no longer what the sweep said of it", () => {
  const of = record(
    ["rim", NEVER, "10:00"],
    ["foot", FOUND, "10:05", "later"],
    ["body", CLEAR, "11:00", "rest"],
  );
  const never = (zone) => ({ kind: "examine_zone", operation_id: zone, zone });
  const rest = { kind: "examine_rest", operation_id: "rest", zones: ["body", "neck"] };
  assert.deepEqual(zonesStillSaid(of, [never("rim"), never("foot"), rest]), ["rim", "body"]);
  assert.deepEqual(zonesStillSaid(null, [rest]), []);
});

test("a place of marks is not called clear with the rest: clear alone says nothing of whether there is one", () => {
  const of = recordOf({});
  const { covered, marks } = coveredIn(walk(book.plans["silver-plate"], of), of, "lamp");
  const keys = (steps) => steps.map(({ key }) => key);
  assert.deepEqual(keys(marks), ["marks-body"]);
  assert.ok(!keys(covered).includes("marks-body"));
});

test("a set of which something is missing is counted by itself, and its count not called clear with the rest", () => {
  const lacking = (withdrawn) => ({
    zone: "outline",
    term: "missing-part",
    severity: 2,
    withdrawn,
    note: "saucer",
  });
  const keys = (values) => {
    const of = recordOf(values);
    const { covered, short } = coveredIn(walk(book.plans.ceramics, of), of, "lamp");
    return [covered, short].map((steps) => steps.map(({ key }) => key).filter((key) => key === "set-count"));
  };
  assert.deepEqual(keys({ "findings/a": lacking(false) }), [[], ["set-count"]]);
  assert.deepEqual(keys({ "findings/a": lacking(true) }), [["set-count"], []]);
});

test("nobody calls the inside of a violin clear by a lamp that never went in", () => {
  for (const light of ["lamp", "torch"]) {
    const unlit = left("stringed-instrument", { short_description: "violin in a case" }, light)[0];
    for (const zone of ["inside", "label"]) assert.ok(unlit.includes(zone), `${zone}, ${light}`);
  }
});

test("a zone that a thing never had is named by all that is denied of it", () => {
  const zone = (name) => ({ zone: { zone: name }, key: name });
  const print = {
    zones: [
      { zone: "label-mark", lacking: "label or stud" },
      { zone: "film", lacking: "film" },
    ],
  };
  assert.equal(namedAsNone(zone("label-mark"), print), "label mark (label or stud)");
  assert.equal(namedAsNone(zone("film"), print), "film");
  assert.equal(namedAsNone(zone("tail"), print), "tail");
  // A clock with feet and no finials is said to have no finials, and nothing of its feet.
  assert.equal(namedAsNone(zone("finials"), book.print), "finials");
});

test("what is left is said not to have been examined, but for what such a thing never has", () => {
  const of = recordOf({ short_description: "pair of candlesticks", "zones/rim": clear("lamp") });
  const keys = leftOpen(walk(book.plans["silver-plate"], of), of).map(({ key }) => key);
  for (const never of ["rim", "spout", "hinge", "tines-blades", "cover"])
    assert.ok(!keys.includes(never), never);
  for (const open of ["body", "base", "loading", "marks-body"]) assert.ok(keys.includes(open), open);
});

test("what lies beside a thing is not called clear with the rest, unless somebody has shown that it is there", () => {
  const beside = (class_id, values) => {
    const of = recordOf(values);
    const { covered, beside: not } = coveredIn(walk(book.plans[class_id], of), of, "lamp");
    const keys = not.map(({ key }) => key);
    assert.ok(covered.every(({ key }) => !keys.includes(key)));
    return keys;
  };
  assert.deepEqual(beside("free", {}), ["extras", "packaging"]);
  assert.deepEqual(beside("free", { packaging: "a shoe box" }), ["extras"]);
  assert.deepEqual(beside("ceramics", {}), ["stand", "packaging"]);
  const photo = { zone: "extras", view: null, withdrawn: false, taken_at: "" };
  assert.deepEqual(beside("free", { "photos/1": photo }), ["packaging"]);
  assert.ok(!beside("clock", {}).includes("case"), "which is a clock's own");
  // What would be said to be there, by a fault that it has not: a solid pot has no plating, nor a crest on its shield.
  const pot = beside("silver-plate", { short_description: "silver teapot, engraved crest" });
  for (const never of ["blank-shield", "gilding", "plating", "liner"]) assert.ok(pot.includes(never), never);
});
