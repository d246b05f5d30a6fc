import assert from "node:assert/strict";
import { test } from "node:test";
import { checkLines, sizeWords, spanWords, verdictOf } from "../../web/job/check.ts";

/** A phone at its best, and what a test changes of it. */
const facts = (changed = {}) => ({
  secure: true,
  handheld: true,
  apple: false,
  installed: true,
  offline: true,
  camera: "granted",
  codes: "itself",
  kept: true,
  room_bytes: 8_000_000_000,
  clock_off_ms: 200,
  battery_percent: 80,
  charging: false,
  ...changed,
});
const stateOf = (changed, check) => checkLines(facts(changed)).find((line) => line.check === check)?.state;

test("a phone at its best has nothing to put right", () => {
  assert.deepEqual(
    checkLines(facts()).map(({ state, todo }) => [state, todo]),
    Array(9).fill(["good", ""]),
  );
});

for (const [check, changed, state] of [
  ["trusted", { secure: false }, "not-good"],
  ["installed", { installed: false }, "not-good"],
  ["installed", { installed: false, handheld: false }, "unknown"],
  ["offline", { offline: false }, "not-good"],
  ["camera", { camera: "denied" }, "not-good"],
  ["camera", { camera: "none" }, "not-good"],
  ["camera", { camera: "not-tried" }, "unknown"],
  ["codes", { codes: "kept" }, "good"],
  ["codes", { codes: "not-kept" }, "not-good"],
  ["codes", { codes: "none" }, "not-good"],
  ["kept", { kept: false }, "not-good"],
  ["kept", { kept: false, handheld: false }, "unknown"],
  ["kept", { kept: null }, "unknown"],
  ["room", { room_bytes: 900_000_000 }, "not-good"],
  ["room", { room_bytes: 1_000_000_000 }, "good"],
  ["room", { room_bytes: null }, "unknown"],
  ["clock", { clock_off_ms: 30_000 }, "good"],
  ["clock", { clock_off_ms: -30_001 }, "not-good"],
  ["clock", { clock_off_ms: null }, "unknown"],
  ["battery", { battery_percent: 29 }, "not-good"],
  ["battery", { battery_percent: 29, charging: true }, "good"],
  ["battery", { battery_percent: null, charging: null }, "unknown"],
]) {
  test(`${check} is ${state} with ${JSON.stringify(changed)}`, () =>
    assert.equal(stateOf(changed, check), state));
}

test("whatever is not good says what to do, and first of all to trust the office", () => {
  const worst = facts({
    secure: false,
    installed: false,
    offline: false,
    camera: "none",
    kept: false,
    codes: "not-kept",
  });
  const lines = checkLines({ ...worst, room_bytes: 0, clock_off_ms: 9e9, battery_percent: 1 });
  assert.deepEqual(
    lines.map(({ check, state, todo }) => [check, state, todo.length > 10]),
    lines.map(({ check }) => [check, "not-good", true]),
  );
  for (const check of ["installed", "offline", "camera", "codes"])
    assert.match(lines.find((line) => line.check === check).todo, /First let it trust/);
});

for (const [changed, words] of [
  [{}, "This device is ready for the hall."],
  [{ handheld: false, installed: false }, "This device is ready for the hall."],
  [{ battery_percent: null }, "This device is ready for the hall."],
  [{ kept: false }, "1 thing to put right."],
  [{ kept: false, clock_off_ms: 9e9 }, "2 things to put right."],
  [{ camera: "not-tried" }, "Try the camera, then it is ready."],
  [{ handheld: false, kept: false }, "It can work in the hall, if it is let send before it is put away."],
  [{ kept: null }, "It can work in the hall, if it is let send before it is put away."],
  [{ kept: null, camera: "not-tried" }, "Try camera and storage first."],
]) {
  test(`the verdict on ${JSON.stringify(changed)} is no more than its lines bear`, () =>
    assert.equal(verdictOf(checkLines(facts(changed))), words));
}

test("a clock is said to be fast or slow as a person would set it", () => {
  const words = (clock_off_ms) =>
    checkLines(facts({ clock_off_ms })).find(({ check }) => check === "clock").words;
  assert.equal(words(180_000), "Its clock is 3 minutes fast.");
  assert.equal(words(-7_200_000), "Its clock is 2 hours slow.");
  assert.equal(words(900), "Its clock is right.");
});

test("sizes and spans in their own units", () => {
  assert.deepEqual([999_600_000, 1_200_000_000, 10_000_000_000, 64_000_000_000].map(sizeWords), [
    "1000 MB",
    "1.2 GB",
    "10 GB",
    "64 GB",
  ]);
  assert.deepEqual([1000, 59_000, 60_000, 86_400_000].map(spanWords), [
    "1 second",
    "59 seconds",
    "1 minute",
    "1 day",
  ]);
});
