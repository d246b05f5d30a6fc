/** A load: what left by name, and what of it has come, whoever counted it and wherever. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  aloneAtTheStore,
  arrivalWords,
  comeWords,
  handsWords,
  isReplaced,
  lackingWords,
  loadsThatLeft,
  notCome,
  takenOut,
} from "../../web/job/loads.ts";
import { giversOf } from "../../web/job/loads_counted.ts";
import { packedIn } from "../../web/job/packed.ts";
import { run, shown } from "../../web/job/tag.ts";

const [BIG, SMALL, POT, COVER, OTHER] = run("00002Y", 5);
const set = (value, made_at = "") => ({ value, operation_id: "", made_by: "", made_at, device_id: "" });
const at = (to_place) => set({ move_id: "m", from_place: null, to_place, at: "" });
const crate = (record_id, number, place) => ({
  kind: "container",
  record_id,
  kind_of: "crate",
  number,
  fields: { whereabouts: at(place) },
  disagreements: [],
});
/** A pot whose cover has a tag of its own and may be elsewhere. */
const teapot = (pot, cover) => ({
  kind: "item",
  record_id: "teapot",
  fields: {
    short_description: set("teapot"),
    [`tags/${POT}`]: set({ tag: POT, piece: 1, of: 2, gone: null }),
    [`tags/${COVER}`]: set({ tag: COVER, piece: 2, of: 2, gone: null }),
    whereabouts: at(pot),
    [`whereabouts/${COVER}`]: at(cover),
  },
  disagreements: [],
});
const left = (numbers, more = {}) => ({
  to_place: "van",
  at: "",
  given_by: "a",
  taken_by: "b",
  numbers,
  ...more,
});
const arrival = (numbers, of_load = "l") => ({ ...left(numbers), to_place: "store", of_load });
function loadsOf(loads, { items = [], containers = [] } = {}) {
  const fields = Object.fromEntries(
    Object.entries(loads).map(([id, value], index) => [
      `loads/${id}`,
      set(value, `2026-03-14T10:0${index}:00Z`),
    ]),
  );
  return loadsThatLeft({ day: { fields, disagreements: [] }, items, containers });
}

test("what one person did alone is told so, and by whoever drove", () => {
  const two = { given_by: "Ana", taken_by: "Bo" };
  const one = { given_by: "Bo", taken_by: "Bo" };
  assert.equal(handsWords(two, "Ana"), "given by Ana, taken by Bo");
  assert.equal(handsWords(one, "bo "), "by Bo alone, who drove it");
  assert.equal(handsWords(one, "Ana"), "by Bo alone");
  assert.equal(handsWords(one, ""), "by Bo alone");
  const arrivals = [one, two, { ...one }].map((hands) => ({ ...arrival([BIG]), ...hands }));
  assert.deepEqual(aloneAtTheStore({ arrivals }), ["Bo"]);
  assert.deepEqual(aloneAtTheStore({ arrivals: [arrivals[1]] }), []);
});

test("of the loads of one device the later is the later, though its clock was set back between them", () => {
  const by = (device_id, device_seq, minute, number = BIG) => ({
    ...set(left([number]), `2026-03-14T10:${minute}:00.000Z`),
    device_id,
    device_seq,
  });
  const fields = {
    "loads/1": by("a", 1, "20"),
    "loads/2": by("a", 2, "10"),
    "loads/3": by("b", 3, "15", SMALL),
  };
  const said = loadsThatLeft({
    day: { fields, disagreements: [] },
    items: [],
    containers: [crate("big", BIG, "van")],
  });
  assert.deepEqual(
    said.map(({ id }) => id),
    ["2", "1", "3"],
  );
  assert.deepEqual([said[0].things[0].again, said[1].things[0].again], [false, true]);
});

test("of two crates that left, the one that did not come is named", () => {
  const containers = [crate("big", BIG, "van"), crate("small", SMALL, "van")];
  const [load] = loadsOf({ l: left([BIG, SMALL], { at: "trip 1" }), a: arrival([BIG]) }, { containers });
  assert.deepEqual(
    notCome(load).map(({ number }) => number),
    [SMALL],
  );
  assert.deepEqual(arrivalWords(load), {
    agrees: false,
    words: `1 of 2 that left have come. Not come: crate ${shown(SMALL)}`,
  });
  const lacks = `crate ${shown(SMALL)} (still in the van)`;
  assert.equal(lackingWords(load), `load to van, trip 1: 1 of 2 things not come: ${lacks}`);
});

test("what came in two goes, or was moved on with no count, has come", () => {
  const containers = [crate("big", BIG, "van"), crate("small", SMALL, "van")];
  const twice = loadsOf({ l: left([BIG, SMALL]), a: arrival([BIG]), b: arrival([SMALL]) }, { containers });
  assert.deepEqual(arrivalWords(twice[0]), { agrees: true, words: "2 of 2 that left have come" });
  const moved = loadsOf({ l: left([BIG]) }, { containers: [crate("big", BIG, "shelf")] });
  assert.equal(lackingWords(moved[0]), "");
});

test("an arrival counts for its own load alone", () => {
  const containers = [crate("big", BIG, "van")];
  const [load] = loadsOf({ l: left([BIG]), a: arrival([BIG], "another") }, { containers });
  assert.equal(notCome(load).length, 1);
});

test("a cover that stayed in the van is named by itself", () => {
  const [load] = loadsOf({ l: left([POT, COVER]) }, { items: [teapot("store", "van")] });
  assert.deepEqual(
    notCome(load).map(({ words }) => words),
    [`teapot ${shown(COVER)}, piece 2 of 2`],
  );
});

test("what came and had not left is said as well", () => {
  const containers = [crate("big", BIG, "store"), crate("other", OTHER, "store")];
  const [load] = loadsOf({ l: left([BIG]), a: arrival([BIG, OTHER]) }, { containers });
  assert.deepEqual(arrivalWords(load), {
    agrees: false,
    words: `1 of 1 that left have come. Came and had not left with it: crate ${shown(OTHER)}`,
  });
});

test("loads of before had no numbers, and the latest stands first", () => {
  assert.deepEqual(loadsOf({ l: left(undefined) }), []);
  assert.deepEqual(
    loadsOf({ one: left([BIG]), two: left([SMALL]) }).map(({ id }) => id),
    ["two", "one"],
  );
});

/** A thing with the moves that the ledger has of it, each `[place, minute]`, and what it was put into when. */
const moved = (thing, moves, inside) => ({
  ...thing,
  fields: {
    ...thing.fields,
    ...(moves.length ? { whereabouts: at(moves.at(-1)[0]) } : {}),
    ...Object.fromEntries(
      moves.map(([to_place, minute], index) => [
        `moves/m${index}`,
        set({ to_place, tag: null }, clock(minute)),
      ]),
    ),
    ...(inside ? { inside: set({ container_id: inside[0] }, clock(inside[1])) } : {}),
  },
});
const clock = (minute) => `2026-03-14T10:${String(minute).padStart(2, "0")}:00Z`;
const item = (record_id, tag) => ({
  kind: "item",
  record_id,
  fields: { short_description: set(record_id), [`tags/${tag}`]: set({ tag, piece: 1, of: 1, gone: null }) },
  disagreements: [],
});
const bag = (inside) => moved({ ...crate("bag", SMALL), kind_of: "bag", fields: {} }, [], inside);
const helmet = (inside) => moved(item("helmet", POT), [], inside);
const PACKED = [
  { container: BIG, numbers: [SMALL] },
  { container: SMALL, numbers: [POT] },
];

test("a load keeps what lay in its crates, at any depth, whatever is put in or taken out later", () => {
  const big = moved(crate("big", BIG), [["van", 5]]);
  const things = { items: [helmet(["bag", 1])], containers: [big, bag(["big", 1])] };
  assert.deepEqual(packedIn([BIG], things.items, things.containers), PACKED);
  const late = item("late", OTHER);
  const now = { items: [helmet(["bag", 1]), moved(late, [], ["big", 9])], containers: things.containers };
  const [load] = loadsOf({ l: left([BIG], { packed: PACKED }) }, now);
  assert.deepEqual(
    load.things[0].packed.map(({ words, packed }) => [words, packed.map(({ words }) => words)]),
    [[`bag ${shown(SMALL)}`, [`helmet ${shown(POT)}`]]],
  );
});

test("a thing whose numbers all came off lies in its crate by the last of them", () => {
  const off = (number) => set({ tag: number, piece: 1, of: 1, gone: "fallen-off" });
  const helmet = moved(item("helmet", POT), [], ["big", 1]);
  const fields = { ...helmet.fields, [`tags/${POT}`]: off(POT), [`tags/${COVER}`]: off(COVER) };
  assert.deepEqual(packedIn([BIG], [{ ...helmet, fields }], [crate("big", BIG)]), [
    { container: BIG, numbers: [COVER] },
  ]);
});

test("what was moved out of a crate and left in the van is missing from what came, and is said to be there", () => {
  const big = moved(crate("big", BIG), [
    ["van", 0],
    ["store", 20],
  ]);
  const left_there = moved({ ...crate("bag", SMALL), kind_of: "bag", fields: {} }, [["van", 10]], ["big", 0]);
  left_there.fields.whereabouts.made_at = clock(10);
  const things = { items: [helmet(["bag", 0])], containers: [big, left_there] };
  const [load] = loadsOf({ l: left([BIG], { packed: PACKED }) }, things);
  assert.equal(
    lackingWords(load),
    `load to van: missing from what came: bag ${shown(SMALL)} (still in the van)`,
  );
});

test("what was taken out of a crate on the way has not come with it", () => {
  const big = moved(crate("big", BIG), [
    ["van", 0],
    ["store", 20],
  ]);
  const things = { items: [helmet(["bag", 0])], containers: [big, bag([null, 10])] };
  const [load] = loadsOf({ l: left([BIG], { packed: PACKED }) }, things);
  assert.deepEqual(
    takenOut(load).map(({ number }) => number),
    [SMALL],
    "what lies in the bag is with the bag",
  );
  assert.equal(comeWords(load), "1 thing missing from what came");
  const taken = `bag ${shown(SMALL)} (taken out of crate ${shown(BIG)})`;
  assert.equal(lackingWords(load), `load to van: missing from what came: ${taken}`);
  assert.equal(arrivalWords(load).words, `1 of 1 that left have come. Missing from what came: ${taken}`);
});

test("what was moved into the van by itself stays there as its crate comes", () => {
  const big = moved(crate("big", BIG), [
    ["van", 0],
    ["store", 20],
  ]);
  const alone = moved({ ...crate("bag", SMALL), kind_of: "bag", fields: {} }, [["van", 10]], [null, 10]);
  const things = { items: [helmet(["bag", 0])], containers: [big, alone] };
  const [load] = loadsOf({ l: left([BIG], { packed: PACKED }) }, things);
  assert.equal(comeWords(load), "1 thing missing from what came");
  assert.equal(
    lackingWords(load),
    `load to van: missing from what came: bag ${shown(SMALL)} (still in the van)`,
  );
});

test("what was unpacked after its crate had come has come", () => {
  const big = moved(crate("big", BIG), [
    ["van", 0],
    ["store", 20],
  ]);
  const things = { items: [helmet(["bag", 0])], containers: [big, bag([null, 30])] };
  const [load] = loadsOf({ l: left([BIG], { packed: PACKED }) }, things);
  assert.equal(comeWords(load), "all of it has come");
});

test("what somebody took back into the hall has not come, and it is said where it is", () => {
  for (const [place, words] of [
    ["holding", "holding area"],
    ["table", "table"],
    ["isolation", "isolation"],
  ]) {
    const big = moved(crate("big", BIG), [
      ["van", 0],
      [place, 20],
    ]);
    const [load] = loadsOf({ l: left([BIG, SMALL]) }, { containers: [big, crate("small", SMALL, "van")] });
    assert.equal(notCome(load)[0].now, words);
    assert.equal(comeWords(load), "1 thing on the way, 1 taken out of the van");
    assert.match(lackingWords(load), new RegExp(`2 of 2 things not come: crate \\S+ \\(${words}\\); crate`));
  }
});

test("what an authority took on the road left with no later load", () => {
  const item = teapot("van", "van");
  item.fields = {
    ...item.fields,
    "cautions/c": set({ hazard: "H02", level: "red", still_allowed: [], place: "", called: "" }),
    "caution-decisions/c": set({ decision: "taken-away", decided_by: "police", place: "" }),
  };
  const [load] = loadsOf(
    { l: left([POT, COVER, BIG]) },
    { items: [item], containers: [crate("big", BIG, "van")] },
  );
  assert.equal(comeWords(load), "1 thing on the way, 2 taken away");
});

test("what went, came back and went again is on the way once", () => {
  const went = (...moves) => ({ containers: [moved(crate("big", BIG), moves)] });
  const loads = { one: left([BIG]), two: left([BIG]) }; // at 10:00 and at 10:01
  const again = loadsOf(loads, went(["van", 0], ["holding", 0], ["van", 0]));
  assert.deepEqual(again.map(comeWords), ["1 thing on the way", "1 left again with a later load"]);
  assert.deepEqual(again.map(lackingWords).filter(Boolean).length, 1);
  const stored = loadsOf(
    { one: left([BIG]), x: arrival([SMALL], "none"), y: arrival([SMALL], "none"), two: left([BIG]) },
    went(["van", 0], ["store", 1], ["holding", 2], ["van", 2]),
  );
  assert.deepEqual(stored.map(comeWords), ["1 thing on the way", "all of it has come"]);
});

test("of a load from before nothing was noted of what lay in it", () => {
  const [load] = loadsOf({ l: left([BIG]) }, { containers: [crate("big", BIG, "store")] });
  assert.equal(load.things[0].packed, null);
  assert.equal(comeWords(load), "all of it has come");
});

test("containers are read as deep as the office lets them stand in each other, and a circle ends", () => {
  const numbers = run("00002Y", 16);
  const chain = numbers.slice(0, -1).map((container, at) => ({ container, numbers: [numbers[at + 1]] }));
  const depthOf = ({ packed }) => (packed?.length ? 1 + depthOf(packed[0]) : 0);
  const [deep] = loadsOf({ l: left([numbers[0]], { packed: chain }) });
  assert.equal(depthOf(deep.things[0]), 12);
  const circle = [
    { container: BIG, numbers: [SMALL] },
    { container: SMALL, numbers: [POT] },
    { container: POT, numbers: [SMALL] },
  ];
  const [round] = loadsOf({ l: left([BIG], { packed: circle }) });
  assert.equal(depthOf(round.things[0]), 3);
});

test("a load that was counted again without what was taken out of it is one load", () => {
  const stays = moved(crate("big", BIG, "van"), [["van", 0]]);
  const loads = { one: left([BIG, SMALL]), two: left([BIG]) }; // at minutes 0 and 1
  const out = (minute) =>
    loadsOf(loads, {
      containers: [
        stays,
        moved(crate("small", SMALL, ""), [
          ["van", 0],
          ["holding", minute],
        ]),
      ],
    });
  const [two, one] = out(0);
  assert.deepEqual([isReplaced(one), lackingWords(one), comeWords(two)], [true, "", "1 thing on the way"]);
  assert.equal(isReplaced(out(2)[1]), false, "what was taken out later is asked for with the first");
});

test("whoever drove may have given what comes, though not on the day's list, and stands there once", () => {
  const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
  const person = (person_id, name) => ({ person_id, name, roles: ["porter"] });
  const drove = (driver) => set({ to_place: "van", at: "", driver, numbers: [], of_load: null });
  const people = [person("p1", "Dee Orchard"), person("p2", "Cy Orchard")];
  const day = {
    fields: {
      "people/p1": set(people[0]),
      "people/p2": set(people[1]),
      "loads/1": drove("Jem Orrin"),
      "loads/2": drove("jem orrin "),
      "loads/3": drove("dee  orchard"),
      "loads/4": drove(""),
    },
  };
  const names = giversOf(day, [people[1]]).map(({ name }) => name);
  assert.deepEqual(names, ["Cy Orchard", "Jem Orrin"], "who takes it has not given it");
});
