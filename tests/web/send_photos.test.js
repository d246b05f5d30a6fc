/**
 * Sending pictures: what the office says of each decides whether it is sent on, sent anew, or kept for a person to look
 * at.
 */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { write } from "../../web/local/changes.ts";
import { loadAgain } from "../../web/local/load.ts";
import { photos } from "../../web/local/memory.ts";
import { photoBytes, photosOnlyHere, refusedPhotos } from "../../web/local/photos.ts";
import { counts, status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import {
  asked,
  begin,
  complete,
  originalsHere,
  photographed,
  SHA,
  STANDS,
  says,
  THUMB,
} from "./office_here.js";

beforeEach(begin);

test("an original whose bytes are all there, and not checked yet, is not taken as confirmed", async () => {
  const size = 2 * 1024 * 1024 + 1;
  await photographed(size);
  says["POST /sync/bundle"] = () =>
    Response.json({
      answers: [],
      photos: [{ sha256: THUMB, outcome: "kept", problem: null }],
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
        { sha256: THUMB, outcome: "kept", problem: null },
        {
          sha256: SHA,
          outcome: "refused",
          problem: { code: "not_a_picture", title: "", detail: "", hint: "" },
        },
      ],
      office: STANDS,
    });
  await syncNow();
  assert.deepEqual(
    refusedPhotos().map(({ problem }) => problem.code),
    ["not_a_picture"],
  );
  assert.equal(counts.refused.value, 1, "somebody has to look at it");
  const photo = photos.value.find(({ sha256 }) => sha256 === SHA);
  assert.equal(photo.at_office, false);
  assert.equal((await photoBytes(SHA)).byteLength, 1000);
});

/** The small picture is there; of the original the office says what a test has it say to each request. */
async function largeOriginal(size, { had, patched }) {
  await photographed(size);
  const small = { sha256: THUMB, outcome: "kept", problem: null };
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

test("an original that the office cannot take just now stays to be sent, and nobody has to look at it", async () => {
  const sent = await largeOriginal(4 * PIECE, {
    had: () => complete(0, false),
    patched: () => refusedAs("busy", 503),
  });
  assert.equal(sent.length, 1);
  assert.deepEqual([originalsHere(), refusedPhotos().length, status.value.problem.code], [1, 0, "busy"]);
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

for (const [code, had, refusal] of [
  ["wrong_digest", 0, 422],
  ["not_a_picture", 3 * PIECE, 422],
  ["too_large", 0, 413],
])
  test(`an original refused as ${code} is sent once, and stays for a person to look at`, async () => {
    const sent = await largeOriginal(4 * PIECE, {
      had: () => complete(had, false),
      patched: () => refusedAs(code, refusal),
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

test("a thin line has two minutes for a request with pictures, and half a minute for a question", async (t) => {
  const timeout = t.mock.method(AbortSignal, "timeout");
  await largeOriginal(4 * PIECE, {
    had: () => complete(3 * PIECE, false),
    patched: (offset, bytes) => complete(offset + bytes, true),
  });
  const limits = timeout.mock.calls.map(({ arguments: [limit] }) => limit);
  const sent = asked.flatMap((path, index) => (/bundle|PATCH/.test(path) ? [limits[index]] : []));
  assert.deepEqual(sent, [120_000, 120_000]);
  assert.deepEqual(new Set(limits), new Set([120_000, 30_000]));
});
