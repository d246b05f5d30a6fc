/**
 * What the office refused since it did not know something is sent again once it may know it: what another phone brings
 * after the manager had said that no other one would come, or while devices are heard out anew. The office is a
 * function in place of the network; the database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import { refused, waiting } from "../../web/local/memory.ts";
import { correct, keep, sendAgain } from "../../web/local/outbox.ts";
import { openedAs, storeOpened } from "../../web/local/store_opened.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { standsAt } from "./an_office.js";
import { Items } from "./items.js";

const [DAY, VISIT, ITEM, OWN, MET, STOP] = ["02", "03", "04", "05", "06", "07"].map(
  (end) => `019cebae-6a1b-7f0c-8f40-5a2b7c9d1e${end}`,
);
const NOW = "2026-03-14T11:15:00.000Z";
const RECORDS = {
  [DAY]: { record_id: DAY, kind: "day", day_id: DAY, fields: {}, disagreements: [] },
  [VISIT]: { record_id: VISIT, kind: "visit", day_id: DAY, fields: {}, disagreements: [] },
  [ITEM]: { record_id: ITEM, kind: "item", visit_id: VISIT, day_id: DAY, fields: {}, disagreements: [] },
};

globalThis.localStorage = new Items();
mock.timers.enable({ apis: ["setTimeout"] }); // the next round is never due here

/**
 * The office: which records it has and has told of, what it was sent, and what it answered by id, as its log does.
 * `lacks` says by which code it refuses an operation that it would take otherwise.
 */
let office;
const NOTHING = () => ({ here: new Set(), told: new Set(), answered: new Map() });

const stands = () => standsAt(office, { hearing: office.hearing });

const REFUSED = { title: "", detail: "", hint: "" };

function judged(op) {
  const before = office.answered.get(op.operation_id);
  if (before) return before;
  const isHere = [op.day_id, op.visit_id, op.item_id].some((id) => office.here.has(id));
  const code = office.lacks(op) || (isHere ? "" : "not_found");
  const outcome = !code ? "kept" : office.hearing ? "waiting" : "refused";
  const answer = { operation_id: op.operation_id, outcome, office_seq: ++office.office_seq };
  const whole = { ...answer, disagreement: false, problem: code ? { ...REFUSED, code } : null };
  if (outcome !== "waiting") office.answered.set(op.operation_id, whole);
  if (!code && op.kind === "open_visit") office.here.add(op.visit_id);
  if (!code && op.kind === "open_item") office.here.add(op.item_id);
  return whole;
}

/** Another device has set a field of a record, or only something that shows with it: the feed tells the record anew. */
function changes(record_id, fields = {}) {
  const record = office.records[record_id];
  const office_seq = ++office.office_seq;
  office.records[record_id] = { ...record, office_seq, fields: { ...record.fields, ...fields } };
  office.told.delete(record_id);
}

globalThis.fetch = async (path, { body } = {}) => {
  const says = () => ({ office: stands(), office_time: NOW });
  if (path.startsWith("/sync/operations")) {
    const { operations } = JSON.parse(body);
    office.sent.push(...operations);
    const answers = operations.map(judged);
    return Response.json({ ...says(), answers });
  }
  if (path.startsWith("/sync/feed")) {
    const untold = [...office.here].filter((id) => !office.told.has(id));
    office.told = new Set(office.here);
    const records = untold.flatMap((id) => office.records[id] ?? []);
    return Response.json({ ...says(), records, cursor: office.office_seq, more: false, epoch: office.epoch });
  }
  return new Response(null, { status: 304 });
};

beforeEach(async () => {
  office = { epoch: "e1", office_seq: 4, hearing: false, sent: [], ...NOTHING() };
  Object.assign(office, { records: { ...RECORDS }, lacks: () => "" });
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await loadAgain();
  const device = { device_id: "d1", name: "T", role: "table", person_id: "otis", epoch: "e1" };
  await write(["setting", "record"], async (tx) => {
    await tx.remember("device", { ...device, cursor: 0, clock_offset_ms: 0 });
    for (const record of Object.values(RECORDS)) await tx.put("record", record);
  });
});

/** The office is put back from a copy of before that it had `here`. */
function isPutBack(here = []) {
  Object.assign(office, { epoch: "e2", office_seq: 2, ...NOTHING(), here: new Set(here) });
}

async function round() {
  await syncNow();
  while (status.value.busy) await new Promise(setImmediate);
  assert.equal(status.value.problem, null);
}

const says = (field, value, more = {}) => keep("set_item", { item_id: ITEM, field, value, ...more });
/** What is said of the item is refused for this reason. */
async function refusedFor(code) {
  office.here = new Set([DAY, VISIT, ITEM]);
  office.lacks = () => code;
  await round();
  await says("materials", "tin");
  await round();
}
const values = (operations) => operations.map(({ value }) => value);

/** This phone's edits of an item that Table 2 brought, at an office that was put back from before that. */
async function refusedTooEarly() {
  office.here = new Set([VISIT, ITEM]);
  await round();
  await says("materials", "tin");
  await round();
  await says("materials", "brass");
  await round();
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
  isPutBack();
  await round();
  await round();
  assert.deepEqual(values(refused.value.map(({ operation }) => operation)).sort(), ["brass", "tin"]);
  office.sent = [];
  await round();
  assert.deepEqual(office.sent, [], "while nothing has come it is not asked for each round");
}

test("edits go again by themselves once another phone has brought the item", async () => {
  await refusedTooEarly();
  office.here = new Set([VISIT, ITEM]);
  await round();
  assert.deepEqual(values(office.sent), ["tin", "brass"]);
  assert.equal(office.sent[1].seen, office.sent[0].operation_id, "the second had seen the first");
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
  office.sent = [];
  await round();
  assert.deepEqual(office.sent, []);
});

test("they wait at an office that hears devices out anew, and are refused again if it ends with nothing", async () => {
  await refusedTooEarly();
  office.hearing = true;
  await round();
  assert.deepEqual([values(waiting.value), refused.value.length], [["tin", "brass"], 0]);
  office.hearing = false;
  await round();
  await round();
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 2]);
  office.hearing = true;
  await round();
  office.here = new Set([VISIT, ITEM]);
  await round();
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
});

test("what was opened on the visit that came, and what is said of it, go with it", async () => {
  await keep("open_item", { item_id: OWN, visit_id: VISIT, day_id: DAY });
  await keep("set_item", { item_id: OWN, field: "materials", value: "oak" });
  await write(["record"], (tx) => tx.delete("record", VISIT));
  await round();
  assert.equal(refused.value.length, 2);
  office.here.add(VISIT);
  await round();
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
  assert.ok(office.here.has(OWN));
});

test("what was refused for another reason stays for a person to look at", async () => {
  office.lacks = () => "already_there";
  await says("materials", "tin");
  await round();
  office.here.add(ITEM);
  office.sent = [];
  Object.assign(office, { hearing: true });
  await write(["record"], (tx) => tx.delete("record", ITEM));
  await round();
  assert.deepEqual([office.sent, refused.value.length], [[], 1]);
});

for (const code of ["not_found", "person_not_on_day", "name_not_on_day"])
  test(`what was refused as ${code} goes again to an office that hears devices out`, async () => {
    await refusedFor(code);
    assert.equal(refused.value.length, 1);
    office.hearing = true;
    await round();
    assert.deepEqual([waiting.value.length, refused.value.length], [1, 0]);
  });

const kinds = (operations) => operations.map(({ kind }) => kind);

/** Whoever works here was added to the day after the copy was made. */
const lacksThePerson = ({ visit_id, item_id }) => {
  if (office.records[DAY].fields["people/otis"]) return "";
  return visit_id ? "person_not_on_day" : office.here.has(item_id) ? "" : "not_found";
};

test("what somebody made goes again once another phone has brought that they are of the day", async () => {
  office.here.add(DAY);
  office.lacks = lacksThePerson;
  await keep("open_visit", { visit_id: MET, day_id: DAY, ticket: "", bags: 1, kinds: [] });
  await keep("set_visit", { visit_id: MET, field: "bags", value: 2 });
  await keep("open_item", { item_id: OWN, visit_id: MET, day_id: DAY });
  await keep("set_item", { item_id: OWN, field: "materials", value: "tin" });
  await round();
  await round();
  assert.equal(refused.value.length, 4);
  office.sent = [];
  changes(DAY, { "people/otis": { value: { name: "Otis Cratehope" }, operation_id: "o9" } });
  await round();
  assert.deepEqual(kinds(office.sent), ["open_visit", "set_visit", "open_item", "set_item"]);
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
});

test("of somebody who is not of the day nothing goes again for others who are added to it", async () => {
  await refusedFor("person_not_on_day");
  office.sent = [];
  changes(DAY, { "people/anna": { value: { name: "Anna Pellworth" }, operation_id: "o9" } });
  changes(ITEM, { maker: { value: "Pell", operation_id: "o8" } });
  await round();
  await round();
  assert.deepEqual([office.sent, refused.value.length], [[], 1]);
});

test("what somebody is correcting waits for them, and does not go again as it was", async () => {
  await decidedTooEarly();
  const one = () => refused.value[0];
  const gone = one();
  assert.ok(await correct(gone, "x", "half ty"));
  assert.equal(one().correction, "half ty");
  changes(ITEM, { [`cautions/${STOP}`]: { value: {}, operation_id: STOP } });
  await round();
  office.hearing = true;
  await round();
  assert.deepEqual([office.sent, one().correction], [[], "half ty"]);
  office.hearing = false;
  assert.ok(await correct(one(), "x", "x")); // taken back, letter by letter
  changes(ITEM, { maker: { value: "Pell", operation_id: "o8" } });
  await round();
  assert.deepEqual([kinds(office.sent), refused.value.length], [["decide_caution"], 0]);
  assert.equal(await correct({ ...gone, operation_id: "gone" }, "x", "y"), false);
});

test("what lost its words does not go again by itself: it would say that there are none", async () => {
  await decidedTooEarly();
  const [one] = refused.value;
  await write(["refused"], (tx) => tx.put("refused", { ...one, taken_once: true, erased: true }));
  changes(ITEM, { [`cautions/${STOP}`]: { value: {}, operation_id: STOP } });
  await round();
  office.hearing = true;
  await round();
  assert.deepEqual([office.sent, refused.value.length], [[], 1]);
});

test("what was taken while somebody corrected it stays with what they typed", async () => {
  await refusedFor("not_the_holder");
  assert.ok(await correct(refused.value[0], "tin", "tin, lead"));
  isPutBack([DAY, VISIT, ITEM]);
  office.lacks = () => "";
  await round();
  await round();
  const [one] = refused.value;
  assert.deepEqual([one.kept, one.correction, one.problem.code], [true, "tin, lead", "taken_since"]);
  office.sent = [];
  await sendAgain(one, { value: "tin, lead" });
  await round();
  assert.deepEqual(
    office.sent.map(({ value, seen }) => [value, seen]),
    [["tin, lead", one.operation_id]],
    "it goes on from what was taken, and stands against nothing",
  );
});

test("what is said of an item goes again once its day has the person", async () => {
  office.here = new Set([DAY, VISIT, ITEM]);
  office.lacks = () => (office.records[DAY].fields["people/otis"] ? "" : "person_not_on_day");
  await round();
  await says("materials", "tin");
  await round();
  assert.equal(refused.value.length, 1);
  changes(DAY, { "people/otis": { value: { name: "Otis Cratehope" }, operation_id: "o9" } });
  await round();
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
});

test("it goes again though what came back stands as this phone had it, since the office lacked it meanwhile", async () => {
  office.here = new Set([DAY, VISIT, ITEM]);
  await round();
  isPutBack();
  await round();
  await says("materials", "tin");
  await round();
  assert.equal(refused.value.length, 1);
  office.here = new Set([ITEM]);
  await round();
  assert.deepEqual([waiting.value.length, refused.value.length], [0, 0]);
});

/** A decision on another phone's Stop, which the office does not have. */
async function decidedTooEarly() {
  office.here = new Set([DAY, VISIT, ITEM]);
  office.lacks = ({ caution_id }) =>
    !caution_id || office.records[ITEM].fields[`cautions/${caution_id}`] ? "" : "not_found";
  await round();
  await keep("decide_caution", { item_id: ITEM, caution_id: STOP, decision: "cleared", decided_by: "x" });
  await round();
  assert.deepEqual(kinds(refused.value.map(({ operation }) => operation)), ["decide_caution"]);
  office.sent = [];
}

test("a decision goes again once another phone has brought the Stop of an item that was here all the time", async () => {
  await decidedTooEarly();
  changes(ITEM, { [`cautions/${STOP}`]: { value: {}, operation_id: STOP } });
  await round();
  assert.deepEqual([kinds(office.sent), refused.value.length], [["decide_caution"], 0]);
});

test("what is still missing is asked for once for each change, and not for one that says nothing new", async () => {
  await decidedTooEarly();
  changes(ITEM, { maker: { value: "Pell", operation_id: "o8" } });
  await round();
  await round();
  assert.deepEqual([kinds(office.sent), refused.value.length], [["decide_caution"], 1]);
  changes(ITEM); // as it is told after this phone's own words
  office.records[OWN] = { ...RECORDS[ITEM], record_id: OWN, visit_id: MET };
  office.here.add(OWN); // an item of another visit
  await round();
  assert.deepEqual([kinds(office.sent), refused.value.length], [["decide_caution"], 1]);
});

test("what the office had taken once goes again, whatever else it was refused for meanwhile", async () => {
  office.here = new Set([DAY, VISIT, ITEM]);
  await round();
  await says("materials", "tin");
  await round();
  isPutBack([DAY, VISIT, ITEM]);
  office.lacks = () => (office.records[ITEM].fields.inside ? "" : "not_the_holder");
  await round();
  await round();
  await says("maker", "Pell"); // this one was never taken
  await round();
  assert.equal(refused.value.length, 2);
  office.sent = [];
  changes(ITEM, { maker: { value: "Lune", operation_id: "o8" } });
  await round();
  assert.deepEqual(
    [values(office.sent), refused.value.length],
    [["tin"], 2],
    "the word that it was taken stays",
  );
  changes(ITEM, { inside: { value: null, operation_id: "o9" } });
  await round();
  assert.deepEqual([values(office.sent), values([refused.value[0].operation])], [["tin", "tin"], ["Pell"]]);
  assert.ok(!office.sent.some((op) => "taken_once" in op), "the office hears nothing of it");
});

const opens = (records, people = {}) => {
  const page = { cursor: 9, records, operations: [], people, others: [], row: null };
  return storeOpened(page, openedAs(page, NOW));
};

test("at a desk it goes again as the entry is opened which another phone has brought", async () => {
  await write(["record", "setting"], async (tx) => {
    await tx.remember("device", { ...(await tx.setting("device")), role: "desk", person_id: "otis" });
    for (const id of Object.keys(RECORDS)) await tx.delete("record", id);
  });
  office.here = new Set([ITEM]);
  office.told = new Set([ITEM]); // no item comes to a desk by the feed
  const entry = [ITEM, VISIT].map((id) => ({ ...RECORDS[id], office_seq: 3 }));
  await opens(entry);
  await round();
  isPutBack();
  await round();
  await says("materials", "tin");
  await round();
  assert.equal(refused.value.length, 1);
  office.sent = [];
  office.here = new Set([ITEM]);
  office.told = new Set([ITEM]);
  await opens(entry); // as it stood here before, to the letter
  await round();
  assert.deepEqual([values(office.sent), waiting.value.length, refused.value.length], [["tin"], 0, 0]);
});

test("of somebody on no list nothing goes again at a desk for what others said, and it does once a list has them", async () => {
  await write(["setting"], async (tx) =>
    tx.remember("device", { ...(await tx.setting("device")), role: "desk", person_id: "otis" }),
  );
  office.here = new Set([DAY, VISIT, ITEM]);
  office.lacks = () => "person_not_on_day";
  const entry = (office_seq) => [{ ...RECORDS[ITEM], office_seq, fields: { maker: { value: office_seq } } }];
  await opens(entry(3));
  await round();
  await says("materials", "tin");
  await round();
  office.sent = [];
  await opens(entry(7), { hester: "Hester Quillfeather" });
  await round();
  assert.deepEqual(office.sent, []);
  office.lacks = () => "";
  await opens(entry(9), { otis: "Otis Cratehope" });
  await round();
  assert.deepEqual([values(office.sent), refused.value.length], [["tin"], 0]);
});

test("an entry that is read again as it was sends nothing", async () => {
  await decidedTooEarly();
  const entry = () => [{ ...RECORDS[ITEM], office_seq: 5 }];
  await opens(entry());
  await opens(entry());
  await round();
  assert.deepEqual(office.sent, []);
});
