/**
 * A round with the office: what it says decides what leaves the outbox and which originals go.
 * The office is a function in place of the network; the database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase, transact } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import { forgotten, photos, records, refused, waiting } from "../../web/local/memory.ts";
import { keep } from "../../web/local/outbox.ts";
import { photoBytes, photosOnlyHere, refusedPhotos } from "../../web/local/photos.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { whyNoOffice } from "../../web/sync/out_of_reach.ts";
import { status } from "../../web/sync/status.ts";
import { startSync, syncNow } from "../../web/sync/sync.ts";

const ITEM = "019cebae-7d18-7683-87ec-1bf1c85c4675";
const DAY = "019cebae-65a8-7820-a7e3-5594aa6b5d0a";
const SHA = "a".repeat(64);
const STANDS = {
  epoch: "e1",
  office_seq: 10,
  chain: "c10",
  known_chain: null,
  device_seq: 0,
  safe_seq: null,
  hearing: false,
};

mock.timers.enable({ apis: ["setTimeout"] }); // the next round is never due here

/** What was asked of the office, and what a test has it answer; by method and the path's beginning. */
let asked = [];
let says = {};

globalThis.fetch = async (path, { method = "GET", body } = {}) => {
  const key = Object.keys(says).find((one) => `${method} ${path}`.startsWith(one));
  asked.push(`${method} ${path}`);
  if (!key) return Response.json({ code: "no_such_path", detail: `${method} ${path}` }, { status: 404 });
  return says[key](typeof body === "string" ? JSON.parse(body) : body, path);
};

const answersWith = (outcomeOf) => (batch) =>
  Response.json({
    answers: batch.operations.map((op) => ({
      operation_id: op.operation_id,
      outcome: outcomeOf(op),
      office_seq: outcomeOf(op) === "waiting" ? null : 11,
      disagreement: false,
      problem:
        outcomeOf(op) === "kept"
          ? null
          : { code: "waits_for_more", title: "Waits", detail: "There is no item yet.", hint: "" },
    })),
    office_time: new Date().toISOString(),
    office: STANDS,
  });

const complete = (offset, whole) =>
  new Response(null, {
    headers: { "Upload-Offset": String(offset), "Upload-Complete": whole ? "?1" : "?0" },
  });

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await loadAgain();
  await write(["setting"], (tx) =>
    tx.remember("device", {
      device_id: "019cebae-61c0-7f8e-bd40-2a37b8ab9b0e",
      name: "Table 1",
      role: "table",
      person_id: "",
      epoch: "e1",
      cursor: 0,
      clock_offset_ms: 0,
    }),
  );
  asked = [];
  says = {
    "POST /sync/operations": answersWith(() => "kept"),
    "GET /sync/feed": () =>
      Response.json({ records: [], cursor: 0, more: false, epoch: "e1", office_time: "", office: STANDS }),
    "POST /sync/photos": ({ sha256 }) => Response.json({ here: sha256, copied: [] }),
    "GET /plans": () => new Response(null, { status: 304 }),
  };
});

/** A photo of so many bytes with its operation, at an item of this device. */
function photographed(size) {
  const photo = {
    sha256: SHA,
    bytes: new ArrayBuffer(size),
    thumb_sha256: "b".repeat(64),
    thumb: new ArrayBuffer(10),
    media_type: "image/jpeg",
  };
  return keep("set_item", { item_id: ITEM, field: "maker", value: "x" }, photo);
}

const originalsHere = () => photosOnlyHere().filter(({ is_thumb }) => !is_thumb).length;

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
  assert.ok(words === 0 && words < reading && reading < picture, steps.join(", "));
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

test("an original whose bytes are all there, and not checked yet, is not taken as confirmed", async () => {
  const size = 2 * 1024 * 1024 + 1;
  await photographed(size);
  says["POST /sync/bundle"] = () =>
    Response.json({
      answers: [],
      photos: [{ sha256: "b".repeat(64), outcome: "kept", problem: null }],
      office: STANDS,
    });
  says["HEAD /photos/"] = () => complete(size, false);
  says["PATCH /photos/"] = () => complete(size, false);
  await syncNow();
  assert.equal(originalsHere(), 1);
  says["PATCH /photos/"] = () => complete(size, true);
  await syncNow();
  assert.equal(originalsHere(), 0);
});

test("an original that the office refuses is not confirmed: it stays, for a person to look at", async () => {
  await photographed(1000);
  says["POST /sync/bundle"] = () =>
    Response.json({
      answers: [],
      photos: [
        { sha256: "b".repeat(64), outcome: "kept", problem: null },
        {
          sha256: SHA,
          outcome: "refused",
          problem: { code: "not_a_picture", title: "", detail: "", hint: "" },
        },
      ],
      office: STANDS,
    });
  await syncNow();
  assert.equal(refusedPhotos().length, 1);
  const photo = photos.value.find(({ sha256 }) => sha256 === SHA);
  assert.equal(photo.at_office, false);
  assert.equal((await photoBytes(SHA)).byteLength, 1000);
});

/** The small picture is there; of the original the office says what a test has it say to each request. */
async function largeOriginal(size, { had, patched }) {
  await photographed(size);
  const small = { sha256: "b".repeat(64), outcome: "kept", problem: null };
  says["POST /sync/bundle"] = () => Response.json({ answers: [], photos: [small], office: STANDS });
  says["HEAD /photos/"] = had;
  const sent = [];
  const { fetch } = globalThis;
  globalThis.fetch = (path, options = {}) => {
    if (options.method === "PATCH")
      sent.push([Number(options.headers["Upload-Offset"]), options.body.byteLength, options.headers]);
    return fetch(path, options);
  };
  says["PATCH /photos/"] = () => patched(...sent.at(-1));
  await syncNow();
  globalThis.fetch = fetch;
  return sent.map(([offset, bytes, headers]) => [offset, bytes, Number(headers["Upload-Length"])]);
}

const PIECE = 512 * 1024;
const refusedAs = (code, status) => Response.json({ code, title: "", detail: code, hint: "" }, { status });

test("a large original goes on from where the office has it, piece by piece", async () => {
  const size = 4 * PIECE;
  const sent = await largeOriginal(size, {
    had: () => complete(2 * PIECE + 5, false),
    patched: (offset, bytes) => complete(offset + bytes, offset + bytes === size),
  });
  assert.deepEqual(sent, [
    [2 * PIECE + 5, PIECE, size],
    [3 * PIECE + 5, PIECE - 5, size],
  ]);
  assert.equal(originalsHere(), 0);
});

test("an original that the office has whole is not sent again", async () => {
  const size = 4 * PIECE;
  assert.deepEqual(await largeOriginal(size, { had: () => complete(size, true) }), []);
  assert.equal(originalsHere(), 0);
});

test("of an original that the office has nothing of all is sent", async () => {
  const size = 4 * PIECE;
  const sent = await largeOriginal(size, {
    had: () => refusedAs("not_found", 404),
    patched: (offset, bytes) => complete(offset + bytes, offset + bytes === size),
  });
  assert.deepEqual(
    sent.map(([offset]) => offset),
    [0, PIECE, 2 * PIECE, 3 * PIECE],
  );
});

test("an office that cannot say what it has of an original is asked again, and nothing of it is sent", async () => {
  assert.deepEqual(await largeOriginal(4 * PIECE, { had: () => refusedAs("busy", 503) }), []);
  assert.equal(status.value.problem.code, "busy");
  assert.equal(originalsHere(), 1);
});

test("a part that was damaged at the office is sent anew once; bytes that are wrong themselves are refused", async () => {
  const size = 4 * PIECE;
  let thrown_away = false;
  const sent = await largeOriginal(size, {
    had: () => complete(3 * PIECE, false),
    patched: (offset, bytes) => {
      const whole = offset + bytes === size;
      if (!whole || thrown_away) return complete(offset + bytes, whole);
      thrown_away = true;
      return refusedAs("wrong_digest", 422);
    },
  });
  assert.deepEqual(
    sent.map(([offset]) => offset / PIECE),
    [3, 0, 1, 2, 3],
  );
  assert.deepEqual([originalsHere(), refusedPhotos().length], [0, 0]);
});

for (const [code, had] of [
  ["wrong_digest", 0],
  ["not_a_picture", 3 * PIECE],
])
  test(`an original refused as ${code} is sent once, and stays for a person to look at`, async () => {
    const sent = await largeOriginal(4 * PIECE, {
      had: () => complete(had, false),
      patched: () => refusedAs(code, 422),
    });
    assert.equal(sent.length, 1);
    assert.deepEqual(
      refusedPhotos().map(({ problem }) => problem.code),
      [code],
    );
    assert.equal(status.value.problem, null, "and holds up nothing else");
  });

test("an office that takes no more of an original and has not got it whole is told of as a fault", async () => {
  const sent = await largeOriginal(4 * PIECE, {
    had: () => complete(PIECE, false),
    patched: () => complete(PIECE, false),
  });
  assert.equal(sent.length, 1);
  assert.match(status.value.problem.words, /takes no more/);
  assert.equal(originalsHere(), 1);
});

test("pictures go in bundles of two million bytes, small ones first, and what each holds is said before it", async () => {
  const names = ["a", "b", "c", "d"].map((letter) => letter.repeat(64));
  const sizes = [3, 1_200_000, 800_000, 600_000];
  await write(["photo", "photo_bytes"], async (tx) => {
    for (const [index, sha256] of names.entries()) {
      const of = { sha256, size: sizes[index], media_type: "image/jpeg", at_office: false };
      await tx.put("photo", { ...of, is_thumb: index === 0 });
      await tx.put("photo_bytes", new ArrayBuffer(sizes[index]), sha256);
    }
  });
  await loadAgain();
  const bundles = [];
  says["POST /sync/bundle"] = async (blob) => {
    const head = new DataView(await blob.slice(0, 4).arrayBuffer()).getUint32(0);
    const { operations, photos: told } = JSON.parse(await blob.slice(4, 4 + head).text());
    assert.deepEqual(operations, []);
    bundles.push([blob.size - 4 - head, told.map(({ sha256, bytes }) => [sha256[0], bytes])]);
    const kept = told.map(({ sha256 }) => ({ sha256, outcome: "kept", problem: null }));
    return Response.json({ answers: [], photos: kept, office: STANDS });
  };
  await syncNow();
  assert.deepEqual(bundles, [
    [3, [["a", 3]]],
    [
      2_000_000,
      [
        ["b", 1_200_000],
        ["c", 800_000],
      ],
    ],
    [600_000, [["d", 600_000]]],
  ]);
  assert.equal(photosOnlyHere().length, 0);
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

test("how much is on this device only is told with each reading, and anew once it is less", async () => {
  await photographed(10);
  says["POST /sync/operations"] = answersWith(() => "waiting");
  says["POST /sync/bundle"] = () => {
    const kept = [SHA, "b".repeat(64)].map((sha256) => ({ sha256, outcome: "kept", problem: null }));
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
  says["GET /sync/feed"] = () => Response.json({ code: "not_paired", detail: "no" }, { status: 401 });
  asked = [];
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
