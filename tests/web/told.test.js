/**
 * What the office told of an owner at a press stands for as long as it is so, and on no disk.
 * The database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { write } from "../../web/local/changes.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeErasures } from "../../web/local/erasures.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { forgetTold, isCorrected, standsNow, tell, toldOf } from "../../web/local/told.ts";
import { begin, DAY } from "./office_here.js";
import { found } from "./whole_storage.js";

const VISIT = "00000002-0000-7000-8000-000000000000";
const AT = "2026-03-14T18:00:00.000Z";
const set = (value) => ({ value, operation_id: "o", made_by: "", made_at: AT, device_id: "" });
const visit = (office_seq, fields = {}) => ({
  ...{ kind: "visit", record_id: VISIT, day_id: DAY, opened_at: "", opened_by: "", office_seq },
  ...{ fields, disagreements: [] },
});
const comes = (record) => storeFeed({ records: [record], cursor: 7, epoch: "e1", day_id: DAY });
const whole = (office_seq, fields = {}) =>
  visit(office_seq, { needs: set("marker-needs"), "consignor/name": set("marker-name"), ...fields });
const told = () => toldOf(VISIT)?.fields["consignor/name"].value;

beforeEach(async () => {
  await begin();
  await rememberDevice({ role: "desk", epoch: "e1" });
  await comes(visit(3));
  tell(whole(3), standsNow(VISIT));
  assert.equal(told(), "marker-name");
});

test("it stands beside the records, of the visit that it was told of, and is stored nowhere", async () => {
  assert.deepEqual(await found(["marker-name", "marker-needs"]), []);
  assert.equal(toldOf("another"), null);
  await comes(visit(3));
  assert.equal(told(), "marker-name");
  forgetTold();
  assert.equal(told(), undefined);
});

test("a correction takes it away, and it may be asked for anew", async () => {
  await comes(visit(5));
  assert.deepEqual([told(), isCorrected(VISIT)], [undefined, true]);
  tell(whole(5), standsNow(VISIT));
  assert.equal(told(), "marker-name");
});

test("what is told may be ahead of the news", async () => {
  tell(whole(9), standsNow(VISIT));
  await comes(visit(9));
  assert.equal(told(), "marker-name");
});

test("of a visit made private it waits for another press, and what was told of it then stays", async () => {
  const isPrivate = { private: set("yes") };
  await comes(visit(5, isPrivate));
  assert.deepEqual([told(), isCorrected(VISIT)], [undefined, false]);
  tell(whole(5, isPrivate), standsNow(VISIT));
  assert.equal(told(), "marker-name");
  await comes(visit(6, isPrivate));
  assert.deepEqual([told(), isCorrected(VISIT)], [undefined, true]);
});

test("an erasure takes it away, also one that is heard while the office answers", async () => {
  const stood = standsNow(VISIT);
  await storeErasures([{ record_id: VISIT, made_at: AT, office_seq: 9 }]);
  assert.deepEqual([told(), isCorrected(VISIT)], [undefined, false]);
  tell(whole(3), stood);
  assert.equal(told(), undefined);
  await comes(visit(9));
  tell(whole(9), standsNow(VISIT)); // what was said since
  assert.equal(told(), "marker-name");
});

for (const [why, leaves] of [
  ["the record leaves the device", () => write(["record"], (tx) => tx.delete("record", VISIT))],
  ["the device is signed off", () => rememberDevice({ revoked: true })],
  ["the office is put back from a copy", () => rememberDevice({ epoch: "e2" })],
])
  test(`it goes when ${why}`, async () => {
    await leaves();
    assert.equal(told(), undefined);
  });
