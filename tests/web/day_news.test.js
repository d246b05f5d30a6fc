/** How often managers' screens ask the office while a hall sends, by a clock that is turned by hand. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isNewsOf, REST } from "../../web/job/day_news.ts";
import { BETWEEN_MS, gathering } from "../../web/job/gathered.ts";
import { handClock } from "./hand_clock.js";

const MANAGERS = 20;
const PHONES = 50;
const changed = (...days) => ({ cursor: 1, gave_way: [], changed: days.map((day) => ["r", "item", 1, day]) });

/** Screens of one day, as they are wired to news; each answer takes so long. */
function screens(count, tookMs) {
  const clock = handClock();
  const asked = [];
  const wants = Array.from({ length: count }, () =>
    gathering(
      async () => {
        asked.push(clock.now());
        await new Promise((resolve) => clock.after(tookMs, resolve));
        return [];
      },
      clock,
      REST,
    ),
  );
  const hear = (news) => {
    for (const want of wants) if (isNewsOf("shown", news)) want(["news"]);
  };
  return { clock, asked, hear };
}

test("twenty managers ask once each for a change of the day that they show, and for none elsewhere", async () => {
  const { clock, asked, hear } = screens(MANAGERS, 20);
  for (let kept = 0; kept < 100; kept += 1) {
    hear(changed("another", "a third"));
    await clock.turn(100);
  }
  assert.equal(asked.length, 0);
  hear(changed("another", "shown"));
  await clock.turn(10_000);
  assert.equal(asked.length, MANAGERS);
  hear({ cursor: 2, gave_way: null, changed: null });
  await clock.turn(10_000);
  assert.equal(asked.length, 2 * MANAGERS, "nobody could say what changed");
});

for (const [tookMs, most] of [
  [20, 1000 / BETWEEN_MS],
  [400, 0.5],
])
  test(`a hall of fifty phones costs each screen ${most} requests a second where one takes ${tookMs} ms`, async () => {
    const { clock, asked, hear } = screens(1, tookMs);
    let last = 0;
    for (let step = 0; step < 20 * PHONES; step += 1) {
      last = clock.now();
      hear(changed("shown"));
      await clock.turn(1000 / PHONES);
    }
    assert.ok(asked.length <= 20 * most + 1, `${asked.length} in twenty seconds`);
    assert.ok(asked.length >= 20 * most - 2, "and it does ask");
    const before = asked.length;
    await clock.turn(10_000);
    assert.ok(asked.length <= before + 1 && asked.at(-1) >= last, "what came last is asked for, once");
  });
