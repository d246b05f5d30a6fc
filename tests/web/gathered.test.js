/** How often a desk asks, by a clock that is turned by hand. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { aTurn, BETWEEN_MS, gathering } from "../../web/job/gathered.ts";
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

test("what could not be asked is asked again, ever later, and at once as news come", async () => {
  const clock = handClock();
  const asked = [];
  let isAway = true;
  const want = gathering(async (keys) => {
    asked.push(clock.now() / 1000);
    return isAway ? keys : [];
  }, clock);
  want(["item 1"]);
  await clock.turn(8000);
  assert.deepEqual(asked, [0, 1, 3, 7]);
  want([]);
  await clock.turn(100);
  assert.equal(asked.length, 4, "what touches nothing that is shown costs nothing");
  want(["item 2"]);
  await clock.turn(100);
  assert.equal(asked.at(-1), 8.1, "whoever tells something is there");
  asked.length = 0;
  await clock.turn(600_000);
  assert.ok(asked.length > 30 && asked.length < 45, `every quarter of a minute: ${asked.length}`);
  isAway = false;
  await clock.turn(20_000);
  asked.length = 0;
  await clock.turn(60_000);
  assert.deepEqual(asked, [], "it came");
  want(["item 3"]);
  await clock.turn(0);
  assert.equal(asked.length, 1);
});

test("news while nobody answers are asked about twice a second and no more", async () => {
  const clock = handClock();
  const asked = [];
  const want = gathering(async (keys) => {
    asked.push(clock.now());
    return keys;
  }, clock);
  for (let step = 0; step < 500; step += 1) {
    want([`item ${step % 50}`]);
    await clock.turn(20);
  }
  assert.ok(asked.length <= 21, `${asked.length} requests in ten seconds`);
});

test("what is long to make is asked for no more than a fifth of the time, and once more after the last news", async () => {
  const clock = handClock();
  const asked = [];
  const want = gathering(
    async () => {
      asked.push(clock.now());
      await new Promise((answered) => clock.after(2000, answered));
      return [];
    },
    clock,
    4,
  );
  for (let step = 0; step < 300; step += 1) {
    want(["closing"]);
    await clock.turn(100);
  }
  await clock.turn(20_000);
  assert.deepEqual(asked, [0, 10_000, 20_000, 30_000]);
});

test("several that share a turn ask twice a second together, each as often as it costs, and none is left out", async () => {
  const clock = handClock();
  const asked = [];
  const turn = aTurn();
  const asking = (name, requests) =>
    gathering(
      async () => {
        for (let one = 0; one < requests; one += 1) asked.push(name);
        await new Promise((answered) => clock.after(30, answered));
        return [];
      },
      clock,
      4,
      { turn, requests },
    );
  const [round, office, finds] = [asking("round", 2), asking("office", 1), asking("finds", 1)];
  for (let step = 0; step < 500; step += 1) {
    for (const want of [round, office, finds]) want(["news"]);
    await clock.turn(20);
  }
  const count = (name) => asked.filter((one) => one === name).length;
  assert.ok(asked.length <= 22, `${asked.length} requests in ten seconds`);
  for (const name of ["round", "office", "finds"]) assert.ok(count(name) >= 4, `${name}: ${count(name)}`);
  await clock.turn(5000);
  const settled = asked.length;
  await clock.turn(5000);
  assert.equal(asked.length, settled, "once more after the last news");
});
