/** Labels that the office would refuse are refused in the form, in words. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { firstToPrint, whyNoLabels } from "../../web/job/labels_asked.ts";
import { run } from "../../web/job/tag.ts";

const NUMBERS = run("00002Y", 40);
const roll = { first_tag: NUMBERS[0], count: 40, next: NUMBERS[30] };
const why = (asked, of = roll) => whyNoLabels({ start: 1, count: 10, pieces: 1, ...asked }, of, 24);

test("labels begin on the sheet and end with the roll", () => {
  assert.deepEqual(why({}), []);
  assert.deepEqual(why({ start: 24, pieces: 99 }), []);
  assert.deepEqual(why({ start: 99, count: 11, pieces: 100 }), [
    "A sheet has labels 1 to 24: begin at one of those.",
    "The roll has 10 numbers from there on: take no more.",
    "A thing has at most 99 numbers.",
  ]);
  assert.deepEqual(why({ count: 2 }, { ...roll, next: NUMBERS[39] }), [
    "The roll has 1 number from there on: take no more.",
  ]);
});

test("a roll goes on with its next number, or is printed once more from its first", () => {
  assert.equal(firstToPrint(roll), NUMBERS[30]);
  assert.equal(firstToPrint({ ...roll, next: null }), NUMBERS[0]);
  assert.deepEqual(why({ count: 40 }, { ...roll, next: null }), []);
});
