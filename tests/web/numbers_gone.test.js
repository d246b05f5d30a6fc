/** Numbers of days that left this device: none is used twice, also with no network. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { write } from "../../web/local/changes.ts";
import { beginReading, letGoOfAll, letGoOfOtherDays, takeUpWork } from "../../web/local/day.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { loadAgain } from "../../web/local/load.ts";
import { record } from "../../web/local/memory.ts";
import { noteAsTheyLeave, noteNumbers, noteOf, whyUsed } from "../../web/local/numbers_gone.ts";
import { Caches } from "./caches.js";
import { Items } from "./items.js";
import { begin, DAY, ITEM } from "./office_here.js";

const [VISIT, OTHER_DAY, CRATE] = ["2", "3", "5"].map(
  (digit) => `0000000${digit}-0000-7000-8000-000000000000`,
);
const AT = "2026-03-15T18:00:00.000Z";
const set = (value) => ({ value, operation_id: "o", made_by: "", made_at: AT, device_id: "" });
const a_record = (kind, record_id, fields = {}, day_id = DAY) => ({
  ...{
    kind,
    record_id,
    day_id,
    visit_id: VISIT,
    opened_at: "",
    opened_by: "",
    tables: [],
    house: "",
    place: "",
  },
  ...{ held_on: "2026-03-14", number: "004WC2", kind_of: "crate", fields, disagreements: [], office_seq: 7 },
});
const tied = (tag, gone = null) => ({
  [`tags/${tag}`]: set({ tag, piece: 1, of: 1, gone, replaced_by: null }),
});
const struck = { "spoiled/004WB4": set({ tag: "004WB4", why: "torn" }) };
const RECORDS = [
  a_record("day", DAY, struck),
  a_record("day", OTHER_DAY, {}, OTHER_DAY),
  a_record("item", ITEM, { ...tied("004W8A"), ...tied("004W98", "taken-back") }),
  a_record("container", CRATE),
];
const ON = "is on something of 14 March 2026 already: take a fresh tag.";
const STRUCK = "004-WB4 was struck through on 14 March 2026: take a fresh tag.";
const told = () => ["004W8A", "004W98", "004WB4", "004WC2", "004WA6"].map(whyUsed);
const ALL = [
  `004-W8A ${ON}`,
  "004-W98 was on something of 14 March 2026 and is gone from it. A number never comes back: take a fresh tag.",
  STRUCK,
  `004-WC2 ${ON}`,
  "",
];

async function aTable() {
  await rememberDevice({ device_id: "d", role: "table", day_id: DAY });
  await beginReading();
  await storeFeed({ records: RECORDS, cursor: 7, epoch: "e1", day_id: DAY });
}

globalThis.document = new EventTarget();

beforeEach(async () => {
  globalThis.caches = new Caches();
  globalThis.sessionStorage = new Items();
  await begin();
  await loadAgain();
  await noteAsTheyLeave();
});

test("a table that works on the next day knows what is on things of the day before, and was", async () => {
  await aTable();
  assert.deepEqual(told(), ["", "", STRUCK, "", ""], "what is here is told by the things themselves");
  await takeUpWork({ day_id: OTHER_DAY });
  await letGoOfOtherDays(false, AT);
  assert.equal(record(ITEM), null);
  assert.deepEqual(told(), ALL);
  await loadAgain();
  await noteAsTheyLeave();
  assert.deepEqual(told(), ALL, "after the page was opened anew");
  assert.deepEqual(noteOf("004W8A"), { held_on: "2026-03-14", is: "on" });
});

test("a day that is over is known by its numbers", async () => {
  await aTable();
  await letGoOfOtherDays(true, AT);
  assert.deepEqual(told(), ALL);
});

test("a device that was signed off knows of none", async () => {
  await aTable();
  await takeUpWork({ day_id: OTHER_DAY });
  await letGoOfOtherDays(false, AT);
  await letGoOfAll();
  assert.deepEqual(told(), ["", "", "", "", ""]);
  await noteAsTheyLeave();
  assert.deepEqual(told(), ["", "", "", "", ""]);
});

test("the days that left last are kept, so many numbers of them", async () => {
  const left = (day_id, tag) =>
    write(["setting"], (tx) => noteNumbers(tx, [a_record("item", ITEM, tied(tag), day_id)], 2));
  await left("a", "004W8A");
  await left("b", "004W98");
  await left("a", "004WB4");
  assert.deepEqual(
    ["004W8A", "004W98", "004WB4"].map((tag) => noteOf(tag)?.is),
    ["on", undefined, "on"],
  );
  await left("c", "004WC2");
  assert.deepEqual(
    ["004W8A", "004WB4", "004WC2"].map((tag) => noteOf(tag)?.is),
    [undefined, undefined, "on"],
  );
});
