/** How often a desk asks, by a clock that is turned by hand. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { BETWEEN_MS, gathering } from "../../web/job/gathered.ts";
import { handClock } from "./hand_clock.js";

test("news in a burst cost two requests a second, and nothing that was wanted is left out", async () => {
  const clock = handClock();
  const asked = [];
  const want = gathering(async (keys) => {
    asked.push([clock.now(), [...keys]]);
    return [];
  }, clock);
  const PHONES = 50;
  for (let step = 0; step < 10 * PHONES; step += 1) {
    want([`item ${step % PHONES}`]);
    await clock.turn(1000 / PHONES);
  }
  await clock.turn(2000);
  assert.ok(asked.length <= 21, `${asked.length} requests in ten seconds`);
  for (const [index, [at]] of asked.entries())
    assert.ok(!index || at - asked[index - 1][0] >= BETWEEN_MS, "never two within half a second");
  assert.equal(new Set(asked.flatMap(([, keys]) => keys)).size, PHONES);
});

test("one change after a quiet time is asked for at once, and once", async () => {
  const clock = handClock();
  const asked = [];
  const want = gathering(async (keys) => {
    asked.push([...keys]);
    return [];
  }, clock);
  want(["entry"]);
  want(["entry"]);
  await clock.turn(0);
  assert.deepEqual(asked, [["entry"]]);
  await clock.turn(5000);
  assert.equal(asked.length, 1, "nothing is asked for when nothing has changed");
});

test("what one request left over is asked for with the next", async () => {
  const clock = handClock();
  const asked = [];
  const want = gathering(async (keys) => {
    const [first, ...rest] = keys;
    asked.push([clock.now(), first]);
    return rest;
  }, clock);
  want(["entry", "rows"]);
  await clock.turn(2000);
  assert.deepEqual(asked, [
    [0, "entry"],
    [BETWEEN_MS, "rows"],
  ]);
});
