/** What another tab has written is known here once the database is read again; what is as before is not made anew. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase, transact } from "../../web/local/database.ts";
import { apply, load, loadAgain } from "../../web/local/load.ts";
import {
  device,
  forgotten,
  held,
  keptLabels,
  left,
  office,
  olderPlans,
  photos,
  plans,
  records,
  refused,
  waiting,
  whyNotLoaded,
} from "../../web/local/memory.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";

/** Written past this tab's memory, as another tab does. */
const elsewhere = (store, ...given) =>
  transact([store], "readwrite", (tx) => tx.objectStore(store).put(...given));
const setting = (name, value) => elsewhere("setting", value, name);

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  plans.value = null;
  await loadAgain();
});

test("a device with nothing on it knows nothing", () => {
  const nothing = [device, office, forgotten, left, plans].map((one) => one.value);
  assert.deepEqual(nothing, [null, null, null, null, null]);
  assert.deepEqual(
    [waiting, refused, photos].map((one) => one.value),
    [[], [], []],
  );
  assert.deepEqual([olderPlans.value, [...keptLabels.value], [...held]], [{}, [], []]);
});

test("all that another tab has stored is here", async () => {
  const item = { record_id: "i", kind: "item", day_id: "d", fields: {}, disagreements: [], opened_at: "" };
  const op = {
    operation_id: "o",
    kind: "set_item",
    record_id: "i",
    device_seq: 1,
    field: "maker",
    value: "x",
  };
  await elsewhere("record", item);
  await elsewhere("outbox", op);
  await elsewhere("refused", { operation_id: "r", operation: op, problem: {} });
  await elsewhere("photo", { sha256: "s", size: 1 });
  await elsewhere("held", { name: "a form", day_id: "", entered: 1 });
  const settings = { device: { name: "Table 1" }, office: { epoch: "e" }, forgotten: { why: "older" } };
  Object.assign(settings, { left: { why: "over" }, "older plans": { "bell 1": {} }, "labels roll": "pdf" });
  for (const [name, value] of Object.entries(settings)) await setting(name, value);
  await loadAgain();
  assert.deepEqual([device.value.name, office.value.epoch, forgotten.value.why], ["Table 1", "e", "older"]);
  assert.deepEqual([left.value.why, Object.keys(olderPlans.value)], ["over", ["bell 1"]]);
  assert.deepEqual([...keptLabels.value], ["roll"]);
  assert.deepEqual([waiting.value.length, refused.value.length, photos.value.length], [1, 1, 1]);
  assert.deepEqual([...held.keys()], ["a form"]);
  assert.equal(records("item")[0].fields.maker.value, "x", "with what waits on it");
});

test("what another tab says that it has written is read at once, and that alone", async () => {
  const other = new BroadcastChannel("intake");
  await elsewhere("photo", { sha256: "told", size: 1 });
  await elsewhere("photo", { sha256: "untold", size: 1 });
  await setting("left", { why: "over" });
  other.postMessage([]);
  other.postMessage([
    ["photo", "told"],
    ["setting", "left"],
  ]);
  while (!left.value) await new Promise(setImmediate);
  assert.deepEqual(
    photos.value.map(({ sha256 }) => sha256),
    ["told"],
  );
  const heard = new Promise((resolve) => {
    other.onmessage = ({ data }) => resolve(data);
  });
  await write(["photo", "photo_bytes"], async (tx) => {
    await tx.put("photo", { sha256: "mine", size: 1 });
    await tx.put("photo_bytes", new ArrayBuffer(1), "mine");
  });
  assert.deepEqual(await heard, [["photo", "mine"]], "what is written here is told, and no picture's bytes");
  other.close();
});

test("plans are made anew only when they are others", async () => {
  await setting("plans", { tag: "1", book: {} });
  await loadAgain();
  const first = plans.value;
  assert.equal(first.tag, "1");
  await loadAgain();
  assert.equal(plans.value, first);
  await setting("plans", { tag: "2", book: {} });
  await loadAgain();
  assert.equal(plans.value.tag, "2");
  await transact(["setting"], "readwrite", (tx) => tx.objectStore("setting").delete("plans"));
  await loadAgain();
  assert.equal(plans.value, null);
});

test("each change goes to its own place in memory, and what is taken away leaves it", () => {
  const change = (store, key, value) => apply([{ store, key, value }]);
  for (const [store, key, value, memory] of [
    ["refused", "a", { operation_id: "a" }, refused],
    ["photo", "a", { sha256: "a" }, photos],
  ]) {
    const other = { ...value, ...("sha256" in value ? { sha256: "b" } : { operation_id: "b" }) };
    change(store, key, value);
    change(store, "b", other);
    change(store, key, { ...value, more: 1 });
    assert.deepEqual(memory.value, [{ ...value, more: 1 }, other], store);
    change(store, "unknown", undefined);
    change(store, key, undefined);
    assert.deepEqual(memory.value, [other], store);
  }
  change("held", "a form", { name: "a form" });
  assert.ok(held.has("a form"));
  change("held", "a form", undefined);
  assert.ok(!held.has("a form"));
  change("setting", "labels one", "pdf");
  change("setting", "labels two", "pdf");
  assert.deepEqual([...keptLabels.value], ["one", "two"]);
  change("setting", "device", { name: "Table 2" });
  assert.equal(device.value.name, "Table 2");
  change("setting", "device", undefined);
  assert.equal(device.value, null);
});

test("a database that cannot be read is said, tried again, and read once it can be", async () => {
  await closeDatabase();
  const { open } = IDBFactory.prototype;
  IDBFactory.prototype.open = () => {
    throw new DOMException("the disk is broken", "UnknownError");
  };
  await assert.rejects(loadAgain());
  assert.match(whyNotLoaded.value, /\S/);
  IDBFactory.prototype.open = open;
  await load();
  assert.equal(whyNotLoaded.value, "");
});
