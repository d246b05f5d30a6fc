/** Forms half entered: written at once, held with their day, gone with it. The database is fake-indexeddb. */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { before, beforeEach, test } from "node:test";
import { write } from "../../web/local/changes.ts";
import { rememberDevice } from "../../web/local/device.ts";
import {
  dropForm,
  emptyJournal,
  enteredIn,
  enteredSince,
  enterInJournal,
  holdForm,
} from "../../web/local/held.ts";
import { load, loadAgain } from "../../web/local/load.ts";
import { held, unsent } from "../../web/local/memory.ts";
import { dropUnsentOf, keepUnsent } from "../../web/local/unsent.ts";
import { Items } from "./items.js";

/** On which day a form stood that was begun before this device had any. */
let beforeAnyDay;

before(async () => {
  globalThis.localStorage = new Items();
  await load();
  enterInJournal("early", { name: "C" });
  await holdForm("early");
  beforeAnyDay = held.get("early").day_id;
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

test("of a form that is sent while more is typed, what was entered since stays", () => {
  const sent = { name: "Clem", work: ["valuer"] };
  assert.equal(enteredSince(sent, { ...sent, work: ["valuer"] }), undefined, "nothing was");
  assert.deepEqual(enteredSince(sent, { ...sent, name: "Ada" }), { name: "Ada" });
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

test("a form that was begun before any day was chosen is of none", () => {
  assert.equal(beforeAnyDay, "");
});

test("to let go of what is held nowhere writes nothing, however often it was held before", async () => {
  enterInJournal("a form", { name: "Clem" });
  await Promise.all([holdForm("a form"), dropForm("a form")]);
  localStorage.setItem = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
  await dropForm("a form");
  assert.equal(enteredIn("a form"), undefined);
});

const VISIT = "00000002-0000-7000-8000-000000000000";

test("of a form that leaves the words stay that are nowhere else, whatever else was entered", async () => {
  const visit = { kind: "visit", record_id: VISIT, day_id: "today", fields: {}, disagreements: [] };
  const entered = {
    ...{ strokes: "M1", signed_by: "x", from: "x", label: "Materials", code: "x", second: "x" },
    ...{ aim: "x", scanned: ["x"], zones: "x", on_paper: "pad 1", count: 3, sure: true, nothing: null },
    ...{
      thing: VISIT,
      digest: "a0".repeat(32),
      salt: "b1".repeat(16),
      blank: " ",
      lines: [{ words: "a chip" }, null],
    },
  };
  await write(["record"], (tx) => tx.put("record", visit));
  await write(["setting"], async (tx) => {
    await keepUnsent(tx, { name: `receipt ${VISIT}`, entered });
    await keepUnsent(tx, { name: "aimed", entered: { aim: "x" } });
    await keepUnsent(tx, { name: `signed ${VISIT}`, entered: { list: { by: "Vera" } } });
  });
  const { of, ticket, words, was_signed } = unsent.value[`receipt ${VISIT}`];
  assert.deepEqual([of, ticket, was_signed], ["Materials", "", true]);
  assert.deepEqual(words, ["pad 1", "a chip"]);
  assert.deepEqual(Object.keys(unsent.value), [`receipt ${VISIT}`]);
});

test("what was chosen in a form that leaves is told in words, and of which container it is", async () => {
  const container_id = "018f0000-0000-7000-8000-0000000000c1";
  const head = { kind: "container", record_id: container_id, kind_of: "crate", number: "00002Y" };
  const crate = { ...head, day_id: "d", office_seq: 1, fields: {}, disagreements: [] };
  await write(["record"], (tx) => tx.put("record", crate));
  await write(["setting"], async (tx) => {
    const seal = { seal: "S-1", second_by: "Vera", state: "opened" };
    await keepUnsent(tx, { name: `seal ${container_id}`, entered: seal });
    await keepUnsent(tx, { name: "settle one", entered: { ended: "claim-opened", words: "re-lined" } });
  });
  const { of, words } = unsent.value[`seal ${container_id}`];
  assert.match(of, /^seal of crate /);
  assert.deepEqual(words, ["S-1", "second person: Vera", "Opened by two"]);
  assert.deepEqual(unsent.value["settle one"].words, ["Claim opened", "re-lined"]);
  await write(["setting"], (tx) => dropUnsentOf(tx, [container_id, "one"]));
});

test("of what was typed into a form that leaves again the words stay that are in none of those of now", async () => {
  const lines = (...words) => ({ name: "notes", entered: { lines: words } });
  await write(["setting"], async (tx) => {
    await keepUnsent(tx, lines("a chip", "a crack"));
    await keepUnsent(tx, lines("a chip to the rim", "worn"));
  });
  assert.deepEqual(unsent.value.notes.words, ["a crack", "a chip to the rim", "worn"]);
});

test("words of several things that are erased leave together, and those of others stay", async () => {
  const word = { of: "", ticket: "", words: ["w"], was_signed: false, at: "" };
  await write(["setting"], async (tx) => {
    await tx.remember("unsent", { "draft one": word, "receipt two": word, "draft three": word });
    await dropUnsentOf(tx, ["one", "two"]);
  });
  assert.deepEqual(Object.keys(unsent.value), ["draft three"]);
});
