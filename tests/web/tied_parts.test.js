/** Who tied a number to a part had it in hand: what the number is on is there. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer } from "./as_text.js";

const number = (tag, piece, mark, gone = null) => ({
  tag,
  piece,
  of: 2,
  mark,
  gone,
  replaced_by: null,
  parts: true,
});
const clock = (mark, more = {}, gone = null) =>
  answer("clock", "Is all of it there", {
    not_there: ["finials", "weights", "base-dome"],
    ...more,
    facts: {
      "tags/00002Y": number("00002Y", 1, ""),
      "tags/00003W": number("00003W", 2, mark, gone),
      ...more.facts,
    },
  });

test("a number on the pendulum and key says that these are there", () => {
  assert.match(clock("the pendulum and key"), /^The pendulum and the key are present\./);
  assert.doesNotMatch(clock("the pendulum and key"), /whether the (?:pendulum|keys?)/i);
});

test("also of what nobody looked at, and of what it does not name nothing is known by it", () => {
  const unseen = clock("the pendulum", { not_examined: { pendulum: "no-time" } });
  assert.match(unseen, /The pendulum is present\. Whether the keys are present was not noted\./);
  assert.match(clock("the hood"), /Whether the pendulum and the keys are present was not noted\./);
});

test("a part that went back, or was not there as it was unpacked, is not told as being here", () => {
  assert.doesNotMatch(clock("the pendulum", {}, "taken-back"), /pendulum is present/i);
  const missed = { "check-in/00003W": { state: "not-here", words: "", second_by: "A" } };
  assert.doesNotMatch(clock("the pendulum", { facts: missed }), /pendulum is present/i);
});
