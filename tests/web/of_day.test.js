/**
 * What is made of a whole day is made once for every screen that asks, and anew as soon as something of it has changed.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { before, test } from "node:test";
import { run, shown } from "../../web/job/tag.ts";
import { differencesOfDay, loadsThatLeftOn, rollsOfDay, sumsOfDay } from "../../web/local/day_found.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { load } from "../../web/local/load.ts";
import { loadsOfDay } from "../../web/local/loads_of_day.ts";
import { keep } from "../../web/local/outbox.ts";
import { placesOfDay } from "../../web/local/places_of_day.ts";
import { rollsLeft } from "../../web/local/rolls_left.ts";

const [DAY, VISIT, ITEM] = ["1", "2", "3"].map((digit) => `0000000${digit}-0000-7000-8000-000000000000`);
const [NUMBER] = run("00002Y", 1);
let moves = 0;

function move(from_place, to_place) {
  const who = { at: "", given_by: "a", taken_by: "b", count: null, signed: false, tag: null };
  return keep("record_move", { move_id: `m${moves++}`, thing_id: ITEM, from_place, to_place, ...who });
}

before(async () => {
  await load();
  await rememberDevice({ device_id: "phone", person_id: "p", epoch: "e" });
  const head = { house: "h", place: "p", held_on: "2026-03-14", currency: "GBP", tables: [], people: [] };
  await keep("open_day", { day_id: DAY, ...head });
  await keep("open_visit", { visit_id: VISIT, day_id: DAY, ticket: "Q01", bags: 1, kinds: "" });
  await keep("open_item", { item_id: ITEM, visit_id: VISIT, day_id: DAY });
  await keep("tie_tag", { item_id: ITEM, tag: NUMBER, piece: 1, of: 1, mark: "", replaces: null });
  await move("table", "van");
  await keep("count_load", {
    ...{ day_id: DAY, load_id: "l", to_place: "van", at: "", given_by: "a", taken_by: "b", driver: "" },
    ...{ crates: 0, pieces: 1, scanned_crates: 0, scanned_pieces: 1, numbers: [NUMBER], of_load: null },
  });
});

test("what is where, and what a load lacks, are worked out once", async () => {
  const [places, loads] = [placesOfDay(DAY), loadsOfDay(DAY)];
  await keep("set_visit", { visit_id: VISIT, field: "stage", value: "left" }); // it moves no thing
  assert.equal(placesOfDay(DAY), places);
  assert.equal(loadsOfDay(DAY), loads);
});

test("a move is seen by both at once", async () => {
  const where = () => placesOfDay(DAY).map(({ place, items }) => [place, items]);
  const came = () => loadsOfDay(DAY).map(({ things }) => things.map((thing) => thing.came));
  assert.deepEqual([where(), came()], [[["van", 1]], [[false]]]);
  await move("van", "store");
  assert.deepEqual([where(), came()], [[["store", 1]], [[true]]]);
});

test("a container that stands somewhere is seen there, with nothing in it", async () => {
  const box = { container_id: "box", day_id: DAY, number: run("00002Y", 2)[1], kind_of: "box" };
  await keep("open_container", box);
  const who = { at: "", given_by: "a", taken_by: "b", count: null, signed: false, tag: null };
  await keep("record_move", {
    move_id: "box 1",
    thing_id: "box",
    from_place: null,
    to_place: "shelf",
    ...who,
  });
  const shelf = placesOfDay(DAY).find(({ place }) => place === "shelf");
  assert.deepEqual([shelf?.standing.map(({ thing }) => thing.record_id), shelf?.items], [["box"], 0]);
});

test("a box that left is named as the box", async () => {
  const number = run("00002Y", 2)[1];
  await keep("count_load", {
    ...{ day_id: DAY, load_id: "b", to_place: "van", at: "", given_by: "a", taken_by: "b", driver: "" },
    ...{ crates: 1, pieces: 0, scanned_crates: 1, scanned_pieces: 0, numbers: [number], of_load: null },
  });
  const [box] = loadsOfDay(DAY).find(({ id }) => id === "b").things;
  assert.equal(box.words, `box ${shown(number)}`);
});

test("a load that leaves is seen at once, and a day that this device does not have has none", async () => {
  await keep("count_load", {
    ...{ day_id: DAY, load_id: "k", to_place: "van", at: "", given_by: "a", taken_by: "b", driver: "" },
    ...{ crates: 0, pieces: 1, scanned_crates: 0, scanned_pieces: 1, numbers: [NUMBER], of_load: null },
  });
  assert.deepEqual(
    loadsOfDay(DAY)
      .map(({ id }) => id)
      .sort(),
    ["b", "k", "l"],
  );
  assert.deepEqual([loadsOfDay("another"), placesOfDay("another")], [[], []]);
});

test("what is left of a roll is counted by things and boxes alike", async () => {
  const [, ON_BOX, first, , last] = run("00002Y", 5);
  const given = { given_to: "Table 1", for_device_id: null };
  const first_roll = { roll_id: "r", first_tag: NUMBER, last_tag: ON_BOX, count: 2 };
  await keep("issue_roll", { day_id: DAY, ...first_roll, ...given });
  await keep("issue_roll", {
    day_id: DAY,
    roll_id: "s",
    first_tag: first,
    last_tag: last,
    count: 3,
    ...given,
  });
  for (const counts of [rollsLeft(DAY), rollsOfDay(DAY)])
    assert.deepEqual(
      counts.map(({ roll_id, used, unused, next }) => [roll_id, used, unused, next]),
      [
        ["r", 2, 0, null],
        ["s", 0, 3, first],
      ],
    );
  assert.deepEqual([rollsLeft("another"), rollsOfDay("another")], [[], []]);
});

test("the closing is read off what this device holds of the day, and off nothing of another", async () => {
  const found = differencesOfDay(DAY);
  assert.ok(
    found.some(({ at }) => at === `#/item/${ITEM}`),
    "nobody has looked at the one thing yet",
  );
  assert.deepEqual(differencesOfDay("another"), []);
  assert.deepEqual(loadsThatLeftOn("another"), []);
  assert.deepEqual(
    loadsThatLeftOn(DAY)
      .map(({ id }) => id)
      .sort(),
    ["b", "k", "l"],
  );
  assert.deepEqual(sumsOfDay(DAY).things, { here: 1, back: 0, referred: 0, stopped: 0, counted: 1 });
  assert.deepEqual(sumsOfDay("another").things, { here: 0, back: 0, referred: 0, stopped: 0, counted: 0 });
});
