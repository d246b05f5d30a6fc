/**
 * What the office refused since it did not know something is sent again once it may know it: an item that another phone
 * brings after the manager had said that no other one would come, or while devices are heard out anew.
 * The office is a function in place of the network; the database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import { refused, waiting } from "../../web/local/memory.ts";
import { keep } from "../../web/local/outbox.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { standsAt } from "./an_office.js";

const [VISIT, ITEM, OWN] = ["03", "04", "05"].map((end) => `019cebae-6a1b-7f0c-8f40-5a2b7c9d1e${end}`);
const NOW = "2026-03-14T11:15:00.000Z";
const RECORDS = {
  [VISIT]: { record_id: VISIT, kind: "visit", day_id: "d", fields: {}, disagreements: [] },
  [ITEM]: { record_id: ITEM, kind: "item", visit_id: VISIT, day_id: "d", fields: {}, disagreements: [] },
};

mock.timers.enable({ apis: ["setTimeout"] }); // the next round is never due here

/** The office: which records it has and has told of, what it was sent, and what it answered by id, as its log does. */
let office;
const NOTHING = () => ({ here: new Set(), told: new Set(), answered: new Map() });

const stands = () => standsAt(office, { hearing: office.hearing });

function judged(op) {
  const before = office.answered.get(op.operation_id);
  if (before) return before;
  const problem = office.problem ?? { code: "not_found", title: "", detail: `No ${op.item_id}`, hint: "" };
  const knows = !office.problem && [op.visit_id, op.item_id].some((id) => office.here.has(id));
  const outcome = knows ? "kept" : office.hearing ? "waiting" : "refused";
  const answer = { operation_id: op.operation_id, outcome, office_seq: ++office.office_seq };
  const whole = { ...answer, disagreement: false, problem: knows ? null : problem };
  if (outcome !== "waiting") office.answered.set(op.operation_id, whole);
  if (knows && op.kind === "open_item") office.here.add(op.item_id);
  return whole;
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
    const records = untold.flatMap((id) => RECORDS[id] ?? []);
    return Response.json({ ...says(), records, cursor: office.office_seq, more: false, epoch: office.epoch });
  }
  return new Response(null, { status: 304 });
};

beforeEach(async () => {
  office = { epoch: "e1", office_seq: 4, hearing: false, sent: [], ...NOTHING() };
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await loadAgain();
  const device = { device_id: "d1", name: "T", role: "table", person_id: "", epoch: "e1" };
  await write(["setting", "record"], async (tx) => {
    await tx.remember("device", { ...device, cursor: 0, clock_offset_ms: 0 });
    for (const record of Object.values(RECORDS)) await tx.put("record", record);
  });
});

async function round() {
  await syncNow();
  while (status.value.busy) await new Promise(setImmediate);
  assert.equal(status.value.problem, null);
}

const says = (field, value, more = {}) => keep("set_item", { item_id: ITEM, field, value, ...more });
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
  Object.assign(office, { epoch: "e2", office_seq: 2, ...NOTHING() });
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
  await keep("open_item", { item_id: OWN, visit_id: VISIT, day_id: "d" });
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
  office.problem = { code: "already_there", title: "", detail: "", hint: "" };
  await says("materials", "tin");
  await round();
  office.here.add(ITEM);
  office.sent = [];
  Object.assign(office, { hearing: true });
  await write(["record"], (tx) => tx.delete("record", ITEM));
  await round();
  assert.deepEqual([office.sent, refused.value.length], [[], 1]);
});
