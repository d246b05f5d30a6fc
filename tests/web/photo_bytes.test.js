/** Pictures that a screen asks for at once are read at once, and each asker gets its own. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { beforeEach, test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase, isPhoneFull } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import { waiting } from "../../web/local/memory.ts";
import { keepPhoto, photoBytes } from "../../web/local/photos.ts";
import { IDBDatabase, IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";

const [FIRST, SECOND, ABSENT] = ["a", "b", "c"].map((letter) => letter.repeat(64));

beforeEach(async () => {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  await loadAgain();
  await write(["photo_bytes"], async (tx) => {
    await tx.put("photo_bytes", new ArrayBuffer(1), FIRST);
    await tx.put("photo_bytes", new ArrayBuffer(2), SECOND);
  });
});

/** How many transactions were begun while something ran. */
async function transactionsOf(work) {
  const { transaction } = IDBDatabase.prototype;
  let begun = 0;
  IDBDatabase.prototype.transaction = function (...given) {
    begun += 1;
    return transaction.apply(this, given);
  };
  try {
    await work();
  } finally {
    IDBDatabase.prototype.transaction = transaction;
  }
  return begun;
}

test("a screenful of pictures costs one transaction, and each is the one that was asked for", async () => {
  let found = [];
  const begun = await transactionsOf(async () => {
    found = await Promise.all([SECOND, ABSENT, FIRST, SECOND].map(photoBytes));
  });
  assert.deepEqual(
    found.map((bytes) => bytes?.byteLength),
    [2, undefined, 1, 2],
  );
  assert.equal(begun, 1);
});

test("a picture that is asked for later is read anew", async () => {
  assert.equal((await photoBytes(FIRST)).byteLength, 1);
  await write(["photo_bytes"], (tx) => tx.put("photo_bytes", new ArrayBuffer(9), FIRST));
  assert.equal((await photoBytes(FIRST)).byteLength, 9);
});

test("a picture that the office would refuse is refused while the thing is on the table", async (t) => {
  const file = (name) => readFileSync(new URL(`../../${name}`, import.meta.url), "utf8");
  const limit = (name) =>
    file("intake/photos/picture.py")
      .match(new RegExp(`^${name} = ([\\d_* ]+)`, "m"))[1]
      .replaceAll("_", "")
      .split("*")
      .reduce((product, factor) => product * Number(factor), 1);
  const taken = (bytes) => keepPhoto(new Blob([new Uint8Array(bytes)], { type: "image/jpeg" }), {});
  await assert.rejects(taken(limit("PHOTO_LIMIT") + 1), /too large.*smaller pictures/s);
  const [width, height] = [limit("PIXEL_LIMIT") / 1000, 1000];
  t.after(() => delete globalThis.createImageBitmap && delete globalThis.OffscreenCanvas);
  globalThis.OffscreenCanvas = function noCanvas() {
    throw new Error("no canvas here");
  };
  for (const [high, words] of [
    [height, /no canvas here/],
    [height + 1, /too large/],
  ]) {
    globalThis.createImageBitmap = async () => ({ width, height: high, close() {} });
    await assert.rejects(taken(1), words);
  }
});

test("every kind of picture that the office takes is taken, and no other", async (t) => {
  t.after(() => delete globalThis.createImageBitmap && delete globalThis.OffscreenCanvas);
  globalThis.createImageBitmap = async () => ({ width: 4000, height: 3000, close() {} });
  const drawn = [];
  globalThis.OffscreenCanvas = class {
    constructor(...size) {
      drawn.push(size);
      throw new Error("no canvas here");
    }
  };
  const office = readFileSync(new URL("../../intake/photos/picture.py", import.meta.url), "utf8");
  const taken = new Set(office.match(/image\/\w+/g));
  assert.equal(taken.size, 4);
  const take = (type) => keepPhoto(new Blob([new Uint8Array(3)], { type }), {});
  for (const type of taken) await assert.rejects(take(type), /no canvas here/, type);
  assert.deepEqual(new Set(drawn.map(String)), new Set(["320,240"]), "the longer side has 320 pixels");
  for (const type of ["image/gif", "application/pdf", ""])
    await assert.rejects(take(type), /cannot be opened/, type);
  globalThis.createImageBitmap = async () => {
    throw new DOMException("no picture", "InvalidStateError");
  };
  await assert.rejects(take("image/jpeg"), /cannot be opened/);
});

test("what is kept of a picture is told as it is, and the small one with it", async (t) => {
  t.after(() => delete globalThis.createImageBitmap && delete globalThis.OffscreenCanvas);
  globalThis.createImageBitmap = async () => ({ width: 4000, height: 3000, close() {} });
  globalThis.OffscreenCanvas = class {
    getContext = () => ({ drawImage() {} });
    convertToBlob = async () => new Blob(["abc"]);
  };
  await write(["setting"], (tx) => tx.remember("device", { device_id: "d", person_id: "" }));
  await keepPhoto(new Blob([""], { type: "image/png" }), { item_id: "i", view: "front" });
  const [{ bytes, width, height, media_type, sha256, thumb_bytes, thumb_sha256, withdrawn }] = waiting.value;
  assert.deepEqual([width, height, media_type, withdrawn], [4000, 3000, "image/png", false]);
  assert.deepEqual([bytes, thumb_bytes], [0, 3]);
  // The digests of nothing and of "abc". Source: NIST's test vectors for SHA-256.
  assert.equal(sha256, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  assert.equal(thumb_sha256, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  assert.equal((await photoBytes(thumb_sha256)).byteLength, 3);
});

test("a small picture is made no larger, and one that is very long is not made invisible", async (t) => {
  t.after(() => delete globalThis.createImageBitmap && delete globalThis.OffscreenCanvas);
  const drawn = [];
  globalThis.OffscreenCanvas = class {
    constructor(...size) {
      drawn.push(size);
      throw new Error("no canvas here");
    }
  };
  for (const [width, height] of [
    [100, 80],
    [80, 6400],
    [9000, 3],
  ]) {
    globalThis.createImageBitmap = async () => ({ width, height, close() {} });
    await assert.rejects(keepPhoto(new Blob([new Uint8Array(3)], { type: "image/png" }), {}), /no canvas/);
  }
  assert.deepEqual(drawn, [
    [100, 80],
    [4, 320],
    [320, 1],
  ]);
});

test("a phone is full until something new is stored, and letting go alone does not end it", async () => {
  const { put } = IDBObjectStore.prototype;
  IDBObjectStore.prototype.put = () => {
    throw new DOMException("full", "QuotaExceededError"); // Source: Indexed Database API 3.0, storing may end in it
  };
  const store = () => write(["photo_bytes"], (tx) => tx.put("photo_bytes", new ArrayBuffer(1), ABSENT));
  await assert.rejects(store(), /is full/);
  IDBObjectStore.prototype.put = put;
  assert.equal(isPhoneFull(), true);
  await write(["photo_bytes"], (tx) => tx.delete("photo_bytes", FIRST));
  assert.equal(isPhoneFull(), true);
  await store();
  assert.equal(isPhoneFull(), false);
});
