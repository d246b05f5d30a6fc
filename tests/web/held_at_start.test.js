/** The journal that a killed page left, at the very start of the next one. The database is fake-indexeddb. */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { test } from "node:test";
import { transact } from "../../web/local/database.ts";
import { emptyJournal, enterInJournal } from "../../web/local/held.ts";
import { held } from "../../web/local/memory.ts";
import { Items } from "./items.js";

test("what is found in the journal is of the day and the work of this device, before anything else was read", async () => {
  // Common practice: words half typed leave with their day, so they may not be held as of no day.
  globalThis.localStorage = new Items();
  const device = { device_id: "phone", role: "table", day_id: "today" };
  await transact(["setting"], "readwrite", (tx) => tx.objectStore("setting").put(device, "device"));
  enterInJournal("a form", { name: "Clem" });
  await emptyJournal();
  const entered = { name: "Clem" };
  assert.deepEqual(held.get("a form"), { name: "a form", day_id: "today", role: "table", entered });
  const stored = await transact(["held"], "readonly", (tx) => tx.objectStore("held").getAll());
  assert.deepEqual(stored, [...held.values()]);
});
