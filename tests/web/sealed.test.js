/** What a seal keeps of the one before it: what it was put on, and that it was once read otherwise. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isReadOtherwise, keptUnder } from "../../web/job/sealed.ts";

function crate(seal) {
  const fields = seal
    ? { seal: { value: seal, operation_id: "s", made_at: "2026-03-14T10:00:00.000Z", made_by: "a" } }
    : {};
  return {
    kind: "container",
    record_id: "crate",
    day_id: "d",
    number: "00006Q",
    kind_of: "crate",
    fields,
    disagreements: [],
  };
}

const kept = (before, seal, state) => keptUnder(crate(before), { seal, state }, [], []);
const BOTH = { put_on: "447120", read: "447128" };
const PUT_ON = { seal: "447120", state: "sealed", second_by: "b" };

test("a seal that is read otherwise keeps both numbers, whatever is said of it", () => {
  for (const state of ["intact", "differs", "broken", "opened", "sealed"]) {
    const { put_on, read } = kept(PUT_ON, "447128", state);
    assert.deepEqual({ put_on, read }, BOTH, state);
  }
});

test("both numbers stay when it is opened, sealed anew, and read again", () => {
  const before = { ...BOTH, seal: "447128", state: "differs", second_by: "b" };
  for (const [seal, state] of [
    ["447128", "opened"],
    ["5501", "sealed"],
    ["447120", "intact"],
  ]) {
    const { put_on, read } = kept(before, seal, state);
    assert.deepEqual({ put_on, read }, BOTH, state);
  }
});

test("nothing differs where the number is the same but for spaces and case, or nothing was put on before", () => {
  const nothing = { put_on: undefined, read: undefined };
  const of = ({ put_on, read }) => ({ put_on, read });
  assert.deepEqual(of(kept({ ...PUT_ON, seal: "A 7120" }, " a7120", "intact")), nothing);
  assert.deepEqual(of(kept(null, "447128", "intact")), nothing);
  assert.deepEqual(of(kept({ ...PUT_ON, state: "opened" }, "5501", "sealed")), nothing);
});

test("the screen asks as the record does", () => {
  assert.equal(isReadOtherwise(crate(PUT_ON), "447128", "intact"), true);
  assert.equal(isReadOtherwise(crate(PUT_ON), " 447120", "intact"), false);
  assert.equal(isReadOtherwise(crate(null), "447128", "intact"), false);
});

test("a seal that is found as it was put on keeps when that was, which is what opening it is compared with", () => {
  assert.equal(kept(PUT_ON, "447120", "intact").sealed_at, "2026-03-14T10:00:00.000Z");
  const sealed_at = "2026-03-13T17:00:00.000Z";
  assert.equal(kept({ ...PUT_ON, state: "intact", sealed_at }, "447120", "intact").sealed_at, sealed_at);
});
