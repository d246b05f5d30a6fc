/** What is packed although nobody has signed for it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { unsignedAmong } from "../../web/job/unsigned.ts";
import { record, STOP, tag } from "./made.js";

const item = (name, number, values = {}, visit_id = "v") =>
  record("item", name, { short_description: name, [`tags/${number}`]: tag(number), ...values }, { visit_id });
const crate = record("container", "crate", {}, { number: "00006Q", kind_of: "crate" });
const receipt = (...of) => ({
  number: "Q01/1",
  what: "left",
  lines: of.map((item_id) => ({ item_id, tags: [], words: item_id })),
  replaces: null,
});
const visits = [
  record("visit", "v", { ticket: "Q01", stage: "left", "receipts/1": receipt("bible") }),
  record("visit", "w", { ticket: "Q02", stage: "at-table" }),
];
const bible = item("bible", "00002Y");
const violin = item("violin", "00003W", {}, "w");
const shawl = item("shawl", "00004U", { "cautions/1": STOP }, "w");
const among = (numbers, items) =>
  unsignedAmong(numbers, { visits, items, containers: [crate] }).map(
    ({ item, visit }) => `${item.record_id} ${visit.record_id}`,
  );

test("of what is scanned that is told for which nobody signed", () => {
  assert.deepEqual(among(["00002Y", "00003W", "00005S"], [bible, violin, shawl]), ["violin w"]);
  assert.deepEqual(among(["00004U"], [shawl]), [], "what is stopped goes nowhere, and is told as that");
  assert.deepEqual(among([], [violin]), []);
});

test("what lies in a crate goes with it", () => {
  const inCrate = { inside: { container_id: "crate" } };
  const packed = [item("bible", "00002Y", inCrate), item("violin", "00003W", inCrate, "w")];
  assert.deepEqual(among(["00006Q"], packed), ["violin w"]);
  assert.deepEqual(among(["00006Q", "00003W"], packed), ["violin w"], "once");
});
