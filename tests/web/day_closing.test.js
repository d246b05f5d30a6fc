/** What was signed of a visit, as a device reads it that does not hold the day. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { receiptsWords } from "../../web/job/day_closing.ts";

const receipt = (number, what, things, is_on_paper = false) => ({
  receipt_id: number,
  number,
  what,
  things,
  is_on_paper,
});
const words = (receipts, here = 0, here_unsigned = 0, back_unsigned = 0) =>
  receiptsWords({ visit_id: "v", ticket: "Q01", receipts, here, here_unsigned, back_unsigned });

test("a visit that left nothing says so, and one that owes nothing says what was signed", () => {
  assert.equal(words([]), "nothing was left");
  assert.equal(
    words([receipt("Q01/1", "left", 1), receipt("Q01/2", "taken-back", 2, true)], 1),
    "Q01/1 for 1 thing left, Q01/2 for 2 things taken back (on paper)",
  );
});

test("what nobody has signed for stands behind what was signed, each way by itself", () => {
  assert.equal(words([], 3, 2), "2 of 3 left here and not signed for");
  assert.equal(words([], 0, 0, 1), "1 taken back and not signed for");
  assert.equal(
    words([receipt("Q01/1", "left", 4)], 4, 1, 2),
    "Q01/1 for 4 things left; 1 of 4 left here and not signed for; 2 taken back and not signed for",
  );
});
