/**
 * What a desk asks the office for as news come: one request a change, and none for what it does not show.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { ASKED_NOTHING } from "../../web/job/desk.ts";
import { gathering } from "../../web/job/gathered.ts";
import { write } from "../../web/local/changes.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { meet, toldLast } from "../../web/local/keeping.ts";
import { load } from "../../web/local/load.ts";
import { erasures, office as heardOffice, record } from "../../web/local/memory.ts";
import { forgetTold, standsNow, tell, toldOf } from "../../web/local/told.ts";
import { SETTLEMENTS_AT_START, touchedBy } from "../../web/screens/cataloguing/desk_news.ts";
import { readersOf } from "../../web/screens/cataloguing/desk_reading.ts";
import { handClock } from "./hand_clock.js";

const row = (item_id, more = {}) => ({ item_id, entry_seq: Number(item_id), state: "waiting", ...more });
const copy = (kind, record_id, office_seq = 1) => ({
  kind,
  record_id,
  office_seq,
  day_id: "d",
  visit_id: "v",
  opened_at: "",
  opened_by: "",
  tables: [],
  fields: {},
  disagreements: [],
});

const STANDS = {
  ...{ office_id: "o", epoch: "e", known_chain: null, proof: "" },
  ...{ device_seq: 0, safe_seq: null, hearing: false, erased: 0 },
};

/** The visit of those things with its owner's words, as one asks for them. */
const ownerTold = (office_seq) => ({
  ...copy("visit", "v", office_seq),
  fields: { "consignor/name": { value: `Ada ${office_seq}`, device_id: "t", made_at: "" } },
});

/** An office of three things and the page of a desk that shows them; `asked` are the addresses that were asked for. */
function aDesk(t, { item_id = "", state = "", next = null } = {}) {
  const rows = new Map(["1", "2", "3"].map((id) => [id, row(id)]));
  const office = { rows, cursor: 5, log: "log", asked: [], answer: null, alone: [], words: [], called: [] };
  const page = (query) => {
    const items = query.get("items")?.split(",").filter(Boolean);
    const listed = (one) =>
      (items?.includes(one.item_id) ?? true) && [one.state, ""].includes(query.get("state"));
    const entries = [...rows.values()].filter(listed);
    const counts = query.has("counts") ? { state: { waiting: rows.size } } : null;
    const { cursor, alone, words, called, filled } = office;
    const found = { entries, count: rows.size, count_capped: false, counts, alone, next, words, called };
    return { cursor, ...found, ...(filled && { filled }) };
  };
  const stands = (query) => ({
    ...{ office_id: "o", epoch: "e", office_seq: office.cursor, chain: `${office.log}${office.cursor}` },
    known_chain: query.has("known_seq") ? `${office.log}${query.get("known_seq")}` : null,
    ...{ proof: "", device_seq: 0, safe_seq: null, hearing: false, erased: 0 },
  });
  const entry = (id, query) => ({
    told: query.has("told") ? ownerTold(office.cursor) : null,
    office: stands(query),
    cursor: office.cursor,
    records: [copy("item", id, office.cursor), copy("visit", "v", office.cursor)],
    operations: [],
    people: {},
    others: [],
    row: rows.get(id),
    list: query.has("items") || query.has("limit") ? page(query) : null,
  });
  t.mock.method(globalThis, "fetch", async (address) => {
    const { pathname, searchParams } = new URL(address, "http://desk");
    office.asked.push(`${pathname}${searchParams.has("items") ? ` ${searchParams.get("items")}` : ""}`);
    await office.answer;
    if (office.fails?.test(office.asked.at(-1))) {
      if (office.status) return Response.json({ detail: "busy" }, { status: office.status });
      throw new TypeError("no line");
    }
    if (pathname === "/settlements" && office.isAway) throw new TypeError("no line");
    if (pathname === "/settlements") return Response.json({ cursor: office.cursor, records: [] });
    const id = /^\/entries\/(.+)$/.exec(pathname)?.[1];
    if (id && !rows.has(id)) return Response.json({ detail: "no such entry" }, { status: 404 });
    const answer = Response.json(id ? entry(id, searchParams) : page(searchParams));
    await office.line;
    return answer;
  });
  const now = { current: { asked: { ...ASKED_NOTHING, state }, list: null, entry: null, item_id } };
  Object.assign(now.current, { settlements: { cursor: null, records: [] }, seen: new Set() });
  const setter = (name) => (value) => {
    now.current[name] = typeof value === "function" ? value(now.current[name]) : value;
  };
  const told = { listed: null, problem: "", missed: 0, again: 0, keys: [] };
  const read = readersOf(now, {
    setList: setter("list"),
    setEntry: setter("entry"),
    setSettlements: setter("settlements"),
    setListed: (asked) => Object.assign(told, { listed: asked }),
    setProblem: (problem) => Object.assign(told, { problem }),
    miss: () => {
      told.missed += 1;
    },
    again: (keys) => {
      told.again += keys.length;
      told.keys.push(...keys);
    },
  });
  /** The desk hears news, and asks until nothing is left to be asked; the addresses. */
  const hear = async (news) => {
    office.asked = [];
    for (let keys = read.hear(news); keys.length; ) keys = await read.oneOf(new Set(keys));
    return office.asked;
  };
  const changed = (...ids) => {
    office.cursor += 1;
    return { cursor: office.cursor, changed: ids, gave_way: [] };
  };
  return { office, now: now.current, holder: now, read, hear, changed, told };
}

async function opened(t, given) {
  const desk = aDesk(t, given);
  await desk.read.list();
  await desk.read.oneOf(new Set([SETTLEMENTS_AT_START]));
  if (given?.item_id) await desk.read.entry();
  return desk;
}

beforeEach(async () => {
  await load();
  await rememberDevice({ device_id: "desk", role: "desk", person_id: "p", epoch: "e" });
});

test("one change costs one request where it is shown, and none where it is not", async (t) => {
  const { hear, changed, office, now } = await opened(t, { next: 3 });
  office.rows.set("2", row("2", { state: "described" }));
  assert.deepEqual(await hear(changed(["2", "item", 2])), ["/queue 2"]);
  assert.equal(now.list.entries[1].state, "described");
  assert.deepEqual(await hear(changed(["9", "item", 9], ["v9", "visit", null])), []);
});

test("a change of what a narrowed list does not show is asked for, as it may fit now, and stands in its place", async (t) => {
  const { hear, changed, office, now } = await opened(t, { state: "described", next: 4 });
  office.rows = office.rows.set("1", row("1", { state: "described" }));
  office.rows.set("3", row("3", { state: "described" }));
  now.list = { ...now.list, entries: [row("3", { state: "described" })] };
  assert.deepEqual(await hear(changed(["1", "item", 1])), ["/queue 1"]);
  assert.deepEqual(
    now.list.entries.map(({ item_id }) => item_id),
    ["1", "3"],
  );
  assert.deepEqual(await hear(changed(["9", "item", 9])), [], "that is for a later page");
  assert.deepEqual(await hear(changed(["2", "item", 2, "d", "listed statewaiting"])), [], "it does not fit");
  assert.deepEqual(await hear(changed(["2", "item", 2, "d", "listed statedescribed"])), ["/queue 2"]);
  assert.deepEqual(await hear(changed(["v", "visit", null])), []);
});

test("an owner's words that are shown come anew with the entry, in the one request", async (t) => {
  const { hear, changed, now } = await opened(t, { item_id: "2" });
  assert.equal(now.entry.told, undefined);
  tell(ownerTold(5), standsNow("v"));
  assert.equal(toldOf("v").fields["consignor/name"].value, "Ada 5");
  assert.deepEqual(await hear(changed(["v", "visit", null])), ["/entries/2 "]);
  assert.equal(toldOf("v").fields["consignor/name"].value, "Ada 6");
  assert.equal(now.entry.told, undefined, "and they are on no disk");
  forgetTold();
});

test("other work at the device takes an owner's words off it", async (t) => {
  await opened(t, { item_id: "2" });
  tell(ownerTold(9), standsNow("v"));
  assert.ok(toldOf("v"));
  await rememberDevice({ device_id: "desk", role: "porter", person_id: "p", epoch: "e" });
  assert.equal(toldOf("v"), null);
  forgetTold();
});

test("what an entry was read from has to be there from then on: an office put back from before is found to lack it", async (t) => {
  const { read, office } = aDesk(t, { item_id: "2" });
  await write(["setting"], (tx) => tx.remember("office", { ...STANDS, office_seq: 4, chain: "log4" }));
  await read.entry();
  assert.deepEqual([heardOffice.value.office_seq, heardOffice.value.chain], [5, "log5"]);
  office.cursor = 4; // put back
  const asked = toldLast();
  assert.deepEqual([asked.known_seq, asked.known_chain], [5, "log5"]);
  assert.equal(await meet({ ...STANDS, office_seq: 4, chain: "log4", known_chain: null }, asked), true);
  assert.equal(record("2").office_seq, 0, "and is read anew");
});

test("an entry of another log takes no place in what this device has heard", async (t) => {
  const { read, office, told } = aDesk(t, { item_id: "2" });
  await write(["setting"], (tx) => tx.remember("office", { ...STANDS, office_seq: 4, chain: "log4" }));
  await read.entry();
  assert.equal(told.missed, 0);
  await write(["setting"], (tx) => tx.remember("office", { ...STANDS, office_seq: 4, chain: "log4" }));
  office.log = "other";
  await read.entry();
  assert.equal(told.missed, 1);
  assert.deepEqual([heardOffice.value.office_seq, heardOffice.value.chain], [4, "log4"]);
});

test("a change of the open entry costs one request, whatever it changes in the list beside it", async (t) => {
  const { hear, changed, office, now } = await opened(t, { item_id: "2" });
  office.rows.set("2", row("2", { state: "described" }));
  office.rows.delete("3");
  assert.deepEqual(await hear(changed(["2", "item", 2], ["3", "item", 3])), ["/entries/2 2,3"]);
  assert.deepEqual(
    now.list.entries.map(({ item_id, state }) => [item_id, state]),
    [
      ["1", "waiting"],
      ["2", "described"],
    ],
  );
  assert.deepEqual(now.list.counts, { state: { waiting: 2 } });
  assert.deepEqual(
    await hear(changed(["v", "visit", null])),
    ["/entries/2 "],
    "what stands beside the item is its own",
  );
});

test("a row that stayed for its open entry leaves as another is opened, or none", async (t) => {
  const { hear, changed, office, now, read, told } = await opened(t, { item_id: "2", state: "waiting" });
  const ids = () => now.list.entries.map(({ item_id }) => item_id);
  office.rows.set("2", row("2", { state: "described" }));
  await hear(changed(["2", "item", 2]));
  read.leave();
  assert.deepEqual([told.keys, ids()], [[], ["1", "2", "3"]], "it is open");
  now.item_id = "";
  read.leave();
  assert.deepEqual(told.keys, ["item 2"]);
  await read.oneOf(new Set(told.keys));
  assert.deepEqual(ids(), ["1", "3"]);
  read.leave();
  assert.equal(told.keys.length, 1, "once");
});

test("a row that fits again, or a list that was read anew, is asked for no more as its entry is left", async (t) => {
  const { hear, changed, office, now, read, told } = await opened(t, { item_id: "2", state: "waiting" });
  for (const state of ["described", "waiting"]) {
    office.rows.set("2", row("2", { state }));
    await hear(changed(["2", "item", 2]));
  }
  now.item_id = "3";
  read.leave();
  office.rows.set("3", row("3", { state: "described" }));
  await hear(changed(["3", "item", 3]));
  await read.list();
  now.item_id = "";
  read.leave();
  assert.deepEqual(told.keys, []);
});

test("the open entry keeps its row though the list as it is asked has it no more", async (t) => {
  const { hear, changed, office, now } = await opened(t, { item_id: "2", state: "waiting" });
  office.rows.set("2", row("2", { state: "described" }));
  office.rows.set("3", row("3", { state: "described" }));
  assert.deepEqual(await hear(changed(["2", "item", 2], ["3", "item", 3])), ["/entries/2 2,3"]);
  assert.deepEqual(
    now.list.entries.map(({ item_id, state }) => [item_id, state]),
    [
      ["1", "waiting"],
      ["2", "described"],
    ],
  );
});

test("where the office cannot say what changed, list and entry come with one request", async (t) => {
  const { hear, office, now } = await opened(t, { item_id: "2" });
  office.rows.set("3", row("3", { state: "described" }));
  office.cursor = 9;
  assert.deepEqual(await hear({ cursor: 9, changed: null, gave_way: [] }), ["/entries/2"]);
  assert.equal(now.list.entries[2].state, "described");
  assert.equal(record("2").office_seq, 9);
  assert.deepEqual(await hear({ cursor: 9, changed: null, gave_way: [] }), [], "nothing is asked for twice");
});

test("what was read after a change is no reason to take the rest of the list, or the entry, for as new", async (t) => {
  const { hear, read, office, now } = await opened(t, { item_id: "2", next: 3 });
  office.cursor = 9;
  await read.oneOf(new Set(["item 3"]));
  await read.more();
  assert.deepEqual(
    await hear({ cursor: 9, changed: null, gave_way: [] }),
    ["/entries/2"],
    "both with one request",
  );
  assert.equal(now.list.cursor, 9);
  office.cursor = 12;
  now.item_id = "";
  await read.list();
  now.item_id = "2";
  assert.deepEqual(await hear({ cursor: 12, changed: null, gave_way: [] }), ["/entries/2 "]);
});

test("an entry that the office does not have keeps nobody from the list", async (t) => {
  const { hear, office, now, told } = await opened(t, { item_id: "7" });
  office.cursor = 9;
  assert.deepEqual(await hear({ cursor: 9, changed: null, gave_way: [] }), ["/queue", "/entries/7 "]);
  assert.equal(now.list.cursor, 9);
  assert.equal(told.problem, "no such entry");
});

test("rows that were asked for before the list was narrowed change nothing in it", async (t) => {
  const { hear, changed, office, holder, now } = await opened(t);
  const before = now.list;
  let answer;
  office.answer = new Promise((resolve) => {
    answer = resolve;
  });
  const heard = hear(changed(["2", "item", 2]));
  holder.current = { ...holder.current, asked: { ...ASKED_NOTHING, state: "described" } };
  answer();
  await heard;
  assert.equal(holder.current.list, before);
});

test("twenty desks ask for settlements when a value of their own gave way, and at no other change", async (t) => {
  const asked = [];
  for (let number = 0; number < 20; number += 1) {
    const { hear, changed } = await opened(t, { next: 3 });
    for (let kept = 0; kept < 5; kept += 1) asked.push(...(await hear(changed(["9", "item", 9]))));
    t.mock.restoreAll();
  }
  assert.deepEqual(asked, [], "a hundred changes elsewhere cost nothing");
  const { hear, changed, now } = await opened(t, { next: 3 });
  const settled = { ...changed(["9", "item", 9]), gave_way: ["o1"] };
  assert.deepEqual(await hear(settled), ["/settlements"]);
  now.seen = new Set(["o1"]);
  assert.deepEqual(await hear({ ...settled, cursor: 8 }), [], "it was seen here");
});

/** Desks that look for something, each of its own: all of them find nothing yet. */
const LOOKED_FOR = Array.from({ length: 20 }, (_, number) => ({ words: `teddy${number}` }));

/** What twenty desks ask for at a change, each of a list that was asked for so. */
async function askedByTwenty(t, news, more = {}) {
  let requests = 0;
  for (const looked of LOOKED_FOR) {
    const desk = await opened(t, { next: 4, ...more });
    desk.office.words = [looked.words];
    desk.holder.current = Object.assign(desk.holder.current, {
      asked: { ...ASKED_NOTHING, ...looked, state: more.state ?? "", table_id: more.table_id ?? "" },
    });
    await desk.read.list();
    desk.now.list = { ...desk.now.list, entries: [] };
    requests += (await desk.hear(desk.changed(...news))).length;
    t.mock.restoreAll();
  }
  return requests;
}

test("twenty desks that search ask only for what may have come to be found", async (t) => {
  const thing = (found, marks = "listed statewaiting") => [["2", "item", 2, "d", marks, found]];
  assert.equal(await askedByTwenty(t, thing({})), 0, "a zone was looked at, a photo taken");
  assert.equal(await askedByTwenty(t, thing({ words: "brass clock" })), 0, "none of these words");
  assert.equal(await askedByTwenty(t, thing({ words: "brass teddy3s" })), 1, "the one that looks for it");
  assert.equal(await askedByTwenty(t, thing({ marks: true })), 0, "no mark was asked for");
  assert.equal(await askedByTwenty(t, thing({ listed: true })), 20, "its owner may be one of that name");
  assert.equal(await askedByTwenty(t, thing(undefined)), 20, "an office of before does not say");
  assert.equal(
    await askedByTwenty(t, thing({ marks: true }), { state: "waiting" }),
    20,
    "it may be by its mark",
  );
  const described = { state: "described" };
  assert.equal(
    await askedByTwenty(t, thing({ words: "teddy3" }), described),
    1,
    "there is one more that waits",
  );
  assert.equal(await askedByTwenty(t, thing({ words: "clock" }), described), 0);
  assert.equal(
    await askedByTwenty(t, thing({ words: "clock", lost: true }), described),
    20,
    "it may have been any",
  );
  const elsewhere = thing({ words: "teddy3", lost: true }, "listed statewaiting table2");
  assert.equal(await askedByTwenty(t, elsewhere, { ...described, table_id: "1" }), 0, "two choices away");
});

test("a search by what a mark is called asks as a thing comes to have it", async (t) => {
  const { hear, changed, office, holder, now, read } = await opened(t, { next: 4 });
  Object.assign(office, { words: ["described"], called: ["statedescribed"] });
  holder.current = Object.assign(holder.current, { asked: { ...ASKED_NOTHING, words: "described" } });
  await read.list();
  now.list = { ...now.list, entries: [] };
  const marked = (marks, was) => [
    "2",
    "item",
    2,
    "d",
    `listed ${marks}`,
    { marks: true, was: `listed ${was}` },
  ];
  assert.deepEqual(await hear(changed(marked("statedescribed", "statewaiting"))), ["/queue 2"]);
  now.list = { ...now.list, entries: [] };
  assert.deepEqual(await hear(changed(marked("statepicked-up", "statewaiting"))), []);
  assert.deepEqual(
    await hear(changed(marked("statedescribed table2", "statedescribed table1"))),
    [],
    "it had it",
  );
});

test("what stands on no page costs one small request where it alters the counts, and else nothing", async (t) => {
  const { hear, changed, office, now, read } = await opened(t, { next: 3 });
  const marked = (marks, was) => [
    "9",
    "item",
    9,
    "d",
    `listed ${marks}`,
    { marks: true, was: `listed ${was}` },
  ];
  const described = marked("statedescribed table1", "statewaiting table1");
  office.rows.set("9", row("9"));
  assert.deepEqual(await hear(changed(described)), ["/queue "]);
  assert.deepEqual(now.list.counts, { state: { waiting: 4 } });
  assert.equal(now.list.count, 4);
  assert.deepEqual(
    now.list.entries.map(({ item_id }) => item_id),
    ["1", "2", "3"],
  );
  assert.deepEqual(await hear(changed(described, ["2", "item", 2])), ["/queue 2"], "they come with a row");
  assert.deepEqual(await hear(changed(["9", "item", 9, "d", "listed statewaiting", { words: "tin" }])), []);
  assert.deepEqual(await hear(changed(["v", "visit", null, "d", ""])), [], "an owner's address");
  const unknown = ["9", "item", 9, "d", "listed statewaiting", { marks: true }];
  assert.deepEqual(await hear(changed(unknown)), ["/queue "], "it was otherwise more than once");
  now.asked = { ...ASKED_NOTHING, table_id: "2" };
  await read.list();
  now.list = { ...now.list, entries: [] };
  assert.deepEqual(await hear(changed(described)), [], "it is in none of the counts of another table");
  const moved = marked("statewaiting table1", "statewaiting table3");
  assert.deepEqual(await hear(changed(moved)), ["/queue "], "but in those of the tables");
  assert.deepEqual(
    await hear(changed(marked("statewaiting", "statewaiting levelnote"))),
    [],
    "counted by none",
  );
});

test("more at once than its pages hold is no long list of names: the pages are asked for anew", async (t) => {
  const { hear, changed } = await opened(t, { state: "described" });
  const come = (count) =>
    Array.from({ length: count }, (_, place) => [
      `n${place}`,
      "item",
      10 + place,
      "d",
      "listed statedescribed",
    ]);
  assert.deepEqual(await hear(changed(...come(300))), ["/queue"]);
  assert.equal((await hear(changed(...come(50)))).length, 1);
  assert.match((await hear(changed(...come(50))))[0], /^\/queue n0,/);
});

test("the counts come with an entry that is asked for anyway", async (t) => {
  const { hear, changed, now, office } = await opened(t, { item_id: "2", next: 3 });
  const alters = ["9", "item", 9, "d", "", { marks: true, was: "listed statewaiting" }];
  office.rows.set("4", row("4"));
  assert.deepEqual(await hear(changed(alters)), ["/queue "]);
  office.rows.delete("4");
  assert.deepEqual(await hear(changed(alters, ["v", "visit", null])), ["/entries/2 "]);
  assert.deepEqual(now.list.counts, { state: { waiting: 3 } });
});

test("what is listed again stands in its place among the pages", async (t) => {
  const { hear, changed, now } = await opened(t, { next: 3 });
  now.list = { ...now.list, entries: [row("1"), row("3")] };
  assert.deepEqual(await hear(changed(["2", "item", 2, "d", "", { marks: true, was: "" }])), []);
  const again = { marks: true, was: "", listed: true };
  assert.deepEqual(await hear(changed(["2", "item", 2, "d", "listed statewaiting", again])), ["/queue 2"]);
  assert.deepEqual(
    now.list.entries.map(({ item_id }) => item_id),
    ["1", "2", "3"],
  );
});

test("an open entry hears of the other things of its visit, by what it says of them", async (t) => {
  const { hear, changed } = await opened(t, { item_id: "2", next: 3 });
  const other = (found) => changed(["9", "item", 9, "d", "listed statewaiting", found]);
  assert.deepEqual(await hear(other({ beside: "v" })), ["/entries/2 "]);
  assert.deepEqual(await hear(other({ beside: "w" })), []);
  assert.deepEqual(await hear(other({})), []);
});

test("what nobody handles is told of whatever is shown, and is asked for as news tell it otherwise", async (t) => {
  const { hear, changed, office, now } = await opened(t, { state: "waiting", next: 3 });
  const told = (keep_away) => [{ item_id: "9", short_description: "shell", keep_away }];
  const crate = (alone) => ({ ...changed(["crate", "container", null, "d", ""]), alone });
  office.alone = [{ ...told("there")[0], near: ["crate"] }];
  assert.deepEqual(await hear(crate(told("there"))), ["/queue "], "the counts alone bring it");
  assert.deepEqual(now.list.alone, office.alone);
  assert.deepEqual(await hear(crate(told("there"))), [], "wherever the crate went, it is there");
  office.alone = told("elsewhere");
  assert.deepEqual(await hear(crate(told("elsewhere"))), ["/queue "]);
  assert.deepEqual(await hear(crate(undefined)), [], "an office of before tells nothing");
  office.alone = [];
  assert.deepEqual(await hear(crate([])), ["/queue "]);
  assert.deepEqual(now.list.alone, []);
});

test("a row is asked for where it is another now, or may have left the list", async (t) => {
  const { hear, changed, holder, office, read } = await opened(t, { next: 3 });
  const row = (found) => changed(["2", "item", 2, "d", "listed statewaiting", found]);
  assert.deepEqual(await hear(row({ words: "", listed: true, lost: true, same: true })), []);
  assert.deepEqual(await hear(row({})), ["/queue 2"]);
  assert.deepEqual(await hear(row({ marks: true, same: true })), ["/queue 2"]);
  holder.current.asked = { ...ASKED_NOTHING, words: "owl" };
  office.words = ["owl"];
  await read.list();
  assert.deepEqual(await hear(row({ words: "", same: true })), [], "it had the words, and has them still");
  assert.deepEqual(await hear(row({ words: "barn", lost: true, same: true })), ["/queue 2"]);
  assert.deepEqual(await hear(row({ words: "barn owls", lost: true, same: true })), []);
  assert.deepEqual(await hear(row({ listed: true, same: true })), ["/queue 2"]);
});

test("what was told while a list was on its way is asked for behind it", async (t) => {
  const { read, hear, changed, office, holder, told } = await opened(t, { next: 3 });
  const list = holder.current.list;
  holder.current.asked = { ...ASKED_NOTHING, words: "teddy" };
  const asking = read.list(); // read before what follows
  const news = changed(["9", "item", 9, "d", "listed", { words: "clock" }]);
  office.cursor -= 1;
  assert.deepEqual(holder.current.list, list, "it has not come");
  assert.deepEqual(await hear(news), [], "that is beyond what is shown until then");
  await asking;
  assert.equal(told.again, 1);
  office.cursor += 1;
  await read.list();
  assert.equal(told.again, 1, "that one says it");
});

/** Something is asked for, and news of it come before the answer, which was read earlier. */
async function overtaken(asking, { office, hear }, news) {
  let give;
  office.line = new Promise((resolve) => {
    give = resolve;
  });
  office.asked = [];
  const asked = asking();
  while (!office.asked.length) await nextTurn();
  await nextTurn(); // by then it was read
  office.line = null;
  await hear(news());
  give();
  await asked;
}

const nextTurn = () => new Promise((resolve) => setImmediate(resolve));

/** Enough of them for an answer that is there to be read. */
async function someTurns() {
  for (let turn = 0; turn < 20; turn++) await nextTurn();
}

test("what was told of an entry while it was on its way is asked for, and its row stays as it is", async (t) => {
  const desk = await opened(t, { next: 3 });
  const { read, now, office, told } = desk;
  const open = (id, news) => {
    Object.assign(now, { item_id: id, entry: null });
    return overtaken(read.entry, desk, news);
  };
  await open("2", () => {
    office.rows.set("2", row("2", { state: "returned" }));
    return desk.changed(["2", "item", 2, "d", "listed statereturned", {}]);
  });
  assert.deepEqual(told.keys, ["entry", "item 2"]);
  assert.equal(now.list.entries[1].state, "returned", "the list was asked before");
  told.keys = [];
  await open("3", () => desk.changed(["9", "item", 9, "d", "listed statewaiting", {}]));
  assert.deepEqual(told.keys, [], "it says nothing of that");
  await open("3", () => desk.changed(["v", "visit", null, "d", "", {}]));
  assert.deepEqual(told.keys, ["entry"]);
});

test("an entry that comes after another was opened writes no row that is newer by then", async (t) => {
  const desk = await opened(t, { item_id: "2", next: 3 });
  const { read, now, office } = desk;
  const left = (ours) => {
    Object.assign(now, { item_id: "2", entry: null });
    return overtaken(read.entry, desk, () => {
      Object.assign(now, { item_id: "3", entry: null });
      office.rows.set("2", row("2", { state: ours }));
      return desk.changed(["2", "item", 2, "d", `listed state${ours}`, {}]);
    });
  };
  await left("described");
  assert.equal(now.list.entries[1].state, "described", "as its row was read by itself");
  Object.assign(now, { item_id: "2", entry: null });
  office.rows.set("2", row("2", { state: "returned" }));
  await overtaken(read.entry, desk, () => {
    Object.assign(now, { item_id: "3", entry: null });
    return desk.changed(["9", "item", 9, "d", "listed statewaiting", {}]);
  });
  assert.equal(now.list.entries[1].state, "returned", "of which nothing was told");
});

test("what was told of a row that takes another's place, while it was on its way, is asked for", async (t) => {
  const desk = await opened(t, { next: 3 });
  const { read, office, told } = desk;
  office.rows.delete("2");
  office.filled = { after: 3, next: 4, entries: [row("4")] };
  const news = () => desk.changed(["4", "item", 4, "d", "listed statewaiting", {}]);
  await overtaken(() => read.oneOf(new Set(["item 2"])), desk, news);
  assert.deepEqual(told.keys, ["item 4"]);
});

test("what was told of a list asked again, of a thing that it did not show before, is asked for", async (t) => {
  const desk = await opened(t, { next: 3 });
  const { read, office, told } = desk;
  office.rows.set("4", row("4"));
  const news = () => desk.changed(["4", "item", 4, "d", "listed statewaiting", {}]);
  await overtaken(read.list, desk, news);
  assert.deepEqual(told.keys, ["item 4"]);
});

test("what was told of a next page while it was on its way is asked for", async (t) => {
  const desk = await opened(t, { next: 3 });
  const { read, office, told } = desk;
  office.rows.set("4", row("4"));
  await overtaken(read.more, desk, () => desk.changed(["4", "item", 4, "d", "listed statewaiting", {}]));
  assert.deepEqual(told.keys, ["item 4"]);
});

const idsOf = ({ entries }) => entries.map(({ item_id }) => item_id);

test("more of a list that is on its way is read as that comes, and never put to the one before", async (t) => {
  const { read, office, holder } = await opened(t, { next: 3 });
  office.rows.get("1").state = "described";
  holder.current = { ...holder.current, asked: { ...ASKED_NOTHING, state: "waiting" } };
  office.asked = [];
  await read.more();
  assert.deepEqual(office.asked, []);
  await read.list();
  await someTurns();
  assert.deepEqual(office.asked, ["/queue", "/queue"]);
  assert.deepEqual(idsOf(holder.current.list), ["2", "3", "2", "3"], "its first page, and one more");
});

test("more that was wanted of a list, which was asked otherwise before it came, is not read of the next", async (t) => {
  const { read, office, holder } = await opened(t, { next: 3 });
  holder.current = { ...holder.current, asked: { ...ASKED_NOTHING, state: "waiting" } };
  await read.more();
  holder.current = { ...holder.current, asked: { ...ASKED_NOTHING } };
  office.asked = [];
  await read.list();
  await someTurns();
  assert.deepEqual(office.asked, ["/queue"]);
});

test("a next page that rows were taken from while it was on its way is asked for again, behind them", async (t) => {
  const { read, office, now } = await opened(t, { next: 3 });
  let answer;
  office.answer = new Promise((resolve) => {
    answer = resolve;
  });
  office.asked = [];
  const isRead = read.more();
  now.list = { ...now.list, next: 4 };
  answer();
  await isRead;
  assert.deepEqual(office.asked, ["/queue", "/queue"]);
  assert.deepEqual(idsOf(now.list), ["1", "2", "3", "1", "2", "3"]);
  office.asked = [];
  await Promise.all([read.more(), read.more()]);
  assert.deepEqual(office.asked, ["/queue"], "a second press is for the page that is on its way");
});

test("the first news of a stream cost no second request for settlements", async (t) => {
  const { hear, office, now } = await opened(t, { next: 3 });
  assert.equal(now.settlements.cursor, office.cursor);
  const first = { cursor: office.cursor, changed: null, gave_way: null };
  assert.deepEqual(await hear(first), []);
  office.cursor += 1;
  assert.deepEqual(await hear({ ...first, cursor: office.cursor }), ["/queue", "/settlements"]);
});

test("settlements that could not be asked for are asked for with the next news", async (t) => {
  const { hear, changed, office, told } = await opened(t, { next: 3 });
  office.isAway = true;
  assert.deepEqual(await hear({ ...changed(["9", "item", 9]), gave_way: ["o1"] }), ["/settlements"]);
  assert.equal(told.problem, "", "what is on the screen is as it was read");
  office.isAway = false;
  assert.deepEqual(await hear(changed(["9", "item", 9])), ["/settlements"]);
  assert.deepEqual(await hear(changed(["9", "item", 9])), []);
});

/** What the office can say of each commit: which records and values it touched, the open entry among them, or not. */
const BURSTS = {
  "each of its rows changes": (desk, kept) => desk.changed([String(1 + (kept % 3)), "item", 1 + (kept % 3)]),
  "a value of its own gives way each time": (desk, kept) => ({
    ...desk.changed([String(1 + (kept % 3)), "item", 1 + (kept % 3)]),
    gave_way: [`o${kept}`],
  }),
  "too much changes for the office to say what": (desk) => ({
    ...desk.changed(),
    changed: null,
    gave_way: null,
  }),
};

for (const [burst, newsOf] of Object.entries(BURSTS))
  test(`fifty phones send at once: a desk asks at most twice a second where ${burst}`, async (t) => {
    const desk = await opened(t, { item_id: "2", next: 3 });
    const clock = handClock();
    let asking = null;
    const want = gathering((keys) => {
      asking = desk.read.oneOf(keys);
      return asking;
    }, clock);
    /** The office answers at once by this clock. */
    const turn = async (ms) => {
      await clock.turn(ms);
      await asking;
    };
    desk.office.asked = [];
    const [PHONES, SECONDS] = [50, 4];
    for (let kept = 0; kept < PHONES * SECONDS; kept += 1) {
      want(touchedBy(newsOf(desk, kept), desk.now));
      await turn(1000 / PHONES);
    }
    assert.ok(
      desk.office.asked.length <= 2 * SECONDS + 1,
      `${desk.office.asked.length} in ${SECONDS} seconds`,
    );
    for (let second = 0; second < 3; second += 1) await turn(1000);
    const kinds = new Set(desk.office.asked.map((address) => address.split(/[/ ]/)[1]));
    assert.ok(kinds.has("entries"), "and nothing that is shown is left out");
    if (burst !== "each of its rows changes") {
      assert.ok(kinds.has("settlements"));
      assert.equal(desk.now.settlements.cursor, desk.office.cursor);
    }
  });

for (const status of [0, 503])
  test(`a row, a list or an entry that could not be asked is still to be asked for: ${status}`, async (t) => {
    const { office, now, read, told } = await opened(t, { next: 3 });
    const still = async (...keys) => [...(await read.oneOf(new Set(keys)))];
    Object.assign(office, { fails: /queue|entries/, status });
    office.rows.set("2", row("2", { state: "described" }));
    assert.deepEqual(await still("item 2"), ["item 2"]);
    assert.deepEqual(await still("list", "item 2"), ["list", "item 2"]);
    assert.ok(told.problem);
    office.fails = null;
    assert.deepEqual(await still("item 2"), []);
    assert.deepEqual([now.list.entries[1].state, told.problem], ["described", ""]);
    now.item_id = "2";
    office.fails = /entries/;
    assert.equal(await read.entry(), false);
    assert.deepEqual(await still("entry", "item 3"), ["entry", "item 3"]);
    office.fails = null;
    assert.deepEqual(await still("entry"), []);
    assert.equal(now.entry.record_ids[0], "2");
  });

test("what the office says no to is not asked again", async (t) => {
  const { office, now, read, told } = await opened(t, { next: 3 });
  now.item_id = "9";
  assert.deepEqual([...(await read.oneOf(new Set(["entry"])))], []);
  assert.equal(told.problem, "no such entry");
  assert.equal(await read.entry(), true);
  assert.ok(office.asked.length);
});

test("an answer of before an erasure is asked for anew, and so is one of before the next", async (t) => {
  const { office, read } = await opened(t, { item_id: "1" });
  const erasedMeanwhile = [{ v1: "2026-03-14T12:00:00.000Z" }, { v2: "2026-03-14T12:00:01.000Z" }];
  Object.defineProperty(office, "line", {
    get: () => {
      const erased = erasedMeanwhile.shift();
      if (erased) erasures.value = { ...erasures.peek(), ...erased };
    },
  });
  office.asked = [];
  await read.entry();
  assert.deepEqual(office.asked, ["/entries/1", "/entries/1", "/entries/1"]);
});
