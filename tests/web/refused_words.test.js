/**
 * What an operation would have done that the office refused.
 * The database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { record } from "../../web/local/memory.ts";
import { calledHere, refusedWords } from "../../web/screens/sync/refused_words.ts";
import { begin, DAY } from "./office_here.js";

const [MUG, CRATE] = ["00000002-0000-7000-8000-000000000000", "00000003-0000-7000-8000-000000000000"];
const AT = "2026-03-14T18:00:00.000Z";
const said = (value, operation_id) => ({ value, operation_id, made_by: "", made_at: AT, device_id: "" });
const BETWEEN = {
  disagreement_id: "b",
  field: "inside",
  kept: said({ container_id: CRATE, taken_out: false }, "a"),
  other: said({ container_id: null }, "b"),
  settled: null,
};
const op = (more) => ({
  kind: "settle_disagreement",
  record_id: MUG,
  disagreement_id: "b",
  note: "",
  ...more,
});

beforeEach(async () => {
  await begin();
  await rememberDevice({ role: "desk", epoch: "e1" });
  const of = { day_id: DAY, opened_at: "", opened_by: "", office_seq: 3, disagreements: [] };
  const mug = { ...of, kind: "item", record_id: MUG, fields: {}, disagreements: [BETWEEN] };
  const crate = {
    ...of,
    kind: "container",
    record_id: CRATE,
    kind_of: "crate",
    number: "0093QD",
    fields: {},
  };
  await storeFeed({ records: [mug, crate], cursor: 7, epoch: "e1", day_id: DAY });
});

test("a settlement says of which field it is, which value holds and which does not", () => {
  const words = refusedWords(op({ choose: "other" }));
  assert.match(words, /what it is in/);
  assert.match(words, /“in no container”, not “in crate 009-3QD”/);
  assert.match(
    refusedWords(op({ choose: "kept", note: "seen" })),
    /“in crate 009-3QD”, not “in no .*: seen$/,
  );
});

test("all else is told as before it was sent", () => {
  const set = { kind: "set_item", item_id: MUG, field: "short_description", value: "mug" };
  assert.match(refusedWords(set), /mug/);
});

test("what it is on is called by what people read on it", () => {
  assert.equal(calledHere(record(CRATE)), "crate 009-3QD");
  const named = (kind, fields) => calledHere({ ...record(MUG), kind, fields });
  assert.equal(named("item", { short_description: said("mug", "c") }), "mug");
  assert.equal(named("visit", { ticket: said("Q04", "c") }), "Q04");
  assert.equal(named("day", {}), "this day");
});
