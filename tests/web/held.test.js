/** Forms half entered: written at once, held with their day, gone with it. The database is fake-indexeddb. */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { before, beforeEach, test } from "node:test";
import { rememberDevice } from "../../web/local/device.ts";
import { dropForm, emptyJournal, enteredIn, enterInJournal, holdForm } from "../../web/local/held.ts";
import { load, loadAgain } from "../../web/local/load.ts";
import { held } from "../../web/local/memory.ts";
import { Items } from "./items.js";

before(async () => {
  await load();
  await rememberDevice({ device_id: "phone", day_id: "today", epoch: "e" });
});
beforeEach(async () => {
  globalThis.localStorage = new Items();
  for (const name of [...held.keys()]) await dropForm(name);
});

test("what is entered is there at once, and leaves the journal when the database has it", async () => {
  enterInJournal("a form", { name: "Clem" });
  assert.deepEqual(enteredIn("a form"), { name: "Clem" });
  await holdForm("a form");
  assert.deepEqual(Object.keys(localStorage), []);
  await loadAgain();
  assert.deepEqual(enteredIn("a form"), { name: "Clem" });
  assert.equal(held.get("a form").day_id, "today");
});

test("a key that comes while the one before is held stays in the journal until it is held itself", async () => {
  enterInJournal("a form", { name: "C" });
  const holding = holdForm("a form");
  enterInJournal("a form", { name: "Cl" });
  await holding;
  assert.deepEqual(enteredIn("a form"), { name: "Cl" });
  await holdForm("a form");
  assert.deepEqual([Object.keys(localStorage), enteredIn("a form")], [[], { name: "Cl" }]);
});

test("a form that was let go of is gone at once, and stays so for a page that is killed in the next moment", async () => {
  enterInJournal("a form", { name: "Clem" });
  await holdForm("a form");
  const dropping = dropForm("a form");
  assert.equal(enteredIn("a form"), undefined, "and nobody waited for the database");
  await dropping;
  assert.deepEqual([Object.keys(localStorage), [...held.keys()]], [[], []]);
});

test("a form that is let go of while it is being held is held no more", async () => {
  enterInJournal("a form", { name: "Clem" });
  await Promise.all([holdForm("a form"), dropForm("a form")]);
  await loadAgain();
  assert.deepEqual([Object.keys(localStorage), [...held.keys()]], [[], []]);
});

test("one that was let go of as the page was killed is held no more at the next start", async () => {
  enterInJournal("a form", { name: "Clem" });
  await holdForm("a form");
  const dropping = dropForm("a form");
  const atTheKill = { ...localStorage };
  await dropping;
  enterInJournal("a form", { name: "Clem" });
  await holdForm("a form"); // as the database stood at the kill, and the journal
  Object.assign(localStorage, atTheKill);
  await emptyJournal();
  assert.deepEqual([Object.keys(localStorage), [...held.keys()]], [[], []]);
});

test("what a killed page has left in the journal is held at the next start", async () => {
  enterInJournal("draft of a field", { text: "mantel", from: "" });
  localStorage.setItem("place", "#/today");
  await emptyJournal();
  assert.deepEqual(Object.keys(localStorage), ["place"]);
  assert.deepEqual(enteredIn("draft of a field"), { text: "mantel", from: "" });
});

test("a form that has become an operation is nowhere any more", async () => {
  enterInJournal("a form", { name: "Clem" });
  await holdForm("a form");
  await dropForm("a form");
  await loadAgain();
  assert.equal(enteredIn("a form"), undefined);
});

test("a form that nobody has entered anything into is held nowhere", async () => {
  await holdForm("untouched");
  assert.deepEqual([[...held.keys()], enteredIn("untouched")], [[], undefined]);
});

test("a journal that is full stops nobody from typing", () => {
  localStorage.setItem = () => {
    throw new DOMException("full", "QuotaExceededError"); // Source: HTML Standard, Web storage, setItem
  };
  enterInJournal("a form", { name: "Clem" });
  assert.equal(enteredIn("a form"), undefined);
});
