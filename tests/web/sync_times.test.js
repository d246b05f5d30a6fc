/**
 * When a device tries again by itself: soon while something waits, later while the office is away, at once after a
 * word.
 */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import { forgotten, waiting } from "../../web/local/memory.ts";
import { keep, takeBack } from "../../web/local/outbox.ts";
import { status } from "../../web/sync/status.ts";
import { startSync, syncNow } from "../../web/sync/sync.ts";
import { answersWith, asked, begin, DAY, photographed, STANDS, says } from "./office_here.js";

const page = new EventTarget();
globalThis.addEventListener = page.addEventListener.bind(page);
globalThis.document = Object.assign(new EventTarget(), { visibilityState: "hidden" });
let chance = 0;
mock.method(Math, "random", () => chance);

const settled = async () => {
  for (let turn = 0; turn < 8 || status.value.busy; turn++) await new Promise(setImmediate);
};

/** Whether the office was asked while so much time went by. */
async function isTriedWithin(ms) {
  await settled();
  const before = asked.length;
  mock.timers.tick(ms);
  await settled();
  return asked.length > before;
}

const away = () => {
  throw new TypeError("no network");
};

let number = 0;
const aVisit = () => keep("open_visit", { visit_id: `visit ${number++}`, day_id: DAY, ticket: "Q01" });

beforeEach(async () => {
  await begin();
  chance = 0;
  await syncNow();
  await settled();
});

for (const [chance_of_it, due] of [
  [0, 7_500],
  [1, 15_000],
])
  test(`with nothing to send the office is asked again after ${due} ms, by chance`, async () => {
    chance = chance_of_it;
    await syncNow();
    assert.equal(await isTriedWithin(due - 1), false);
    assert.equal(await isTriedWithin(1), true);
  });

test("while something waits at the office it is asked every few seconds", async () => {
  says["POST /sync/operations"] = answersWith(() => "waiting");
  await aVisit();
  await syncNow();
  assert.equal(await isTriedWithin(999), false);
  assert.equal(await isTriedWithin(1), true);
});

test("while the office lacks what all of it waits for, it is asked less and less, and soon again after news", async () => {
  says["POST /sync/operations"] = answersWith(() => "waiting");
  await aVisit();
  await syncNow();
  for (const due of [1_000, 2_000, 4_000, 7_500, 7_500]) {
    assert.equal(await isTriedWithin(due - 1), false, `not before ${due}`);
    assert.equal(await isTriedWithin(1), true, `at ${due}`);
  }
  says["GET /sync/feed"] = () =>
    Response.json({ records: [], cursor: 9, more: false, epoch: "e1", office_time: "", office: STANDS });
  await syncNow();
  assert.equal(await isTriedWithin(1_000), true, "somebody may have brought it");
});

test("while a picture waits it is asked every few seconds", async () => {
  await photographed(10);
  says["POST /sync/bundle"] = () => Response.json({ answers: [], photos: [], office: STANDS });
  await syncNow();
  assert.equal(await isTriedWithin(1_000), true);
});

test("each failure doubles the time to the next try, up to ten seconds", async () => {
  says["GET /sync/feed"] = away;
  await syncNow();
  for (const due of [2_000, 4_000, 5_000, 5_000]) {
    assert.equal(await isTriedWithin(due - 1), false, `not before ${due}`);
    assert.equal(await isTriedWithin(1), true, `at ${due}`);
  }
});

test("an office that is there again is asked as if nothing had been", async () => {
  says["GET /sync/feed"] = away;
  for (let failure = 0; failure < 5; failure++) await syncNow();
  says["GET /sync/feed"] = () =>
    Response.json({ records: [], cursor: 0, more: false, epoch: "e1", office_time: "", office: STANDS });
  await syncNow();
  assert.equal(await isTriedWithin(7_499), false);
  assert.equal(await isTriedWithin(1), true);
});

test("a round that is asked for during another follows it once", async () => {
  const feeds = () => asked.filter((path) => path.startsWith("GET /sync/feed")).length;
  const before = feeds();
  const first = syncNow();
  await Promise.all([syncNow(), syncNow()]);
  await first;
  await settled();
  assert.equal(feeds() - before, 2);
});

test("a device that the office has signed off is asked to pair, and reads nothing more of the day", async () => {
  says["GET /sync/feed"] = () =>
    Response.json({ code: "device_revoked", detail: "Signed off.", hint: "Pair it." }, { status: 403 });
  await syncNow();
  assert.deepEqual(status.value.problem, { code: "device_revoked", words: "Signed off.", hint: "Pair it." });
  assert.equal(status.value.out_of_reach, false);
});

test("an office that has been heard to the end is whole only once all that was sent again has come", async () => {
  await aVisit();
  await syncNow();
  says["GET /sync/feed"] = () =>
    Response.json({
      ...{ records: [], cursor: 0, more: false, epoch: "e2", office_time: "" },
      office: { ...STANDS, epoch: "e2" },
    });
  says["POST /sync/operations"] = () => Response.json({ code: "busy", detail: "Busy" }, { status: 503 });
  await syncNow();
  await syncNow();
  assert.equal(forgotten.value?.done_at, null, "one is still to be sent");
  says["POST /sync/operations"] = async (batch) => {
    const answered = await answersWith(() => "kept")(batch).json();
    return Response.json({ ...answered, office: { ...STANDS, epoch: "e2" } });
  };
  await syncNow();
  await settled();
  assert.notEqual(forgotten.value?.done_at, null);
});

test("nor is it whole while a picture that only this device has is still on its way", async () => {
  await photographed(10);
  const office = { ...STANDS, epoch: "e2" };
  says["GET /sync/feed"] = () =>
    Response.json({ records: [], cursor: 0, more: false, epoch: "e2", office_time: "", office });
  says["POST /sync/bundle"] = () => Response.json({ answers: [], photos: [], office });
  says["POST /sync/operations"] = async (batch) =>
    Response.json({ ...(await answersWith(() => "kept")(batch).json()), office });
  await syncNow();
  await settled();
  await syncNow();
  await settled();
  assert.equal(waiting.value.length, 0);
  assert.equal(forgotten.value?.done_at, null);
});

test("what is kept is sent after a pause, once for all that was typed in it, and not while there is no network", async () => {
  globalThis.navigator.onLine = true;
  startSync();
  assert.equal(
    await isTriedWithin(1_500),
    false,
    "beyond the round that it begins with, while nothing waits",
  );
  await aVisit();
  assert.equal(await isTriedWithin(1_000), false);
  await aVisit();
  assert.equal(await isTriedWithin(1_499), false, "the pause begins anew");
  assert.equal(await isTriedWithin(1), true);
  globalThis.navigator.onLine = false;
  await aVisit();
  assert.equal(await isTriedWithin(1_500), false, "with no network nothing is asked");
  globalThis.navigator.onLine = true;
  says["GET /sync/feed"] = away;
  for (let failure = 0; failure < 4; failure++) await syncNow();
  await aVisit();
  assert.equal(await isTriedWithin(1_500), false, "an office that is away is not asked for each word");
  page.dispatchEvent(new Event("online"));
  await settled();
  await settled();
  assert.equal(await isTriedWithin(2_000), true, "but as after a first failure, once the network is back");
});

const isTried = () => waiting.value.map(({ attempted }) => attempted);
const sent = () => asked.filter((path) => path.startsWith("POST /sync/operations")).length;

test("with no network nothing counts as tried, and what was said can be taken back", async () => {
  says["GET /health"] = away;
  globalThis.navigator.onLine = false;
  const made = await aVisit();
  await syncNow();
  await syncNow();
  assert.deepEqual([isTried(), sent(), status.value.out_of_reach], [[false], 0, true]);
  assert.equal(await takeBack(made.operation_id), true);
});

test("an office that was not there is asked first without anything, whatever the device says of its network", async () => {
  globalThis.navigator.onLine = true;
  says["GET /sync/feed"] = away;
  await syncNow();
  says["GET /health"] = away;
  await aVisit();
  await syncNow();
  assert.deepEqual([isTried(), sent()], [[false], 0]);
  assert.equal(await isTriedWithin(10_000), true);
});

test("with no network what is kept as a round begins counts as little as tried", async () => {
  Object.assign(says, { "GET /health": away, "GET /sync/feed": away, "POST /sync/operations": away });
  globalThis.navigator.onLine = false;
  await syncNow();
  const kept = aVisit(); // of which the round has not heard as it begins
  await syncNow();
  const made = await kept;
  assert.deepEqual([isTried(), sent()], [[false], 0]);
  assert.equal(await takeBack(made.operation_id), true);
});

test("what left and was not answered counts as tried", async () => {
  globalThis.navigator.onLine = true;
  says["POST /sync/operations"] = away;
  await aVisit();
  await syncNow();
  assert.deepEqual(isTried(), [true]);
});

test("a network that goes while the office answers is no office that is there all the same", async () => {
  globalThis.navigator.onLine = true;
  const feed = says["GET /sync/feed"];
  says["GET /sync/feed"] = () => {
    globalThis.navigator.onLine = false; // by the time the answer is read
    return feed();
  };
  startSync();
  await settled();
  await settled();
  assert.equal(status.value.out_of_reach, false);
  Object.assign(says, { "GET /health": away, "GET /sync/feed": away, "POST /sync/operations": away });
  const made = await aVisit();
  assert.equal(await isTriedWithin(1_500), false, "with no network nothing is asked");
  await syncNow();
  assert.deepEqual([isTried(), sent()], [[false], 0]);
  assert.equal(await takeBack(made.operation_id), true);
});

test("an office that was there with no network and has gone since counts nothing as tried", async () => {
  globalThis.navigator.onLine = false;
  await syncNow();
  Object.assign(says, { "GET /health": away, "GET /sync/feed": away, "POST /sync/operations": away });
  const made = await aVisit();
  await syncNow();
  assert.deepEqual([isTried(), sent()], [[false], 0]);
  assert.equal(await takeBack(made.operation_id), true);
});

test("an office that is there although the device says it has no network gets everything, and soon", async () => {
  globalThis.navigator.onLine = false;
  await aVisit();
  await syncNow();
  assert.deepEqual([isTried(), sent()], [[], 1]);
  startSync();
  await settled();
  await settled();
  await aVisit();
  assert.equal(await isTriedWithin(1_500), true);
  assert.equal(sent(), 2);
});
