/** Where things are, what became of numbers, and what the closing names: exactly what was planted. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { cautionMark, holdingCautions, isStopped, standingCautions } from "../../web/job/cautions.ts";
import { DIFFERENCES, KINDS } from "../../web/job/closing_kinds.ts";
import { contentsOfEach, pieceMoved, piecesHere, whyNotCarried, whyVoid } from "../../web/job/contents.ts";
import { isRollOf, PLACES, piecesOf, rollCounts, thingWith, whereIs } from "../../web/job/custody.ts";
import { apartAmong, apartWords, whyNotAmong } from "../../web/job/kept_apart.ts";
import { leftAloneIn, whyNotTakenOut } from "../../web/job/left_alone.ts";
import { numbersOfNoRoll } from "../../web/job/of_no_roll.ts";
import { run, shown } from "../../web/job/tag.ts";
import { chance } from "./chance.js";
import { differencesOn } from "./differences_of.js";
import { record, set } from "./made.js";

const NUMBERS = run("00002Y", 10);
const tag = (number, more = {}) => ({
  [`tags/${number}`]: { tag: number, piece: 1, of: 1, mark: "", gone: null, replaced_by: null, ...more },
});
const move = (to_place, more = {}) => ({
  from_place: null,
  to_place,
  at: "",
  given_by: "a",
  taken_by: "b",
  count: null,
  signed: false,
  tag: null,
  ...more,
});
const container = (id, number, fields = {}) => record("container", id, fields, { number, kind_of: "box" });

test("a thing is not carried where what is in it may not go, however deep", () => {
  const crate = container("crate", NUMBERS[0]);
  const box = container("box", NUMBERS[1], { inside: { container_id: "crate" } });
  const item = (more) =>
    record("item", "i", { short_description: "shell case", inside: { container_id: "box" }, ...more });
  const why = (found, kind = "record_move", to = "shelf") =>
    whyNotCarried(crate, kind, to, [crate, box, found]);
  const spreads = { "findings/1": { activity: "Q", withdrawn: false } };
  const stopped = { "cautions/1": { hazard: "H02", level: "red", sign: "", still_allowed: [] } };
  const decided = { "caution-decisions/1": { decision: "isolated", decided_by: "the police" } };
  assert.equal(why(item({})), null);
  assert.match(why(item(spreads)), /holds shell case, which is held apart/);
  assert.equal(why(item(spreads), "record_move", "isolation"), null);
  assert.match(why(item(stopped), "record_move", "isolation"), /is stopped. Nothing more is done with it/);
  assert.match(why(item(stopped), "put_inside", "table"), /is stopped/);
  assert.equal(why(item({ ...stopped, ...decided }), "record_move", "isolation"), null);
  assert.equal(why(item({ ...spreads, whereabouts: { to_place: "returned", at: "" } })), null);
  assert.match(whyNotCarried(item(stopped), "record_move", "shelf", []), /^shell case is stopped/);
});

test("what is held apart goes into no container with others, and they into none with it", () => {
  const tool = record("item", "t", {
    short_description: "blowlamp",
    "cautions/1": { hazard: "H04", level: "amber", sign: "paraffin" },
  });
  const violin = record("item", "v", { short_description: "violin" });
  const crate = container("crate", NUMBERS[0]);
  const into = (one) => ({
    ...one,
    fields: { ...one.fields, ...record("item", "i", { inside: { container_id: "crate" } }).fields },
  });
  const why = (thing, ...there) =>
    whyNotAmong(
      thing,
      crate,
      [crate, tool, violin].map((one) => (there.includes(one) ? into(one) : one)),
    );
  assert.match(why(tool, violin), /^blowlamp is held apart: take it to isolation, or into a container of/);
  assert.match(why(violin, tool), /^box .* holds blowlamp, which is held apart: nothing else goes in$/);
  assert.equal(why(tool), null);
  assert.equal(why(violin), null);
  assert.equal(why(tool, tool), null);
  const there = container("crate", NUMBERS[0], { whereabouts: { move_id: "m", ...move("isolation") } });
  assert.equal(whyNotAmong(tool, there, [there, tool, into(violin)]), null);
  const box = container("box", NUMBERS[1]);
  const boxed = {
    ...tool,
    fields: { ...tool.fields, ...record("item", "i", { inside: { container_id: "box" } }).fields },
  };
  assert.match(
    whyNotAmong(box, crate, [crate, box, boxed, into(violin)]),
    /^box .* holds blowlamp, which is held apart: take it to isolation/,
  );
  const mixed = apartWords(crate, [crate, into(tool), into(violin)]);
  assert.match(mixed, /^blowlamp is held apart: take it out of box .* and to isolation, before it is sealed/);
  assert.match(apartWords(crate, [crate, into(tool)]), /goes to isolation and nowhere else/);
  assert.equal(apartWords(crate, [crate, into(violin)]), "");
  const on = (one, number, values = {}) => ({
    ...one,
    fields: { ...one.fields, ...record("item", "i", { ...tag(number), ...values }).fields },
  });
  const inPlace = (one, number, place) => on(one, number, { whereabouts: { move_id: "m", ...move(place) } });
  const among = (place) => {
    const items = [inPlace(tool, NUMBERS[2], place), inPlace(violin, NUMBERS[3], "store")];
    return apartAmong([NUMBERS[2], NUMBERS[3]], items, [crate]);
  };
  assert.deepEqual(among("store"), ["blowlamp is held apart: take it out and to isolation."]);
  assert.deepEqual(among("isolation"), []);
  const packed = [on(into(tool), NUMBERS[2]), on(into(violin), NUMBERS[3])];
  assert.match(apartAmong([NUMBERS[0]], packed, [crate])[0], /^blowlamp is held apart: take it out of box/);
});

test("what is held apart stays at the table, goes to isolation or back to its owner, and nowhere else", () => {
  // Source: common practice: quarantine.
  const amber = { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" };
  const moth = record("item", "i", { "cautions/1": amber });
  const allowed = PLACES.map(([place]) => place).filter(
    (place) => whyNotCarried(moth, "record_move", place, []) === null,
  );
  assert.deepEqual(allowed.sort(), ["isolation", "returned", "table"]);
});

test("no decision but a clearing lifts a caution, and the gravest stands first", () => {
  const caution = (level) => ({ hazard: "H26", level, sign: level, zone: null, called: "", place: "" });
  const on = (decision) =>
    record("item", "i", { "cautions/1": caution("red"), "caution-decisions/1": { decision } });
  for (const decision of ["isolated", "returned", "referred"])
    assert.ok(isStopped(on(decision)), `${decision} lifts it`);
  assert.ok(!isStopped(on("cleared")));
  const three = record("item", "i", {
    "cautions/1": caution("note"),
    "cautions/2": caution("amber"),
    "cautions/3": caution("red"),
  });
  assert.deepEqual(
    standingCautions(three).map(({ value }) => value.level),
    ["red", "amber", "note"],
  );
  assert.deepEqual(
    holdingCautions(three).map(({ value }) => value.level),
    ["red", "amber"],
  );
});

test("a thing is where its outermost container is", () => {
  const crate = container("crate", NUMBERS[0], { whereabouts: { move_id: "m", ...move("store") } });
  const box = container("box", NUMBERS[1], {
    inside: { container_id: "crate" },
    whereabouts: { move_id: "n", ...move("table") },
  });
  const item = record(
    "item",
    "i",
    { ...tag(NUMBERS[2]), inside: { container_id: "box" } },
    { visit_id: "v" },
  );
  const byId = new Map([crate, box, item].map((one) => [one.record_id, one]));
  const found = whereIs(item, byId);
  assert.equal(found.place, "store");
  assert.deepEqual(
    found.inside.map((one) => one.record_id),
    ["box", "crate"],
  );
  assert.deepEqual(contentsOfEach(byId.values()).get("box"), [item]);
  assert.equal(thingWith(NUMBERS[2], [item], [crate, box]), item);
  assert.equal(thingWith(NUMBERS[1], [item], [crate, box]), box);
  assert.equal(thingWith(NUMBERS[9], [item], [crate, box]), null);
});

test("a thing in pieces lies in each container that holds one, and what was taken out in none", () => {
  const pot = record("item", "pot", {
    [`inside/${NUMBERS[0]}`]: { container_id: "box" },
    [`inside/${NUMBERS[1]}`]: { container_id: "crate" },
    inside: { container_id: "box" },
  });
  const out = record("item", "out", { inside: { container_id: null } });
  assert.deepEqual(
    [...contentsOfEach([pot, out])],
    [
      ["box", [pot]],
      ["crate", [pot]],
    ],
  );
});

test("a number is on the item that has it, else on one that had it, else on the container that bears it", () => {
  const gone = { ...tag(NUMBERS[0])[`tags/${NUMBERS[0]}`], gone: "taken-back" };
  const had = record("item", "had", { [`tags/${NUMBERS[0]}`]: gone });
  const has = record("item", "has", tag(NUMBERS[0]));
  const bears = container("bears", NUMBERS[0], {});
  assert.equal(thingWith(NUMBERS[0], [had, has], [bears]), has);
  assert.equal(thingWith(NUMBERS[0], [had], [bears]), had);
  assert.equal(thingWith(NUMBERS[0], [], [bears]), bears);
});

test("containers that hold each other by mistake do not hang anybody", () => {
  const one = container("one", NUMBERS[0], { inside: { container_id: "two" } });
  const two = container("two", NUMBERS[1], { inside: { container_id: "one" } });
  const byId = new Map([
    ["one", one],
    ["two", two],
  ]);
  assert.ok(whereIs(one, byId).inside.length <= 2);
});

test("two of three pieces here", () => {
  const [first, second, third] = NUMBERS;
  const item = record(
    "item",
    "set",
    {
      ...tag(first, { piece: 1, of: 3 }),
      ...tag(second, { piece: 2, of: 3 }),
      ...tag(third, { piece: 3, of: 3 }),
      inside: { container_id: "box" },
      [`inside/${third}`]: { container_id: null },
      [`whereabouts/${third}`]: { move_id: "m", ...move("shelf", { tag: third }) },
    },
    { visit_id: "v" },
  );
  const byId = new Map([
    ["box", container("box", NUMBERS[4], { whereabouts: { move_id: "n", ...move("store") } })],
    ["set", item],
  ]);
  assert.equal(piecesHere(item, "box"), "2 of 3 here");
  const forks = (gone) =>
    record("item", "forks", {
      ...tag(first),
      ...tag(second, { piece: 2, of: 2, gone }),
      pieces: 6,
      inside: { container_id: "box" },
    });
  assert.equal(piecesHere(forks("taken-back"), "box"), "5 of 6 here", "under one number");
  assert.equal(piecesHere(forks(null), "box"), "6 of 6 here", "it stays after all");
  assert.deepEqual(
    piecesOf(item, byId).map((one) => one.where.place),
    ["store", "store", "shelf"],
  );
});

test("used, struck through and unused add up to the roll, whatever became of its numbers", () => {
  const below = chance(7064);
  for (let round = 0; round < 60; round += 1) {
    const count = 1 + below(60);
    const numbers = run("004W8A", count);
    const items = numbers
      .filter(() => below(3) === 0)
      .map((number) =>
        record("item", number, tag(number, { gone: below(4) ? null : "lost" }), { visit_id: "v" }),
      );
    const spoiled = Object.fromEntries(
      numbers.filter(() => below(5) === 0).map((number) => [`spoiled/${number}`, { tag: number, why: "" }]),
    );
    const day = record("day", "d", {
      "rolls/r": { first_tag: numbers[0], last_tag: numbers.at(-1), count },
      "roll-holders/r": { given_to: "all", for_device_id: null },
      ...spoiled,
    });
    const [roll] = rollCounts(day, items, []);
    assert.equal(roll.used, items.length, "a number that fell off is used all the same");
    assert.equal(roll.used + roll.spoiled + roll.unused, count);
    assert.equal(roll.low, roll.used + roll.spoiled >= 0.8 * count);
    assert.ok(roll.next === null || !items.some((item) => item.record_id === roll.next));
  }
});

test("a number on a thing of another day is used there, and one of no roll of the day is counted by itself", () => {
  const numbers = run("004W8A", 12);
  const [ofYesterday, crateOfYesterday] = run("005W80", 2);
  const on = (number, day_id) => ({ ...record("item", number, tag(number), { visit_id: "v" }), day_id });
  const items = [
    on(numbers[0], "d"),
    on(numbers[3], "tomorrow"),
    on(ofYesterday, "d"),
    on("00000Z", "yesterday"),
  ];
  const crate = { ...record("container", "c", {}), day_id: "d", number: crateOfYesterday };
  const day = record("day", "d", {
    "rolls/r": { first_tag: numbers[0], last_tag: numbers[9], count: 10 },
    "roll-holders/r": { given_to: "Table 2", for_device_id: null },
    [`spoiled/${numbers[1]}`]: { tag: numbers[1], why: "wet" },
    [`spoiled/${numbers[3]}`]: { tag: numbers[3], why: "struck through, and on a thing all the same" },
  });
  const [{ used, elsewhere, spoiled, unused, next, passed }] = rollCounts(day, items, [crate]);
  assert.deepEqual([used, elsewhere, spoiled, unused], [1, 1, 1, 7]);
  assert.deepEqual([next, passed], [numbers[2], []]);
  assert.deepEqual(numbersOfNoRoll(day, items, [crate]), [ofYesterday, crateOfYesterday]);
  const wider = {
    ...day.fields,
    ...record("day", "d", { "rolls/s": { first_tag: ofYesterday, count: 1 } }).fields,
  };
  assert.deepEqual(numbersOfNoRoll({ ...day, fields: wider }, items, [crate]), [crateOfYesterday]);
});

test("a roll is its device's, however either is called", () => {
  const device = { device_id: "one", name: "Table 2" };
  const roll = (given_to, for_device_id) => ({ given_to, for_device_id });
  assert.ok(isRollOf(roll("Table two", "one"), device), "the device was renamed since");
  assert.ok(!isRollOf(roll("Table 2", "other"), device), "another device has the same name");
  assert.ok(isRollOf(roll(" table  2", null), device), "given out by name alone");
  assert.ok(!isRollOf(roll("spare", null), device));
  assert.ok(!isRollOf(roll("", null), { ...device, name: "" }));
});

test("the closing names what was planted and nothing else", () => {
  const store = { whereabouts: { move_id: "m", ...move("store") } };
  const plan = () => ({ refer_only: true, zones: [], views: [] });
  const signedFor = ["good", "jumped", "held"].map((item_id) => ({ item_id, tags: [], words: item_id }));
  const visit = record("visit", "v", {
    ticket: "Q01",
    stage: "left",
    item_count: 6,
    "receipts/1": { number: "Q01/1", what: "left", lines: signedFor },
  });
  const named = (id, fields) => record("item", id, { short_description: id, ...fields }, { visit_id: "v" });
  const items = [
    named("good", { ...tag(NUMBERS[0]), ...store }),
    named("no tag", { ...store }),
    named("jumped", {
      ...tag(NUMBERS[1]),
      ...store,
      "moves/1": move("van"),
      "moves/2": move("store", { from_place: "bench" }),
    }),
    named("unsigned", {
      ...tag(NUMBERS[2], { gone: "taken-back" }),
      whereabouts: { move_id: "n", ...move("returned") },
    }),
    named("held", {
      ...tag(NUMBERS[3]),
      ...store,
      "cautions/1": { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" },
    }),
    named("doubled", { merged: { into_id: "good", why: "" } }),
    named("damaged", {
      ...tag(NUMBERS[5]),
      ...store,
      "check-in": { state: "differs", words: "chip", second_by: "a" },
    }),
  ];
  const containers = [
    container("left", NUMBERS[6], { whereabouts: { move_id: "o", ...move("van") } }),
    container("here", NUMBERS[7], { ...store, seal: { seal: "7103", state: "broken", second_by: "a" } }),
  ];
  const day = record("day", "d", {
    "differences/1": { difference: "item-over", thing_id: null, words: "a spoon", owner_told: true },
    "differences/2": { difference: "item-short", thing_id: null, words: "found since", owner_told: true },
    "difference-ends/2": { ended: "found", words: "", second_by: "a" },
  });
  const found = differencesOn({ day, visits: [visit], items, containers, plan });
  assert.deepEqual(
    found.map(({ kind }) => kind),
    [
      "no-receipt",
      "unsigned",
      "receipt-changed",
      "item-over",
      "item-without-tag",
      "new-damage",
      "wrong-place",
      "not-arrived",
      "seal-differs",
      "held",
    ],
    "in the order in which they can no longer be mended",
  );
});

/** A day with these things and a box that has come to `boxAt`: what was left on the way. */
function leftBehind(items, boxAt = "store") {
  const box = container("box", NUMBERS[9], { whereabouts: { move_id: "b", ...move(boxAt) } });
  const day = record("day", "d", {});
  const found = differencesOn({ day, visits: [], items, containers: [box], plan: () => null });
  return found.filter(({ kind }) => kind === "left-behind").map(({ words }) => words);
}
const at = (place) => ({ whereabouts: { move_id: "w", ...move(place) } });

test("what lies loose in the hall or the van is named, wherever the others are", () => {
  const thing = (fields) =>
    record("item", "i", { short_description: "vase", ...tag(NUMBERS[0]), ...fields }, { visit_id: "v" });
  for (const boxAt of ["store", "van", "holding"])
    assert.deepEqual(
      leftBehind([thing(at("holding"))], boxAt),
      [`no visit, vase ${shown(NUMBERS[0])}: still in the holding area`],
      `with its box in the ${boxAt}`,
    );
  assert.match(leftBehind([thing(at("van"))], "van")[0], /: still in the van$/);
  assert.match(leftBehind([thing(at("bench"))], "table")[0], /: still at the bench$/);
  assert.deepEqual(leftBehind([thing(at("store"))], "shelf"), [], "the store is where the way ends");
  const held = { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" };
  const apart = thing({ ...at("isolation"), "cautions/1": held });
  assert.deepEqual(leftBehind([apart]), [], "what is held apart stays where it is");
  assert.match(leftBehind([thing(at("isolation"))])[0], /: in isolation, and no caution holds it$/);
  assert.deepEqual(leftBehind([thing(at("returned"))]), [], "its owner has it");
  assert.deepEqual(leftBehind([thing({ inside: { container_id: "box" } })], "van"), [], "named with its box");
});

test("a loose piece that stayed behind is named by itself", () => {
  const [pot, cover] = NUMBERS;
  const item = record(
    "item",
    "i",
    {
      short_description: "teapot",
      ...tag(pot, { of: 2 }),
      ...tag(cover, { piece: 2, of: 2 }),
      ...at("store"),
      [`whereabouts/${cover}`]: { move_id: "c", ...move("holding", { tag: cover }) },
    },
    { visit_id: "v" },
  );
  assert.match(leftBehind([item])[0], /: piece 2 of 2, still in the holding area$/);
  assert.equal(leftBehind([item]).length, 1);
});

test("a closing has words for every kind that it names", () => {
  const kinds = KINDS.map(([kind]) => kind);
  assert.equal(new Set(kinds).size, kinds.length);
  for (const [kind, words] of KINDS) assert.match(words, /^[A-Z]/, kind);
  assert.equal(new Set(KINDS.map(([, words]) => words)).size, KINDS.length);
  for (const [kind] of DIFFERENCES) assert.ok(kinds.includes(kind), kind);
});

test("a label says what stands on what it is tied to, and nothing of a note", () => {
  const held = (level, more = {}) =>
    record("item", level, {
      "cautions/1": { hazard: "H26", level, sign: "", zone: null, called: "", place: "" },
      ...more,
    });
  assert.equal(cautionMark([held("note")]), "");
  assert.equal(cautionMark([held("note"), held("amber")]), "held apart");
  assert.equal(cautionMark([held("amber"), held("red")]), "stopped, do not handle");
  assert.equal(cautionMark([held("red", { "caution-decisions/1": { decision: "cleared" } })]), "");
  assert.equal(
    cautionMark([
      record("item", "moth", { "findings/1": { term: "moth", activity: "Q", withdrawn: false } }),
    ]),
    "held apart",
  );
});

test("a number that was passed over is named, one that was struck through is not", () => {
  const numbers = run("004W8A", 6);
  const items = [numbers[0], numbers[4]].map((number) =>
    record("item", number, tag(number), { visit_id: "v" }),
  );
  const day = record("day", "d", {
    "rolls/r": { first_tag: numbers[0], last_tag: numbers[5], count: 6 },
    "roll-holders/r": { given_to: "Table 2", for_device_id: null },
    [`spoiled/${numbers[1]}`]: { tag: numbers[1], why: "wet" },
  });
  assert.deepEqual(rollCounts(day, items, [])[0].passed, [numbers[2], numbers[3]]);
});

test("nobody opens what holds something that is left alone, nor a box that stands in it", () => {
  const into = (container_id) => ({ inside: { container_id } });
  const stopOn = (still_allowed) => ({ "cautions/k1": { level: "red", hazard: "H16", still_allowed } });
  const crate = container("c1", NUMBERS[0]);
  const box = container("c2", NUMBERS[1], into("c1"));
  const stopped = record("item", "i1", { ...into("c1"), ...stopOn([]) });
  const inBox = record("item", "i2", into("c2"));
  const loose = record("item", "i3", {});
  const things = [crate, box, stopped, inBox, loose];
  assert.deepEqual(leftAloneIn(box, things), [stopped]);
  assert.match(whyNotTakenOut(inBox, things), /which is stopped: nobody opens that/);
  assert.match(whyNotTakenOut(box, things), /which is stopped: nobody opens that/);
  assert.equal(whyNotTakenOut(loose, things), null);
  const moves = record("item", "i1", { ...into("c1"), ...stopOn(["move"]) });
  assert.equal(
    whyNotTakenOut(inBox, [crate, box, moves, inBox]),
    null,
    "what may be moved keeps nobody away",
  );
});

test("what its owner took back is out of the container it was in", () => {
  const item = record(
    "item",
    "i",
    { inside: { container_id: "box" }, whereabouts: { move_id: "m", ...move("returned") } },
    { visit_id: "v" },
  );
  const byId = new Map([
    ["box", container("box", NUMBERS[4], { whereabouts: { move_id: "n", ...move("store") } })],
    ["i", item],
  ]);
  assert.deepEqual(whereIs(item, byId), { place: "returned", at: "", inside: [] });
});

test("what was moved by itself since it was put in is out of its container, and what is put in after a move is in", () => {
  const crate = container("crate", NUMBERS[0], { whereabouts: { move_id: "n", ...move("van") } });
  const at = (fields, times) =>
    Object.fromEntries(
      Object.entries(fields).map(([name, set]) => [name, { ...set, made_at: times[name] ?? set.made_at }]),
    );
  const watch = record("item", "watch", {
    ...tag(NUMBERS[1]),
    inside: { container_id: "crate" },
    whereabouts: { move_id: "m", ...move("shelf") },
  });
  const early = "2026-03-14T10:00:00.000Z";
  const late = "2026-03-14T12:00:00.000Z";
  const out = { ...watch, fields: at(watch.fields, { inside: early, whereabouts: late }) };
  const back = { ...watch, fields: at(watch.fields, { inside: late, whereabouts: early }) };
  const byId = new Map([["crate", crate]]);
  assert.deepEqual(
    [whereIs(out, byId), whereIs(back, byId)].map(({ place, inside }) => [place, inside.length]),
    [
      ["shelf", 0],
      ["van", 1],
    ],
  );
  assert.equal(contentsOfEach([out]).get("crate"), undefined);
  assert.deepEqual(contentsOfEach([back]).get("crate"), [back]);
});

test("a number that was voided as its thing went home says so, and which number the thing bears now", () => {
  const [first, second, third] = NUMBERS;
  const thing = (more, later = {}) => {
    const one = record("item", "i", {
      short_description: "clock",
      ...tag(first, { gone: "taken-back" }),
      ...more,
    });
    const fresh = Object.entries(tag(third, later)).map(([name, value]) => [
      name,
      set(value, "2026-03-14T18:00:00Z"),
    ]);
    return later.of ? { ...one, fields: { ...one.fields, ...Object.fromEntries(fresh) } } : one;
  };
  const alone = /is void, since clock went back .* take it to a table, where a fresh tag/;
  assert.match(whyVoid(thing({}), first), alone);
  const again = new RegExp(`came again: it bears ${shown(third)} now`);
  assert.match(whyVoid(thing({}, { of: 1 }), first), again);
  assert.match(whyVoid(thing({}, { piece: 2, of: 2 }), first), again, "what was one came again in two");
  assert.equal(whyVoid(thing({}, { of: 1 }), third), null);
  assert.equal(whyVoid(record("item", "i", tag(first, { gone: "fallen-off" })), first), null);

  const piece = { gone: "taken-back", piece: 2, of: 2 };
  const pair = (later) => thing({ ...tag(first, piece), ...tag(second, { of: 2 }) }, later);
  assert.match(whyVoid(pair(), first), alone, "the other one of the pair is not this one that came again");
  assert.match(whyVoid(pair({ piece: 2, of: 2 }), first), again);
  assert.match(whyVoid(pair({ of: 1 }), first), again, "what came again by itself");
  assert.match(whyVoid(pair({ piece: 1, of: 2 }), first), alone);
  assert.match(
    whyVoid(thing({ ...tag(first, piece), ...tag(second) }), first),
    alone,
    "nor are the others of a set",
  );
});

test("what stays moves by its number while a piece is back with its owner, so that it takes none along", () => {
  const [one, two] = NUMBERS;
  const pair = (gone) =>
    record("item", "i", { ...tag(one, { of: 2 }), ...tag(two, { piece: 2, of: 2, gone }) });
  assert.equal(pieceMoved(pair(null), one), ", piece 1 of 2");
  assert.equal(pieceMoved(pair("taken-back"), one), ", piece 1 of 2");
  assert.equal(pieceMoved(pair("lost"), one), "", "what lost its number goes along with the whole");
  assert.equal(pieceMoved(record("item", "i", tag(one)), one), "");
});

test("what lies beside a piece that is held apart is named by itself, wherever the other piece is", () => {
  const [pot, cover, vase] = NUMBERS;
  const amber = { hazard: "H26", level: "amber", sign: "", zone: null, called: "", place: "" };
  const held = record("item", "h", {
    ...{ short_description: "teapot", "cautions/1": amber, ...tag(pot, { of: 2 }) },
    ...{ ...tag(cover, { piece: 2, of: 2 }), [`inside/${pot}`]: { container_id: "box" }, ...at("isolation") },
  });
  const beside = record("item", "b", {
    ...{ short_description: "vase", ...tag(vase), inside: { container_id: "box" } },
  });
  const left = leftBehind([held, beside], "isolation");
  assert.deepEqual(left, [`no visit, vase ${shown(vase)}: in isolation, and no caution holds it`]);
});
