/** What lies in a container, and whether its seal is over all of it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isSealedAsPacked } from "../../web/job/packed.ts";
import { record, set, tag } from "./made.js";

const crateWith = (state) =>
  record(
    "container",
    "crate",
    {},
    {
      number: "00006Q",
      kind_of: "crate",
      fields: state ? { seal: set({ seal: "7103", state, second_by: "a" }, "2026-03-14T11:00:00.000Z") } : {},
    },
  );
const packedAt = (made_at) => {
  const item = record("item", "vase", { "tags/00002Y": tag("00002Y") }, { visit_id: "v" });
  return { ...item, fields: { ...item.fields, inside: set({ container_id: "crate" }, made_at) } };
};

test("a crate is sealed as it is packed until something is put in after that", () => {
  const before = packedAt("2026-03-14T10:00:00.000Z");
  assert.equal(isSealedAsPacked(crateWith("sealed"), [before]), true);
  assert.equal(isSealedAsPacked(crateWith("sealed"), [packedAt("2026-03-14T12:00:00.000Z")]), false);
  assert.equal(isSealedAsPacked(crateWith("opened"), [before]), false);
  assert.equal(isSealedAsPacked(crateWith(""), [before]), false);
});

test("what one device sealed after it packed is sealed, though its clock was set back between", () => {
  const by = (seq) => ({ device_id: "porter", device_seq: seq });
  const crate = crateWith("sealed");
  const sealed = { ...crate, fields: { seal: { ...crate.fields.seal, ...by(7) } } };
  const packed = (seq, made_at) => {
    const item = packedAt(made_at);
    return { ...item, fields: { ...item.fields, inside: { ...item.fields.inside, ...by(seq) } } };
  };
  assert.equal(isSealedAsPacked(sealed, [packed(6, "2026-03-14T12:00:00.000Z")]), true);
  assert.equal(isSealedAsPacked(sealed, [packed(8, "2026-03-14T10:00:00.000Z")]), false);
});
