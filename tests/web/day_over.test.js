/**
 * A day that is over by a device's own clock: owners' words stay out of sight until the office has answered. The office
 * is a function in place of the network; the database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { HOURS } from "../../web/job/day_times.ts";
import { write } from "../../web/local/changes.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { isDayOver, lookAtClock } from "../../web/local/day_over.ts";
import { loadAgain } from "../../web/local/load.ts";
import { device } from "../../web/local/memory.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { standsAt } from "./an_office.js";
import { Items } from "./items.js";

const HOUR_MS = 3_600_000;
const CLOSED_AT = "2026-03-14T18:00:00.000Z";
const DAY = { record_id: "d", kind: "day", day_id: "d", house: "A", place: "B", held_on: "2026-03-14" };
const CLOSED = { value: {}, operation_id: "c1", made_at: CLOSED_AT, device_id: "m", device_seq: 1 };

let page;
globalThis.fetch = async (path) => {
  const says = { office: standsAt({ epoch: "e1", office_seq: 1 }), office_time: CLOSED_AT };
  if (path.startsWith("/sync/feed")) {
    if (!page) throw new TypeError("no line");
    return Response.json({ ...says, cursor: 1, more: false, epoch: "e1", day_id: "d", ...page });
  }
  if (path.startsWith("/sync/operations")) throw new TypeError("no line");
  return new Response(null, { status: 304 });
};

beforeEach(() => {
  mock.timers.reset();
  mock.timers.enable({ apis: ["Date", "setTimeout"], now: Date.parse(CLOSED_AT) });
  globalThis.localStorage = new Items();
  page = null;
});

/** A device with its day, closed or not, by a clock so many hours after the closing; the app is opened then. */
async function opened(role, { closed = true, hours = 0, clock_offset_ms = 0 }) {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await loadAgain();
  const fields = closed ? { closed: CLOSED } : {};
  const known = { device_id: "d1", name: "T", role, person_id: "", day_id: "d", table_id: "", epoch: "e1" };
  await write(["setting", "record"], async (tx) => {
    await tx.remember("device", { ...known, cursor: 0, clock_offset_ms });
    await tx.put("record", { ...DAY, fields, disagreements: [], office_seq: 1, feed_seq: 1 });
  });
  await at(hours);
}

async function at(hours) {
  mock.timers.setTime(Date.parse(CLOSED_AT) + hours * HOUR_MS);
  await loadAgain();
}

async function round() {
  await syncNow();
  while (status.value.busy) await new Promise(setImmediate);
}

const AFTER = HOURS["worked-on-after-closing"];
const NEVER = Number.POSITIVE_INFINITY;
const LEFT_OPEN = HOURS["left-open"] + 6; // from the end of the date, six hours after the closing of the others

for (const [role, closed, from] of [
  ["door", true, AFTER],
  ["table", true, AFTER],
  ["manager", true, HOURS["settled-after-closing"]],
  ["door", false, LEFT_OPEN],
  ["table", false, LEFT_OPEN],
  ["manager", false, NEVER],
  ["porter", true, NEVER],
  ["desk", true, NEVER],
])
  test(`a ${role} whose day is ${closed ? "closed" : "left open"} shows it for ${from} hours`, async () => {
    const last = Math.min(from, 100_000);
    await opened(role, { closed, hours: last - 0.01 });
    assert.equal(isDayOver.value, false);
    await opened(role, { closed, hours: last });
    assert.equal(isDayOver.value, from !== NEVER);
    await round();
    assert.equal(isDayOver.value, from !== NEVER, "no line");
  });

test("a page that stays open looks at the clock again, and shows it no longer then", async () => {
  await opened("door", { hours: AFTER - 0.01 });
  assert.equal(isDayOver.value, false);
  mock.timers.setTime(Date.parse(CLOSED_AT) + AFTER * HOUR_MS);
  lookAtClock();
  assert.equal(isDayOver.value, true);
});

test("what the office has set right of its clock counts", async () => {
  await opened("door", { hours: 24 * 365, clock_offset_ms: -24 * 365 * HOUR_MS });
  assert.equal(isDayOver.value, false);
});

test("once the office has answered it is shown, for as long again and no longer", async () => {
  await opened("door", { closed: false, hours: LEFT_OPEN });
  page = { records: [] };
  await round();
  assert.equal(isDayOver.value, false, "the day was opened again, as far as the office goes");
  await at(LEFT_OPEN + HOURS["left-open"] - 0.01);
  assert.equal(isDayOver.value, false, "whoever opens the app with no line works on");
  await at(LEFT_OPEN + HOURS["left-open"]);
  assert.equal(isDayOver.value, true);
});

test("an answer of before says nothing of now", async () => {
  await opened("door", { hours: 1 });
  page = { records: [] };
  await round();
  assert.ok(device.value.answered_at);
  await at(AFTER);
  assert.equal(isDayOver.value, true, "it heard the closing, and comes back later");
});
