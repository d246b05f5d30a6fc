/** What two people read off a seal, as it is recorded beside the one that was put on. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { asRead } from "../../web/job/sealed.ts";
import { record } from "./made.js";

const crate = (seal) => record("container", "c", seal ? { seal } : {});
const sealed = crate({ seal: "447120", state: "sealed", second_by: "Olu" });

test("a seal of another number is never intact, whatever was pressed, and both numbers stand there", () => {
  const other = { state: "differs", put_on: "447120" };
  assert.deepEqual(asRead(sealed, { seal: "447128", state: "intact" }), other);
  assert.deepEqual(asRead(sealed, { seal: "447128", state: "differs" }), other);
});

test("the same number is intact, and a new seal, a broken one and a first one are what was pressed", () => {
  assert.deepEqual(asRead(sealed, { seal: " 447120 ", state: "intact" }), { state: "intact" });
  for (const state of ["sealed", "broken", "opened"])
    assert.deepEqual(asRead(sealed, { seal: "447128", state }), { state });
  assert.deepEqual(asRead(crate(null), { seal: "447128", state: "intact" }), { state: "intact" });
});
