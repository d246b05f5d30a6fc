/**
 * What this device keeps after the office has answered, and how it finds that the office has lost something.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { mainOf, recordsText, recordTitle } from "../../web/job/record_text.ts";
import { fieldValue } from "../../web/job/values.ts";
import { write } from "../../web/local/changes.ts";
import { closeDatabase, transact } from "../../web/local/database.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import {
  keptHere,
  letGoOfAnswered,
  madeWhole,
  makeRoom,
  meet,
  photosStand,
  photosToAskFor,
  toldLast,
} from "../../web/local/keeping.ts";
import { lacking, openAgain } from "../../web/local/lacking.ts";
import { loadAgain } from "../../web/local/load.ts";
import { device, forgotten, photos, record, refused, waiting } from "../../web/local/memory.ts";
import { keep, settle, takeBatch } from "../../web/local/outbox.ts";
import { confirmed, photoBytes, photosOnlyHere, photosToSend } from "../../web/local/photos.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { hear as hearInRound, round } from "../../web/sync/round.ts";
import { note, standing } from "../../web/sync/status.ts";
import { Items } from "./items.js";

const ITEM = "019cebae-7d18-7683-87ec-1bf1c85c4675";
const VISIT = "019cebae-6a1b-7f0c-8f40-5a2b7c9d1e03";
const DAY = "019cebae-65a8-7820-a7e3-5594aa6b5d0a";
const [A, B] = ["a".repeat(64), "b".repeat(64)];

const STANDS = {
  epoch: "e1",
  office_seq: 10,
  chain: "c10",
  known_chain: null,
  proof: "p10",
  device_seq: 0,
  safe_seq: null,
  hearing: false,
};

/** Hear where the office stands, as if this device had said what it was told last. */
const hear = (changes) =>
  meet({ ...STANDS, known_chain: toldLast().known_chain || null, ...changes }, toldLast());

/** Keep it and have it answered; its office_seq is 10 more than its device_seq. */
async function answered(field, value, outcome = "kept") {
  const op = await keep("set_item", { item_id: ITEM, field, value });
  await takeBatch(100);
  const problem = outcome === "kept" ? null : { code: "no", title: "No", detail: "no", hint: "" };
  await settle([answer(op, outcome, problem)]);
  return op;
}

const answer = ({ operation_id, device_seq }, outcome, problem = null) => ({
  operation_id,
  outcome,
  office_seq: outcome === "waiting" ? null : device_seq + 10,
  disagreement: false,
  problem,
});

const answeredHere = () =>
  transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAllKeys());

const a_record = (kind, record_id, fields = {}) => ({
  kind,
  record_id,
  day_id: DAY,
  visit_id: VISIT,
  opened_at: "",
  opened_by: "",
  fields,
  disagreements: [],
});

const a_photo = (sha256, more) => ({
  sha256,
  size: 3,
  media_type: "image/jpeg",
  is_thumb: false,
  at_office: false,
  ...more,
});

async function store_photo(sha256, more = {}) {
  await write(["photo", "photo_bytes"], async (tx) => {
    await tx.put("photo", a_photo(sha256, more));
    await tx.put("photo_bytes", new ArrayBuffer(3), sha256);
  });
}

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  globalThis.localStorage = new Items();
  await write(["setting", "record"], async (tx) => {
    await tx.remember("device", {
      device_id: "d1",
      role: "table",
      person_id: "hester",
      epoch: "e1",
      cursor: 7,
    });
    await tx.put("record", a_record("item", ITEM));
    await tx.put("record", a_record("day", DAY));
  });
  await loadAgain();
  assert.equal(await hear({}), false);
});

test("what was answered stays here, kept and refused alike, in the same transaction as the answer", async () => {
  await answered("maker", "unmarked");
  await answered("materials", "tin", "refused");
  assert.deepEqual(await answeredHere(), [1, 2]);
  assert.equal(waiting.value.length, 0);
  assert.equal(refused.value.length, 1);
  const { operations } = await keptHere();
  assert.equal(operations.count, 2);
  assert.ok(operations.bytes > 100);
});

test("it goes once it stands in every second place, the oldest first, and none behind one that does not", async () => {
  for (const field of ["maker", "materials", "packaging"]) await answered(field, "x");
  await hear({ office_seq: 13, device_seq: 3, safe_seq: 0 });
  await letGoOfAnswered("");
  assert.deepEqual(await answeredHere(), [1, 2, 3], "copies are set up, and none is in reach");
  await hear({ office_seq: 13, device_seq: 3, safe_seq: 12 });
  await letGoOfAnswered("");
  assert.deepEqual(await answeredHere(), [3]);
  assert.equal((await takeBatch(10)).holds_from, 3);
});

/** When the office hears of the closing in these tests, by its own clock; and that clock so many days later. */
const HEARD = Date.parse("2026-03-14T18:00:00.000Z");
const officeDays = (count) => new Date(HEARD + count * 24 * 3600 * 1000).toISOString();

const closedBy = (operation_id, made_at) => ({
  closed: { value: {}, operation_id, made_by: "", made_at, device_id: "" },
});
const dayFromOffice = (fields) =>
  storeFeed({ records: [a_record("day", DAY, fields)], cursor: 8, epoch: "e1" });

test("with no second place it stays until 30 days after the office was heard to have its day closed", async () => {
  await answered("maker", "unmarked");
  await letGoOfAnswered(officeDays(400));
  assert.deepEqual(await answeredHere(), [1], "the day is not closed");
  await dayFromOffice(closedBy("c", officeDays(0)));
  await letGoOfAnswered(officeDays(0));
  await letGoOfAnswered(officeDays(29.9));
  assert.deepEqual(await answeredHere(), [1]);
  await letGoOfAnswered(officeDays(30.1));
  assert.deepEqual(await answeredHere(), []);
});

test("the clock of the device that closed the day lets nothing go", async () => {
  await answered("maker", "unmarked");
  await dayFromOffice(closedBy("c", officeDays(-200)));
  await letGoOfAnswered(officeDays(0));
  assert.deepEqual(await answeredHere(), [1]);
});

test("nothing is let go of while the office's time is not known", async () => {
  await answered("maker", "unmarked");
  await dayFromOffice(closedBy("c", officeDays(0)));
  await letGoOfAnswered(officeDays(0));
  await letGoOfAnswered("");
  await letGoOfAnswered("soon");
  assert.deepEqual(await answeredHere(), [1]);
  await letGoOfAnswered(officeDays(31));
  assert.deepEqual(await answeredHere(), [], "an office with no time did not count as a closing");
});

test("a day that is opened and closed again, and an office that lost something, begin the 30 days anew", async () => {
  await answered("maker", "unmarked");
  await dayFromOffice(closedBy("c", officeDays(0)));
  await letGoOfAnswered(officeDays(0));
  await dayFromOffice({});
  await letGoOfAnswered(officeDays(31));
  await dayFromOffice(closedBy("c2", officeDays(0)));
  await letGoOfAnswered(officeDays(32));
  assert.deepEqual(await answeredHere(), [1]);
  await hear({ office_seq: 4 });
  await settle([answer((await takeBatch(10)).operations[0], "kept")]);
  await letGoOfAnswered(officeDays(63));
  assert.deepEqual(await answeredHere(), [1]);
  await letGoOfAnswered(officeDays(94));
  assert.deepEqual(await answeredHere(), []);
});

test("a closing that the office has not answered yet does not count", async () => {
  await answered("maker", "unmarked");
  await keep("close_day", { day_id: DAY, closed_by: "Ana", second_by: "Hester", named: [] });
  await letGoOfAnswered(officeDays(0));
  await letGoOfAnswered(officeDays(31));
  assert.deepEqual(await answeredHere(), [1]);
});

for (const [what, changes, why] of [
  ["another epoch", { epoch: "e2", office_seq: 14, device_seq: 1 }, "another office"],
  ["fewer operations than it had", { office_seq: 9, device_seq: 1 }, "older"],
  ["fewer answers to this device", { office_seq: 20, device_seq: 1 }, "older"],
  [
    "another log under the same numbers",
    { office_seq: 20, device_seq: 2, known_chain: "other" },
    "another log",
  ],
  ["a log that does not reach so far", { office_seq: 20, device_seq: 2, known_chain: null }, "another log"],
]) {
  test(`an office with ${what} has lost something: all of it is read anew and sent again`, async () => {
    await answered("maker", "unmarked");
    await answered("materials", "tin");
    await hear({ office_seq: 12, chain: "c12", device_seq: 2 });
    assert.equal(forgotten.value, null);
    assert.equal(await hear(changes), true);
    assert.equal(forgotten.value.why, why);
    assert.equal(device.value.cursor, 0);
    assert.equal(device.value.epoch, changes.epoch ?? "e1");
    assert.deepEqual(
      waiting.value.map(({ device_seq }) => device_seq),
      [1, 2],
      "what it has may stand there under other numbers",
    );
    assert.deepEqual(await answeredHere(), []);
    assert.equal(fieldValue(record(ITEM), "materials"), "tin", "nothing leaves the screen");
    assert.equal(await hear({ ...changes, known_chain: toldLast().known_chain }), false, "it is found once");
  });
}

test("what an office that was begun anew cannot be sent is told, and a day is set up again from here", async () => {
  const tables = [{ table_id: "t1", name: "Table 1" }];
  const person = { person_id: "hester", name: "Hester Voss", roles: ["valuer"] };
  const run = { first: 1, last: 100, given_to: "Door", for_device_id: "d7" };
  const day = { house: "Quillon", place: "Hall", held_on: "2026-03-14", currency: "GBP", tables };
  await write(["record"], async (tx) => {
    await tx.put("record", a_record("visit", VISIT, { ticket: { value: "17" } }));
    const fields = {
      "people/hester": { value: person },
      "ticket-runs/r1": { value: run, operation_id: "op-1" },
    };
    await tx.put("record", { ...a_record("day", DAY, fields), ...day });
  });
  assert.equal(await hear({ epoch: "e2", office_seq: 0, chain: "" }), true);
  assert.deepEqual(lacking(), [], "it has not been heard to the end");
  await storeFeed({ records: [a_record("item", ITEM)], cursor: 1, epoch: "e2" });
  await madeWhole();
  assert.deepEqual(
    lacking().map(({ kind }) => kind),
    ["day", "visit"],
  );
  assert.match(recordsText(lacking()), /Hester Voss(.|\n)*Visit 17\n {2}Ticket: 17/i);
  const { operation_id: _, made_at: _at, ...sent } = await openAgain(lacking()[0]);
  assert.deepEqual(
    lacking().map(({ kind }) => kind),
    ["visit"],
    "what opens the day is among what waits here, and counts once",
  );
  assert.equal(sent.kind, "open_day");
  assert.deepEqual(
    { ...day, day_id: DAY, people: [person] },
    Object.fromEntries(["day_id", "people", ...Object.keys(day)].map((name) => [name, sent[name]])),
  );
  const given = waiting.value.find(({ kind }) => kind === "give_tickets");
  assert.deepEqual(
    { first: given.first, last: given.last, for_device_id: given.for_device_id, run_id: given.run_id },
    { first: 1, last: 100, for_device_id: "d7", run_id: "r1" },
    "nobody is given tickets of this run anew",
  );
  assert.equal(given.seen, null, "this office never knew who had it before");
  await storeFeed({ records: [{ ...a_record("day", DAY), ...day }], cursor: 2, epoch: "e2" });
  assert.deepEqual(
    lacking().map(({ kind }) => kind),
    ["visit"],
  );
});

test("at the desk is said only of an office that knows this device, is heard, and has what it shows", async () => {
  await write(["record"], (tx) => tx.put("record", a_record("visit", VISIT)));
  note({ lastContactAt: null, problem: null, out_of_reach: false });
  assert.equal(standing(), "not heard yet");
  note({ lastContactAt: 1 });
  assert.equal(standing(), "at desk");
  note({ problem: { code: "not_paired", words: "", hint: "" } });
  assert.equal(standing(), "unknown");
  note({ problem: null, out_of_reach: true });
  assert.equal(standing(), "not reached");
  note({ out_of_reach: false });
  await hear({ epoch: "e2", office_seq: 0, chain: "" });
  assert.equal(standing(), "brought again");
  await madeWhole();
  assert.equal(standing(), "lacking");
  await storeFeed({ records: [ITEM, VISIT, DAY].map((id) => record(id)), cursor: 1, epoch: "e2" });
  assert.equal(standing(), "at desk");
  await rememberDevice({ revoked: true });
  assert.equal(standing(), "unknown");
});

test("a list of what is lacking names whose it is, and each thing once", () => {
  const owner = { ticket: { value: "B01" }, "consignor/name": { value: "Hester Quillfeather" } };
  const visit = a_record("visit", VISIT, owner);
  assert.equal(recordTitle(visit), "Visit B01: Hester Quillfeather");
  const private_visit = a_record("visit", VISIT, { ...owner, private: { value: "yes" } });
  assert.doesNotMatch(recordTitle(private_visit), /Hester/);
  const alone = { ...a_record("item", "other"), visit_id: "v2" };
  const all = [a_record("day", DAY), visit, a_record("item", ITEM), alone];
  assert.deepEqual(mainOf(all), [visit, alone]);
});

test("what the feed says of office, place and day is this device's from then on, whichever of them is new", async () => {
  const works = () => [device.value.epoch, device.value.cursor, device.value.day_id];
  await storeFeed({ records: [], cursor: 7, epoch: "e2" });
  assert.deepEqual(works(), ["e2", 7, ""]);
  await storeFeed({ records: [], cursor: 7, epoch: "e2", day_id: DAY });
  assert.deepEqual(works(), ["e2", 7, DAY]);
  await storeFeed({ records: [], cursor: 8, epoch: "e2", day_id: DAY });
  assert.deepEqual(works(), ["e2", 8, DAY]);
  await storeFeed({ records: [], cursor: 8, epoch: "e3", day_id: DAY });
  assert.deepEqual(works(), ["e3", 8, DAY]);
});

test("whoever hears of a loss is told of it, and one more round is to follow", async () => {
  await hear({ office_seq: 12, chain: "c12", device_seq: 1 });
  const says = (changes) => ({
    office: { ...STANDS, known_chain: toldLast().known_chain || null, ...changes },
  });
  round.again = false;
  assert.equal(await hearInRound(says({ office_seq: 13, chain: "c13", device_seq: 1 }), toldLast()), false);
  assert.equal(round.again, false);
  const lost = says({ epoch: "e2", office_seq: 0, chain: "" });
  assert.equal(await hearInRound(lost, toldLast()), true);
  assert.equal(round.again, true);
  const since = says({ epoch: "e2", office_seq: 0, chain: "" });
  assert.equal(await hearInRound(since, toldLast()), false, "it is found once");
  assert.equal(round.again, true, "and the round is still to follow");
  round.again = false;
});

test("an office that only went on has lost nothing", async () => {
  await answered("maker", "unmarked");
  await hear({ office_seq: 12, chain: "c12", device_seq: 1 });
  assert.equal(
    await hear({ office_seq: 40, chain: "c40", device_seq: 1, safe_seq: 3, hearing: true }),
    false,
  );
  assert.equal(forgotten.value, null);
});

test("what is sent again shows once, whether the office's copy of the record has it or not", async () => {
  await answered("maker", "unmarked");
  const other = { value: "marked", operation_id: "op-2", made_by: "ana", made_at: "", device_id: "d2" };
  await storeFeed({ records: [a_record("item", ITEM, { maker: other })], cursor: 8, epoch: "e1" });
  await hear({ office_seq: 0, chain: "0", epoch: "e2" });
  assert.deepEqual(record(ITEM).disagreements, [], "it was built upon by somebody else before it was lost");
  assert.equal(fieldValue(record(ITEM), "maker"), "marked");
  await storeFeed({ records: [a_record("item", ITEM)], cursor: 1, epoch: "e2" });
  assert.equal(fieldValue(record(ITEM), "maker"), "unmarked", "this office has not heard of it yet");
  const { operations } = await takeBatch(10);
  assert.deepEqual(
    Object.keys(operations[0]).filter((name) => ["again", "waits", "outcome"].includes(name)),
    [],
  );
  await settle([answer(operations[0], "kept")]);
  assert.equal(fieldValue(record(ITEM), "maker"), "unmarked");
  assert.deepEqual(record(ITEM).disagreements, []);
});

test("what goes again shows on a record only once that was read anew, and only if it had been taken", async () => {
  await answered("maker", "unmarked");
  await answered("materials", "tin", "refused");
  const other = { value: "marked", operation_id: "op-2", made_by: "ana", made_at: "", device_id: "d2" };
  await storeFeed({ records: [a_record("item", ITEM, { maker: other })], cursor: 8, epoch: "e1" });
  await hear({ office_seq: 0, chain: "0", epoch: "e2" });
  const shown = () => ["maker", "materials"].map((field) => fieldValue(record(ITEM), field));
  await storeFeed({ records: [a_record("day", DAY)], cursor: 1, epoch: "e2" });
  assert.deepEqual(shown(), ["marked", undefined], "the item stands as it was told before");
  assert.deepEqual(record(ITEM).disagreements, []);
  await storeFeed({ records: [a_record("item", ITEM)], cursor: 2, epoch: "e2" });
  assert.deepEqual(shown(), ["unmarked", undefined]);
});

test("a number that an office gave before it lost something says nothing of its copies now", async () => {
  await answered("maker", "unmarked"); // 11 at the office as it was
  await hear({ epoch: "e2", office_seq: 23, device_seq: 1, safe_seq: 22 }); // a copy brought it in as 23
  await letGoOfAnswered("");
  const [again] = (await takeBatch(10)).operations;
  assert.equal(again.device_seq, 1);
  await settle([{ ...answer(again, "kept"), office_seq: 23 }]);
  await letGoOfAnswered("");
  assert.deepEqual(await answeredHere(), [1]);
  await hear({ epoch: "e2", office_seq: 23, device_seq: 1, safe_seq: 23 });
  await letGoOfAnswered("");
  assert.deepEqual(await answeredHere(), []);
});

test("what is asked again only for its number does not cover what somebody built upon it", async () => {
  await answered("maker", "unmarked");
  await hear({ epoch: "e2", office_seq: 23, device_seq: 1 });
  const other = { value: "marked", operation_id: "op-2", made_by: "ana", made_at: "", device_id: "d2" };
  await storeFeed({ records: [a_record("item", ITEM, { maker: other })], cursor: 1, epoch: "e2" });
  assert.equal(fieldValue(record(ITEM), "maker"), "marked");
  assert.deepEqual(record(ITEM).disagreements, []);
});

test("a refused one that is refused again is not listed a second time after it was corrected", async () => {
  await answered("maker", "unmarked", "refused");
  await write(["refused"], (tx) => tx.delete("refused", refused.value[0].operation_id)); // somebody corrected it
  await hear({ epoch: "e2", office_seq: 0 });
  const { operations, dealt_with } = await takeBatch(10);
  assert.deepEqual(dealt_with, [operations[0].operation_id], "an office that forgot may not take it now");
  await settle([answer(operations[0], "refused")]);
  assert.equal(refused.value.length, 0);
  assert.deepEqual(await answeredHere(), [1]);
});

test("a refused one that nobody has corrected yet is judged anew by an office that forgot it", async () => {
  await answered("maker", "unmarked", "refused");
  await hear({ epoch: "e2", office_seq: 0 });
  const { operations, dealt_with } = await takeBatch(10);
  assert.deepEqual(dealt_with, []);
  await settle([answer(operations[0], "kept")]);
  assert.equal(refused.value.length, 0);
});

test("one that waits stays, says for what, and is not sent before those behind it have been", async () => {
  for (const field of ["maker", "materials", "packaging"])
    await keep("set_item", { item_id: ITEM, field, value: "x" });
  const [first] = (await takeBatch(1)).operations;
  await settle([
    answer(first, "waiting", { code: "waits_for_more", title: "", detail: "There is no item.", hint: "" }),
  ]);
  assert.equal(waiting.value[0].waits.detail, "There is no item.");
  const next = (await takeBatch(1, first.device_seq)).operations;
  assert.deepEqual(
    next.map(({ device_seq }) => device_seq),
    [2],
  );
});

test("an original stays when the office has it, and goes when it is safe", async () => {
  await store_photo(A);
  await confirmed([A]);
  assert.deepEqual(photosToSend(), []);
  assert.equal((await photoBytes(A)).byteLength, 3);
  assert.deepEqual((await keptHere()).originals, { count: 1, bytes: 3 });
  await hear({ office_seq: 11, safe_seq: 11 });
  assert.deepEqual(photosToAskFor(), [A]);
  await photosStand([A], new Set([A]), new Set());
  assert.equal((await photoBytes(A)).byteLength, 3);
  await photosStand([A], new Set([A]), new Set([A]));
  assert.equal(await photoBytes(A), undefined);
  assert.deepEqual((await keptHere()).originals, { count: 0, bytes: 0 });
});

test("a small picture stays for the screens that show its thing, and goes with that once it is safe", async () => {
  await store_photo(A, { is_thumb: true, at_office: true });
  const fields = { "photos/p": { value: { thumb_sha256: A } } };
  const item = {
    kind: "item",
    record_id: "i",
    day_id: "d",
    visit_id: "v",
    opened_at: "",
    fields,
    disagreements: [],
  };
  await write(["record"], (tx) => tx.put("record", item));
  await photosStand([A], new Set([A]), new Set([A]));
  assert.equal((await photoBytes(A)).byteLength, 3);
  await write(["record"], (tx) => tx.delete("record", "i"));
  await photosStand([A], new Set([A]), new Set());
  assert.deepEqual((await keptHere()).thumbs, { count: 1, bytes: 3 });
  await photosStand([A], new Set([A]), new Set([A]));
  assert.equal(await photoBytes(A), undefined);
  assert.deepEqual((await keptHere()).thumbs, { count: 0, bytes: 0 });
});

test("an office that has lost something is asked for its photos, and sent those that it lacks", async () => {
  await store_photo(A, { at_office: true });
  await store_photo(B, { at_office: true });
  await hear({ epoch: "e2", office_seq: 0 });
  assert.equal(photosOnlyHere().length, 2, "it is not certain that the office has them");
  assert.deepEqual(photosToAskFor().sort(), [A, B]);
  await photosStand([A, B], new Set([A]), new Set());
  assert.deepEqual(
    photosToSend().map(({ sha256 }) => sha256),
    [B],
  );
  assert.deepEqual(photosOnlyHere().length, 1);
});

/** A device whose storage is all but full. */
function full() {
  Object.defineProperty(navigator, "storage", {
    configurable: true,
    value: { estimate: async () => ({ quota: 1000, usage: 848 }) },
  });
}

test("originals make room while there is no second place, the longest confirmed first", async () => {
  full();
  await store_photo(A, { at_office: true, confirmed_at: "2026-03-14T10:00:00.000Z" });
  await store_photo(B, { at_office: true, confirmed_at: "2026-03-14T09:00:00.000Z" });
  assert.equal(await makeRoom(), false, "there is room: 15 of a hundred are free");
  assert.equal(await makeRoom(2), true);
  assert.equal(await photoBytes(B), undefined);
  assert.equal((await photoBytes(A)).byteLength, 3);
  assert.equal(photos.value.length, 2, "what they are stays known");
});

test("no original makes room that only this device has, or while a second place is to take it", async () => {
  await store_photo(A);
  await store_photo(B, { at_office: true, unsure: true });
  assert.equal(await makeRoom(1), false);
  await store_photo(B, { at_office: true, is_thumb: true });
  assert.equal(await makeRoom(1), false, "small pictures stay for the screens");
  await store_photo(B, { at_office: true });
  await hear({ office_seq: 11, safe_seq: 0 });
  assert.equal(await makeRoom(1), false);
});

test("what was told before a loss is said again until the office waits for nobody any more", async () => {
  const again = () => [toldLast().proof, toldLast().before_loss];
  assert.deepEqual(again(), ["p10", ""]);
  await hear({ office_seq: 3, chain: "c3", proof: "p3", known_chain: null });
  assert.deepEqual(again(), ["p3", "p10"]);
  await hear({ office_seq: 4, chain: "c4", proof: "p4", hearing: true });
  // Put back once more: it looks as it did after the first time, and has forgotten that it waits.
  await hear({ office_seq: 3, chain: "c3", proof: "p3b", known_chain: null });
  await hear({ office_seq: 3, chain: "c3", proof: "p3b", hearing: true });
  await closeDatabase();
  await loadAgain();
  assert.deepEqual(again(), ["p3b", "p10"]);
  await hear({ office_seq: 12, chain: "c12", proof: "p12" });
  assert.deepEqual(again(), ["p12", ""]);
});

test("a few photos are asked for in turn, since an office can lose photos alone", async () => {
  const names = [...Array(50).keys()].map((number) => String(number).padStart(64, "0"));
  for (const name of names) await store_photo(name, { at_office: true });
  await store_photo(A, { at_office: true, freed: true });
  const rounds = [photosToAskFor(), photosToAskFor(), photosToAskFor()];
  assert.ok(rounds.every(({ length }) => length === 20));
  assert.deepEqual([...new Set(rounds.flat())].sort(), names);
  await photosStand([names[0]], new Set(), new Set());
  assert.deepEqual(
    photosToSend().map(({ sha256 }) => sha256),
    [names[0]],
  );
});

test("an original that was let go of before that was written down is no picture that only this phone has", async () => {
  await store_photo(A, { at_office: true, unsure: true });
  await write(["photo_bytes"], (tx) => tx.delete("photo_bytes", A)); // and the app ended there
  await photosStand([A], new Set(), new Set());
  assert.deepEqual(photosOnlyHere(), []);
  assert.deepEqual(photosToSend(), []);
  assert.equal(photos.value[0].freed, true);
});
