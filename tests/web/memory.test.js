/**
 * What this tab knows of its device: read once, told of every change, and no value another than it was without reason.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { before, test } from "node:test";
import { isStopped } from "../../web/job/cautions.ts";
import { fieldValue } from "../../web/job/values.ts";
import { write } from "../../web/local/changes.ts";
import { transact } from "../../web/local/database.ts";
import { derived } from "../../web/local/derived.ts";
import { asksTheOffice, dayOfWork, rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { load, loadAgain } from "../../web/local/load.ts";
import { device, erasedHere, record, records, refused, waiting } from "../../web/local/memory.ts";
import { forgetOpened, openedRecords } from "../../web/local/opened.ts";
import { amend, keep, sendAgain, settle, takeBatch } from "../../web/local/outbox.ts";
import { effect, signal } from "../../web/node_modules/@preact/signals-core/dist/signals-core.mjs";
import { Items } from "./items.js";
import { STOP } from "./made.js";

const [DAY, VISIT, ITEM, OTHER] = ["1", "2", "3", "4"].map(
  (digit) => `0000000${digit}-0000-7000-8000-000000000000`,
);

before(async () => {
  globalThis.localStorage = new Items();
  await load();
  await rememberDevice({ device_id: "phone", person_id: "p", epoch: "e" });
  await keep("open_visit", { visit_id: VISIT, day_id: DAY, ticket: "Q01", bags: 1, kinds: "" });
  for (const item_id of [ITEM, OTHER]) await keep("open_item", { item_id, visit_id: VISIT, day_id: DAY });
  await keep("set_item", { item_id: ITEM, field: "class_id", value: "clock" });
});

/** The transactions that some work takes, by mode. */
async function transactionsOf(work) {
  const begin = IDBDatabase.prototype.transaction;
  const modes = [];
  IDBDatabase.prototype.transaction = function (stores, mode, ...more) {
    modes.push(mode);
    return begin.call(this, stores, mode, ...more);
  };
  await work().finally(() => {
    IDBDatabase.prototype.transaction = begin;
  });
  return modes;
}

test("a key costs one write and no reading beside it", async () => {
  const write = (value) => keep("set_item", { item_id: ITEM, field: "seen_words", value });
  await write("g");
  const modes = await transactionsOf(() => write("gr"));
  assert.deepEqual(modes, ["readwrite"]);
  assert.equal(fieldValue(record(ITEM), "seen_words"), "gr");
  assert.equal(
    waiting.value.filter((op) => op.field === "seen_words").length,
    1,
    "a word typed is one operation",
  );
});

test("only what reads the changed field is told of it", async () => {
  const seen = [];
  const watch = (what, read) => effect(() => void seen.push([what, read()]));
  const stop = [
    watch("the other item", () => record(OTHER)),
    watch("the visits", () => records("visit")),
    watch("who holds the device", () => device.value),
  ];
  seen.length = 0;
  const set = record(ITEM).fields.class_id;
  await keep("set_item", { item_id: ITEM, field: "told_words", value: "from my aunt" });
  assert.deepEqual(seen, []);
  assert.equal(record(ITEM).fields.class_id, set, "a field that nobody touched is the same object");
  for (const end of stop) end();
});

test("an answered operation is folded into the office's copy, and what is shown stays what it was", async () => {
  const before = record(ITEM);
  const { operations: batch } = await takeBatch(100);
  await settle(batch.map(({ operation_id }) => ({ operation_id, outcome: "kept", problem: null })));
  assert.deepEqual(waiting.value, []);
  assert.equal(record(ITEM), before);
});

test("what others did arrives with the feed, and a device's own words stay on top of it", async () => {
  await keep("set_item", { item_id: ITEM, field: "maker", value: "ours" });
  const theirs = structuredClone(record(ITEM));
  delete theirs.fields.maker;
  theirs.fields.materials = {
    value: "brass",
    operation_id: "x",
    made_by: "q",
    made_at: "",
    device_id: "desk",
  };
  await storeFeed({ records: [theirs], cursor: 7, epoch: "e" });
  assert.equal(fieldValue(record(ITEM), "materials"), "brass");
  assert.equal(fieldValue(record(ITEM), "maker"), "ours");
  assert.equal(device.value.cursor, 7);
});

test("another office's file takes no record away before it has a replacement", async () => {
  const before = record(VISIT);
  await storeFeed({ records: [], cursor: 0, epoch: "another" });
  assert.equal(record(VISIT), before);
  assert.equal(waiting.value.length, 1);
});

test("a refused operation waits for a person, and sent again it is a new one at the end", async () => {
  const [op] = (await takeBatch(1)).operations;
  const problem = { code: "refused", title: "", detail: "no", hint: "" };
  await settle([{ operation_id: op.operation_id, outcome: "refused", problem }]);
  assert.deepEqual(
    refused.value.map((no) => no.problem.detail),
    ["no"],
  );
  await sendAgain(refused.value[0], { value: "theirs" });
  assert.deepEqual([refused.value.length, waiting.value.length], [0, 1]);
  assert.notEqual(waiting.value[0].operation_id, op.operation_id);
  assert.ok(waiting.value[0].device_seq > op.device_seq);
});

test("two changes of one value made before a screen was drawn again do not undo each other", async () => {
  await keep("open_item", { item_id: "5", visit_id: VISIT, day_id: DAY });
  const finding = {
    item_id: "5",
    finding_id: "f",
    zone: "dial",
    term: "chip",
    side: null,
    severity: 1,
    note: "",
  };
  await keep("record_finding", { ...finding, withdrawn: false });
  await takeBatch(100); // it is on its way: what follows is another operation, with all that the value has
  await Promise.all([
    amend("record_finding", { item_id: "5", finding_id: "f", severity: 3 }),
    amend("record_finding", { item_id: "5", finding_id: "f", note: "at XII" }),
  ]);
  const { zone, severity, note } = fieldValue(record("5"), "findings/f");
  assert.deepEqual([zone, severity, note], ["dial", 3, "at XII"]);
});

test("memory is what the database holds: read again, nothing is another", async () => {
  const shown = ["5", ITEM, OTHER].map(record);
  const ops = waiting.value;
  await loadAgain();
  assert.deepEqual(["5", ITEM, OTHER].map(record), shown);
  assert.equal(record("5"), shown[0]);
  assert.deepEqual(waiting.value, ops);
});

test("a stop on one of two records of a thing is seen on the other, and goes with the merging", async () => {
  const stopped = () => isStopped(record(ITEM));
  await keep("raise_caution", { item_id: OTHER, caution_id: VISIT, ...STOP });
  assert.equal(stopped(), false, "they are two things so far");
  await keep("merge_item", { item_id: ITEM, into_id: OTHER, why: "" });
  assert.equal(stopped(), true);
  const decision = { decision: "cleared", decided_by: "the police", cleared_for: "", place: "" };
  await keep("decide_caution", {
    item_id: OTHER,
    caution_id: VISIT,
    ...decision,
    paper_given: false,
    note: "",
  });
  assert.equal(stopped(), false, "what is decided on the other is seen here");
});

test("as long as no words were erased no screen is drawn anew for it", () => {
  assert.equal(erasedHere.peek(), 0);
});

test("a list that is made of nothing yet, or of nothing any more, is another value than none", () => {
  const known = signal(undefined);
  const of = derived(() => known.value);
  const seen = [undefined, ["a"], ["a"], undefined, []].map((value) => {
    known.value = value;
    return of("key");
  });
  assert.deepEqual(seen, [undefined, ["a"], ["a"], undefined, []]);
  assert.equal(seen[1], seen[2], "the same members are the same list");
});

test("the desk and the manager ask the office for what they do not hold; the desk holds no day", () => {
  const roles = ["reception", "table", "porter", "desk", "manager"];
  assert.deepEqual(
    roles.filter((role) => asksTheOffice({ role })),
    ["desk", "manager"],
  );
  assert.deepEqual(
    roles.filter((role) => !dayOfWork({ role, day_id: DAY })),
    ["desk"],
  );
});

test("an entry that is let go of is none of those that were opened last, and its records stay for no other", async () => {
  await write(["setting"], async (tx) => {
    await tx.remember("opened", ["a", "b"]);
    await tx.remember("entry a", { record_ids: ["1", "2"] });
    await tx.remember("entry b", { record_ids: ["3"] });
    await forgetOpened(tx, ({ record_ids }) => record_ids.includes("2"));
    assert.deepEqual([await tx.setting("opened"), await tx.setting("entry a")], [["b"], undefined]);
    assert.deepEqual([...(await openedRecords(tx))], ["3"]);
    await forgetOpened(tx);
    assert.deepEqual([await tx.setting("opened"), await tx.setting("entry b")], [[], undefined]);
  });
});

test("what the device has is shown once it is read, also what this tab has heard nothing of", async () => {
  const record_id = "00000009-0000-7000-8000-000000000000";
  const copy = { kind: "container", record_id, day_id: DAY, opened_at: "", fields: {}, disagreements: [] };
  await transact(["record"], "readwrite", (tx) => tx.objectStore("record").put(copy));
  assert.equal(record(record_id), null);
  await loadAgain();
  assert.equal(record(record_id)?.day_id, DAY);
  await transact(["record"], "readwrite", (tx) => tx.objectStore("record").delete(record_id));
  await loadAgain();
  assert.equal(record(record_id), null);
});
