/**
 * A round with the office: what it says decides what leaves the outbox and which originals go.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import { write } from "../../web/local/changes.ts";
import { transact } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import {
  device,
  forgotten,
  photos,
  plans,
  record,
  records,
  refused,
  waiting,
} from "../../web/local/memory.ts";
import { keep } from "../../web/local/outbox.ts";
import { photoBytes } from "../../web/local/photos.ts";
import { whyNoOffice } from "../../web/sync/out_of_reach.ts";
import { status } from "../../web/sync/status.ts";
import { startSync, syncNow } from "../../web/sync/sync.ts";
import {
  answersWith,
  asked,
  begin,
  DAY,
  ITEM,
  photographed,
  SHA,
  STANDS,
  says,
  THUMB,
} from "./office_here.js";

beforeEach(begin);

test("what is small goes together, and a request that is half full takes no more", async () => {
  const sent = () => asked.filter((path) => path.startsWith("POST /sync/operations")).length;
  for (let number = 0; number < 3; number++)
    await keep("set_item", { item_id: ITEM, field: `f${number}`, value: "x" });
  const before = sent();
  await syncNow();
  assert.equal(sent() - before, 1);
  // 512 KiB are the most of one request, so that a thin line is done with it in time: common practice.
  for (const field of ["a", "b", "c"])
    await keep("set_item", { item_id: ITEM, field, value: "x".repeat(250 * 1024) });
  const again = sent();
  await syncNow();
  assert.equal(sent() - again, 2);
  assert.equal(waiting.value.length, 0);
});

test("210 that wait in front hold up no visit that comes after them", async () => {
  for (let number = 0; number < 210; number++)
    await keep("record_measure", { item_id: ITEM, measure: `m${number}`, value: 1, unit: "mm", typed: "" });
  await keep("open_visit", { visit_id: "visit", day_id: DAY, ticket: "Q01" });
  says["POST /sync/operations"] = answersWith(({ kind }) => (kind === "open_visit" ? "kept" : "waiting"));
  await syncNow();
  assert.equal(status.value.problem, null);
  assert.equal(waiting.value.length, 210);
  assert.ok(!waiting.value.some(({ kind }) => kind === "open_visit"));
});

test("what waits is handed in again before anything is read, if something came that it may wait for", async () => {
  const handedIn = [];
  says["POST /sync/operations"] = (batch) => {
    const here = handedIn.flat().includes("open_visit");
    handedIn.push(batch.operations.map(({ kind }) => kind));
    return answersWith(({ kind }) => (here || kind === "open_visit" ? "kept" : "waiting"))(batch);
  };
  const feed = says["GET /sync/feed"];
  says["GET /sync/feed"] = () => {
    handedIn.push("read");
    return feed();
  };
  await keep("set_item", { item_id: ITEM, field: "maker", value: "x" });
  await syncNow();
  assert.deepEqual(handedIn, [["set_item"], "read", ["set_item"]], "nothing came that it may wait for");
  handedIn.length = 0;
  await keep("open_visit", { visit_id: "visit", day_id: DAY, ticket: "Q01" });
  await syncNow();
  assert.deepEqual(handedIn.slice(0, 3), [["set_item", "open_visit"], ["set_item"], "read"]);
  assert.equal(waiting.value.length, 0);
});

const bytesOf = (batch) => new TextEncoder().encode(JSON.stringify(batch)).length;
const tooLarge = () => Response.json({ code: "too_large", detail: "" }, { status: 413 });
/** Signs of three bytes each in UTF-8 (RFC 3629), as many as the longest text may have. */
const LONG = "\u78c1".repeat(8000);

test("long texts go in as many requests as the office takes them in", async () => {
  for (let number = 0; number < 200; number++)
    await keep("set_item", { item_id: ITEM, field: `maker${number}`, value: LONG });
  const sizes = [];
  says["POST /sync/operations"] = (batch) => {
    sizes.push(bytesOf(batch));
    return bytesOf(batch) > 4 * 1024 * 1024 ? tooLarge() : answersWith(() => "kept")(batch);
  };
  await syncNow();
  assert.equal(status.value.problem, null);
  assert.equal(waiting.value.length, 0);
  assert.ok(Math.max(...sizes) < 768 * 1024, "within the time that a request has on a thin line");
  assert.ok(asked.some((path) => path.startsWith("GET /sync/feed")));
});

test("where less is taken at once, fewer are sent, and one too large by itself is refused and stays here", async () => {
  for (let number = 0; number < 9; number++)
    await keep("set_item", { item_id: ITEM, field: `maker${number}`, value: number === 4 ? LONG : "x" });
  says["POST /sync/operations"] = (batch) =>
    bytesOf(batch) > 1500
      ? tooLarge() // whatever stands before the office may be narrower than the office
      : answersWith((op) => ("value" in op ? "kept" : "refused"))(batch);
  await syncNow();
  assert.equal(waiting.value.length, 0);
  assert.deepEqual(
    refused.value.map(({ problem, operation }) => [problem.code, operation.value]),
    [["too_large", LONG]],
  );
  assert.ok(asked.some((path) => path.startsWith("GET /sync/feed")));
});

test("pictures that do not get through hold up no reading, and an office that lost something is noticed", async () => {
  await photographed(10);
  await syncNow(); // the words are answered; of the pictures the office has heard nothing
  await write(["setting"], (tx) => tx.remember("office", { ...STANDS, device_seq: 1 }));
  says["POST /sync/bundle"] = () => Promise.reject(new TypeError("the line is too thin"));
  says["GET /sync/feed"] = () =>
    Response.json({
      records: [],
      cursor: 0,
      more: false,
      epoch: "e1",
      office_time: "",
      office: { ...STANDS, office_seq: 4, chain: "c4", hearing: true },
    });
  await loadAgain();
  await syncNow();
  assert.deepEqual([forgotten.value?.why, forgotten.value?.done_at], ["older", null]);
  assert.equal(status.value.out_of_reach, true, "and it is said that something did not get through");
});

test("what others have done is read before any picture goes", async () => {
  await photographed(10);
  says["POST /sync/bundle"] = () => Promise.reject(new TypeError("the line is cut"));
  await syncNow();
  const steps = asked.map((path) => path.replace(/[?].*/, ""));
  const [words, reading, picture] = ["POST /sync/operations", "GET /sync/feed", "POST /sync/bundle"].map(
    (step) => steps.indexOf(step),
  );
  assert.ok(words >= 0 && words < reading && reading < picture, steps.join(", "));
});

const THIN = () => Promise.reject(new DOMException("The operation timed out.", "TimeoutError"));
const FULL = () => Response.json({ code: "office_full", detail: "The disk is full." }, { status: 507 });
for (const [why, answer, isThere] of [
  ["whose disk is full", FULL, true],
  ["behind a line too thin for what waits", THIN, false],
]) {
  test(`a Stop is heard from an office ${why}, and what waits stays here`, async () => {
    await keep("set_item", { item_id: ITEM, field: "maker", value: "x" });
    says["POST /sync/operations"] = answer;
    const stopped = { record_id: "stopped", kind: "item", office_seq: 11, fields: {}, disagreements: [] };
    says["GET /sync/feed"] = () =>
      Response.json({
        ...{ records: [stopped], cursor: 11, more: false, epoch: "e1" },
        ...{ office_time: "", office: { ...STANDS, erased: 1 } },
      });
    const erasure = { record_id: "visit", made_at: "2026-10-17T10:00:00.000Z", office_seq: 9 };
    says["GET /sync/erasures"] = () => Response.json({ erasures: [erasure] });
    const { lastContactAt } = status.value;
    await syncNow();
    assert.ok(record("stopped"), "the feed was not read");
    assert.ok(asked.includes("GET /sync/erasures"));
    assert.equal(waiting.value.length, 1);
    assert.equal(status.value.out_of_reach, !isThere);
    if (isThere) assert.equal(status.value.problem?.code, "office_full");
    assert.equal(status.value.lastContactAt, lastContactAt);
    assert.ok(!asked.some((path) => path.includes("photos")));
  });
}

test("one that the office does not know asks it for nothing else, whatever waits", async () => {
  await keep("set_item", { item_id: ITEM, field: "maker", value: "x" });
  says["POST /sync/operations"] = () => Response.json({ code: "not_paired", detail: "x" }, { status: 401 });
  await syncNow();
  assert.ok(!asked.some((path) => path.startsWith("GET /sync/feed")));
});

test("an office of before, which names no day, takes no record away", async () => {
  const record = {
    record_id: "visit",
    kind: "visit",
    day_id: DAY,
    opened_by: "",
    opened_at: "",
    fields: {},
    disagreements: [],
  };
  says["GET /sync/feed"] = () =>
    Response.json({
      records: [record],
      cursor: 1,
      more: false,
      epoch: "e1",
      office_time: "",
      office: STANDS,
    });
  await syncNow();
  assert.equal(status.value.problem, null);
  assert.deepEqual(
    records("visit").map(({ record_id }) => record_id),
    ["visit"],
  );
});

/** A page of the feed without records, as the office answers whom it takes for `device`. */
const feedPage = (more) =>
  Response.json({
    ...{ records: [], cursor: 7, more: false, epoch: "e1", office_time: "", office: STANDS },
    ...{ day_id: DAY, day_over: false },
    ...more,
  });
const readings = () => asked.filter((path) => path.startsWith("GET /sync/feed"));

test("a device whose pairing was answered in vain learns from the feed what it is, and reads anew as that", async () => {
  const paired = { ...device.peek(), role: "porter", name: "Van", letters: null };
  const { device_id, role, name, letters } = paired;
  await write(["setting"], (tx) =>
    tx.remember("device", { ...device.peek(), day_id: DAY, scope: "x", cursor: 5 }),
  );
  await write(["record"], (tx) =>
    tx.put("record", { record_id: "v", kind: "visit", day_id: "another", fields: {}, disagreements: [] }),
  );
  says["GET /sync/feed"] = () => feedPage({ device: { device_id, role, name, letters } });
  await syncNow();
  assert.deepEqual([device.value.role, device.value.name], ["porter", "Van"]);
  assert.equal(readings().length, 2);
  assert.match(readings()[1], /after=0&/, "as a porter it has read nothing yet");
  assert.deepEqual(records("visit"), []);
  asked.length = 0;
  await syncNow();
  assert.equal(readings().length, 1, "it is what the office says");
});

test("a page of another day than was asked for is not asked for without end", async () => {
  await write(["setting"], (tx) => tx.remember("device", { ...device.peek(), day_id: DAY }));
  says["GET /sync/feed"] = () => feedPage({ day_id: "" });
  await syncNow();
  assert.equal(readings().length, 1);
});

test("operations come with the device's own time, so that the office sees how far it is off", async () => {
  const [HOUR, before] = [3_600_000, Date.now()];
  await write(["setting"], async (tx) =>
    tx.remember("device", { ...(await tx.setting("device")), clock_offset_ms: HOUR }),
  );
  await keep("open_visit", { visit_id: "visit", day_id: DAY, ticket: "Q01" });
  let sent_at = "";
  says["POST /sync/operations"] = (batch) => {
    sent_at = batch.sent_at;
    return answersWith(() => "kept")(batch);
  };
  await syncNow();
  const ahead = Date.parse(sent_at) - before;
  assert.ok(ahead >= HOUR && ahead < HOUR + 60_000, "by the clock that its operations are made by");
});

test("how far the clock is off is noted anew once it is off by more than two seconds otherwise", async () => {
  const HOUR = 3_600_000;
  const notedAt = async (ahead, before) => {
    await write(["setting"], async (tx) =>
      tx.remember("device", { ...(await tx.setting("device")), clock_offset_ms: before }),
    );
    says["POST /sync/operations"] = async (batch) => {
      const answered = await answersWith(() => "kept")(batch).json();
      return Response.json({ ...answered, office_time: new Date(Date.now() + ahead).toISOString() });
    };
    await keep("set_item", { item_id: ITEM, field: "maker", value: "x" });
    await syncNow();
    return device.value.clock_offset_ms;
  };
  assert.equal(await notedAt(HOUR, HOUR + 500), HOUR + 500, "as it was, but for the line");
  assert.notEqual(await notedAt(HOUR, HOUR - 60_000), HOUR - 60_000);
  assert.notEqual(await notedAt(-HOUR, HOUR), HOUR);
});

test("what is written after the feed was read is by the office's time, though nothing was sent before", async () => {
  const WEEK = 7 * 24 * 3_600_000;
  const feedAhead = async (ahead) => {
    const page = { records: [], cursor: 0, more: false, epoch: "e1", office: STANDS };
    says["GET /sync/feed"] = () =>
      Response.json({ ...page, office_time: new Date(Date.now() + ahead).toISOString() });
    await syncNow();
    return device.value.clock_offset_ms;
  };
  assert.equal(await feedAhead(50_000), 0, "a page may take so long to come");
  assert.ok(Math.abs((await feedAhead(WEEK)) - WEEK) < 60_000);
  const { made_at } = await keep("set_item", { item_id: ITEM, field: "maker", value: "x" });
  assert.ok(Math.abs(Date.parse(made_at) - Date.now() - WEEK) < 60_000);
});

test("only the office's clock counts how long ago a day was closed, not this phone's or the one that closed it", async () => {
  await keep("open_visit", { visit_id: "visit", day_id: DAY, ticket: "Q01" });
  const closed = {
    value: {},
    operation_id: "c",
    made_by: "",
    made_at: "2001-01-01T00:00:00Z",
    device_id: "",
  };
  const day = {
    kind: "day",
    record_id: DAY,
    day_id: DAY,
    opened_at: "",
    fields: { closed },
    disagreements: [],
  };
  const roundAt = async (office_time) => {
    says["GET /sync/feed"] = () =>
      Response.json({ records: [day], cursor: 1, more: false, epoch: "e1", office_time, office: STANDS });
    await syncNow();
    return transact(["answered"], "readonly", (tx) => tx.objectStore("answered").count());
  };
  says["POST /sync/operations"] = async (batch) =>
    Response.json({
      ...(await answersWith(() => "kept")(batch).json()),
      office_time: "2001-02-01T18:00:00Z",
    });
  assert.equal(await roundAt("2001-02-01T18:00:00Z"), 1);
  assert.equal(await roundAt("2001-03-03T17:00:00Z"), 1);
  says["GET /sync/feed"] = () => Response.json({ code: "busy", detail: "Busy" }, { status: 503 });
  await syncNow();
  assert.equal(await roundAt("2001-03-03T19:00:00Z"), 0);
});

test("what the office told last is said with each request, and what it never told is left out", async () => {
  await write(["setting"], (tx) => tx.remember("office", { ...STANDS, proof: "p7" }));
  await loadAgain();
  await keep("open_visit", { visit_id: "visit", day_id: DAY, ticket: "Q01" });
  await syncNow();
  const feeds = asked.filter((path) => path.startsWith("GET /sync/feed"));
  const said = new URL(feeds[0].replace("GET ", "http://office"));
  const of = (name) => said.searchParams.get(name);
  assert.deepEqual(
    ["known_seq", "known_chain", "proof", "before_loss", "limit", "holding", "to_send"].map(of),
    ["10", "c10", "p7", null, "500", "0", "0"],
  );
  const sending = asked.find((path) => path.startsWith("POST /sync/operations"));
  assert.match(sending, /^POST \/sync\/operations\?known_seq=10&known_chain=c10&proof=p7$/);
});

test("plans come again only when they are others than those that are here", async (t) => {
  const fetched = t.mock.method(globalThis, "fetch");
  const book = { plans: { bell: { class_id: "bell", version: "2" } } };
  says["GET /plans"] = () => Response.json(book, { headers: { ETag: "tag 2" } });
  await syncNow();
  says["GET /plans"] = () => new Response(null, { status: 304 });
  await syncNow();
  const known = fetched.mock.calls
    .filter(({ arguments: [path] }) => path === "/plans")
    .map(({ arguments: [, options] }) => new Headers(options.headers).get("If-None-Match"));
  assert.deepEqual(known, [null, "tag 2"]);
  assert.deepEqual(plans.value.book, book);
});

test("how much is on this device only is told with each reading, and anew once it is less", async () => {
  await photographed(10);
  says["POST /sync/operations"] = answersWith(() => "waiting");
  says["POST /sync/bundle"] = () => {
    const kept = [SHA, THUMB].map((sha256) => ({ sha256, outcome: "kept", problem: null }));
    return Response.json({ answers: [], photos: kept, office: STANDS });
  };
  await syncNow();
  const told = asked
    .filter((path) => path.startsWith("GET /sync/feed"))
    .map((path) => new URLSearchParams(path).get("holding"));
  assert.deepEqual(told, ["3", "1"]);
});

test("an office that is away is tried again within ten seconds, and nothing is said to stand there meanwhile", async () => {
  await syncNow();
  assert.equal(status.value.out_of_reach, false);
  says["POST /sync/operations"] = says["GET /sync/feed"] = () => {
    throw new TypeError("no network");
  };
  for (let failure = 0; failure < 9; failure++) await syncNow();
  assert.equal(status.value.out_of_reach, true);
  assert.match(whyNoOffice(), /is not reached/);
  says["GET /sync/feed"] = () => Response.json({ code: "not_paired", detail: "no" }, { status: 401 });
  asked.length = 0;
  mock.timers.tick(10_000);
  while (status.value.busy) await new Promise((done) => setImmediate(done));
  assert.ok(asked.length > 0, "it was tried again");
  assert.equal(status.value.out_of_reach, false, "it answered, whatever it said");
  assert.match(whyNoOffice(), /does not know this device/);
});

/**
 * Finds its disk full at whatever is stored, until pictures were let go of and that is on the disk: room is not there
 * before. Source: Indexed Database API 3.0, where storing may end in a QuotaExceededError and deleting does not.
 */
function fullDisk(t) {
  const { put, delete: remove } = IDBObjectStore.prototype;
  let full = true;
  IDBObjectStore.prototype.put = function (...given) {
    if (full) throw new DOMException("full", "QuotaExceededError");
    return put.apply(this, given);
  };
  IDBObjectStore.prototype.delete = function (...given) {
    if (this.name === "photo_bytes")
      this.transaction.addEventListener("complete", () => {
        full = false;
      });
    return remove.apply(this, given);
  };
  t.after(() => Object.assign(IDBObjectStore.prototype, { put, delete: remove }));
}

for (const [places, safe_seq] of [
  ["a second place", 11],
  ["no second place", null],
])
  test(`a full phone lets go of what is safe before it writes anything, with ${places}`, async (t) => {
    const here = { sha256: SHA, size: 3, media_type: "image/jpeg", is_thumb: false, at_office: true };
    await write(["photo", "photo_bytes", "setting"], async (tx) => {
      await tx.put("photo", here);
      await tx.put("photo_bytes", new ArrayBuffer(3), SHA);
      await tx.remember("office", { ...STANDS, safe_seq });
    });
    await loadAgain();
    await keep("open_visit", { visit_id: "visit", day_id: DAY, ticket: "Q01" });
    const stands = { ...STANDS, safe_seq };
    says["POST /sync/operations"] = async (batch) =>
      Response.json({ ...(await answersWith(() => "kept")(batch).json()), office: stands });
    says["GET /sync/feed"] = () =>
      Response.json({ records: [], cursor: 1, more: false, epoch: "e1", office_time: "", office: stands });
    says["POST /sync/photos"] = ({ sha256 }) =>
      Response.json({ here: sha256, copied: safe_seq === null ? [] : sha256 });
    fullDisk(t);

    await syncNow();
    assert.match(status.value.problem.words, /^This phone is full/, "that is noticed, and said");
    assert.equal(status.value.problem.hint, "", "what to do stands in the words");
    await syncNow();
    assert.equal(status.value.problem, null);
    assert.equal(waiting.value.length, 0, "what waited was sent");
    assert.equal(await photoBytes(SHA), undefined);
    assert.deepEqual(
      photos.value.map(({ freed, at_office }) => [freed, at_office]),
      [[true, true]],
    );
  });

test("a page that comes to the front asks the office, and one that goes to the back does not", async () => {
  const page = new EventTarget();
  globalThis.addEventListener = page.addEventListener.bind(page);
  globalThis.document = Object.assign(new EventTarget(), { visibilityState: "hidden" });
  const settled = async () => {
    for (let turn = 0; turn < 5 || status.value.busy; turn++) await new Promise(setImmediate);
  };
  const asksAfter = async (event, target) => {
    await settled();
    const before = asked.length;
    target.dispatchEvent(new Event(event));
    await settled();
    return asked.length > before;
  };
  startSync();
  assert.equal(await asksAfter("visibilitychange", document), false);
  document.visibilityState = "visible";
  assert.equal(await asksAfter("visibilitychange", document), true);
  assert.equal(await asksAfter("pageshow", page), true);
  assert.equal(await asksAfter("online", page), true);
});
