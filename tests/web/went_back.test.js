/** What waits to be sent and said that a thing went back: all of it, whichever of its records has the numbers. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { wentBackUnsent } from "../../web/job/went_back.ts";

const record = (record_id, doubles = []) => ({ kind: "item", record_id, visit_id: "v", fields: {}, doubles });
const RING = record("ring", [record("double")]);
const off = (item_id, tag, more = {}) => ({ kind: "remove_tag", item_id, tag, why: "taken-back", ...more });
const moved = (thing_id, more = {}) => ({ kind: "record_move", thing_id, to_place: "returned", ...more });
const tags = (waiting) => wentBackUnsent(RING, waiting).map(({ tag, kind }) => tag ?? kind);

test("the number that the record behind it has is on it again, too", () => {
  assert.deepEqual(tags([off("ring", "A"), off("double", "B"), moved("ring")]), ["A", "B", "record_move"]);
  assert.deepEqual(tags([off("double", "B"), moved("ring")]), ["B", "record_move"]);
  assert.deepEqual(
    tags([off("ring", "A"), moved("ring"), moved("other")]),
    ["A", "record_move"],
    "of this one",
  );
  assert.deepEqual(tags([off("other", "C"), off("ring", "A"), moved("ring")]), ["A", "record_move"]);
});

test("nothing goes back of what was sent in part, or signed for", () => {
  const sent = { attempted: true };
  for (const waiting of [
    [off("double", "B", sent), moved("ring")],
    [off("double", "B"), moved("ring"), { kind: "sign_receipt", visit_id: "v" }],
    [off("double", "B"), moved("ring"), { kind: "add_finding", item_id: "double" }],
    [moved("ring")],
  ])
    assert.deepEqual(tags(waiting), []);
});

test("that it was taken out of something for it goes with that, and of a piece no more than of it", () => {
  const out = { kind: "put_inside", thing_id: "double", container_id: null, tag: "B" };
  assert.deepEqual(
    wentBackUnsent(RING, [off("ring", "A"), moved("ring"), out, off("double", "B"), moved("double")]).map(
      ({ kind, tag }) => [kind, tag ?? ""],
    ),
    [
      ["put_inside", "B"],
      ["remove_tag", "B"],
      ["record_move", ""],
    ],
  );
  assert.deepEqual(tags([{ ...out, attempted: true }, off("double", "B"), moved("ring")]), []);
  const into = { ...out, container_id: "crate" };
  assert.deepEqual(tags([into, off("double", "B"), moved("ring")]), ["B", "record_move"]);
  const both = [off("ring", "A"), off("double", "B"), moved("ring"), moved("double")];
  assert.equal(wentBackUnsent(RING, both).length, 4, "a piece that two records have");
});
