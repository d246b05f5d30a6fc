/** Pictures for comparing are here before the network goes, as many as there is need of, and leave with their day. */
import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { letGoOfAll, letGoOfOtherDays } from "../../web/local/day.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { loadAgain } from "../../web/local/load.ts";
import { pictureAhead } from "../../web/local/pictures_ahead.ts";
import { fetchAhead, lackingPictures } from "../../web/local/pictures_fetched.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { Caches } from "./caches.js";
import { Items } from "./items.js";

const DAY = "00000001-0000-7000-8000-000000000000";
const PICTURES = ["a", "b", "c", "d", "e", "f"].map((letter) => letter.repeat(64));
const shown = (digests, day_id = DAY) => digests.map((sha256) => ({ sha256, day_id }));

const asked = [];
const ask = async (address) => {
  asked.push(address);
  return new Response(`picture at ${address}`);
};

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  globalThis.localStorage = new Items();
  globalThis.caches = new Caches();
  asked.length = 0;
  await loadAgain();
  await rememberDevice({ device_id: "d1", role: "porter", person_id: "p", epoch: "e1", day_id: DAY });
  const day = { kind: "day", record_id: DAY, day_id: DAY, tables: [], fields: {}, disagreements: [] };
  await storeFeed({ records: [day], cursor: 7, epoch: "e1", day_id: DAY });
});

test("what is lacking is fetched once, and then shown with no network", async () => {
  assert.deepEqual(await lackingPictures(PICTURES), PICTURES);
  let told = 0;
  await fetchAhead(shown(PICTURES), ask, () => {
    told += 1;
  });
  assert.equal(told, PICTURES.length);
  assert.deepEqual(await lackingPictures(PICTURES), []);
  assert.equal(await (await pictureAhead(PICTURES[0])).text(), `picture at /photos/${PICTURES[0]}`);
  await fetchAhead(shown(PICTURES), ask, () => {});
  assert.equal(asked.length, PICTURES.length, "what is here is not asked for again");
});

test("that none is lacking is told without reading one", async () => {
  await fetchAhead(shown(PICTURES), ask, () => {});
  const [own] = PICTURES;
  await caches.delete(`pictures ${DAY}`);
  await write(["photo_bytes"], (tx) => tx.put("photo_bytes", new ArrayBuffer(8), own));
  const read = mock.method(IDBObjectStore.prototype, "get");
  const match = mock.method(caches, "match");
  assert.deepEqual(await lackingPictures(PICTURES), PICTURES.slice(1));
  assert.deepEqual([read.mock.callCount(), match.mock.callCount()], [0, 0]);
  mock.restoreAll();
});

test("a line that drops leaves what came, and the rest is asked for the next time", async () => {
  const dropping = async (address) => {
    if (asked.length === 2) throw new TypeError("no network");
    return ask(address);
  };
  await assert.rejects(
    fetchAhead(shown(PICTURES), dropping, () => {}),
    TypeError,
  );
  const lacking = await lackingPictures(PICTURES);
  assert.equal(lacking.length, PICTURES.length - 2);
  await fetchAhead(shown(PICTURES), ask, () => {});
  assert.deepEqual(await lackingPictures(PICTURES), []);
});

test("what has not come to the office is passed over and counted", async () => {
  const noPhoto = Object.assign(new Error("There is no photo of that number."), { code: "not_found" });
  const [own] = PICTURES;
  const askOthers = (address) => (address.endsWith(own) ? Promise.reject(noPhoto) : ask(address));
  assert.equal(await fetchAhead(shown(PICTURES), askOthers, () => {}), 1);
  assert.deepEqual(await lackingPictures(PICTURES), [own]);
  assert.equal(await fetchAhead(shown(PICTURES), ask, () => {}), 0);
});

test("a browser that keeps no such copies asks for none, and misses none", async () => {
  delete globalThis.caches;
  assert.equal(await fetchAhead(shown(PICTURES), ask, () => {}), 0);
  assert.deepEqual([asked, await lackingPictures(PICTURES)], [[], PICTURES]);
});

test("they leave with their day, or with the device, and nothing else of the app does", async () => {
  await caches.open("shell 1");
  for (const leave of [() => letGoOfOtherDays(true, "2026-03-15T10:00:00.000Z"), letGoOfAll]) {
    await rememberDevice({ day_id: DAY });
    const day = { kind: "day", record_id: DAY, day_id: DAY, tables: [], fields: {}, disagreements: [] };
    await storeFeed({ records: [day], cursor: 8, epoch: "e1", day_id: DAY });
    await fetchAhead(shown(PICTURES), ask, () => {});
    assert.deepEqual(await caches.keys(), ["shell 1", `pictures ${DAY}`]);
    await leave();
    assert.deepEqual(await caches.keys(), ["shell 1"]);
  }
});

test("those of a day before stay while something of it is on its way, and go with it, not with the next", async () => {
  const NEXT = "00000002-0000-7000-8000-000000000000";
  const [earlier, later] = PICTURES;
  await rememberDevice({ day_id: NEXT, awaits: [DAY] });
  await fetchAhead([...shown([earlier]), ...shown([later], NEXT)], ask, () => {});
  await letGoOfOtherDays(false, "2026-03-16T10:00:00.000Z");
  assert.deepEqual(
    await lackingPictures([earlier, later]),
    [],
    "yesterday's crate is unpacked with no network",
  );
  await rememberDevice({ day_id: NEXT, awaits: [] });
  await letGoOfOtherDays(false, "2026-03-17T10:00:00.000Z");
  assert.deepEqual(await lackingPictures([earlier, later]), [earlier]);
});

test("a picture of two things is fetched once", async () => {
  const [one] = PICTURES;
  await fetchAhead(shown([one, one]), ask, () => {});
  assert.equal(asked.length, 1);
});
