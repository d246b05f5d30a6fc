/** One "as recorded" never covers a piece that is not there. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { piecesAway } from "../../web/job/check_in.ts";
import { run, shown } from "../../web/job/tag.ts";

const [POT, COVER, BIG, SMALL] = run("00002Y", 4);
const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const at = (to_place) => set({ move_id: "m", from_place: null, to_place, at: "" });
const crate = (record_id, number, place) => ({
  kind: "container",
  record_id,
  number,
  kind_of: "crate",
  disagreements: [],
  fields: { whereabouts: at(place) },
});
const teapot = (fields) => ({
  kind: "item",
  record_id: "teapot",
  disagreements: [],
  fields: {
    [`tags/${POT}`]: set({ tag: POT, piece: 1, of: 2, gone: null }),
    [`tags/${COVER}`]: set({ tag: COVER, piece: 2, of: 2, gone: null }),
    ...fields,
  },
});
const away = (fields, others = []) => {
  const big = crate("big", BIG, "store");
  const pot = teapot(fields);
  return piecesAway(pot, big, [pot, big, ...others]);
};
const IN_BIG = set({ container_id: "big" });

test("a piece that stayed behind is named with where it is", () => {
  const fields = { [`inside/${POT}`]: IN_BIG, [`whereabouts/${COVER}`]: at("holding") };
  assert.deepEqual(away(fields), [`piece 2 of 2, ${shown(COVER)}: holding area`]);
});

test("what was packed whole is here, and so is a piece in another crate at the same place", () => {
  assert.deepEqual(away({ inside: IN_BIG }), []);
  const apart = { [`inside/${POT}`]: IN_BIG, [`inside/${COVER}`]: set({ container_id: "small" }) };
  assert.deepEqual(away(apart, [crate("small", SMALL, "store")]), []);
  assert.equal(away(apart, [crate("small", SMALL, "van")]).length, 1, "and not if that one has not come");
});
