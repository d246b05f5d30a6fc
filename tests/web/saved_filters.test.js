/** Filters that somebody saved at a desk: a new one takes the place of none but its namesake. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { ASKED_NOTHING } from "../../web/job/desk.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { namesake, savedFilters, saveFilter } from "../../web/local/saved_filters.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
});

const save = (name, words) => saveFilter({ name, asked: { ...ASKED_NOTHING, words } });
const saved = async () => (await savedFilters()).map(({ name, asked }) => [name, asked.words]);

test("filters saved without a name stand beside each other", async () => {
  await save("", "jug 1");
  await save("  ", "jug 2");
  await save("Saved 3", "jug 3");
  await save("", "jug 4");
  assert.deepEqual(await saved(), [
    ["Saved", "jug 1"],
    ["Saved 2", "jug 2"],
    ["Saved 3", "jug 3"],
    ["Saved 4", "jug 4"],
  ]);
});

test("one saved under a name again takes the place of the one before", async () => {
  await save("Jugs", "jug");
  await save(" Jugs ", "jugs");
  assert.deepEqual(await saved(), [["Jugs", "jugs"]]);
});

test("a name is the same however it is typed, and what it stands for now is known before it is replaced", async () => {
  await save("My glass", "glass");
  const before = namesake(await savedFilters(), " my  GLASS ");
  assert.equal(before.asked.words, "glass");
  assert.equal(namesake(await savedFilters(), ""), undefined);
  await save("my  GLASS", "doll");
  assert.deepEqual(await saved(), [["my  GLASS", "doll"]]);
  await saveFilter(before);
  assert.deepEqual(await saved(), [["My glass", "glass"]], "the way back");
});
