/**
 * A table shows the words of its own owners alone, by what it knows itself: with no line to tell it, too, once it sits
 * elsewhere or has let them go. What was typed and is nowhere else stays to be sent; nothing leaves the disk for it.
 * tests/sync/test_who_reads_what.py reads the same cases of whose a visit is.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { beforeEach, test } from "node:test";
import { isOwnVisit } from "../../web/job/owners_words.ts";
import { withOperations } from "../../web/job/record.ts";
import { hearsOwner, ownerWords } from "../../web/job/values.ts";
import { write } from "../../web/local/changes.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { loadAgain } from "../../web/local/load.ts";
import { device, record, waiting } from "../../web/local/memory.ts";
import { keep, settle } from "../../web/local/outbox.ts";
import { begin, DAY } from "./office_here.js";
import { found } from "./whole_storage.js";

const CASES = JSON.parse(readFileSync(new URL("../../fixtures/own-visits.json", import.meta.url), "utf-8"));
const [VISIT, ITEM, CALLED] = ["a", "b", "c"].map((digit) => `0000000${digit}-0000-7000-8000-000000000000`);
const AT = "2026-03-14T10:00:00.000Z";
const LATER = "2026-03-14T10:05:00.000Z";

for (const { case: words, opened_by, said, seat, own } of CASES)
  test(`whose a visit is: ${words}`, () => {
    const made = (device_id, device_seq, body) => ({
      ...{ device_id, device_seq, operation_id: `o${device_seq}`, made_by: "", salt: null, visit_id: VISIT },
      made_at: `2026-03-14T10:0${device_seq}:00.000Z`,
      ...body,
    });
    const opening = { kind: "open_visit", day_id: DAY, ticket: "Q10", bags: 1, kinds: "", allowed_by: null };
    const seen = { stage: "o0" };
    const operations = said.map(([who, field, value], index) => {
      const op = made(who, index + 1, { kind: "set_visit", field, value, seen: seen[field] ?? null });
      seen[field] = op.operation_id;
      return op;
    });
    const visit = withOperations(null, [made(opened_by, 0, opening), ...operations]);
    const here = { role: "table", device_id: "this table", table_id: seat };
    assert.equal(isOwnVisit(visit, here), own);
  });

/** A visit as the door opened it, with its owner at a table, and a thing of it of which they told something. */
const set = (value, made_at = LATER) => ({
  value,
  operation_id: "o",
  made_by: "",
  made_at,
  device_id: "door",
});
const a_record = (kind, record_id, fields) => ({
  ...{ kind, record_id, day_id: DAY, visit_id: VISIT, opened_at: AT, opened_by: "", disagreements: [] },
  fields,
});
const theVisit = (record_id, table_id, more = {}) =>
  a_record("visit", record_id, {
    ...{
      ticket: set("Q10", AT),
      stage: set("at-table"),
      table_id: set(table_id),
      kinds: set("marker-kinds", AT),
    },
    ...{ "consignor/name": set("marker-name"), "consignor/telephone": set("marker-telephone") },
    ...{ "photos/1": set({ sha256: "marker-picture", view: "letter", withdrawn: false }) },
    ...{ "receipts/1": set({ lines: [] }) },
    ...more,
  });
const theItem = a_record("item", ITEM, { told_words: set("marker-told"), maker: set("unmarked") });
const MARKERS = ["marker-name", "marker-telephone", "marker-kinds", "marker-told", "marker-picture"];

/** What of these is on screens; a record is what screens read. */
const shown = () =>
  MARKERS.filter((marker) => JSON.stringify([record(VISIT), record(ITEM)]).includes(marker));

const sits = (table_id) => rememberDevice({ table_id });
const say = (field, value) => keep("set_visit", { visit_id: VISIT, field, value });
const type = (field, value) => keep("set_consignor", { visit_id: VISIT, field, value });

beforeEach(async () => {
  globalThis.sessionStorage = undefined;
  await begin();
  await loadAgain();
  await rememberDevice({ day_id: DAY, table_id: "t1" });
  await write(["record"], async (tx) => {
    for (const one of [theItem, theVisit(VISIT, "t1")]) await tx.put("record", one);
  });
});

test("who takes another seat with no line sees no word of the owners at the one it left, until they are its own again", async () => {
  assert.deepEqual(shown(), MARKERS);
  await sits("t2");
  assert.deepEqual(shown(), []);
  assert.deepEqual(
    [ownerWords(record(VISIT)), record(VISIT).fields.called.value],
    ["", ""],
    "there is a name",
  );
  assert.ok(record(VISIT).fields["receipts/1"] && record(ITEM).fields.maker && record(VISIT).fields.ticket);
  assert.ok(!hearsOwner(record(VISIT), device.peek()), "nor is asked what they tell");
  await loadAgain();
  assert.deepEqual(shown(), [], "opened anew, too");
  assert.deepEqual(await found(MARKERS), MARKERS, "which seat was right is not known: nothing is lost");
  await sits("t1");
  assert.deepEqual(shown(), MARKERS);
});

test("an owner whom this device called to its new seat is read there", async () => {
  await sits("t2");
  await say("table_id", "t2");
  assert.deepEqual(shown(), MARKERS);
});

test("whom this device let go is read no more, and again once that is taken back", async () => {
  await say("stage", "left");
  assert.deepEqual(shown(), []);
  await say("stage", "at-table");
  assert.deepEqual(shown(), MARKERS);
  await say("table_id", "t2");
  assert.deepEqual(shown(), [], "sent on to another table");
});

test("what was typed of an owner goes out of sight with the seat, and to the office as it was", async () => {
  await type("address", "marker-typed");
  await sits("t2");
  assert.ok(!JSON.stringify(record(VISIT)).includes("marker-typed"));
  assert.deepEqual(
    waiting.peek().map(({ value }) => value),
    ["marker-typed"],
  );
  await sits("t1");
  assert.equal(record(VISIT).fields["consignor/address"].value, "marker-typed");
});

test("what is typed of an owner of another table stays to be read until it is sent, and saw nothing that was hidden", async () => {
  await sits("t2");
  const first = await type("telephone", "typed-here");
  assert.equal(first.seen, null, "another stands there, out of sight");
  assert.equal(record(VISIT).fields["consignor/telephone"].value, "typed-here");
  await write(["outbox"], async (tx) => {
    for (const op of await tx.oldest()) await tx.put("outbox", { ...op, attempted: true });
  });
  const second = await type("telephone", "typed-anew");
  assert.equal(second.seen, first.operation_id);
  const told = await keep("set_item", { item_id: ITEM, field: "told_words", value: "told-here" });
  assert.equal(told.seen, null);
  const kept = { outcome: "kept", office_seq: 9, disagreement: true, problem: null };
  await settle([first, second, told].map(({ operation_id }) => ({ operation_id, ...kept })));
  assert.deepEqual([shown(), waiting.peek()], [[], []]);
  assert.equal((await type("name", "a whole name")).seen, null);
});

test("a table reads the visit that it opened, wherever its owner sits; another role reads all that it holds", async () => {
  const body = { visit_id: CALLED, day_id: DAY, ticket: "Q11", bags: null, kinds: "own", allowed_by: null };
  await keep("open_visit", body);
  await keep("set_consignor", { visit_id: CALLED, field: "name", value: "own-name" });
  await keep("set_visit", { visit_id: CALLED, field: "stage", value: "left" });
  await sits("t2");
  assert.equal(ownerWords(record(CALLED)), "own-name");
  await rememberDevice({ role: "manager" });
  assert.deepEqual(shown(), MARKERS);
});
