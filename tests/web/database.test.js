/**
 * The device's own database under a slow disk, an older and a newer app: done once or not at all, and said in words.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import {
  closeDatabase,
  NewerAppOpen,
  OlderAppOpen,
  openDatabase,
  StorageStopped,
  transact,
} from "../../web/local/database.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { openDB } from "../../web/node_modules/idb/build/index.js";

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
});

const all = () => transact(["held"], "readonly", (tx) => tx.objectStore("held").getAll());

/** A transaction that goes on, request by request, until it is let go. */
function slow(name, until) {
  return async (tx) => {
    const held = tx.objectStore("held");
    await held.put({ name: `${name} ${until.tries++}`, day_id: "", entered: null });
    while (!until.over) await held.count();
  };
}

/** Let a while pass: timers are the test's own, all else goes on. */
async function pass(ms) {
  mock.timers.tick(ms);
  for (let turn = 0; turn < 20; turn++) await new Promise(setImmediate);
}

test("what took too long is taken back before it is done once more", async () => {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  const until = { over: false, tries: 0 };
  const done = transact(["held"], "readwrite", slow("form", until));
  for (let turn = 0; turn < 20; turn++) await new Promise(setImmediate);
  await pass(4600);
  until.over = true;
  await done;
  mock.timers.reset();
  assert.equal(until.tries, 2);
  assert.deepEqual(
    (await all()).map(({ name }) => name),
    ["form 1"],
    "the first try left nothing",
  );
});

test("storage that never answers is said to have stopped, and nothing was done", async () => {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  const until = { over: false, tries: 0 };
  const done = transact(["held"], "readwrite", slow("form", until));
  const refused = assert.rejects(done, StorageStopped);
  for (const ms of [4100, 15_100, 15_100]) {
    for (let turn = 0; turn < 20; turn++) await new Promise(setImmediate);
    await pass(ms);
  }
  await refused;
  until.over = true;
  mock.timers.reset();
  assert.deepEqual(await all(), []);
});

test("a try that was taken back is done once more, also where the storage says nothing of its end", async (t) => {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  const until = { over: false, tries: 0 };
  t.after(() => {
    until.over = true;
    mock.timers.reset();
  });
  const done = transact(["held"], "readwrite", (tx) => {
    const goingOn = slow("form", until)(tx);
    if (until.tries > 1) return goingOn;
    tx.done.catch(() => {}); // nobody waits for it
    return goingOn.catch(() => new Promise(() => {}));
  });
  await pass(0);
  await pass(4600);
  assert.equal(until.tries, 2);
  until.over = true;
  await done;
});

/** A slow transaction that is past being taken back, as one is while the disk takes it; it ends with its test. */
function whileItIsWritten(t) {
  mock.timers.enable({ apis: ["setTimeout", "Date"] });
  const { prototype } = globalThis.IDBTransaction;
  const { abort } = prototype;
  prototype.abort = () => {
    throw new DOMException("It is being written.", "InvalidStateError");
  };
  const until = { over: false, tries: 0 };
  t.after(() => {
    until.over = true;
    prototype.abort = abort;
    mock.timers.reset();
  });
  return { until, done: transact(["held"], "readwrite", slow("form", until)) };
}

test("what took too long while it is being written is waited for, and never done a second time", async (t) => {
  const { until, done } = whileItIsWritten(t);
  let ended = false;
  const over = done.then(() => {
    ended = true;
  });
  await pass(0);
  await pass(4600);
  assert.equal(ended, false, "how it ends is not known yet");
  until.over = true;
  await over;
  assert.equal(until.tries, 1);
});

test("what is being written for too long is said to have stopped, and is not tried anew", async (t) => {
  const { until, done } = whileItIsWritten(t);
  const refused = done.then(
    () => null,
    (error) => error,
  );
  await pass(0);
  for (const ms of [4600, 15_100]) await pass(ms);
  assert.equal(until.tries, 1);
  until.over = true;
  assert.ok((await refused) instanceof StorageStopped);
});

/** The database as an earlier version of the app made it. */
function anOlderOne(version) {
  return openDB("intake", version, {
    upgrade(db) {
      db.createObjectStore("record", { keyPath: "record_id" }).createIndex("kind", "kind");
      const outbox = db.createObjectStore("outbox", { keyPath: "device_seq" });
      outbox.createIndex("operation_id", "operation_id");
      outbox.createIndex("record_id", "record_id");
      db.createObjectStore("refused", { keyPath: "operation_id" });
      db.createObjectStore("photo_bytes");
      db.createObjectStore("photo", { keyPath: "sha256" });
      db.createObjectStore("setting");
      if (version > 1) db.createObjectStore("held", { keyPath: "name" });
    },
  });
}

test("every earlier form of the database is brought up to this one with all that was in it", async () => {
  for (const version of [1, 2]) {
    await closeDatabase();
    globalThis.indexedDB = new IDBFactory();
    const older = await anOlderOne(version);
    await older.put("outbox", { device_seq: 4, operation_id: "o", record_id: "r" });
    await older.put("photo", { sha256: "here", at_office: false, is_thumb: false });
    await older.put("photo", { sha256: "gone", at_office: true, is_thumb: false });
    await older.put("photo", { sha256: "small", at_office: true, is_thumb: true });
    older.close();
    const db = await openDatabase();
    assert.deepEqual(
      [...db.objectStoreNames],
      ["answered", "held", "outbox", "photo", "photo_bytes", "record", "refused", "setting"],
    );
    assert.equal((await db.getAll("outbox")).length, 1);
    const freed = (await db.getAll("photo")).map(({ sha256, freed }) => [sha256, Boolean(freed)]);
    assert.deepEqual(freed, [
      ["gone", true],
      ["here", false],
      ["small", false],
    ]);
  }
});

test("an older tab that keeps the database open is named in words", async () => {
  const older = await anOlderOne(1); // it does not close when a newer version asks for it
  await assert.rejects(all(), OlderAppOpen);
  older.close();
  await assert.doesNotReject(all(), "once it is closed, all goes on");
});

test("a window of an older app is told that a newer one was opened", async () => {
  (await openDB("intake", 99)).close();
  await assert.rejects(all(), NewerAppOpen);
});
