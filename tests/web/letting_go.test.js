/**
 * Whatever a device may hold no longer leaves all of its storage: markers are planted wherever an owner's words can
 * stand, and looked for in every store, web storage and cache, in each of the ways in which a device loses the right to
 * them. What was typed and is nowhere else stays until it was sent or read.
 * The database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { write } from "../../web/local/changes.ts";
import { beginReading, letGoOfAll, takeUpWork, workOnDay } from "../../web/local/day.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import {
  deleteDayOver,
  dropErasedHere,
  showStoppedBefore,
  showTakenOffBefore,
  showUnkept,
} from "../../web/local/full_phone.ts";
import { enteredIn, enterInJournal, holdForm } from "../../web/local/held.ts";
import { loadAgain } from "../../web/local/load.ts";
import { device, held, left, photos, record, unsent, waiting } from "../../web/local/memory.ts";
import { forgetErased } from "../../web/local/opened.ts";
import { keep } from "../../web/local/outbox.ts";
import { filtersErased, savedFilters, saveFilter, seeFiltersErased } from "../../web/local/saved_filters.ts";
import { openedAs, storeOpened } from "../../web/local/store_opened.ts";
import { setUnsentAside } from "../../web/local/unsent.ts";
import { hearOnFullPhones } from "../../web/sync/full_phone.ts";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { Caches } from "./caches.js";
import { Items } from "./items.js";
import { answersWith, asked, begin, DAY, ITEM, photographed, STANDS, says } from "./office_here.js";
import { found } from "./whole_storage.js";

const [VISIT, OTHER_DAY, OTHER_ITEM] = ["2", "3", "4"].map(
  (digit) => `0000000${digit}-0000-7000-8000-000000000000`,
);
const AT = "2026-03-14T18:00:00.000Z";
const set = (value) => ({ value, operation_id: "o", made_by: "", made_at: AT, device_id: "" });
const a_record = (kind, record_id, day_id, fields = {}) => ({
  ...{ kind, record_id, day_id, visit_id: VISIT, opened_at: "", opened_by: "", tables: [] },
  ...{ fields, disagreements: [], office_seq: 7 },
});
const theDay = (fields = {}) => a_record("day", DAY, DAY, fields);
const otherDay = a_record("day", OTHER_DAY, OTHER_DAY);
const theVisit = a_record("visit", VISIT, DAY, {
  ticket: set("Q04"),
  "consignor/name": set("marker-name"),
  needs: set("marker-needs"),
});
const theItem = a_record("item", ITEM, DAY, { told_words: set("marker-told") });
/** The marks of whatever others recorded, and of a signature on which nobody pressed "keep". */
const OTHERS = ["marker-name", "marker-needs", "marker-told", "marker-picture"];
const SIGNATURE = ["marker-strokes", "marker-signed"];
/** What was typed into forms and never sent. */
const TYPED = ["marker-paper", "marker-seal", "marker-draft"];
const ALL = [...OTHERS, ...SIGNATURE, ...TYPED];

/** The feed from its start, for whoever works on that day. */
const tells = (records, more = {}) => {
  says["GET /sync/feed"] = () =>
    Response.json({ records, cursor: 7, more: false, epoch: "e1", office_time: AT, office: STANDS, ...more });
};
const signedOff = (key) => {
  says[key] = () => Response.json({ code: "device_revoked", detail: "Off.", hint: "Pair." }, { status: 403 });
};

async function round() {
  await syncNow();
  while (status.value.busy) await new Promise(setImmediate);
}

/** A device at its day's work, with forms begun: two held, and a key whose saving was cut off. */
async function atWork(role) {
  await rememberDevice({ role, day_id: DAY });
  await beginReading();
  await storeFeed({ records: [theDay(), otherDay, theVisit, theItem], cursor: 7, epoch: "e1", day_id: DAY });
  const cache = await caches.open(`pictures ${DAY}`);
  await cache.put("/photos/1", new Response("marker-picture"));
  enterInJournal(`receipt ${VISIT}`, {
    ...{ strokes: "M1 marker-strokes", signed_by: "marker-signed", on_paper: "marker-paper" },
  });
  await holdForm(`receipt ${VISIT}`);
  enterInJournal("seal box", { seal: "marker-seal" });
  await holdForm("seal box");
  enterInJournal(`draft #/item/${ITEM}  Materials`, { text: "marker-draft", from: "", label: "Materials" });
  assert.deepEqual(await found(ALL), ALL, "each is somewhere on it");
}

async function allRead() {
  for (const name of Object.keys(unsent.value)) await setUnsentAside(name);
}

globalThis.document = new EventTarget();
hearOnFullPhones();

beforeEach(async () => {
  globalThis.caches = new Caches();
  globalThis.sessionStorage = new Items();
  await begin();
  await loadAgain();
});

async function refusedOf(item_id) {
  says["POST /sync/operations"] = answersWith(() => "refused");
  await keep("set_item", { item_id, field: "maker", value: "unmarked" });
}

/** The office refuses what is said of a thing, and calls its day over. */
async function overWithRefused(item_id) {
  await refusedOf(item_id);
  tells([], { day_id: DAY, day_over: true });
}

/** Each way, and what stays of others' marks because the device may still hold it. */
const WAYS = {
  "the manager took it off the office": () => signedOff("GET /sync/feed"),
  "it was taken off while it had something to send": async () => {
    await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
    signedOff("POST /sync/operations");
  },
  "the day is over": () => tells([], { day_id: DAY, day_over: true }),
  "the day is over, and something of it was refused": () => overWithRefused(OTHER_ITEM),
  "the day is over, and what was refused is of a thing whose owner is named here": () =>
    overWithRefused(ITEM),
  "it works on another day, and what was refused is of a thing whose owner is named here": async () => {
    await refusedOf(ITEM);
    tells([], { day_id: DAY });
    await round();
    await takeUpWork({ day_id: OTHER_DAY });
    tells([theDay(), otherDay], { day_id: OTHER_DAY });
  },
  "it works on another day": async () => {
    await takeUpWork({ day_id: OTHER_DAY });
    tells([theDay(), otherDay], { day_id: OTHER_DAY });
  },
  "a door became a desk": async () => {
    await takeUpWork({ role: "desk" });
    tells([theDay(), otherDay], { day_id: "" });
  },
};

for (const [way, happens] of Object.entries(WAYS))
  test(`${way}: nothing stays on it but what was typed, until that was read`, async () => {
    await atWork("door");
    await happens();
    await round();
    assert.deepEqual(await found(ALL), TYPED);
    await loadAgain();
    assert.deepEqual(
      Object.values(unsent.value).map(({ of, ticket, words, was_signed }) => [of, ticket, words, was_signed]),
      [
        ["receipt", "Q04", ["marker-paper"], true],
        ["seal box", "", ["marker-seal"], false],
        ["Materials", "Q04", ["marker-draft"], false],
      ],
    );
    assert.deepEqual([...held.keys()], []);
    await allRead();
    await round();
    assert.deepEqual(await found(ALL), []);
    assert.equal(asked.filter((one) => one === "POST /sync/forget").length, 1, "its browser's pictures, too");
  });

test("from a closed day to the next nothing of its owners goes along, with no line to tell it so", async () => {
  for (const isClosed of [true, false]) {
    await rememberDevice({ person_id: "hester", day_id: DAY });
    await atWork("door");
    await write(["record"], async (tx) => {
      const fields = { ...theDay().fields, ...(isClosed && { closed: set({ closed_by: "hester" }) }) };
      await tx.put("record", { ...theDay(), fields });
      await tx.put("record", otherDay);
    });
    await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
    await workOnDay(OTHER_DAY);
    const [known, left] = [device.peek(), await found(OTHERS)];
    assert.deepEqual([known.day_id, known.table_id, known.person_id], [OTHER_DAY, "", ""]);
    assert.deepEqual(left.length > 0, !isClosed, `${isClosed}: ${left}`);
    assert.equal(waiting.value.length > 0, true, "what it owes stays");
  }
});

test("a porter's device goes on with what of the day before is on its way, until it has come", async () => {
  const inVan = { ...theItem, fields: { whereabouts: set({ to_place: "van" }) } };
  const another = a_record("day", ITEM.replace("0", "1"), ITEM.replace("0", "1"), { closed: set({}) });
  for (const role of ["table", "porter"]) {
    await rememberDevice({ role, day_id: DAY, scope: "" });
    await beginReading();
    const records = [theDay({ closed: set({ closed_by: "hester" }) }), otherDay, another, inVan];
    await storeFeed({ records, cursor: 7, epoch: "e1", day_id: DAY });
    await workOnDay(OTHER_DAY);
    assert.deepEqual(
      [record(ITEM)?.day_id, record(DAY)?.day_id],
      role === "porter" ? [DAY, DAY] : [undefined, undefined],
    );
  }
  tells([theDay({ closed: set({}) }), otherDay, inVan], { day_id: OTHER_DAY, awaits: [DAY] });
  await round();
  assert.deepEqual(
    [record(ITEM)?.record_id, record(DAY)?.record_id, record(another.record_id)],
    [ITEM, DAY, null],
  );
  asked.length = 0;
  tells([], { day_id: OTHER_DAY, awaits: [] });
  await round();
  assert.deepEqual([record(ITEM), record(DAY), record(OTHER_DAY)?.record_id], [null, null, OTHER_DAY]);
  tells([], { day_id: OTHER_DAY, awaits: [DAY] });
  await round();
  assert.equal(asked.filter((one) => one.startsWith("GET /sync/feed?after=0&")).length, 0);
  tells([theDay(), otherDay, inVan], { day_id: OTHER_DAY, awaits: [DAY] });
  await round();
  assert.equal(asked.filter((one) => one.startsWith("GET /sync/feed?after=0&")).length, 1, "from its start");
  assert.equal(record(ITEM)?.record_id, ITEM);
  tells([], { day_id: OTHER_DAY, awaits: [DAY] });
  await round();
  assert.equal(asked.filter((one) => one.startsWith("GET /sync/feed?after=0&")).length, 1, "and once");
});

test("nobody goes on to another day with a count that is begun and not recorded", async () => {
  await atWork("porter");
  const aim = { work: "move", to: "van", at: "trip 2", of_load: "" };
  enterInJournal(`porter ${DAY}`, { aim, scanned: [{ done: null }, { done: { words: "" } }] });
  await assert.rejects(
    workOnDay(OTHER_DAY),
    /A count is open here, to van, trip 2: 1 scanned\. Record it under Porter/,
  );
  assert.equal(device.peek().day_id, DAY);
  enterInJournal(`porter ${DAY}`, { aim, scanned: [{ done: null }] });
  await workOnDay(OTHER_DAY);
  assert.equal(device.peek().day_id, OTHER_DAY);
});

test("a day that is over stays with a count of it that is begun and not recorded, and goes once it is", async () => {
  await atWork("porter");
  const aim = { work: "move", to: "van", at: "trip 2", of_load: "" };
  const name = `porter ${DAY}`;
  enterInJournal(name, { aim, scanned: [{ done: { words: "" } }] });
  await holdForm(name);
  tells([], { day_id: DAY, day_over: true });
  await round();
  await loadAgain();
  assert.deepEqual([device.peek().day_id, record(ITEM)?.record_id], [DAY, ITEM]);
  assert.equal(enteredIn(name).aim.at, "trip 2");
  enterInJournal(name, { aim, scanned: [] });
  await holdForm(name);
  await round();
  assert.equal(record(ITEM), null);
});

test("what left of a day that is over, while something of it was owed, comes back if it is not over after all", async () => {
  await atWork("door");
  await overWithRefused(ITEM);
  await round();
  const stays = record(VISIT);
  assert.deepEqual([device.peek().day_id, stays.fields.ticket.value], [DAY, "Q04"]);
  assert.equal(stays.fields["consignor/name"], undefined);
  tells([theDay(), theVisit, theItem], { day_id: DAY, day_over: false });
  asked.length = 0;
  await round();
  await round();
  const feeds = asked.filter((path) => path.startsWith("GET /sync/feed"));
  assert.deepEqual(
    feeds.map((path) => /after=(\d+)/.exec(path)[1]),
    ["7", "0", "7"],
    "once, from its start",
  );
  assert.equal(record(VISIT).fields["consignor/name"].value, "marker-name");
});

/** A porter's count of what came of that day, held at the porter's place of the day that the device works on. */
async function counts(works_on, scanned = [{ done: { words: "" }, of_day: DAY }]) {
  const aim = { work: "move", to: "store", at: "", of_load: "the load" };
  enterInJournal(`porter ${works_on}`, { aim, scanned });
  await holdForm(`porter ${works_on}`);
}

test("a day before stays with a count of it that is begun on the next, and goes once that is recorded", async () => {
  await atWork("porter");
  await rememberDevice({ day_id: OTHER_DAY, awaits: [DAY] });
  await beginReading();
  await counts(OTHER_DAY);
  await allRead();
  tells([], { day_id: OTHER_DAY, awaits: [] }); // nothing of it is in the van any more
  await round();
  await loadAgain();
  assert.deepEqual([record(DAY)?.record_id, record(ITEM)?.record_id], [DAY, ITEM]);
  assert.deepEqual(await found(["marker-picture"]), ["marker-picture"], "what came is compared with it");
  await counts(OTHER_DAY, []);
  await round();
  assert.equal(record(ITEM), null);
  assert.deepEqual(await found(["marker-picture"]), []);
});

test("a load that was chosen keeps its day as well, where an app of before did not say of which day a row is", async () => {
  await atWork("porter");
  await storeFeed({ records: [theDay({ "loads/the load": set({}) })], cursor: 8, epoch: "e1", day_id: DAY });
  await rememberDevice({ day_id: OTHER_DAY, awaits: [DAY] });
  await beginReading();
  await counts(OTHER_DAY, [{ done: { words: "" } }]);
  tells([], { day_id: OTHER_DAY, awaits: [] });
  await round();
  assert.equal(record(ITEM)?.record_id, ITEM);
});

test("a count that is begun stays with a device that does other work, unless nobody counts there", async () => {
  await atWork("porter");
  await counts(DAY);
  await takeUpWork({ role: "door" });
  tells([theDay(), otherDay], { day_id: DAY });
  await round();
  await loadAgain();
  assert.equal(enteredIn(`porter ${DAY}`)?.scanned.length, 1);
  await takeUpWork({ role: "desk" });
  tells([theDay(), otherDay], { day_id: "" });
  await round();
  await loadAgain();
  assert.equal(enteredIn(`porter ${DAY}`), undefined);
});

test("a day that is over is read once, also while something of a day before it is owed", async () => {
  await atWork("door");
  await refusedOf(ITEM);
  tells([], { day_id: DAY });
  await round();
  await takeUpWork({ day_id: OTHER_DAY });
  says["GET /sync/feed"] = (_, path) => {
    const on = new URL(path, "http://office").searchParams.get("day_id");
    const page = { cursor: 7, more: false, epoch: "e1", office_time: AT, office: STANDS };
    if (asked.length > 40) throw new Error("it reads on for ever");
    return Response.json({ ...page, records: [otherDay], day_id: on || OTHER_DAY, day_over: true });
  };
  asked.length = 0;
  await round();
  const count = () => asked.filter((path) => path.startsWith("GET /sync/feed")).length;
  assert.ok(count() <= 3, `${count()} in one round`);
  asked.length = 0;
  await round();
  assert.ok(count() <= 2, `${count()} in the next`);
});

test("whoever chose no day goes on with the count that is open, whatever day was set up since", async () => {
  await atWork("porter");
  await rememberDevice({ day_id: "", awaits: [DAY] });
  await beginReading();
  await counts(DAY);
  await assert.rejects(workOnDay(OTHER_DAY), /A count is open here, to store: 1 scanned/);
  says["GET /sync/feed"] = (_, path) => {
    const on = new URL(path, "http://office").searchParams.get("day_id");
    const page = { records: [], cursor: 7, more: false, epoch: "e1", office_time: AT, office: STANDS };
    return Response.json({ ...page, day_id: on || OTHER_DAY, day_over: on === DAY, awaits: [] });
  };
  await round();
  assert.deepEqual([device.peek().day_id, record(ITEM)?.record_id], [DAY, ITEM]);
  await counts(DAY, []);
  await round();
  assert.deepEqual([device.peek().day_id, record(ITEM)], [OTHER_DAY, null]);
});

test("on a full phone a day that is over stays with its count as well", async () => {
  await atWork("porter");
  await counts(DAY);
  await deleteDayOver(AT);
  assert.equal(record(ITEM)?.record_id, ITEM);
  await counts(DAY, []);
  await deleteDayOver(AT);
  assert.equal(record(ITEM), null);
});

test("a porter's own day is over: it is chosen no more, and what is on its way stays", async () => {
  const inVan = { ...theItem, fields: { whereabouts: set({ to_place: "van" }) } };
  await rememberDevice({ role: "porter", day_id: DAY });
  await beginReading();
  await storeFeed({ records: [theDay({ closed: set({}) }), inVan], cursor: 7, epoch: "e1", day_id: DAY });
  says["GET /sync/feed"] = (_, path) => {
    const isOwn = path.includes(DAY);
    const page = { records: isOwn ? [] : [theDay({ closed: set({}) }), inVan], more: false, awaits: [DAY] };
    const says = { cursor: 7, epoch: "e1", office_time: AT, office: STANDS };
    return Response.json({ ...says, ...page, day_id: isOwn ? DAY : "", day_over: isOwn });
  };
  await round();
  assert.deepEqual([device.peek().day_id, record(ITEM)?.record_id], ["", ITEM]);
});

test("a table that took another seat has nothing of the owners at the one it left, and says who moved it", async () => {
  await rememberDevice({ person_id: "hester", table_id: "t1" });
  await atWork("table");
  await rememberDevice({ table_id: "t2" }); // as the choice of a table does
  const bare = ({ fields: _, ...rest }) => ({ ...rest, fields: { ticket: set("Q04") } });
  tells([theDay(), bare(theVisit), theItem], { day_id: DAY });
  asked.length = 0;
  await round();
  assert.deepEqual(await found(["marker-name", "marker-needs"]), []);
  const [path] = asked.filter((one) => one.startsWith("GET /sync/feed"));
  assert.match(path, /table_id=t2&by=hester/);
});

test("a device that comes back a week later lets go before any picture goes", async () => {
  await atWork("door");
  await photographed(1000);
  tells([], { day_id: DAY, day_over: true, office_time: "2026-03-21T18:00:00.000Z" });
  const stillHere = [];
  says["POST /sync/bundle"] = async () => {
    stillHere.push(await found([...OTHERS, ...SIGNATURE]));
    throw new TypeError("the line is cut");
  };
  await loadAgain();
  asked.length = 0;
  await round();
  assert.deepEqual(
    asked.slice(0, 4).map((one) => one.split("?")[0]),
    ["POST /sync/operations", "GET /sync/feed", "POST /sync/forget", "GET /sync/feed"],
    "what it owes, and whether it may hold the rest",
  );
  assert.deepEqual(stillHere, [[]], "its pictures have yet to go");
  assert.equal(left.value.why, "over");
});

test("a door that became a porter on the same day holds what a porter may", async () => {
  await atWork("door");
  await rememberDevice({ table_id: "t1" });
  await takeUpWork({ role: "porter" });
  assert.equal(device.peek().table_id, "", "it sits at no table any more");
  const bare = ({ fields: _, ...rest }) => ({ ...rest, fields: { ticket: set("Q04") } });
  tells([theDay(), otherDay, bare(theVisit), bare(theItem)], { day_id: DAY });
  await round();
  assert.deepEqual(await found(ALL), ["marker-picture", ...TYPED]);
  await allRead();
  assert.deepEqual(await found(ALL), ["marker-picture"]);
});

const OF_DESK = [...OTHERS, "marker-history", "marker-filter"];

/** An entry is opened at a desk, and a filter saved. */
async function atTheDesk(records = [theItem, theVisit]) {
  const page = {
    cursor: 9,
    records,
    operations: ["marker-history"],
    people: {},
    others: [],
  };
  await storeOpened(page, openedAs(page, AT));
  await saveFilter({ name: "hers", asked: { words: "marker-filter" } });
}

test("a desk that became a table has neither the entries that it opened nor its filters", async () => {
  await rememberDevice({ role: "desk", day_id: DAY });
  await beginReading();
  await atTheDesk();
  await takeUpWork({ role: "table" });
  const bare = ({ fields: _, ...rest }) => ({ ...rest, fields: {} });
  tells([theDay(), bare(theVisit), bare(theItem)], { day_id: DAY });
  await round();
  assert.deepEqual(await found(OF_DESK), []);
});

test("a desk that was signed off has neither", async () => {
  await rememberDevice({ role: "desk" });
  await atTheDesk();
  signedOff("GET /sync/feed");
  await round();
  assert.deepEqual(await found(OF_DESK), []);
});

test("of a visit on which something waits a signed-off device holds what waits, and not what others said", async () => {
  await atWork("door");
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "marker-waits" });
  signedOff("POST /sync/operations");
  await round();
  assert.deepEqual(await found([...OTHERS, ...SIGNATURE]), []);
  assert.deepEqual(await found(["marker-waits"]), ["marker-waits"]);
  assert.equal(record(VISIT).fields["consignor/telephone"].value, "marker-waits");
  assert.equal(record(VISIT).fields.ticket.value, "Q04", "whose it is can still be said");
  assert.deepEqual([waiting.value.length, device.value.cursor], [1, 0]);
  const before = left.value;
  await round();
  assert.deepEqual(
    [left.value, before.why, before.owed],
    [before, "signed off", 2],
    "it is said of when they left",
  );
});

const answers = ({ operations }) =>
  Response.json({
    answers: operations.map(({ operation_id }) => ({
      operation_id,
      outcome: "kept",
      office_seq: 8,
      problem: null,
    })),
    ...{ office_time: AT, office: STANDS },
  });

test("what a signed-off device had sent stays until the office says that it stands twice", async () => {
  await atWork("door");
  says["POST /sync/operations"] = answers;
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "marker-sent" });
  tells([], { day_id: DAY });
  await round();
  signedOff("GET /sync/feed");
  await round();
  assert.deepEqual(await found(["marker-sent"]), ["marker-sent"], "an office of before says nothing of it");
  const stands = (safe_seq, more = {}) => {
    const office = { ...STANDS, known_chain: STANDS.chain, safe_seq, ...more };
    says["GET /sync/standing"] = () => Response.json({ office, office_time: AT, settled: [DAY] });
  };
  stands(7);
  await round();
  assert.deepEqual(await found(["marker-sent"]), ["marker-sent"], "in one place only");
  stands(8, { epoch: "e2" });
  await round();
  assert.deepEqual(await found(["marker-sent"]), ["marker-sent"], "another office has not got it");
  assert.equal(waiting.value.length, 1, "it will be sent again");
  stands(8, { epoch: "e2", office_seq: 12 });
  await round();
  assert.equal(waiting.value.length, 1);
});

test("with no second place it goes when the office says that nothing of its day is settled any more", async () => {
  await atWork("door");
  says["POST /sync/operations"] = answers;
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "marker-sent" });
  tells([], { day_id: DAY });
  await round();
  signedOff("GET /sync/feed");
  const office = { ...STANDS, known_chain: STANDS.chain, safe_seq: null };
  let settled = [];
  says["GET /sync/standing"] = (_body, path) => {
    assert.equal(new URL(path, "http://office").searchParams.get("days"), DAY);
    return Response.json({ office, office_time: AT, settled });
  };
  await round();
  assert.deepEqual(await found(["marker-sent"]), ["marker-sent"]);
  settled = [DAY];
  await round();
  assert.deepEqual(await found(["marker-sent"]), []);
});

test("what stands twice leaves a signed-off device, pictures as well", async () => {
  await atWork("door");
  says["POST /sync/operations"] = answers;
  says["POST /sync/bundle"] = () => Response.json({ answers: [], photos: [], office: STANDS });
  const bytes = (text) => new TextEncoder().encode(text).buffer;
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "marker-sent" });
  await write(["photo", "photo_bytes"], async (tx) => {
    const photo = {
      sha256: "a".repeat(64),
      size: 9,
      media_type: "image/jpeg",
      is_thumb: false,
      at_office: true,
    };
    await tx.put("photo", { ...photo, confirmed_at: AT });
    await tx.put("photo_bytes", bytes("marker-bytes"), photo.sha256);
  });
  tells([], { day_id: DAY });
  await round();
  assert.deepEqual(await found(["marker-sent", "marker-bytes"]), ["marker-sent", "marker-bytes"]);
  signedOff("GET /sync/feed");
  const office = { ...STANDS, known_chain: STANDS.chain, safe_seq: 8 };
  says["GET /sync/standing"] = () => Response.json({ office, office_time: AT, settled: [] });
  says["POST /sync/photos"] = ({ sha256 }) => Response.json({ here: sha256, copied: sha256 });
  await round();
  assert.deepEqual(await found(["marker-sent", "marker-bytes"]), []);
});

test("small pictures taken here go with the records that show them, once they stand twice", async () => {
  await atWork("door");
  const thumbs = ["c", "d"].map((letter) => letter.repeat(64));
  await write(["photo", "photo_bytes", "record"], async (tx) => {
    for (const [index, sha256] of thumbs.entries()) {
      await tx.put("photo", { sha256, size: 9, media_type: "image/jpeg", is_thumb: true, at_office: true });
      await tx.put("photo_bytes", new TextEncoder().encode(`marker-thumb-${index}`).buffer, sha256);
    }
    await tx.put("record", { ...theItem, fields: { "photos/p": set({ thumb_sha256: thumbs[0] }) } });
  });
  const marks = ["marker-thumb-0", "marker-thumb-1"];
  tells([], { day_id: DAY });
  says["POST /sync/photos"] = ({ sha256 }) => Response.json({ here: sha256, copied: [] });
  await round();
  assert.deepEqual(await found(marks), marks, "in one place only");
  says["POST /sync/photos"] = ({ sha256 }) => Response.json({ here: sha256, copied: sha256 });
  await round();
  assert.deepEqual(await found(marks), marks.slice(0, 1), "its thing is still here");
  tells([], { day_id: DAY, day_over: true });
  await round();
  assert.deepEqual(await found(marks), []);
  await loadAgain();
  assert.deepEqual(
    photos.value.map(({ freed }) => freed),
    [true, true],
  );
});

test("a signed-off device hears whose words were erased", async () => {
  await atWork("door");
  says["POST /sync/operations"] = answers;
  await keep("set_consignor", { visit_id: VISIT, field: "telephone", value: "marker-sent", made_at: AT });
  tells([], { day_id: DAY });
  await round();
  signedOff("GET /sync/feed");
  const office = { ...STANDS, known_chain: STANDS.chain, erased: 1 };
  says["GET /sync/standing"] = () => Response.json({ office, office_time: AT, settled: [] });
  says["GET /sync/erasures"] = () =>
    Response.json({ erasures: [{ record_id: VISIT, made_at: AT, office_seq: 9 }] });
  await round();
  assert.deepEqual(await found(["marker-sent"]), []);
});

test("what is typed on a signed-off device goes at its next try, and a killed first try is made up for", async () => {
  await atWork("door");
  await rememberDevice({ revoked: true }); // and there the app was killed
  signedOff("GET /sync/feed");
  await round();
  assert.deepEqual(await found([...OTHERS, ...SIGNATURE]), []);
  const { at } = left.value;
  for (const strokes of ["marker-again", "marker-again marker-more"]) {
    enterInJournal(`receipt ${VISIT}`, { strokes, on_paper: "marker-paper is torn" });
    await round();
  }
  assert.deepEqual(await found(["marker-again", "marker-more"]), []);
  assert.deepEqual(
    unsent.value[`receipt ${VISIT}`].words,
    ["marker-paper is torn"],
    "the longer word has the shorter",
  );
  assert.equal(left.value.at, at, "what left, left then");
});

test("a signed-off device reads nothing of an office that does not know it, and sends what it owes", async () => {
  await atWork("door");
  signedOff("GET /sync/feed");
  await round();
  assert.equal(device.value.revoked, true);
  await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  says["POST /sync/operations"] = ({ operations }) =>
    Response.json({
      answers: operations.map(({ operation_id }) => ({ operation_id, outcome: "kept", office_seq: 8 })),
      ...{ office_time: AT, office: STANDS },
    });
  tells([theDay(), theVisit, theItem], { day_id: DAY });
  await round();
  assert.equal(waiting.value.length, 0);
  assert.deepEqual(await found(OTHERS), []);
});

test("words that were saved with filters go with an erasure, which is told; what they narrow to stays", async () => {
  await atWork("desk");
  await saveFilter({ name: "marker-name's things", asked: { words: "marker-name" } });
  await saveFilter({ name: "", asked: { words: "", state: "ready" } });
  await saveFilter({ name: "marker-name, his toys", asked: { words: "", class_id: "soft-toy" } });
  says["GET /sync/erasures"] = () =>
    Response.json({ erasures: [{ record_id: OTHER_ITEM, made_at: AT, office_seq: 9 }] });
  tells([theDay(), otherDay], { day_id: "", office: { ...STANDS, erased: 1 } });
  await round();
  assert.deepEqual(await found(["marker-name"]), []);
  const stay = [
    { name: "Saved", asked: { words: "", state: "ready" } },
    { name: "Saved 2", asked: { words: "", class_id: "soft-toy" } },
  ];
  assert.deepEqual(await savedFilters(), stay);
  assert.deepEqual(await filtersErased(), { went: 1, unnamed: 1 });
  await saveFilter({ name: "marker-name", asked: { words: "marker" } });
  await forgetErased(["another"]);
  assert.deepEqual(await filtersErased(), { went: 2, unnamed: 1 }, "until somebody has seen it");
  await seeFiltersErased();
  await forgetErased(["a third"]);
  assert.deepEqual([await savedFilters(), await filtersErased()], [stay, undefined]);
});

/** Source: Indexed Database API 3.0, where storing may end in a QuotaExceededError and deleting does not. */
function whileFull(work) {
  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
  return work().finally(() => {
    IDBObjectStore.prototype.put = put;
  });
}

const roundWhileFull = () => whileFull(round);

/** How often the browser was told to forget its own pictures; counted anew from now on. */
function timesForgotten() {
  const times = asked.filter((one) => one === "POST /sync/forget").length;
  asked.length = 0;
  return times;
}

/** Source: as above. What is full takes a write again once something was deleted. */
async function untilDeleted(work) {
  const { put, delete: remove } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.delete = function (...words) {
    IDBObjectStore.prototype.put = put;
    return remove.apply(this, words);
  };
  try {
    return await whileFull(work);
  } finally {
    IDBObjectStore.prototype.delete = remove;
  }
}

/**
 * A visit and its thing as they are told once the owner's words were erased and a Stop was called on the thing: words
 * that were erased are told as none, as the office does; or not told at all.
 */
function erasedAndStopped({ asNone = true } = {}) {
  const none = (fields, ...names) =>
    Object.fromEntries(
      Object.entries(fields).flatMap(([name, one]) =>
        names.includes(name) ? (asNone ? [[name, { ...one, value: "" }]] : []) : [[name, one]],
      ),
    );
  const stop = set({ level: "red", marker: "marker-stop" });
  return [
    { ...theVisit, fields: none(theVisit.fields, "consignor/name", "needs"), office_seq: 9 },
    {
      ...theItem,
      fields: { ...none(theItem.fields, "told_words"), "cautions/c": stop },
      office_seq: 10,
    },
  ];
}

/** The office tells of both, and so does the list of erasures. */
function tellsOfBoth() {
  says["GET /sync/erasures"] = () =>
    Response.json({ erasures: [{ record_id: VISIT, made_at: AT, office_seq: 9 }] });
  tells(erasedAndStopped(), { cursor: 9, day_id: DAY, office: { ...STANDS, erased: 1 } });
}

const isStoppedHere = () => record(ITEM)?.fields["cautions/c"]?.value.level === "red";

test("a full phone hears an erasure and a Stop, and its bar says that they are not kept", async () => {
  await atWork("door");
  tellsOfBoth();
  await roundWhileFull();
  assert.match(status.value.problem.words, /phone is full.* Stop too, and is not kept.* make room/);
  const gone = ["marker-name", "marker-needs", "marker-told", "marker-paper", ...SIGNATURE];
  assert.deepEqual(await found(gone), [], "and what was typed into forms about that owner");
  assert.equal(record(VISIT).fields["consignor/name"].value, "");
  assert.equal(isStoppedHere(), true, "it shows although it is not in the database");
  assert.deepEqual(await found(["marker-draft", "marker-seal"]), ["marker-draft", "marker-seal"]);

  assert.equal(device.value.cursor, 7, "all of it is to be told again");
  asked.length = 0;
  await roundWhileFull();
  assert.equal(asked.filter((one) => one.includes("/sync/feed?after=9")).length, 1, "and is asked for once");
  await round(); // and there is room
  assert.equal(device.value.cursor, 9);
  assert.deepEqual(await found(["marker-stop", "marker-name", "marker-told"]), ["marker-stop"]);
  assert.equal(localStorage.getItem("told on a full phone"), null, "it is in the database now");
});

test("what a full phone is told no longer leaves its disk, whether or not it was erased", async () => {
  await atWork("door");
  tellsOfBoth();
  tells(erasedAndStopped({ asNone: false }), { cursor: 9, day_id: DAY });
  timesForgotten();
  await roundWhileFull();
  assert.deepEqual(await found(["marker-name", "marker-needs", "marker-told"]), []);
  assert.equal(timesForgotten(), 1, "and so does the browser let go");
  assert.equal(record(VISIT).fields["consignor/name"], undefined);
  await roundWhileFull();
  assert.equal(timesForgotten(), 0, "of what there is");
  await round(); // and there is room
});

test("a Stop that a full phone heard stands after it was opened anew, with no line", {
  timeout: 20_000,
}, async () => {
  await atWork("door");
  tellsOfBoth();
  await roundWhileFull();
  await loadAgain();
  assert.equal(isStoppedHere(), false, "the database has none of it");
  document.dispatchEvent(new Event("resume")); // a page that was frozen
  while (!isStoppedHere()) await new Promise(setImmediate);
  await loadAgain();
  const anew = await import("../../web/local/full_phone.ts?opened anew");
  await anew.showStoppedBefore();
  assert.equal(isStoppedHere(), true);
  await rememberDevice({ revoked: true });
  while (record(ITEM)) await new Promise(setImmediate);
  assert.deepEqual(await found(["marker-stop"]), [], "and it leaves with all else");
});

test("a full phone that reads another day shows nothing of the one before", async () => {
  await atWork("door");
  tellsOfBoth();
  await roundWhileFull();
  await takeUpWork({ day_id: OTHER_DAY });
  await loadAgain();
  await showStoppedBefore();
  assert.deepEqual([isStoppedHere(), await found(["marker-stop"])], [false, []]);
});

/** The office lost nothing, takes what it is sent, and tells of both. */
function tellsAndTakes() {
  const office = { ...STANDS, erased: 1, known_chain: STANDS.chain };
  const answers = answersWith(() => "kept");
  says["POST /sync/operations"] = async (batch) =>
    Response.json({ ...(await answers(batch).json()), office });
  tellsOfBoth();
  tells(erasedAndStopped(), { cursor: 9, day_id: DAY, office });
}

test("what is owed of an erased visit stays on a full phone until it is sent", async () => {
  await atWork("door");
  await keep("set_visit", { visit_id: VISIT, field: "needs", value: "marker-owed" });
  tellsAndTakes();
  await roundWhileFull();
  assert.equal(record(VISIT).fields.needs.value, "marker-owed");
  assert.equal(record(VISIT).fields["consignor/name"].value, "");
  const words = ["marker-name", "marker-needs", "marker-told", "marker-owed"];
  assert.deepEqual(await found(words), ["marker-owed"], "of the record itself nothing does");
  await loadAgain();
  assert.equal(
    record(VISIT)?.fields["consignor/name"]?.value,
    undefined,
    "nor is it shown anew with no line",
  );
  await round(); // and there is room
  assert.deepEqual([waiting.value.length, device.value.cursor], [0, 9]);
  assert.equal(record(VISIT).fields["consignor/name"].value, "");
});

test("a full phone that owes a fact of a record that is not here sends it once it has room", async () => {
  await atWork("door");
  await keep("set_item", { item_id: OTHER_ITEM, field: "maker", value: "marker-owed" });
  tellsAndTakes();
  await roundWhileFull();
  assert.deepEqual([waiting.value.length, await found(["marker-owed"])], [1, ["marker-owed"]]);
  assert.equal(isStoppedHere(), true, "though what it owes could not be sent");
  await round(); // and there is room
  assert.deepEqual([waiting.value.length, device.value.cursor], [0, 9]);
});

test("a full phone hears that its day is over", async () => {
  await atWork("door");
  tellsOfBoth();
  await roundWhileFull();
  tells([], { day_id: DAY, day_over: true });
  await roundWhileFull();
  assert.deepEqual(await found(OTHERS), []);
  assert.deepEqual([record(VISIT), record(ITEM)], [null, null]);
  assert.deepEqual(await found(["marker-stop"]), []);
  await round(); // and there is room
  assert.deepEqual([await found(OTHERS), record(DAY)], [[], null]);
});

test("of a day that is over goes what was answered as well, though a full phone can note nothing of it", async () => {
  await atWork("door");
  says["POST /sync/operations"] = answersWith(() => "kept");
  await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  await round();
  assert.deepEqual([waiting.value.length, record(ITEM)?.fields.maker?.value], [0, "unmarked"]);
  assert.equal(await whileFull(() => deleteDayOver(AT)), 2);
  await loadAgain();
  assert.deepEqual([record(VISIT), record(ITEM)], [null, null]);
});

test("where deleting makes room, of a day that is over all goes, and what was typed is put where it is read", async () => {
  await atWork("door");
  assert.equal(await untilDeleted(() => deleteDayOver(AT)), 3, "the visit, its thing and the day");
  await loadAgain();
  assert.deepEqual([record(DAY), [...held.keys()]], [null, []]);
  assert.deepEqual(await found(ALL), TYPED);
});

test("beside a full phone's database stands what was stopped, and nothing else that it was told", async () => {
  await atWork("door");
  const other = { ...a_record("item", OTHER_ITEM, DAY, { told_words: set("marker-told") }), office_seq: 11 };
  await showUnkept("x", [...erasedAndStopped(), other, theDay()]);
  const { records } = JSON.parse(localStorage.getItem("told on a full phone"));
  assert.deepEqual(
    records.map(({ record_id }) => record_id),
    [ITEM],
  );
});

test("what says no more of an owner than before stays on a full phone's disk, whatever else it says no more", async () => {
  await atWork("door");
  const { ticket: _, ...rest } = theVisit.fields;
  assert.equal(await showUnkept("x", [{ ...theVisit, fields: rest, office_seq: 9 }]), 0);
  assert.equal(await showUnkept("x", erasedAndStopped()), 2);
});

test("an entry that a full desk keeps goes with the words of any record in it", async () => {
  await rememberDevice({ role: "desk", day_id: DAY });
  await beginReading();
  const [hers, another] = ["5", "6"].map((digit) => `0000000${digit}-0000-7000-8000-000000000000`);
  await atTheDesk([theItem, { ...theVisit, record_id: hers }]);
  await whileFull(() => dropErasedHere([{ record_id: another, made_at: AT, office_seq: 8 }]));
  assert.deepEqual(await found(["marker-history"]), ["marker-history"], "another's leave it");
  await whileFull(() => dropErasedHere([{ record_id: hers, made_at: AT, office_seq: 9 }]));
  assert.deepEqual(await found(["marker-history"]), []);
});

const heardOffice = (more) =>
  write(["setting"], (tx) => tx.remember("office", { ...STANDS, proof: "p", before_loss: "p", ...more }));

test("a full phone hears nothing from an office that has lost something", async () => {
  await atWork("door");
  tells(erasedAndStopped(), { day_id: DAY, epoch: "e2", office: { ...STANDS, epoch: "e2" } });
  await roundWhileFull();
  assert.equal(record(VISIT).fields["consignor/name"].value, "marker-name");
  await heardOffice({ office_seq: 11 });
  tells(erasedAndStopped(), { cursor: 9, day_id: DAY, office: STANDS });
  await roundWhileFull();
  assert.equal(record(VISIT).fields["consignor/name"].value, "marker-name", "as an older copy of it");
});

test("a full phone that was signed off shows nobody's records, and says what is wrong with it", async () => {
  await atWork("door");
  signedOff("GET /sync/feed");
  timesForgotten();
  await roundWhileFull();
  assert.ok(timesForgotten(), "its browser lets go as well");
  assert.deepEqual(await found(OTHERS), []);
  assert.deepEqual(await found(TYPED), TYPED);
  assert.match(status.value.problem.words, /phone is full/);
  assert.equal(device.value.revoked, true, "and that it was signed off");
  await loadAgain();
  assert.equal(device.value.revoked, undefined, "the database has none of it");
  await showTakenOffBefore();
  assert.equal(device.value.revoked, true);
  await round(); // and there is room again
  await loadAgain();
  assert.deepEqual(await found([...OTHERS, ...SIGNATURE]), []);
  assert.equal(device.value.revoked, true);
});

test("of a visit that it still owes something of, a full phone that was signed off keeps that alone", async () => {
  await atWork("door");
  await keep("set_visit", { visit_id: VISIT, field: "needs", value: "marker-owed" });
  signedOff("POST /sync/operations");
  signedOff("GET /sync/feed");
  await roundWhileFull();
  assert.deepEqual(await found(OTHERS), []);
  assert.deepEqual([waiting.value.length, await found(["marker-owed"])], [1, ["marker-owed"]]);
  tells([theDay(), theVisit], { day_id: DAY });
  says["POST /sync/operations"] = answersWith(() => "kept");
  await takeUpWork({ revoked: false }); // there is room, and it was paired again
  asked.length = 0;
  await round();
  assert.match(
    asked.find((path) => path.startsWith("GET /sync/feed")),
    /after=0&/,
  );
  assert.deepEqual([waiting.value.length, device.value.revoked], [0, false]);
  assert.equal(record(VISIT).fields["consignor/name"].value, "marker-name", "all is read anew");
});

test("a full phone that was signed off and is paired anew while it is full reads all anew once it has room", async () => {
  await atWork("door");
  signedOff("GET /sync/feed");
  await roundWhileFull();
  assert.equal(record(VISIT), null);
  tells([theDay(), theVisit], { day_id: DAY }); // it was paired, and could not store that
  await roundWhileFull();
  await loadAgain();
  await showTakenOffBefore();
  assert.equal(device.value.revoked, true, "nothing says that it has its day");
  await round(); // and there is room
  while (device.value.revoked) await new Promise(setImmediate);
  asked.length = 0;
  await round();
  assert.match(
    asked.find((path) => path.startsWith("GET /sync/feed")),
    /after=0&/,
  );
  assert.equal(record(VISIT).fields["consignor/name"].value, "marker-name");
});

test("a full phone that was given other work keeps no owner's words, and hears for that", async () => {
  await atWork("door");
  await keep("set_visit", { visit_id: VISIT, field: "needs", value: "marker-owed" });
  const { device_id, name } = device.value;
  const asPorter = { device: { device_id, name, role: "porter", letters: null } };
  const stop = { ...theItem, office_seq: 9, fields: { "cautions/c": set({ level: "red" }) } };
  tells([theDay(), stop], { cursor: 9, day_id: DAY, ...asPorter });
  timesForgotten();
  await roundWhileFull();
  assert.ok(timesForgotten(), "its browser lets go as well");
  assert.deepEqual(await found(OTHERS), []);
  assert.deepEqual([device.value.role, isStoppedHere()], ["porter", true]);
  assert.deepEqual(await found(["marker-owed"]), ["marker-owed"]);
  await loadAgain();
  assert.equal(device.value.role, "door", "the database has none of it");
  says["POST /sync/operations"] = answersWith(() => "kept");
  await round(); // and there is room
  await loadAgain();
  assert.deepEqual([waiting.value.length, device.value.role, isStoppedHere()], [0, "porter", true]);
});

test("a full phone that was given other work and its own again, and opened anew, reads all anew", async () => {
  await atWork("door");
  const { device_id, name } = device.value;
  const as = (role) => ({ device: { device_id, name, role, letters: null } });
  tells([theDay()], { day_id: DAY, ...as("porter") });
  await roundWhileFull();
  tells([theDay()], { day_id: DAY, ...as("door") });
  await roundWhileFull();
  await loadAgain();
  assert.deepEqual([device.value.role, device.value.cursor, record(VISIT)], ["door", 7, null]);
  tells([theDay(), theVisit], { day_id: DAY, ...as("door") });
  asked.length = 0;
  await roundWhileFull();
  assert.match(
    asked.findLast((path) => path.startsWith("GET /sync/feed")),
    /after=0&/,
  );
  await loadAgain();
  asked.length = 0;
  await round(); // and there is room
  assert.match(
    asked.find((path) => path.startsWith("GET /sync/feed")),
    /after=0&/,
  );
  assert.deepEqual(await found(["marker-name"]), ["marker-name"]);
});

test("whoever is given other work lets go of owners' words before the office tells of that", async () => {
  await atWork("door");
  await takeUpWork({ role: "porter", revoked: false });
  assert.deepEqual(await found(["marker-name", "marker-needs", "marker-told"]), []);
});

test("how much a full phone has let go of is told when deleting has made room for the rest", async () => {
  await atWork("door");
  assert.equal(typeof (await untilDeleted(letGoOfAll)), "number");
  assert.deepEqual(await found(OTHERS), []);
});

test("words of an owner who asked for their erasure go from what was typed and never sent as well", async () => {
  await atWork("door");
  enterInJournal(`draft #/visit/${VISIT}  Telephone`, {
    text: "marker-telephone",
    from: "",
    label: "Telephone",
  });
  await letGoOfAll();
  assert.deepEqual(await found(["marker-telephone", ...SIGNATURE]), ["marker-telephone"]);
  says["GET /sync/erasures"] = () =>
    Response.json({ erasures: [{ record_id: VISIT, made_at: AT, office_seq: 9 }] });
  tells([theDay(), otherDay], { day_id: DAY, office: { ...STANDS, erased: 1 } });
  await rememberDevice({ revoked: false }); // it was paired again
  await round();
  assert.deepEqual(await found(["marker-telephone", "marker-paper", ...SIGNATURE, "marker-name"]), []);
  assert.deepEqual(await found(["marker-draft"]), ["marker-draft"], "of the thing, which is not the owner's");
});

test("words of an owner who asked for their erasure go from forms that are still open", async () => {
  await atWork("door");
  says["GET /sync/erasures"] = () =>
    Response.json({ erasures: [{ record_id: VISIT, made_at: AT, office_seq: 9 }] });
  const { "consignor/name": _, needs: __, ...rest } = theVisit.fields;
  const erased = { ...theVisit, fields: rest, office_seq: 9 };
  tells([erased], { day_id: DAY, office: { ...STANDS, erased: 1 } });
  await round();
  assert.deepEqual(await found(["marker-name", "marker-needs", "marker-paper", ...SIGNATURE]), []);
  assert.deepEqual(enteredIn("seal box"), { seal: "marker-seal" });
});

test("a form begun in the new role stays, and so does one of a day that goes on", async () => {
  await atWork("door");
  await takeUpWork({ role: "desk" });
  enterInJournal("described x", { reason: "marker-desk" });
  await holdForm("described x");
  tells([theDay(), otherDay], { day_id: "" });
  await round();
  assert.deepEqual(enteredIn("described x"), { reason: "marker-desk" });
  await write(["record"], (tx) => tx.delete("record", DAY));
  tells([otherDay], { day_id: "" });
  await round();
  assert.deepEqual(enteredIn("described x"), { reason: "marker-desk" }, "a desk works on no day");
});

test("a form whose app wrote no role down stays with its day", async () => {
  await atWork("door");
  await write(["held"], (tx) => tx.put("held", { name: "old", day_id: DAY, entered: { why: "marker-old" } }));
  await takeUpWork({ role: "table" });
  tells([theDay()], { day_id: DAY });
  await round();
  assert.deepEqual(enteredIn("old"), { why: "marker-old" });
  tells([], { day_id: DAY, day_over: true });
  await round();
  assert.deepEqual([enteredIn("old"), unsent.value.old.words], [undefined, ["marker-old"]]);
});

test("of what was done at once, and of who helped, nothing is left to be read", async () => {
  await atWork("porter");
  const scanned = [{ tag: "7K3QW5", words: "a bear", done: null }];
  for (const [name, entered] of [
    [`porter ${DAY}`, { aim: { work: "move", to: "van" }, scanned }],
    [`check-in ${DAY}`, { second: "Ana Tern" }],
    [`tickets ${DAY}`, { count: 20, device_id: OTHER_ITEM, note: " " }],
  ]) {
    enterInJournal(name, entered);
    await holdForm(name);
  }
  tells([], { day_id: DAY, day_over: true });
  await round();
  assert.deepEqual([held.size, Object.keys(unsent.value).length], [0, 3], "the three forms with words");
});

test("what its browser was to forget is asked for again until the office has answered", async () => {
  await atWork("door");
  tells([], { day_id: DAY, day_over: true, office_time: "2026-03-21T18:00:00.000Z" });
  says["POST /sync/forget"] = () => {
    throw new TypeError("the line is cut");
  };
  await round();
  says["POST /sync/forget"] = () => new Response(null, { status: 204 });
  const tries = () => asked.filter((one) => one === "POST /sync/forget").length;
  asked.length = 0;
  await round();
  assert.equal(tries(), 1);
  await round();
  assert.equal(tries(), 1, "once it was told");
});

test("a first signature under a closing leaves once the day is closed, and is no words that nobody else has", async () => {
  const FIRST = { list: { by: "Vera", digest: "a0".repeat(32), marks: ["b1".repeat(32)] } };
  await rememberDevice({ role: "manager", day_id: DAY });
  await beginReading();
  await storeFeed({ records: [theDay(), otherDay], cursor: 7, epoch: "e1", day_id: DAY });
  enterInJournal(`signed ${DAY}`, FIRST);
  await holdForm(`signed ${DAY}`);
  tells([], { day_id: DAY });
  await round();
  assert.deepEqual(enteredIn(`signed ${DAY}`), FIRST, "it waits for the second person");
  tells([theDay({ closed: set({ closed_by: "Vera" }) })], { day_id: DAY, cursor: 8 });
  await round();
  assert.equal(enteredIn(`signed ${DAY}`), undefined);
  assert.deepEqual(unsent.value, {});
});

test("one that an app of before kept to be read goes by itself", async () => {
  await atWork("manager");
  const read = { of: "signed", ticket: "", words: ["Vera", "a0".repeat(32)], was_signed: false, at: AT };
  await write(["setting"], (tx) => tx.remember("unsent", { [`signed ${OTHER_DAY}`]: read, notes: read }));
  tells([theDay(), otherDay], { day_id: DAY });
  await round();
  assert.deepEqual(Object.keys(unsent.value), ["notes"]);
});
