/**
 * What this device holds: its day and nothing beside it, for as long as it may, and all that it owes.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { fieldValue, ownerWords } from "../../web/job/values.ts";
import { closeDatabase, transact } from "../../web/local/database.ts";
import { beginReading, letGoOfAll, letGoOfOtherDays, scopeOf } from "../../web/local/day.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { letGoOfAnswered, meet, toldLast } from "../../web/local/keeping.ts";
import { apply, loadAgain } from "../../web/local/load.ts";
import { device, left, record, records, waiting } from "../../web/local/memory.ts";
import { forgetErased } from "../../web/local/opened.ts";
import { keep, settle, takeBatch } from "../../web/local/outbox.ts";
import { openedAs, openedEntry, storeOpened } from "../../web/local/store_opened.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { Items } from "./items.js";

const [DAY, VISIT, ITEM, OTHER_DAY, OTHER_ITEM] = ["1", "2", "3", "4", "5"].map(
  (digit) => `0000000${digit}-0000-7000-8000-000000000000`,
);
/** The office's time when it says so. */
const AT = "2026-03-14T18:00:00.000Z";
const set = (value, made_at = "2026-03-14T18:00:00.000Z") => ({
  value,
  operation_id: "o",
  made_by: "",
  made_at,
  device_id: "",
});

const a_record = (kind, record_id, day_id = DAY, fields = {}) => ({
  kind,
  record_id,
  day_id,
  visit_id: VISIT,
  opened_at: "",
  opened_by: "",
  tables: [],
  fields,
  disagreements: [],
});

const feed = (list, more = {}) => storeFeed({ records: list, cursor: 7, epoch: "e1", day_id: DAY, ...more });

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  globalThis.localStorage = new Items();
  await loadAgain();
  await rememberDevice({ device_id: "d1", role: "table", person_id: "p", epoch: "e1", day_id: DAY });
  await beginReading();
  await feed([
    a_record("day", DAY),
    a_record("visit", VISIT, DAY, { "consignor/name": set("Barnaby Tumblewick") }),
    a_record("item", ITEM),
  ]);
});

const here = () => ["day", "visit", "item"].flatMap((kind) => records(kind).map((one) => one.record_id));
const answeredHere = () => transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());

async function answered(kind, body) {
  const { operation_id } = await keep(kind, body);
  await takeBatch(100);
  await settle([{ operation_id, outcome: "kept", office_seq: 11, disagreement: false, problem: null }]);
}

test("the only open day is the day of a device that has chosen none", async () => {
  await rememberDevice({ day_id: "", cursor: 0, scope: "table  " });
  await feed([]);
  assert.equal(device.value.day_id, DAY);
  assert.equal(
    device.value.scope,
    scopeOf(device.value),
    "what was read was of that day: nothing is read twice",
  );
});

test("another day, table or role is read from the start", async () => {
  for (const change of [{ day_id: OTHER_DAY }, { table_id: "t2" }, { role: "porter" }]) {
    await rememberDevice({ cursor: 7 });
    await beginReading();
    assert.equal(device.value.cursor, 7, "nothing has changed");
    await rememberDevice(change);
    await beginReading();
    assert.equal(device.value.cursor, 0, JSON.stringify(change));
  }
});

test("a day that was left for another goes, and what it owes stays until it is sent", async () => {
  await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  await rememberDevice({ day_id: OTHER_DAY });
  await feed([a_record("day", OTHER_DAY, OTHER_DAY), a_record("item", OTHER_ITEM, OTHER_DAY)]);
  await letGoOfOtherDays(false, AT);
  assert.deepEqual(
    here().sort(),
    [DAY, VISIT, ITEM, OTHER_DAY, OTHER_ITEM],
    "the item waits, with its visit",
  );
  await takeBatch(10);
  const [{ operation_id }] = waiting.value;
  await settle([{ operation_id, outcome: "kept", office_seq: 11, disagreement: false, problem: null }]);
  await letGoOfOtherDays(false, AT);
  assert.deepEqual(here().sort(), [DAY, OTHER_DAY, OTHER_ITEM], "an open day stays in the list");
  assert.equal(left.value.why, "another day");
  await loadAgain();
  assert.equal(record(VISIT), null, "it is gone from the database, too");
});

test("a day that is over goes, and the device has to choose again", async () => {
  await letGoOfOtherDays(true, AT);
  assert.deepEqual(here(), []);
  assert.deepEqual([device.value.day_id, device.value.cursor, device.value.scope], ["", 0, ""]);
  assert.equal(left.value.why, "over");
  assert.equal(left.value.records, 3);
});

test("another day that was closed leaves the list", async () => {
  await feed([a_record("day", OTHER_DAY, OTHER_DAY)]);
  await letGoOfOtherDays(false, AT);
  assert.equal(records("day").length, 2);
  await feed([a_record("day", OTHER_DAY, OTHER_DAY, { closed: set({}) })]);
  await letGoOfOtherDays(false, AT);
  assert.deepEqual(here(), [DAY, VISIT, ITEM]);
});

test("a device that was signed off keeps what it owes and nothing else", async () => {
  await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  await keep("open_item", { item_id: OTHER_ITEM, visit_id: VISIT, day_id: DAY });
  await feed([a_record("visit", "v2", DAY, { called: set("Ada") })]);
  await letGoOfAll();
  assert.deepEqual(here().sort(), [DAY, VISIT, ITEM, OTHER_ITEM].sort());
  assert.equal(waiting.value.length, 2);
  assert.equal(left.value.why, "signed off");
  assert.equal(device.value.cursor, 0, "it reads anew once it is paired again");
});

test("a manager holds the day worked on", async () => {
  await rememberDevice({ role: "manager" });
  await feed([a_record("item", OTHER_ITEM, OTHER_DAY)]);
  assert.equal(await letGoOfOtherDays(false, AT), 1);
  assert.deepEqual(here(), [DAY, VISIT, ITEM]);
  assert.equal(device.value.cursor, 7, "its own day is read on from where it was");
  assert.equal(await letGoOfOtherDays(false, AT), 0, "once nothing else is here");
});

test("when a day was over is noted by the office's clock, and of a day that goes on nothing", async () => {
  await feed([a_record("item", OTHER_ITEM, OTHER_DAY)]);
  const noted = () => transact(["setting"], "readonly", (tx) => tx.objectStore("setting").get("closings"));
  await letGoOfOtherDays(false, AT);
  assert.deepEqual((await noted()) ?? {}, {});
  await letGoOfOtherDays(true, AT);
  assert.deepEqual(await noted(), { [DAY]: { by: "over", heard_at: AT } });
});

test("a device that was signed off and holds nothing any more reads on", async () => {
  await letGoOfAll();
  await rememberDevice({ cursor: 7 });
  assert.equal(await letGoOfAll(), 0);
  assert.equal(device.value.cursor, 7);
});

const entryOf = (records) => {
  const page = { cursor: 9, records, operations: [], people: {}, others: [], row: null };
  return storeOpened(page, openedAs(page, AT));
};

test("a desk holds the open days, and the entries that it opened last with what they need", async () => {
  await rememberDevice({ role: "desk" });
  await entryOf([a_record("item", OTHER_ITEM, OTHER_DAY), a_record("visit", "v2", OTHER_DAY)]);
  await letGoOfOtherDays(false, AT);
  assert.deepEqual(here().sort(), [DAY, OTHER_ITEM, "v2"].sort(), "what it held at a table has left it");
  assert.equal((await openedEntry(OTHER_ITEM)).read_at, AT);
  for (let number = 0; number < 30; number += 1) await entryOf([a_record("item", `i${number}`, OTHER_DAY)]);
  await letGoOfOtherDays(false, AT);
  assert.equal(record(OTHER_ITEM), null, "thirty were opened since");
  assert.equal(await openedEntry(OTHER_ITEM), undefined);
  assert.equal(records("item").length, 30);
  assert.equal(left.value, null, "nobody is told that what was only lent has left");
});

test("what a desk wrote shows on what the office says, and stays until it is sent", async () => {
  await rememberDevice({ role: "desk" });
  const item = a_record("item", OTHER_ITEM, OTHER_DAY, { maker: { ...set("old"), operation_id: "o7" } });
  await entryOf([{ ...item, office_seq: 7 }]);
  await keep("set_item", { item_id: OTHER_ITEM, field: "maker", value: "new" });
  assert.equal(waiting.value.at(-1).seen, "o7", "what it was changed from");
  await entryOf([{ ...item, office_seq: 8 }]);
  assert.equal(fieldValue(record(OTHER_ITEM), "maker"), "new");
  await entryOf([{ ...a_record("item", OTHER_ITEM, OTHER_DAY), office_seq: 5 }]);
  assert.equal(waiting.value.length, 1);
  const stored = await transact(["record"], "readonly", (tx) => tx.objectStore("record").get(OTHER_ITEM));
  assert.equal(stored.office_seq, 8, "an answer that was overtaken on its way changes nothing");
});

test("an entry whose words were erased since is shown without them, though no operation of its own came", async () => {
  await rememberDevice({ role: "desk" });
  const item = (fields) => ({ ...a_record("item", OTHER_ITEM, OTHER_DAY, fields), office_seq: 7 });
  await entryOf([item({ note: set("of her aunt") })]);
  await entryOf([item({})]);
  assert.equal(fieldValue(record(OTHER_ITEM), "note"), undefined);
  await loadAgain();
  assert.equal(fieldValue(record(OTHER_ITEM), "note"), undefined);
});

test("an entry is shown before the disk has it, and what is written on it then goes on from what was shown", async () => {
  await rememberDevice({ role: "desk" });
  const item = a_record("item", OTHER_ITEM, OTHER_DAY, { maker: { ...set("old"), operation_id: "o7" } });
  const kept = entryOf([item]);
  assert.equal(fieldValue(record(OTHER_ITEM), "maker"), "old");
  const { seen } = await keep("set_item", { item_id: OTHER_ITEM, field: "maker", value: "new" });
  assert.equal(seen, "o7");
  await kept;
  assert.equal(fieldValue(record(OTHER_ITEM), "maker"), "new");
});

/** Do some work on a full device. Source: Indexed Database API 3.0, where storing may end in a QuotaExceededError. */
async function whileFull(work) {
  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
  await work().finally(() => {
    IDBObjectStore.prototype.put = put;
  });
}

test("an entry that cannot be kept leaves the screen as it was before, and that is said", async () => {
  await rememberDevice({ role: "desk" });
  const item = a_record("item", OTHER_ITEM, OTHER_DAY, { maker: set("old") });
  await entryOf([{ ...item, office_seq: 3 }]);
  const newer = { ...item, office_seq: 4, fields: { maker: set("new") } };
  await whileFull(() => assert.rejects(entryOf([newer, a_record("visit", "v2", OTHER_DAY)]), /is full/));
  assert.equal(fieldValue(record(OTHER_ITEM), "maker"), "old");
  assert.equal(record("v2"), null);
});

test("what the feed brought while an entry could not be kept stays", async () => {
  await rememberDevice({ role: "desk" });
  const item = (office_seq, maker) => ({
    ...a_record("item", OTHER_ITEM, OTHER_DAY, { maker: set(maker) }),
    office_seq,
  });
  await entryOf([item(3, "old")]);
  await whileFull(async () => {
    const kept = entryOf([item(4, "new")]);
    apply([{ store: "record", key: OTHER_ITEM, value: item(5, "newest") }]); // as another tab tells of it
    await assert.rejects(kept, /is full/);
  });
  assert.equal(fieldValue(record(OTHER_ITEM), "maker"), "newest");
});

/** How many records are read whole out of the database while something is done. */
async function recordsReadWhile(work) {
  const { getAll } = IDBObjectStore.prototype;
  let count = 0;
  IDBObjectStore.prototype.getAll = function (...asked) {
    if (this.name === "record") count += 1;
    return getAll.apply(this, asked);
  };
  await work().finally(() => {
    IDBObjectStore.prototype.getAll = getAll;
  });
  return count;
}

test("a round on which nothing has to go reads no record", async () => {
  assert.equal(await recordsReadWhile(() => letGoOfOtherDays(false, AT)), 0);
  await feed([a_record("item", OTHER_ITEM, OTHER_DAY)]);
  assert.equal(await recordsReadWhile(() => letGoOfOtherDays(false, AT)), 0);
  assert.deepEqual(here(), [DAY, VISIT, ITEM], "and one on which something has to reads that alone");
});

test("a desk that was signed off, or does other work, has no entry left", async () => {
  for (const leave of [
    () => letGoOfAll(),
    () => rememberDevice({ role: "porter" }).then(() => letGoOfOtherDays(false, AT)),
  ]) {
    await rememberDevice({ role: "desk" });
    await entryOf([a_record("item", OTHER_ITEM, OTHER_DAY)]);
    await leave();
    assert.equal(record(OTHER_ITEM), null);
    assert.equal(await openedEntry(OTHER_ITEM), undefined);
  }
});

test("an entry whose owner's words were erased leaves the desk at once", async () => {
  await rememberDevice({ role: "desk" });
  const visit = a_record("visit", "v2", OTHER_DAY, { called: set("Ada") });
  await entryOf([a_record("item", OTHER_ITEM, OTHER_DAY), visit]);
  await forgetErased(["v2", "v9"]);
  assert.equal(record("v2"), null);
  assert.equal(await openedEntry(OTHER_ITEM), undefined);
});

test("of a manager's entries only what was erased leaves, and neither what the day needs nor what waits", async () => {
  await rememberDevice({ role: "manager" });
  const entry = (item_id, visit_id, day_id) =>
    entryOf([a_record("item", item_id, day_id), a_record("visit", visit_id, day_id)]);
  await entry(ITEM, VISIT, DAY);
  for (const [item_id, visit_id] of [
    ["i1", "v1"],
    ["i2", "v2"],
    ["i3", "v3"],
  ])
    await entry(item_id, visit_id, OTHER_DAY);
  await keep("set_visit", { visit_id: "v2", field: "stage", value: "left" });
  await forgetErased([VISIT, "v1", "v2"]);
  assert.deepEqual(
    records("visit")
      .map((one) => one.record_id)
      .sort(),
    [VISIT, "v2", "v3"].sort(),
  );
  const opened = await Promise.all([ITEM, "i1", "i2", "i3"].map(openedEntry));
  assert.deepEqual(
    opened.map((one) => one?.record_ids),
    [undefined, undefined, undefined, ["i3", "v3"]],
  );
});

test("what stays until it is safe can be let go of though its day has left before", async () => {
  await answered("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  await meet({ ...STANDS, known_chain: null }, toldLast());
  await feed([a_record("day", DAY, DAY, { closed: set({}) })]);
  await letGoOfOtherDays(true, AT);
  const days = (count) => new Date(Date.parse(AT) + count * 24 * 3600 * 1000).toISOString();
  await letGoOfAnswered(days(29));
  assert.equal((await answeredHere()).length, 1);
  await letGoOfAnswered(days(31));
  assert.equal((await answeredHere()).length, 0);
});

const STANDS = {
  epoch: "e1",
  office_seq: 12,
  chain: "c",
  device_seq: 1,
  safe_seq: null,
  hearing: false,
};

test("one whose day has left is sent again as it was, and its day counts anew from then", async () => {
  await answered("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  const [answeredOne] = await answeredHere();
  const { outcome, office_seq, attempted, record_id, clock_offset_ms, ...before } = answeredOne;
  await meet({ ...STANDS, known_chain: null }, toldLast());
  await feed([a_record("day", DAY, DAY, { closed: set({}) })]);
  await letGoOfOtherDays(true, AT);
  await meet({ ...STANDS, known_chain: null, epoch: "e2" }, toldLast());
  const { operations } = await takeBatch(10);
  assert.deepEqual(operations, [before]);
  const [{ operation_id }] = operations;
  await settle([{ operation_id, outcome: "kept", office_seq: 9, disagreement: false, problem: null }]);
  await letGoOfAnswered("2026-05-01T18:00:00.000Z");
  await letGoOfAnswered("2026-05-31T17:00:00.000Z");
  assert.equal((await answeredHere()).length, 1);
  await letGoOfAnswered("2026-05-31T19:00:00.000Z");
  assert.equal((await answeredHere()).length, 0);
});

test("an owner at another table is called by the first name", async () => {
  await feed([a_record("visit", VISIT, DAY, { called: set("Barnaby") })]);
  assert.equal(fieldValue(record(VISIT), "consignor/name"), undefined, "the words on it were written over");
  assert.equal(ownerWords(record(VISIT)), "Barnaby");
});
