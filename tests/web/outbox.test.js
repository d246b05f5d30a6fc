/** The outbox over a database in memory: what is kept, what it was meant to replace, who sends it again. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { isStopped } from "../../web/job/cautions.ts";
import { newId } from "../../web/job/ids.ts";
import { fieldValue, hearsOwner } from "../../web/job/values.ts";
import { write } from "../../web/local/changes.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import { record, refused, waiting } from "../../web/local/memory.ts";
import {
  amend,
  asTyped,
  isOnlyHere,
  keep,
  keepAll,
  mayBeSaidBy,
  sendAgain,
  settle,
  takeAllBack,
  takeBatch,
} from "../../web/local/outbox.ts";
import { fieldLeft, keyTyped, typedSince } from "../../web/local/typing.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";

const ITEM = "019cebae-7d18-7683-87ec-1bf1c85c4675";
const DAY = "019cebae-65a8-7820-a7e3-5594aa6b5d0a";
const OTHER_DAY = "019cebae-65a8-7820-a7e3-5594aa6b5d0b";

const value = (value, operation_id) => ({
  value,
  operation_id,
  made_by: "ana",
  made_at: "2026-03-14T10:00:00.000Z",
  device_id: "d2",
});

/** The office's copy of the item, with a maker that somebody set. */
function store(fields) {
  const copy = {
    kind: "item",
    record_id: ITEM,
    day_id: DAY,
    visit_id: DAY,
    opened_at: "",
    opened_by: "",
    fields,
    disagreements: [],
  };
  return write(["record"], (tx) => tx.put("record", copy));
}

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await write(["setting"], (tx) =>
    tx.remember("device", { device_id: "d1", role: "table", person_id: "hester", clock_offset_ms: 0 }),
  );
  await store({ maker: value("unmarked", "op-1") });
  await loadAgain();
});

test("an edit was made of the value that stood there", async () => {
  const edit = await keep("set_item", { item_id: ITEM, field: "maker", value: "marked" });
  assert.equal(edit.seen, "op-1");
});

test("a draft from before somebody else wrote does not overwrite their words", async () => {
  // Typed while "unmarked" stood there, the tab was killed; another table wrote, and the feed brought it.
  await store({ maker: value("marked inside the cover", "op-2") });
  const edit = await asTyped({ unseen: true }, () =>
    keep("set_item", { item_id: ITEM, field: "maker", value: "no mark" }),
  );
  assert.equal(edit.seen, null);
  const { fields, disagreements } = record(ITEM);
  assert.equal(fields.maker.value, "marked inside the cover");
  assert.equal(disagreements.length, 1);
  const later = await keep("set_item", { item_id: ITEM, field: "materials", value: "tin" });
  assert.equal(later.seen, null);
});

test("what a killed page had left is said as of when it was typed", async () => {
  const typed = Date.parse("2026-03-14T10:15:00.000Z");
  const edit = await asTyped({ at: typed, unseen: true }, () =>
    keep("set_item", { item_id: ITEM, field: "maker", value: "no mark" }),
  );
  assert.equal(edit.made_at, "2026-03-14T10:15:00.000Z");
  const later = await keep("set_item", { item_id: ITEM, field: "materials", value: "tin" });
  assert.ok(Date.parse(later.made_at) > typed, "the next one is of now");
});

test("a word typed is one operation, until it was tried to send", async () => {
  await keep("set_item", { item_id: ITEM, field: "maker", value: "m" });
  await keep("set_item", { item_id: ITEM, field: "maker", value: "ma" });
  assert.deepEqual(
    waiting.value.map((op) => op.value),
    ["ma"],
  );
  await takeBatch(10);
  await keep("set_item", { item_id: ITEM, field: "maker", value: "mar" });
  assert.deepEqual(
    waiting.value.map((op) => op.value),
    ["ma", "mar"],
  );
});

test("what was signed for is not changed in place afterwards, and what is of another owner is", async () => {
  const flaw = {
    item_id: ITEM,
    finding_id: "f",
    zone: "weights",
    term: "missing-part",
    severity: 3,
    withdrawn: false,
  };
  const signed = (visit_id) =>
    keep("sign_receipt", { visit_id, receipt_id: newId(), lines: [], number: "Q1/1", what: "left" });
  const kinds = () => waiting.value.map(({ kind, withdrawn }) => (withdrawn ? "withdrawn" : kind));
  await keep("record_finding", flaw);
  await signed("another");
  await amend("record_finding", { item_id: ITEM, finding_id: "f", severity: 2 });
  assert.deepEqual(kinds(), ["record_finding", "sign_receipt"]);
  await signed(DAY); // the visit of it
  await amend("record_finding", { item_id: ITEM, finding_id: "f", withdrawn: true });
  assert.deepEqual(kinds(), ["record_finding", "sign_receipt", "sign_receipt", "withdrawn"]);
  assert.equal(waiting.value[0].severity, 2);
  assert.equal(waiting.value[3].seen, waiting.value[0].operation_id);
});

test("a word that is being typed goes out once its field is left, and what was said before it at once", async () => {
  const sent = async () => (await takeBatch(10)).operations.map((op) => op.value ?? op.kind);
  const stop = { level: "red", hazard: "H02", sign: "", called: "", place: "" };
  await keep("raise_caution", { item_id: ITEM, caution_id: newId(), ...stop });
  keyTyped();
  await keep("set_item", { item_id: ITEM, field: "maker", value: "a pair" });
  await keep("remove_tag", { item_id: ITEM, tag: "7K3QW5", reason: "lost" });
  assert.deepEqual(await sent(), ["raise_caution"]);
  await keep("set_item", { item_id: ITEM, field: "maker", value: "a pair of vases" });
  fieldLeft();
  assert.deepEqual(await sent(), ["raise_caution", "a pair of vases", "remove_tag"]);
});

test("a text is whole after a pause", () => {
  keyTyped(10_000);
  keyTyped(12_400);
  assert.equal(typedSince(14_800), 10_000);
  assert.equal(typedSince(14_900), null);
  keyTyped(20_000);
  assert.equal(typedSince(20_000), 20_000);
  assert.equal(typedSince(19_000), null, "the clock was set back");
  fieldLeft();
});

test("what differs is one record however it is typed, and what was chosen another", async () => {
  const check_in = { item_id: ITEM, words: "", second_by: "Bram" };
  await keep("check_in", { ...check_in, state: "as-recorded" });
  await keep("check_in", { ...check_in, state: "differs" });
  for (const words of ["o", "on", "one"]) await amend("check_in", { item_id: ITEM, words });
  assert.deepEqual(
    waiting.value.map(({ state, words }) => [state, words]),
    [
      ["as-recorded", ""],
      ["differs", "one"],
    ],
  );
  await takeBatch(10);
  await amend("check_in", { item_id: ITEM, words: "one vase" });
  assert.equal(waiting.value.length, 3);
});

test("whoever writes on what another wrote makes a record of their own", async () => {
  await keep("check_in", { item_id: ITEM, state: "differs", words: "a chip", second_by: "Bram" });
  await write(["setting"], (tx) =>
    tx.remember("device", { device_id: "d1", role: "table", person_id: "bram", clock_offset_ms: 0 }),
  );
  await amend("check_in", { item_id: ITEM, words: "two chips" });
  assert.equal(waiting.value.length, 2);
});

test("kinds that stand for what somebody did are never changed in place", async () => {
  const zone = { item_id: ITEM, zone: "nose", state: "clear", reason: null, light: null, count: null };
  await keep("examine_zone", zone);
  await keep("examine_zone", { ...zone, state: "finding" });
  assert.equal(waiting.value.length, 2);
});

test("an amendment leaves the rest of the value as it stands", async () => {
  await store({ "origins/nose": value({ origin: "replaced", note: "" }, "op-3") });
  const made = await amend("record_origin", { item_id: ITEM, zone: "nose", note: "later glass" });
  assert.deepEqual([made.origin, made.note, made.seen], ["replaced", "later glass", "op-3"]);
});

test("words that stay out of the log have salt", async () => {
  const made = await keep("set_consignor", { visit_id: DAY, field: "name", value: "Barnaby Tumblewick" });
  assert.match(made.salt, /^[0-9a-f]{32}$/);
});

test("nobody writes in the name of somebody who has left, but for what cannot be said again", async () => {
  const day = (day_id, left) => ({
    kind: "day",
    record_id: day_id,
    day_id,
    opened_at: "",
    fields: { "people/hester": value({ person_id: "hester", name: "Hester Quillfeather", left }, "op-9") },
    disagreements: [],
  });
  const hasLeft = (day_id, left) => write(["record"], (tx) => tx.put("record", day(day_id, left)));
  const set = () => keep("set_item", { item_id: ITEM, field: "maker", value: "marked" });
  await hasLeft(DAY, true);
  await assert.rejects(set, /Hester Quillfeather has left. Say first who is here.*on Today/);
  assert.equal(waiting.value.length, 0);
  await hasLeft(OTHER_DAY, undefined);
  await set(); // on the list of another day that is here they have not
  const device = { device_id: "d1", role: "table", person_id: "hester", day_id: DAY };
  await write(["setting"], (tx) => tx.remember("device", device));
  await assert.rejects(set, /has left/); // this device works on the day that they left
  const before = waiting.value.length;
  // Danger, a picture that was taken, and the list by which they are back.
  const incident = { incident_id: "i", hazard: "H26", level: "red", sign: "powder" };
  await keep("record_incident", { day_id: DAY, ...incident });
  const photo = { sha256: "a", bytes: new ArrayBuffer(1), thumb_sha256: "b", thumb: new ArrayBuffer(1) };
  await keep("attach_photo", { item_id: ITEM, photo_id: "p" }, { ...photo, media_type: "image/jpeg" });
  await keep("add_person", { day_id: DAY, person: { person_id: "hester", name: "Hester", roles: [] } });
  assert.equal(waiting.value.length, before + 3);
  await set();
});

test("what the office ruled stands on this device at once, before it has read anything", async () => {
  const raised = await keep("raise_caution", {
    item_id: ITEM,
    caution_id: "c",
    hazard: "H26",
    level: "amber",
    sign: "powder",
    zone: null,
    called: "",
    place: "",
    still_allowed: [],
  });
  const { operation_id } = raised;
  const answer = { operation_id, outcome: "kept", office_seq: 9, disagreement: false, problem: null };
  await settle([{ ...answer, ruled: { level: "red", made_at: "2026-03-14T10:00:01.000Z" } }]);
  assert.equal(fieldValue(record(ITEM), "cautions/c").level, "red");
  assert.equal(record(ITEM).fields["cautions/c"].made_at, "2026-03-14T10:00:01.000Z");
  assert.ok(isStopped(record(ITEM)));
  const [kept] = await write(["answered"], (tx) => tx.answered());
  assert.equal(kept.level, "amber", "what is kept for an office that forgets is what was said");
});

/** What jonty said two hours ago and the office refused for who he is; ned is at the device now. */
async function refusedForThePerson() {
  const jonty = { device_id: "d1", role: "table", person_id: "jonty", clock_offset_ms: -7_200_000 };
  await write(["setting"], (tx) => tx.remember("device", jonty));
  const made = await keep("set_item", { item_id: ITEM, field: "maker", value: "marked" });
  const problem = { code: "hat_does_not_fit", title: "", detail: "", hint: "" };
  await settle([
    { operation_id: made.operation_id, outcome: "refused", office_seq: 1, disagreement: false, problem },
  ]);
  await write(["setting"], (tx) => tx.remember("device", { ...jonty, person_id: "ned", clock_offset_ms: 0 }));
  return made;
}

test("what was refused stays the word of whoever made it when it is sent again", async () => {
  const made = await refusedForThePerson();
  await sendAgain(refused.value[0], { value: "marked twice" });
  const [again] = waiting.value;
  assert.deepEqual([again.made_by, again.made_at, again.value], ["jonty", made.made_at, "marked twice"]);
  assert.notEqual(again.operation_id, made.operation_id);
  assert.deepEqual(refused.value, []);
});

test("a refusal is at the office as well; what is put in its place, or is too large, is here only", async () => {
  await refusedForThePerson();
  const [one] = refused.value;
  const all = [one, { ...one, correction: "" }, { ...one, problem: { ...one.problem, code: "too_large" } }];
  assert.deepEqual(all.map(isOnlyHere), [false, true, true]);
});

test("what was refused is sent again once, however often that is tapped", async () => {
  await refusedForThePerson();
  const [one] = refused.value;
  const taps = [1, 2].map(() => sendAgain(one, { value: "marked twice" }));
  assert.deepEqual(await Promise.all(taps), [true, false]);
  assert.equal(waiting.value.length, 1);
});

test("nothing is sent from a screen that shows it as it was refused, once it was taken or its words are gone", async () => {
  await refusedForThePerson();
  const [one] = refused.value;
  for (const now of [
    { ...one, kept: true },
    { ...one, operation: { ...one.operation, value: "" }, erased: true },
  ]) {
    await write(["refused"], (tx) => tx.put("refused", now));
    assert.equal(await sendAgain(one, { value: "marked twice" }), false);
    assert.deepEqual([refused.value, waiting.value], [[now], []]);
  }
});

test("whoever is there now may say it in their own name, and says it now", async () => {
  const made = await refusedForThePerson();
  const [one] = refused.value;
  assert.deepEqual(
    ["ned", "jonty", "", undefined].map((who) => mayBeSaidBy(who, one)),
    [true, false, false, false],
  );
  await sendAgain(one, {}, { saidNow: true });
  const [again] = waiting.value;
  assert.equal(again.made_by, "ned");
  assert.ok(Date.parse(again.made_at) - Date.parse(made.made_at) >= 7_200_000);
  assert.deepEqual(refused.value, []);
});

test("a person of the day's list is changed from what stands there", async () => {
  await write(["record"], (tx) =>
    tx.put("record", {
      kind: "day",
      record_id: DAY,
      day_id: DAY,
      fields: { "people/ana": value({ person_id: "ana", name: "Ana", roles: ["valuer"] }, "op-7") },
      disagreements: [],
    }),
  );
  const person = { person_id: "ana", name: "Ana", roles: ["porter"], left: false };
  const changed = await keep("add_person", { day_id: DAY, person });
  assert.equal(changed.seen, "op-7");
  const again = await keep("add_person", { day_id: DAY, person: { ...person, left: true } });
  assert.equal(again.seen, changed.operation_id);
  const fresh = await keep("add_person", { day_id: DAY, person: { ...person, person_id: "ben" } });
  assert.equal(fresh.seen, null);
});

test("the owner's name, which this table does not read, is said again by going on from its own word", async () => {
  // The record as another table reads it: what the owner is called by, and not the name.
  const visit = {
    kind: "visit",
    record_id: DAY,
    day_id: DAY,
    opened_at: "",
    opened_by: "",
    fields: { called: value("Ada", "op-8") },
    disagreements: [],
  };
  const office = () => write(["record"], (tx) => tx.put("record", visit));
  await office();
  const said = { visit_id: DAY, field: "name" };
  const first = await keep("set_consignor", { ...said, value: "Ada Byrne" });
  assert.equal(first.seen, null);
  const { operation_id } = first;
  await settle([{ operation_id, outcome: "kept", office_seq: 9, disagreement: true, problem: null }]);
  await office(); // the feed brings the record without the name again
  const second = await keep("set_consignor", { ...said, value: "Ada Byrne-Holt" });
  assert.equal(second.seen, operation_id);
  const other = await keep("set_consignor", { ...said, field: "address", value: "3 Rope Walk" });
  assert.equal(other.seen, null, "of what it never said it saw nothing");
});

/** What an owner told: the field, and how its words are kept. */
const TOLD = {
  "a thing": ["told_words", (item_id, value) => keep("set_item", { item_id, field: "told_words", value })],
  "a finding": [
    "finding-notes/found",
    (item_id, value) => keep("correct_told_note", { item_id, finding_id: "found", value }),
  ],
};

for (const [what, [field, tellOf]] of Object.entries(TOLD))
  test(`what an owner told of ${what}, which this table reads no more, goes on from its own word alone`, async () => {
    const [visit_id, item_id] = ["0000000a", "0000000b"].map((id) => `${id}-0000-7000-8000-000000000000`);
    const a_record = (kind, record_id, fields) => ({
      ...{ kind, record_id, day_id: DAY, visit_id, opened_at: "", opened_by: "", disagreements: [] },
      fields,
    });
    const comes = (ofVisit, ofItem = {}) =>
      write(["record"], async (tx) => {
        await tx.put("record", a_record("visit", visit_id, ofVisit));
        await tx.put("record", a_record("item", item_id, ofItem));
      });
    const tell = (words) => tellOf(item_id, words);
    const { device_id } = await write(["setting"], (tx) => tx.setting("device"));
    const here = { kinds: value("", "op-8"), stage: { ...value("at-table", "op-8"), device_id } };
    await comes(here);
    const first = await tell("her aunt's");
    assert.equal(first.seen, null);
    const kept = ({ operation_id }) =>
      settle([{ operation_id, outcome: "kept", office_seq: 9, disagreement: false, problem: null }]);
    await kept(first);
    await comes({ called: value("Ada", "op-9") }); // the owner went on to another table
    assert.equal(fieldValue(record(item_id), field), undefined, "written over");
    const second = await tell("her great-aunt's");
    assert.equal(second.seen, first.operation_id);
    await kept(second);
    await comes(here); // back again: here it is as it stands, and nothing was told by what this device sees
    const third = await tell("her uncle's");
    assert.equal(third.seen, null);
  });

test("what an owner tells is asked for at the table that called them, before the office has heard of it", async () => {
  const visit_id = "0000000c-0000-7000-8000-000000000000";
  const theVisit = { visit_id, opened_at: "", opened_by: "", disagreements: [] };
  const fields = { called: value("Ada", "op-9"), stage: value("waiting", "op-9") };
  await write(["record"], (tx) =>
    tx.put("record", { ...theVisit, kind: "visit", record_id: visit_id, day_id: DAY, fields }),
  );
  const { device_id } = await write(["setting"], (tx) => tx.setting("device"));
  const isAsked = (table_id, id = device_id) =>
    hearsOwner(record(visit_id), { role: "table", device_id: id, table_id });
  const said = (field, text) => keep("set_visit", { visit_id, field, value: text });
  assert.ok(!isAsked("table-1"), "they wait");
  await said("stage", "at-table");
  assert.ok(isAsked(""), "called to no seat that anybody said");
  assert.ok(!isAsked("", "another device"));
  await said("table_id", "table-1");
  assert.ok(isAsked("table-1"));
  assert.ok(isAsked("table-1", "another device"), "which sits there as well");
  assert.ok(!isAsked("table-2"));
  await said("stage", "left");
  assert.ok(!isAsked("table-1"));
});

const UNSPOKEN = ["rim", "foot", "cover"];
const neverHad = (zone) => ({
  item_id: ITEM,
  zone,
  state: "not-examined",
  reason: "not-applicable",
  light: null,
  count: null,
});
const zonesOnRecord = () => UNSPOKEN.filter((zone) => fieldValue(record(ITEM), `zones/${zone}`));
const sequence = () => waiting.value.map(({ kind, device_seq }) => [kind, device_seq]);
const name = (value) => ({ item_id: ITEM, field: "short_description", value });

test("what one press says of several zones is on this device as a whole, or not at all", async () => {
  await keep("set_item", name("jug"));
  const [first, wrong] = UNSPOKEN.map(neverHad);
  await assert.rejects(keepAll("examine_zone", [first, { ...wrong, zone: Symbol("cut off") }]));
  await loadAgain();
  assert.deepEqual(zonesOnRecord(), []);
  assert.deepEqual(sequence(), [["set_item", 1]]);
  await keepAll("examine_zone", UNSPOKEN.map(neverHad));
  assert.deepEqual(zonesOnRecord(), UNSPOKEN);
});

test("what was not sent is taken back whatever was typed after it, and no number is passed over", async () => {
  const made = await keepAll("examine_zone", UNSPOKEN.map(neverHad));
  await keep("set_item", name("jug with a spout"));
  assert.deepEqual(await takeAllBack(made), []);
  assert.deepEqual(zonesOnRecord(), []);
  assert.deepEqual(sequence(), [["set_item", 1]]);
  await keep("set_item", { item_id: ITEM, field: "colour_now", value: "blue" });
  assert.deepEqual(sequence().at(-1), ["set_item", 2]);
  await loadAgain();
  assert.equal(fieldValue(record(ITEM), "short_description"), "jug with a spout");
  assert.deepEqual(
    (await takeBatch(10)).operations.map(({ device_seq }) => device_seq),
    [1, 2],
  );
});

test("what was sent stays, and so does a zone of which something else was said since", async () => {
  const made = await keepAll("examine_zone", UNSPOKEN.map(neverHad));
  await takeBatch(1);
  await asTyped({ at: Date.now() + 1000 }, () =>
    keep("examine_zone", { ...neverHad("foot"), state: "finding", reason: null }),
  );
  const stays = await takeAllBack(made);
  assert.deepEqual(
    stays.map(({ made, why }) => [made.zone, why]),
    [
      ["rim", "sent"],
      ["foot", "changed"],
    ],
  );
  assert.deepEqual(zonesOnRecord(), ["rim", "foot"]);
});

test("what is one act is taken back as a whole, or stays so", async () => {
  const gone = (tag) => ({ item_id: ITEM, tag, why: "taken-back", replaced_by: null });
  const made = [await keep("remove_tag", gone("00002Y")), await keep("remove_tag", gone("00003W"))];
  await takeBatch(1);
  const stays = await takeAllBack(made, true);
  assert.deepEqual(
    stays.map(({ made, why }) => [made.tag, why]),
    [["00002Y", "sent"]],
  );
  assert.deepEqual(
    waiting.value.map(({ tag }) => tag),
    ["00002Y", "00003W"],
  );
  const other = [await keep("remove_tag", gone("00004V")), await keep("remove_tag", gone("00005S"))];
  assert.deepEqual(await takeAllBack(other, true), []);
  assert.equal(waiting.value.length, 2);
});

const signing = {
  visit_id: DAY,
  receipt_id: newId(),
  number: "Q1/1",
  what: "left",
  lines: [{ item_id: ITEM, tags: [], words: "jug" }],
  terms_id: "",
  signed_by: "Ana",
  signature: { strokes: [] },
  house_by: "Hester Quillfeather",
};

test("what an owner signed for is no more changed in place, nor taken back as if it had not been", async () => {
  await keep("set_item", name("jug"));
  const made = await keepAll("examine_zone", UNSPOKEN.map(neverHad));
  const receipt = await keep("sign_receipt", signing);
  const since = await keep("set_item", name("jug without a lid"));
  assert.ok(since.device_seq > receipt.device_seq);
  assert.equal(since.seen, waiting.value[0].operation_id);
  await keep("set_item", name("jug without its lid"));
  const names = waiting.value.filter(({ kind }) => kind === "set_item").map(({ value }) => value);
  assert.deepEqual(names, ["jug", "jug without its lid"], "after it a word is one operation again");
  assert.equal((await takeAllBack(made)).length, made.length);
  assert.deepEqual(zonesOnRecord(), UNSPOKEN);
});

test("a sweep whose zone was spoken of again stays whole", async () => {
  const swept = await keep("examine_rest", { item_id: ITEM, zones: UNSPOKEN, light: "hall-light" });
  await keep("examine_zone", { ...neverHad("foot") });
  const [stays] = await takeAllBack([swept]);
  assert.equal(stays.why, "changed");
  assert.deepEqual(zonesOnRecord(), UNSPOKEN);
});

test("nobody writes in nobody's name once there is a list to choose from, but for its first person and danger", async () => {
  const hester = { person_id: "hester", name: "Hester Quillfeather", roles: [] };
  const listed = (day_id, people) => ({
    ...{ kind: "day", record_id: day_id, day_id, opened_at: "", fields: people, disagreements: [] },
  });
  for (const role of ["door", "table", "porter", "manager"]) {
    const day_id = newId();
    const device = { device_id: "d1", role, person_id: "", day_id };
    await write(["setting"], (tx) => tx.remember("device", device));
    await write(["record"], (tx) => tx.put("record", listed(day_id, {})));
    const set = () => keep("set_item", { item_id: ITEM, field: "maker", value: role });
    await set(); // nobody is on the list yet: the first day is being set up
    await keep("add_person", { day_id, person: hester });
    await write(["record"], (tx) => tx.put("record", listed(day_id, {})));
    await write(["record"], (tx) =>
      tx.put("record", listed(day_id, { "people/hester": value(hester, "op-9") })),
    );
    const before = waiting.value.length;
    await assert.rejects(set, /^Error: Say first who is here/);
    assert.equal(waiting.value.length, before);
    const ana = { day_id, person: { ...hester, person_id: role } };
    await assert.rejects(keep("add_person", ana), /^Error: Say first who is here/);
    await keep("record_incident", { day_id, incident_id: role, hazard: "H26", level: "red", sign: "" });
    assert.equal(waiting.value.length, before + 1);
    await write(["setting"], (tx) => tx.remember("device", { ...device, person_id: "hester" }));
    assert.equal((await set()).made_by, "hester");
  }
});

test("at a desk nobody writes in nobody's name: its list is at the office", async () => {
  const at = (person_id) =>
    write(["setting"], (tx) => tx.remember("device", { device_id: "d1", role: "desk", person_id }));
  const set = () => keep("set_item", { item_id: ITEM, field: "maker", value: "marked" });
  await at("");
  await assert.rejects(set, /^Error: Say first who is here/);
  await at("hester");
  assert.equal((await set()).made_by, "hester");
});

test("what hands do says which Stops its device could know of; a desk, which keeps no copy of the day, says none", async () => {
  const caution = (level) => ({ hazard: "H02", level, sign: "", called: "", place: "" });
  const moved = () =>
    keep("record_move", { move_id: newId(), thing_id: ITEM, from_place: null, to_place: "store", at: "" });
  assert.deepEqual((await moved()).heard_stops, []);
  await store({
    "cautions/1": value(caution("amber"), "op-amber"),
    "cautions/2": value(caution("red"), "op-red"),
    "cautions/3": value(caution("note"), "op-note"),
  });
  assert.deepEqual((await moved()).heard_stops, ["op-red"]);
  const said = await keep("set_item", { item_id: ITEM, field: "maker", value: "marked" });
  assert.equal("heard_stops" in said, false, "no hand is needed to say something");
  await write(["setting"], (tx) =>
    tx.remember("device", { device_id: "d1", role: "desk", person_id: "hester", clock_offset_ms: 0 }),
  );
  assert.equal((await moved()).heard_stops, null);
});

test("a picture is on this device in both sizes, and none of the two is at the office yet", async () => {
  const photo = { sha256: "a", bytes: new ArrayBuffer(5), thumb_sha256: "b", thumb: new ArrayBuffer(2) };
  await keep("attach_photo", { item_id: ITEM, photo_id: "p" }, { ...photo, media_type: "image/png" });
  const here = await write(["photo", "photo_bytes"], async (tx) =>
    Promise.all(
      ["a", "b"].map(async (name) => [await tx.get("photo", name), await tx.get("photo_bytes", name)]),
    ),
  );
  assert.deepEqual(
    here.map(([{ sha256, size, media_type, is_thumb, at_office }, { byteLength }]) => [
      ...[sha256, size, media_type, is_thumb, at_office],
      byteLength,
    ]),
    [
      ["a", 5, "image/png", false, false, 5],
      ["b", 2, "image/jpeg", true, false, 2],
    ],
  );
});

test("a batch is of one clock, of so many bytes, and of one at the least", async () => {
  const ops = [];
  for (const text of ["one", "two", "three"])
    ops.push(
      await keep("record_incident", {
        day_id: DAY,
        incident_id: text,
        hazard: "H26",
        level: "red",
        sign: text,
      }),
    );
  const length = ops.map((op) => new TextEncoder().encode(JSON.stringify(op)).length + 1);
  const taken = async (bytes) => (await takeBatch(10, 0, bytes)).operations.map(({ sign }) => sign);
  assert.deepEqual(await taken(1), ["one"]);
  assert.deepEqual(await taken(length[0] + length[1] - 1), ["one"]);
  assert.deepEqual(await taken(length[0] + length[1]), ["one", "two"]);
  assert.deepEqual(await taken(Infinity), ["one", "two", "three"]);
  assert.deepEqual(
    (await takeBatch(2)).operations.map(({ sign }) => sign),
    ["one", "two"],
  );
  assert.deepEqual((await takeBatch(10, ops[0].device_seq)).operations.length, 2);
  await write(["setting"], (tx) =>
    tx.remember("device", { device_id: "d1", role: "table", person_id: "hester", clock_offset_ms: 700 }),
  );
  const later = await keep("record_incident", {
    day_id: DAY,
    incident_id: "4",
    hazard: "H26",
    level: "red",
    sign: "four",
  });
  const { operations, clock_offset_ms } = await takeBatch(10);
  assert.deepEqual([operations.length, clock_offset_ms], [3, 0]);
  const { clock_offset_ms: other, holds_from } = await takeBatch(10, ops[2].device_seq);
  assert.deepEqual([other, holds_from, later.device_seq], [700, ops[0].device_seq, ops[2].device_seq + 1]);
});
