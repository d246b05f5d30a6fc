/** Labels are made of numbers that no thing and no label has; what the office would refuse is refused in the form. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { printsOf, rowsOf, toPrint, whyNoLabels } from "../../web/job/labels_asked.ts";
import { run } from "../../web/job/tag.ts";

const NUMBERS = run("00002Y", 40);
const roll = { roll_id: "roll", first_tag: NUMBERS[0], count: 40 };
const why = (asked, left = 10) => whyNoLabels({ start: 1, count: 10, pieces: 1, ...asked }, left, 24);
/** A day with these prints, each of its roll and its rows. */
function dayWith(...prints) {
  const fields = prints.map(([roll_id, rows], at) => [
    `prints/${at}`,
    { value: { roll_id, label: "tag", rows }, operation_id: `op ${at}`, made_at: `2031-05-04T10:0${at}:00Z` },
  ]);
  return { fields: Object.fromEntries(fields), disagreements: [] };
}

test("labels begin on the sheet and end with what has none yet", () => {
  assert.deepEqual(why({}), []);
  assert.deepEqual(why({ start: 24, pieces: 99 }), []);
  assert.deepEqual(why({ start: 99, count: 11, pieces: 100 }), [
    "A sheet has labels 1 to 24: begin at one of those.",
    "10 numbers of the roll have no label yet: take no more.",
    "A thing has at most 99 numbers.",
  ]);
  assert.deepEqual(why({ count: 2 }, 1), ["1 number of the roll has no label yet: take no more."]);
  assert.deepEqual(why({ count: 1 }, 0), ["Every number of the roll has its label: give out another roll."]);
});

test("a number passed over comes first, and those used behind it are left out", () => {
  const left = [NUMBERS[3], ...NUMBERS.slice(30)];
  assert.deepEqual(rowsOf(left, roll), [
    { first_tag: NUMBERS[3], count: 1 },
    { first_tag: NUMBERS[30], count: 10 },
  ]);
  assert.deepEqual(rowsOf([], roll), []);
});

test("what one file has, no other gets: tags, bags and crates one after the other", () => {
  const left = [NUMBERS[3], ...NUMBERS.slice(30)];
  const tags = left.slice(0, 4);
  const day = dayWith(["roll", rowsOf(tags, roll)], ["another", [{ first_tag: NUMBERS[35], count: 1 }]]);
  assert.deepEqual(toPrint(day, { ...roll, left }), left.slice(4));
  assert.deepEqual(
    printsOf(day, "roll").map(({ print_id, count, by }) => [print_id, count, by]),
    [["0", 4, "op 0"]],
  );
});
