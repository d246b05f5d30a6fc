/** Which screen an address means, and which address is none to come back to. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { screenFor, screensKept, wholeOf } from "../../web/addresses.ts";

const shown = (hash, role = "table") => {
  const { name, isKnown } = screenFor(hash, role);
  return [name, isKnown];
};

test("an address names its screen and what it is about", () => {
  assert.deepEqual(shown("#/item/7/zones"), ["item/zones", true]);
  assert.deepEqual(shown("#/visit/7"), ["visit", true]);
  assert.deepEqual(shown("#/entry/7", "desk"), ["queue", true]);
  const { about } = screenFor("#/item/7/zone/ears%2Fproper-right", "table");
  assert.deepEqual([about.item_id, about.zone_key], ["7", "ears/proper-right"]);
});

test("an address that names no screen, or cannot be read, opens where the role begins and is not kept", () => {
  for (const bad of [
    "",
    "#/",
    "#/nowhere",
    "#/nowhere/7/zones",
    "#/tag/%E0%A4%A",
    "#/toString",
    "#/__proto__",
  ]) {
    assert.deepEqual(shown(bad), ["today", false], bad);
    assert.deepEqual(shown(bad, "desk"), ["queue", false], bad);
  }
});

test("a device that is not paired is paired first, whatever was asked for", () => {
  for (const hash of ["", "#/today", "#/item/7"]) assert.deepEqual(shown(hash, null), ["pair", false]);
  assert.equal(screenFor("#/pair/ABCD-1234", "table").about.code, "ABCD-1234");
});

test("a desk opens no screen that is worked out of a day held here: it holds none", () => {
  for (const name of ["today", "places", "porter", "day", "rolls", "preflight"])
    assert.deepEqual(shown(`#/${name}`, "desk"), ["queue", false], name);
  assert.deepEqual(shown("#/closing", "desk"), ["closings", true]);
  assert.deepEqual(shown("#/closing", "manager"), ["closing", true]);
  for (const name of ["closings", "outbox", "copies", "stop", "tag", "check"])
    assert.equal(screenFor(`#/${name}`, "desk").name, name);
});

test("there is a screen for every name", () => {
  const all = screensKept(["custody", "office", "words"]);
  assert.ok(all.length > 20);
  for (const name of all) assert.equal(screenFor(`#/${name.replace("/", "/7/")}`, "table").name, name);
});

test("what a table needs with no network is kept there, and no screen of others", () => {
  const kept = screensKept(["words"]);
  for (const name of ["today", "visit", "visit/receipt", "item/zone", "item/words", "stop", "outbox"])
    assert.ok(kept.includes(name), name);
  for (const name of ["queue", "rolls", "devices", "closing", "container", "load", "places"])
    assert.ok(!kept.includes(name), name);
});

test("who closes the day has the closing with no network, and no screen of the office", () => {
  const kept = screensKept(["custody"]);
  assert.ok(kept.includes("closing") && kept.includes("container") && kept.includes("today"));
  assert.ok(!kept.includes("queue") && !kept.includes("item/words"));
});

test("a part of a thing that is not here is its whole screen, which says so", () => {
  assert.deepEqual(["item/zone", "item/words", "visit/receipt", "item", "container", "today"].map(wholeOf), [
    "item",
    "item",
    "visit",
    "item",
    "container",
    "today",
  ]);
});
