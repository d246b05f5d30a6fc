/** One "as recorded" never covers a piece that is not there. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  comparisonOf,
  isComparable,
  isLooseToCompare,
  piecesAway,
  piecesToCount,
} from "../../web/job/check_in.ts";
import { run, shown } from "../../web/job/tag.ts";

const [POT, COVER, BIG, SMALL] = run("00002Y", 4);
const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const at = (to_place) => set({ move_id: "m", from_place: null, to_place, at: "" });
const crate = (record_id, number, place) => ({
  kind: "container",
  record_id,
  number,
  kind_of: "crate",
  disagreements: [],
  fields: { whereabouts: at(place) },
});
const teapot = (fields) => ({
  kind: "item",
  record_id: "teapot",
  disagreements: [],
  fields: {
    [`tags/${POT}`]: set({ tag: POT, piece: 1, of: 2, gone: null }),
    [`tags/${COVER}`]: set({ tag: COVER, piece: 2, of: 2, gone: null }),
    ...fields,
  },
});
const away = (fields, others = []) => {
  const big = crate("big", BIG, "store");
  const pot = teapot(fields);
  return piecesAway(pot, big, [pot, big, ...others]);
};
const IN_BIG = set({ container_id: "big" });

test("a piece that stayed behind is named with where it is", () => {
  const fields = { [`inside/${POT}`]: IN_BIG, [`whereabouts/${COVER}`]: at("holding") };
  assert.deepEqual(away(fields), [`piece 2 of 2, ${shown(COVER)}: holding area`]);
});

test("what was packed whole is here, and so is a piece in another crate at the same place", () => {
  assert.deepEqual(away({ inside: IN_BIG }), []);
  const apart = { [`inside/${POT}`]: IN_BIG, [`inside/${COVER}`]: set({ container_id: "small" }) };
  assert.deepEqual(away(apart, [crate("small", SMALL, "store")]), []);
  assert.equal(away(apart, [crate("small", SMALL, "van")]).length, 1, "and not if that one has not come");
});

/** The same teapot, with what became of its numbers. */
const tied = (tags) =>
  teapot({
    inside: IN_BIG,
    [`tags/${COVER}`]: undefined,
    ...Object.fromEntries(
      tags.map((tag) => [`tags/${tag.tag}`, set({ gone: null, replaced_by: null, ...tag })]),
    ),
  });
const lacks = (...tags) => {
  const big = crate("big", BIG, "store");
  const item = tied(tags);
  return piecesAway({ ...item, fields: JSON.parse(JSON.stringify(item.fields)) }, big, [item, big]);
};

test("a piece with no number of its own is named, for nobody can have scanned it in", () => {
  assert.deepEqual(lacks({ tag: POT, piece: 1, of: 3 }), [
    "piece 2 of 3: no tag is on it",
    "piece 3 of 3: no tag is on it",
  ]);
  assert.deepEqual(
    lacks({ tag: POT, piece: 1, of: 2 }, { tag: COVER, piece: 2, of: 2, gone: "fallen-off" }),
    [`piece 2 of 2: its tag ${shown(COVER)} is fallen off`],
  );
});

test("a number that was replaced, or that never was a piece, leaves nothing to ask about", () => {
  const [replaced, fresh] = [COVER, SMALL].map((tag) => ({ tag, piece: 2, of: 2 }));
  const pot = { tag: POT, piece: 1, of: 2 };
  assert.deepEqual(lacks(pot, { ...replaced, gone: "lost", replaced_by: SMALL }, fresh), []);
  assert.deepEqual(lacks({ ...pot, of: 1 }, { ...replaced, gone: "taken-back" }), []);
  assert.deepEqual(lacks({ ...pot, of: 1, gone: "lost" }), [], "one piece is compared by its pictures");
});

test("a piece on another shelf has not come", () => {
  const on = (shelf) => set({ move_id: "m", from_place: null, to_place: "shelf", at: shelf });
  const shelved = { ...crate("big", BIG, "shelf"), fields: { whereabouts: on("A1") } };
  const lies = (shelf) => teapot({ [`inside/${POT}`]: IN_BIG, [`whereabouts/${COVER}`]: on(shelf) });
  const away = (shelf) => piecesAway(lies(shelf), shelved, [lies(shelf), shelved]);
  assert.deepEqual(away("Z9 in the other warehouse"), [
    `piece 2 of 2, ${shown(COVER)}: shelf Z9 in the other warehouse`,
  ]);
  assert.deepEqual(away(" A1"), []);
});

const later = (value, made_at) => ({ ...set(value), made_at });
const photo = (made_at) => later({ view: null, withdrawn: false, taken_at: made_at }, made_at);
const PACKED = { inside: later({ container_id: "big" }, "2026-03-14T12:00:00.000Z") };
const compared = (fields) => comparisonOf({ kind: "item", record_id: "jar", disagreements: [], fields });

test("a thing is compared with its photographs of before it was packed, and never with one that was taken since", () => {
  const [before, since] = ["11", "13"].map((hour) => photo(`2026-03-14T${hour}:00:00.000Z`));
  const both = compared({ ...PACKED, "photos/1": before, "photos/2": since });
  assert.deepEqual([both.photos.map(({ id }) => id), both.fresh.map(({ id }) => id)], [["1"], ["2"]]);
  const fresh = compared({ ...PACKED, "photos/2": since });
  assert.deepEqual([fresh.photos.length, fresh.fresh.length, isComparable(fresh)], [0, 1, false]);
});

test("without a photograph there is what was seen on it, and not what was only told", () => {
  const finding = (more) => set({ zone: "rim", term: "chip", severity: 2, withdrawn: false, ...more });
  const on = compared({
    ...PACKED,
    "findings/1": finding({ certainty: "seen" }),
    "findings/2": finding({ certainty: "told" }),
    "findings/3": finding({ withdrawn: true }),
    "zones/rim": set({ state: "finding" }),
    "zones/foot": set({ state: "not-examined" }),
  });
  assert.deepEqual([on.photos.length, on.found.length, on.looked, isComparable(on)], [0, 1, 1, true]);
  assert.equal(isComparable(compared(PACKED)), false);
  const clear = compared({ ...PACKED, "zones/rim": set({ state: "clear" }) });
  assert.equal(isComparable(clear), true, "one zone that was looked at, and nothing found");
});

test("a number that was found on another thing says nothing of how many pieces there are", () => {
  const other = { tag: COVER, piece: 2, of: 2, gone: "on-another-item" };
  assert.deepEqual(lacks({ tag: POT, piece: 1, of: 1 }, other), []);
});

test("a piece that went back to its owner is not waited for, and one that was lost is", () => {
  const pot = { tag: POT, piece: 1, of: 3 };
  const cover = { tag: COVER, piece: 2, of: 3 };
  const back = { tag: SMALL, piece: 3, of: 3, gone: "taken-back" };
  assert.deepEqual(lacks(pot, cover, back), []);
  assert.deepEqual(lacks(pot, { ...cover, gone: "lost" }, back), [
    `piece 2 of 3: its tag ${shown(COVER)} is lost`,
  ]);
  assert.deepEqual(away({ inside: IN_BIG, [`whereabouts/${COVER}`]: at("returned") }), []);
});

test("pieces with a number each are counted before they are as recorded, whoever counted them before", () => {
  const of = (fields) => piecesToCount({ ...teapot({}), fields });
  const pot = (more = {}) => set({ tag: POT, piece: 1, of: 2, gone: null, ...more });
  const cover = (more = {}) => set({ tag: COVER, piece: 2, of: 2, gone: null, ...more });
  const both = { [`tags/${POT}`]: pot(), [`tags/${COVER}`]: cover() };
  assert.equal(of(both), 2);
  assert.equal(of({ ...both, pieces: set(1) }), 1, "counted as one: the cover goes with it");
  assert.equal(of({ ...both, [`tags/${COVER}`]: cover({ gone: "taken-back" }) }), 1);
  assert.equal(of({ [`tags/${POT}`]: pot({ of: 1 }) }), 1);
  assert.equal(of({ [`tags/${POT}`]: pot({ of: 1 }), pieces: set(6) }), 6);
});

test("what came to the store in nothing is compared there, by the pictures of before it came", () => {
  const moved = (to_place, hour) => ({ ...at(to_place), made_at: `2026-03-14T${hour}:00:00.000Z` });
  const photo = (hour) => ({
    ...set({ taken_at: "", thumb_sha256: hour }),
    made_at: `2026-03-14T${hour}:00:00.000Z`,
  });
  const clock = (fields) => ({
    kind: "item",
    record_id: "clock",
    disagreements: [],
    fields: { [`tags/${POT}`]: set({ tag: POT, piece: 1, of: 1, gone: null }), ...fields },
  });
  const here = clock({ whereabouts: moved("store", "15"), "photos/1": photo("14"), "photos/2": photo("16") });
  const toCompare = (item) => isLooseToCompare(item, new Map([["big", crate("big", BIG, "store")]]));
  assert.equal(toCompare(here), true);
  assert.equal(toCompare(clock({ whereabouts: moved("van", "15") })), false, "it has not come");
  assert.equal(toCompare(clock({ inside: IN_BIG })), false, "it is checked in with its crate");
  assert.equal(
    toCompare({ ...here, fields: { ...here.fields, "check-in": set({ state: "differs" }) } }),
    false,
  );
  const { photos, fresh } = comparisonOf(here);
  assert.deepEqual(
    [photos, fresh].map((some) => some.map(({ id }) => id)),
    [["1"], ["2"]],
  );
  assert.deepEqual(piecesAway(here, null, [here]), []);
  const two = (place) => ({
    [`tags/${POT}`]: set({ tag: POT, piece: 1, of: 2, gone: null }),
    [`tags/${COVER}`]: set({ tag: COVER, piece: 2, of: 2, gone: null }),
    [`whereabouts/${POT}`]: at("store"),
    [`whereabouts/${COVER}`]: at(place),
  });
  const apart = clock(two("van"));
  assert.deepEqual(piecesAway(apart, null, [apart]), [`piece 2 of 2, ${shown(COVER)}: van`]);
});
