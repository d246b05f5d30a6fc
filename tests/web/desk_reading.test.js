/**
 * What a desk asks the office for as news come: one request a change, and none for what it does not show.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { ASKED_NOTHING } from "../../web/job/desk.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { load } from "../../web/local/load.ts";
import { record } from "../../web/local/memory.ts";
import { readersOf, touchedBy } from "../../web/screens/cataloguing/desk_reading.ts";

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

/** An office of three things and the page of a desk that shows them; `asked` are the addresses that were asked for. */
function aDesk(t, { item_id = "", state = "", next = null } = {}) {
  const rows = new Map(["1", "2", "3"].map((id) => [id, row(id)]));
  const office = { rows, cursor: 5, asked: [], answer: null };
  const page = (query) => {
    const items = query.get("items")?.split(",").filter(Boolean);
    const listed = (one) =>
      (items?.includes(one.item_id) ?? true) && [one.state, ""].includes(query.get("state"));
    const entries = [...rows.values()].filter(listed);
    const counts = query.has("counts") ? { state: { waiting: rows.size } } : null;
    return { cursor: office.cursor, entries, count: rows.size, count_capped: false, counts, alone: [], next };
  };
  const entry = (id, query) => ({
    cursor: office.cursor,
    records: [copy("item", id, office.cursor), copy("visit", "v")],
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
    const id = /^\/entries\/(.+)$/.exec(pathname)?.[1];
    if (id && !rows.has(id)) return Response.json({ detail: "no such entry" }, { status: 404 });
    return Response.json(id ? entry(id, searchParams) : page(searchParams));
  });
  const now = { current: { asked: { ...ASKED_NOTHING, state }, list: null, entry: null, item_id } };
  const setter = (name) => (value) => {
    now.current[name] = typeof value === "function" ? value(now.current[name]) : value;
  };
  const told = { listed: null, problem: "" };
  const read = readersOf(now, {
    setList: setter("list"),
    setEntry: setter("entry"),
    setListed: (asked) => Object.assign(told, { listed: asked }),
    setProblem: (problem) => Object.assign(told, { problem }),
  });
  /** The desk hears news, and asks until nothing is left to be asked; the addresses. */
  const hear = async (news) => {
    office.asked = [];
    for (let keys = touchedBy(news, now.current); keys.length; ) keys = await read.oneOf(new Set(keys));
    return office.asked;
  };
  const changed = (...ids) => {
    office.cursor += 1;
    return { cursor: office.cursor, changed: ids };
  };
  return { office, now: now.current, holder: now, read, hear, changed, told };
}

async function opened(t, given) {
  const desk = aDesk(t, given);
  await desk.read.list();
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
  assert.deepEqual(await hear({ cursor: 9, changed: null }), ["/entries/2"]);
  assert.equal(now.list.entries[2].state, "described");
  assert.equal(record("2").office_seq, 9);
  assert.deepEqual(await hear({ cursor: 9, changed: null }), [], "nothing is asked for twice");
});

test("an entry that the office does not have keeps nobody from the list", async (t) => {
  const { hear, office, now, told } = await opened(t, { item_id: "7" });
  office.cursor = 9;
  assert.deepEqual(await hear({ cursor: 9, changed: null }), ["/queue", "/entries/7 "]);
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
