/** What can be said of devices when a day is closed: of one that is silent nobody knows what it did since. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { byLastHeard, lastWork } from "../../web/job/closing_devices.ts";

const device = (name, time, holding) => ({
  name,
  holding,
  revoked_at: null,
  last_seen_at: time && `2026-03-14T${time}:00.000Z`,
});
const names = (found) =>
  Object.fromEntries(Object.entries(found).map(([key, of]) => [key, of.map(({ name }) => name)]));

test("only a device in reach holds nothing back; one that is silent said so at its last word alone", () => {
  const found = byLastHeard([
    device("desk", "17:30", 0),
    device("table", "17:29", 0),
    device("porter", "16:02", 0),
    device("door", "16:40", 3),
    device("bench", null, null),
  ]);
  const taken_off = { ...device("lost", "17:30", 0), revoked_at: "2026-03-14T17:30:00.000Z" };
  assert.deepEqual(names(byLastHeard([taken_off])).silent, ["lost"], "what it has since comes no more");
  assert.deepEqual(names(found), {
    holding: ["door"],
    inReach: ["desk", "table"],
    silent: ["porter"],
    neverSaid: ["bench"],
  });
});

test("with no office the records tell when each device last worked, the one silent longest first", () => {
  const said = (device_id, made_by, made_at) => ({ value: "", device_id, made_by, made_at });
  const records = [
    { fields: { a: said("one", "ana", "2026-03-14T10:00"), b: said("two", "ned", "2026-03-14T09:00") } },
    { fields: { a: said("one", "eve", "2026-03-14T11:00"), b: said("", "ned", "2026-03-14T12:00") } },
  ];
  assert.deepEqual(lastWork(records), [
    { device_id: "two", made_by: "ned", made_at: "2026-03-14T09:00" },
    { device_id: "one", made_by: "eve", made_at: "2026-03-14T11:00" },
  ]);
});
