/**
 * Words that the office has erased: they leave this device, and an office that forgot it is told. The office is a
 * function in place of the network; the database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase, transact } from "../../web/local/database.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { enteredIn, enterInJournal, holdForm } from "../../web/local/held.ts";
import { loadAgain } from "../../web/local/load.ts";
import { held, refused, waiting } from "../../web/local/memory.ts";
import { correct, keep, sendAgain, setAside } from "../../web/local/outbox.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { standsAt } from "./an_office.js";
import { Items } from "./items.js";

const VISIT = "019cebae-6a1b-7f0c-8f40-5a2b7c9d1e03";
const [EARLIER, ERASED, LATER] = ["05", "10", "15"].map((minute) => `2026-03-14T11:${minute}:00.000Z`);
const SALT = "0".repeat(32);
/** SHA-256 of the canonical JSON of SALT and NAME, by the library rfc8785 (RFC 8785) for Python. */
const NAME = 'Zoë "Tumblewick"\n';
const DIGEST = "ed94f466322b768f96f6faa5f73e8aa7c6e09cf6e2e3da74b6959992750421ad";

mock.timers.enable({ apis: ["setTimeout"] }); // the next round is never due here

/** What the office is, and what it was sent. */
let office;
let sent;
let batches;
let forgets;
let outcome;
let problem;
const GONE = { code: "words_erased", title: "Kept without its words", detail: "", hint: "" };

const stands = () => standsAt(office, { erased: office.erasures.length });

globalThis.fetch = async (path, { body } = {}) => {
  const says = { office: stands(), office_time: LATER };
  if (path.startsWith("/sync/operations")) {
    const batch = JSON.parse(body);
    sent.push(...batch.operations);
    batches.push(batch);
    const answers = batch.operations.map(({ operation_id }) => ({
      ...{ operation_id, outcome, office_seq: ++office.office_seq, disagreement: false, problem },
    }));
    return Response.json({ ...says, office: stands(), answers });
  }
  if (path.startsWith("/sync/feed"))
    return Response.json({ ...says, records: [], cursor: 1, more: false, epoch: office.epoch });
  if (path === "/sync/forget") return forgets();
  if (path.startsWith("/sync/erasures")) return Response.json({ erasures: office.erasures });
  return new Response(null, { status: 304 });
};

const answeredHere = () => transact(["answered"], "readonly", (tx) => tx.objectStore("answered").getAll());
const wrote = (value, made_at) =>
  keep("set_consignor", { visit_id: VISIT, field: "name", value, salt: SALT, made_at });

async function paired(role) {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await loadAgain();
  const device = {
    device_id: "d1",
    name: "T",
    role,
    person_id: "",
    epoch: "e1",
    cursor: 0,
    clock_offset_ms: 0,
  };
  await write(["setting"], (tx) => tx.remember("device", device));
}

beforeEach(() => {
  office = { epoch: "e1", office_seq: 4, erasures: [] };
  [sent, batches] = [[], []];
  [outcome, problem] = ["kept", null];
  forgets = () => new Response(null, { status: 204 });
  globalThis.localStorage = new Items();
});

/** The office erases the words of the visit. */
function erase() {
  office.erasures.push({ record_id: VISIT, made_at: ERASED, office_seq: ++office.office_seq });
}

/** A round, and the one more that a loss asks for. */
async function round() {
  await syncNow();
  while (status.value.busy) await new Promise(setImmediate);
  assert.equal(status.value.problem, null);
}

test("words that were erased leave this phone, and their operation keeps their digest in their place", async () => {
  await paired("table");
  await wrote(NAME, EARLIER);
  await round();
  assert.equal((await answeredHere())[0].value, NAME);
  erase();
  await wrote("New Name", EARLIER); // this clock is behind, as the office has seen: it took the words
  await round();
  const [erased, later] = await answeredHere();
  assert.ok(!JSON.stringify(erased).includes("Tumblewick") && !("salt" in erased));
  assert.equal(erased.private_sha256, DIGEST);
  assert.deepEqual([erased.device_seq, erased.field, erased.outcome], [1, "name", "kept"]);
  assert.equal(later.value, "New Name", "it was written since");
});

test("the browser forgets what it was shown of a visit that was erased, and a lost answer is asked for again", async () => {
  await paired("table");
  await wrote(NAME, EARLIER);
  await round();
  erase();
  let asked = 0;
  forgets = () => {
    asked += 1;
    if (asked === 1) throw new TypeError("the line went");
    return new Response(null, { status: 204 });
  };
  await round();
  await closeDatabase();
  await loadAgain(); // the page may be opened anew meanwhile
  await round();
  assert.equal(asked, 3, "with the round that was under way, and with what it had not heard");
  assert.ok(!JSON.stringify(await answeredHere()).includes("Tumblewick"));
  await round();
  assert.equal(asked, 3, "once heard it is done");
});

test("words that were on their way when their owner asked go once they are answered, and a person is told", async () => {
  await paired("table");
  erase();
  await round();
  await wrote(NAME, LATER);
  problem = GONE;
  await round();
  assert.equal((await answeredHere())[0].private_sha256, DIGEST);
  const [one] = refused.value;
  assert.deepEqual([one.kept, one.problem.code, one.operation.value], [true, "words_erased", ""]);
  assert.equal(one.operation.salt, SALT, "what is not a word of hers stays as it was");
  problem = null;
  await sendAgain(one, { value: "New Name" });
  await round();
  assert.deepEqual(refused.value, []);
  const [, again] = await answeredHere();
  assert.equal(again.value, "New Name");
  assert.ok(again.made_at > LATER && again.salt !== SALT, "it is said now");
  problem = GONE;
  await wrote(NAME, LATER);
  await round();
  await setAside(refused.value[0]);
  assert.deepEqual(refused.value, []);
});

test("words that are erased a second time are let go of as well", async () => {
  await paired("table");
  erase();
  await wrote(NAME, LATER);
  await round();
  erase();
  await round();
  assert.equal((await answeredHere())[0].private_sha256, DIGEST);
});

test("of words said since the owner asked, that went as the office heard of it later, a person is told once", async () => {
  await paired("table");
  for (const [value, made_at] of [
    ["Old Name", EARLIER],
    [NAME, LATER],
    ["", LATER],
  ]) {
    await wrote(value, made_at);
    await round();
  }
  erase();
  await round();
  await round();
  assert.deepEqual(
    refused.value.map(({ operation, kept, problem: { code } }) => [operation.device_seq, kept, code]),
    [[2, true, "words_erased"]],
  );
  assert.ok(!JSON.stringify([refused.value, await answeredHere()]).includes("Tumblewick"));
  sent = [];
  await sendAgain(refused.value[0], { value: "New Name" });
  await round();
  assert.deepEqual(
    sent.map(({ value, outcome, office_seq }) => [value, outcome, office_seq]),
    [["New Name", undefined, undefined]],
  );
  assert.deepEqual(refused.value, []);
});

test("what was made before the office told its time is sent by the clock that it was made by", async () => {
  await paired("table");
  const day = 24 * 3600 * 1000;
  const change = (clock_offset_ms) =>
    write(["setting"], async (tx) =>
      tx.remember("device", { ...(await tx.setting("device")), clock_offset_ms }),
    );
  await change(-365 * day);
  await keep("set_consignor", { visit_id: VISIT, field: "name", value: "before" });
  await change(0);
  await keep("set_consignor", { visit_id: VISIT, field: "email", value: "after" });
  await round();
  const made = batches.map(({ operations, sent_at }) => [operations.map(({ value }) => value), sent_at]);
  assert.deepEqual(
    made.map(([values]) => values),
    [["before"], ["after"]],
  );
  const [before, after] = made.map(([, sent_at]) => Date.parse(sent_at) - Date.now());
  assert.ok(Math.abs(before + 365 * day) < day && Math.abs(after) < day);
  assert.ok(batches.every(({ operations }) => operations.every((op) => !("clock_offset_ms" in op))));
});

const FACES = ["consignor/name", "consignor/signatures/s1", "called", "note", "receipts/r1", "photos/p1"];

/** The visit as the office told it last, on a day that is over since. */
async function told(fields) {
  const said = { operation_id: "o1", value: NAME, made_at: EARLIER };
  const told = Object.fromEntries([...FACES, "ticket", "notes"].map((name) => [name, said]));
  const disagreements = [{ field: "consignor/name" }, { field: "ticket" }];
  const record = { record_id: VISIT, kind: "visit", day_id: "d", office_seq: 3, disagreements };
  await write(["record"], (tx) => tx.put("record", { ...record, fields: { ...told, ...fields } }));
}
const visitHere = () => transact(["record"], "readonly", (tx) => tx.objectStore("record").get(VISIT));

test("a record that the office tells no more is without words that were erased, and with those said since", async () => {
  await paired("table");
  await told();
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "01632 960001", salt: SALT });
  await round();
  assert.ok("consignor/telephone" in (await visitHere()).fields);
  erase();
  await keep("set_consignor", { visit_id: VISIT, field: "email", value: "n@new.test", salt: SALT });
  await round();
  await round();
  const { fields, disagreements } = await visitHere();
  assert.deepEqual(Object.keys(fields).sort(), ["consignor/email", "notes", "ticket"]);
  assert.deepEqual(disagreements, [{ field: "ticket" }]);
});

test("what the owner said since then stays, whatever is answered or let go of later", async () => {
  await paired("table");
  await told();
  erase();
  await round();
  await keep("set_consignor", { visit_id: VISIT, field: "email", value: "n@new.test", salt: SALT });
  await round();
  await write(["answered"], async (tx) => tx.delete("answered", (await tx.answered())[0].device_seq));
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "01632 960001", salt: SALT });
  await round();
  await round();
  const here = async () =>
    Object.keys((await visitHere()).fields).filter((name) => name.startsWith("consignor/"));
  assert.deepEqual(await here(), ["consignor/email", "consignor/telephone"]);
  office.erasures.push({ record_id: "another", made_at: LATER, office_seq: ++office.office_seq });
  await round();
  assert.equal((await here()).length, 2);
  office = { epoch: "e2", office_seq: 2, erasures: [] }; // put back from before the erasure
  await round();
  await round();
  await keep("set_consignor", { visit_id: VISIT, field: "name", value: "Pell", salt: SALT });
  await round();
  assert.equal((await here()).length, 3);
});

test("a record that was told since its owner's words were erased stays as it is", async () => {
  await paired("table");
  await told();
  await write(["record"], async (tx) =>
    tx.put("record", { ...(await tx.get("record", VISIT)), office_seq: 5 }),
  );
  erase(); // the fifth of the office's order
  await round();
  assert.ok("consignor/name" in (await visitHere()).fields);
});

test("a refused operation is shown without words that were erased", async () => {
  await paired("table");
  outcome = "refused";
  await wrote(NAME, EARLIER);
  await round();
  const [one] = refused.value;
  assert.ok(await correct(one, NAME, `${NAME}, widow`));
  erase();
  await round();
  assert.deepEqual([refused.value.length, refused.value[0].operation.value], [1, ""]);
  assert.ok(
    !("correction" in refused.value[0]),
    "what somebody was putting in their place is of the owner as well",
  );
  assert.equal(await correct(one, NAME, `${NAME}, widow of`), false, "a key in a page that shows it still");
  assert.ok(!("correction" in refused.value[0]));
});

/** What the office refused of the owner's words, and somebody has begun to put in their place. */
async function refusedHere(made_at = EARLIER) {
  await rememberDevice({ clock_offset_ms: Date.parse(LATER) - Date.now() }); // as the office's time says
  outcome = "refused";
  problem = { code: "hat_does_not_fit", title: "", detail: "", hint: "" };
  await wrote(NAME, made_at);
  await round();
  assert.ok(await correct(refused.value.at(-1), NAME, `${NAME}, widow`));
}
const lookedAt = () =>
  refused.value.map(({ operation, correction, erased }) => [operation.value, correction, erased]);

test("what was refused loses erased words though its answer was let go of, and is said now if at all", async () => {
  await paired("table");
  await refusedHere("2026-03-14T11:12:00.000Z"); // as by a clock that is ahead: the office has it before the erasure
  await write(["answered"], (tx) => tx.delete("answered", 1)); // it stands in every copy
  erase();
  await round();
  assert.deepEqual(lookedAt(), [["", undefined, true]]);
  await correct(refused.value[0], "", "New Name");
  await round();
  await wrote("another word", LATER); // an answer asks for a look at all that is here
  await round();
  assert.deepEqual(lookedAt()[0], ["", "New Name", true], "what was typed since then stays");
  [outcome, sent] = ["kept", []];
  await sendAgain(refused.value[0], { value: "New Name" }, { saidNow: true });
  await round();
  assert.deepEqual(
    [sent[0].value, sent[0].made_at >= LATER, sent[0].salt !== SALT],
    ["New Name", true, true],
  );
});

test("words in the place of erased ones leave as well when all are erased once more", async () => {
  await paired("table");
  await refusedHere();
  erase();
  await round();
  await correct(refused.value[0], "", "New Name");
  erase();
  await round();
  assert.deepEqual(lookedAt(), [["", undefined, true]]);
});

test("forms that were begun on a visit leave with its owner's words, held or in the journal, once", async () => {
  await paired("table");
  await told({ stage: { operation_id: "o1", value: "at-table", made_at: EARLIER, device_id: "d1" } }); // called here
  await refusedHere();
  const item = { ...(await visitHere()), record_id: "item", kind: "item", visit_id: VISIT };
  item.fields = { "findings/found": { value: { certainty: "told" }, operation_id: "f" } };
  item.disagreements = [{ disagreement_id: "two", field: "materials" }];
  await write(["record"], (tx) => tx.put("record", item));
  const id = refused.value[0].operation_id;
  const GO = [
    `#/visit/${VISIT}  Name`,
    `#/outbox ${id} Owner's name`,
    "#/item/item told_words Told",
    "#/item/item/zone/rim finding-notes/found Told",
    "between two",
  ];
  const STAY = [
    "#/item/item materials Materials",
    "#/item/item/zone/rim found Note",
    "#/visit/another  Name",
    "close d",
  ];
  for (const name of [...GO, ...STAY, `receipt ${VISIT}`]) enterInJournal(name, NAME);
  for (const name of [GO[0], STAY[0], `receipt ${VISIT}`]) await holdForm(name);
  enterInJournal(GO[0], `${NAME}, widow`);
  erase();
  await round();
  const here = () =>
    [...held.keys(), ...Object.keys(localStorage)].map((name) => name.replace("journal ", ""));
  assert.deepEqual(here().sort(), [...STAY].sort());
  await loadAgain();
  assert.deepEqual([enteredIn(GO[0]), enteredIn(STAY[0])], [undefined, NAME]);
  enterInJournal(GO[0], "New Name");
  office = { epoch: "e2", office_seq: 5, erasures: office.erasures }; // put back, it tells the same again
  await round();
  await round();
  assert.equal(enteredIn(GO[0]), "New Name");
});

test("an office that was put back and tells an erasure once more takes nothing that was typed since", async () => {
  await paired("table");
  await refusedHere();
  await write(["answered"], (tx) => tx.delete("answered", 1));
  erase();
  await round();
  await correct(refused.value[0], "", "New Name");
  office = { epoch: "e2", office_seq: 5, erasures: office.erasures };
  await round();
  await round();
  assert.deepEqual(lookedAt(), [["", "New Name", true]]);
});

test("what is refused after an erasure is blank unless it was made after that was asked, however the clock went", async () => {
  await paired("table");
  erase();
  await round();
  await refusedHere(LATER);
  await refusedHere(EARLIER);
  await rememberDevice({ clock_offset_ms: Date.parse(LATER) - Date.now() - 10 * 60 * 1000 });
  await wrote(NAME, ERASED); // this clock was ten minutes behind as it was said, or is so since: nobody can tell
  await round();
  assert.deepEqual(
    lookedAt().map(([words, , erased]) => [words, erased]),
    [
      [NAME, undefined],
      ["", true],
      ["", true],
    ],
  );
});

test("an office that forgot an erasure is sent no erased words, and is told by a manager's device, once", async () => {
  await paired("manager");
  await wrote(NAME, EARLIER);
  await round();
  erase();
  await round();
  await round();
  assert.deepEqual(
    sent.map(({ kind }) => kind),
    ["set_consignor"],
    "it knows",
  );
  sent = [];
  office = { epoch: "e2", office_seq: 0, erasures: [] };
  await round();
  await round();
  assert.ok(!JSON.stringify(sent).includes("Tumblewick"));
  const told = sent.filter(({ kind }) => kind === "erase_consignor");
  assert.deepEqual(
    [...new Set(told.map(({ visit_id, made_at }) => `${visit_id} ${made_at}`))],
    [`${VISIT} ${ERASED}`],
  );
  erase();
  sent = [];
  await round();
  await round();
  assert.deepEqual([sent, waiting.value], [[], []]);
});

test("a table's phone remembers an erasure that it may not ask for, and tells it once it is the manager's", async () => {
  await paired("table");
  erase();
  await round();
  office = { epoch: "e2", office_seq: 0, erasures: [] };
  await round();
  await round();
  assert.deepEqual(sent, []);
  await write(["setting"], async (tx) =>
    tx.remember("device", { ...(await tx.setting("device")), role: "manager" }),
  );
  await round();
  assert.deepEqual(
    sent.map(({ kind, made_at }) => [kind, made_at]),
    [["erase_consignor", ERASED]],
  );
});

test("an erasure that was told once waits as one operation, whatever else the office has erased meanwhile", async () => {
  await paired("manager");
  erase();
  await round();
  outcome = "waiting";
  office = {
    epoch: "e2",
    office_seq: 9,
    erasures: [{ record_id: "another visit", made_at: ERASED, office_seq: 9 }],
  };
  for (let rounds = 0; rounds < 3; rounds++) await round();
  assert.deepEqual(
    waiting.value.map(({ kind, visit_id }) => [kind, visit_id]),
    [["erase_consignor", VISIT]],
  );
});

test("an erasure that was refused, since the office had lost the visit, is asked for again once that is back", async () => {
  await paired("manager");
  const visit = { record_id: VISIT, kind: "visit", day_id: "d", fields: {}, disagreements: [] };
  await write(["record"], (tx) => tx.put("record", visit));
  await keep("erase_consignor", { visit_id: VISIT, made_at: ERASED });
  erase();
  await round();
  office = { epoch: "e2", office_seq: 4, erasures: [] }; // put back from a copy that has neither
  outcome = "refused";
  problem = { code: "not_found", title: "", detail: "There is no visit.", hint: "" };
  sent = [];
  await round();
  await round();
  assert.equal(sent.length, 1, "while the visit is not there it is not asked for each round");
  [outcome, problem, sent] = ["kept", null, []];
  await storeFeed({ records: [visit], cursor: 5, more: false, epoch: "e2" }); // another phone has brought it
  await round();
  erase();
  await round();
  assert.deepEqual(
    sent.map(({ kind, visit_id, made_at }) => [kind, visit_id, made_at]),
    [["erase_consignor", VISIT, ERASED]],
  );
  assert.deepEqual(refused.value, []);
});

test("of a receipt its signature and the words of its lines leave, and of an item what its owner told", async () => {
  await paired("table");
  const item_id = "019cebae-7930-7076-90f9-f204dd3fc778";
  const line = (words) => ({ item_id, tags: ["7K3QW5"], words });
  await write(["record"], (tx) =>
    tx.put("record", {
      record_id: item_id,
      kind: "item",
      visit_id: VISIT,
      day_id: "d",
      fields: {},
      disagreements: [],
    }),
  );
  await keep("sign_receipt", {
    visit_id: VISIT,
    receipt_id: "019cebae-7930-7076-90f9-f204dd3fc779",
    number: "Q01/1",
    what: "left",
    lines: [line("a bear of Tumblewick's"), line("a tin")],
    replaces: null,
    house_by: "Ana",
    on_paper: "",
    head: { house: "Tumblewick's", place: "Old Corn Hall", held_on: "2026-03-14" },
    signed_by: "Tumblewick",
    strokes: "M1 1L2 2",
    salt: SALT,
  });
  await keep("set_item", { item_id, field: "told_words", value: "Tumblewick's aunt's" });
  await keep("set_item", { item_id, field: "materials", value: "tin" });
  await keep("set_visit", { visit_id: VISIT, field: "stage", value: "left" });
  await round();
  assert.ok((await answeredHere())[1].salt, "so that nobody finds it by its digest");
  erase();
  await round();
  const [receipt, told, fact, stage] = await answeredHere();
  assert.ok(!JSON.stringify([receipt, told]).includes("Tumblewick"));
  // SHA-256 of the canonical JSON of the seven personal members, by the library rfc8785 (RFC 8785) for Python.
  assert.equal(receipt.private_sha256, "0974cb65f9f6d0e801faf82dd827c740abdd8beb4f58997f93b9b2416117d5d4");
  assert.deepEqual(receipt.lines, [
    { item_id, tags: ["7K3QW5"] },
    { item_id, tags: ["7K3QW5"] },
  ]);
  assert.ok(told.private_sha256 && !("value" in told));
  assert.deepEqual([fact.value, stage.value, fact.salt, stage.salt], ["tin", "left", undefined, undefined]);
});

test("of what a person noted on a box or a day the words leave with those of any owner of that day", async () => {
  await paired("desk");
  await rememberDevice({ person_id: "p" });
  const of_day = (kind, record_id, day_id) => ({
    ...{ kind, record_id, day_id, opened_at: "", fields: {}, disagreements: [] },
  });
  await write(["record"], async (tx) => {
    await tx.put("record", of_day("visit", VISIT, "d"));
    for (const [kind, record_id, day_id] of [
      ["container", "box", "d"],
      ["day", "d", "d"],
      ["container", "other box", "other day"],
    ])
      await tx.put("record", of_day(kind, record_id, day_id));
  });
  for (const record_id of ["box", "d", "other box"])
    await keep("settle_disagreement", {
      record_id,
      disagreement_id: "x",
      choose: "kept",
      note: "Tumblewick",
    });
  await round();
  erase();
  await round();
  assert.deepEqual(
    (await answeredHere()).map(({ record_id, note }) => [record_id, note]),
    [
      ["box", undefined],
      ["d", undefined],
      ["other box", "Tumblewick"],
    ],
  );
});
