/** What is known of the differences with which a day is closed. The words are our own. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  foundSince,
  inClosing,
  namedIn,
  reasonsInOrder,
  withoutReason,
  withReason,
} from "../../web/job/closing_reasons.ts";

const named = ["Q01: the visit is still open", "Q02, jug: no tag is on it", "Q02, cup: no tag is on it"];

test("a reason stands in the closing beside what it is of, empty where nobody said anything", () => {
  const reasons = withReason({}, [named[1], named[2]], "Known, and stays so");
  const kept = reasonsInOrder(named, reasons);
  assert.deepEqual(kept, ["", "Known, and stays so", "Known, and stays so"]);
  assert.deepEqual(
    withoutReason(
      named.map((words) => ({ words })),
      reasons,
    ),
    [{ words: named[0] }],
  );
  assert.deepEqual(namedIn({ named, reasons: kept })[1], { words: named[1], reason: "Known, and stays so" });
  assert.deepEqual(reasonsInOrder(named, {}), [], "none where nobody said any, as closings of before");
  assert.deepEqual(
    namedIn({ named }),
    named.map((words) => ({ words, reason: "" })),
  );
});

test("what a day was closed with is what was named then, and what is found since stands apart", () => {
  const long = `Q03, ${"very ".repeat(200)}long: no tag is on it`;
  const closed = namedIn({ named: [named[0], inClosing(long)] });
  const found = [named[0], long, named[2]].map((words) => ({ words }));
  assert.deepEqual(foundSince(found, closed), [{ words: named[2] }]);
});

test("a third that is called as two were at the closing has come since", () => {
  const closed = namedIn({ named: [named[1], named[1]] });
  const found = [named[1], named[1], named[1]].map((words) => ({ words }));
  assert.equal(foundSince(found, closed).length, 1);
  assert.equal(foundSince(found.slice(1), closed).length, 0);
  assert.equal(foundSince(found.slice(2), closed).length, 0, "one that was put right is none");
});

test("blanks are no reason, and a long one is cut as its difference is", () => {
  assert.deepEqual(reasonsInOrder([named[0]], withReason({}, [named[0]], "  ")), []);
  const long = "x".repeat(1000);
  const [reason] = reasonsInOrder([long], withReason({}, [long], long));
  assert.equal(reason.length, inClosing(long).length);
});
