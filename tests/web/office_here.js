/**
 * An office in place of the network, and a device beside it: what was asked of the office, and what a test has it
 * answer. The database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import { mock } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import { write } from "../../web/local/changes.ts";
import { closeDatabase } from "../../web/local/database.ts";
import { loadAgain } from "../../web/local/load.ts";
import { keep } from "../../web/local/outbox.ts";
import { photosOnlyHere } from "../../web/local/photos.ts";
import { IDBFactory } from "../../web/node_modules/fake-indexeddb/build/esm/index.js";
import { Items } from "./items.js";

export const ITEM = "019cebae-7d18-7683-87ec-1bf1c85c4675";
export const DAY = "019cebae-65a8-7820-a7e3-5594aa6b5d0a";
export const SHA = "a".repeat(64);
export const THUMB = "b".repeat(64);
export const STANDS = {
  epoch: "e1",
  office_seq: 10,
  chain: "c10",
  known_chain: null,
  device_seq: 0,
  safe_seq: null,
  hearing: false,
};

mock.timers.enable({ apis: ["setTimeout"] }); // the next round is due when a test says so

/** What was asked of the office, each as its method and path. */
export const asked = [];
/** What it answers, by method and the path's beginning: a function of the body and the path. */
export const says = {};

globalThis.fetch = async (path, { method = "GET", body } = {}) => {
  const key = Object.keys(says).find((one) => `${method} ${path}`.startsWith(one));
  asked.push(`${method} ${path}`);
  if (!key) return Response.json({ code: "no_such_path", detail: `${method} ${path}` }, { status: 404 });
  return says[key](typeof body === "string" ? JSON.parse(body) : body, path);
};

/** The office answers each operation with the outcome that a test says. */
export const answersWith = (outcomeOf) => (batch) =>
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
export const complete = (offset, whole) =>
  new Response(null, {
    headers: { "Upload-Offset": String(offset), "Upload-Complete": whole ? "?1" : "?0" },
  });
/** An office that has heard of nothing, and a device with nothing on it. */
export async function begin() {
  await closeDatabase();
  globalThis.indexedDB = new IDBFactory();
  globalThis.localStorage = new Items();
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
  asked.length = 0;
  for (const key of Object.keys(says)) delete says[key];
  Object.assign(says, {
    "POST /sync/operations": answersWith(() => "kept"),
    "GET /sync/feed": () =>
      Response.json({ records: [], cursor: 0, more: false, epoch: "e1", office_time: "", office: STANDS }),
    "POST /sync/photos": ({ sha256 }) => Response.json({ here: sha256, copied: [] }),
    "GET /plans": () => new Response(null, { status: 304 }),
    "GET /health": () => Response.json({ status: "ok" }),
  });
}

/** A photo of so many bytes with its operation, at an item of this device. */
export function photographed(size) {
  const photo = {
    sha256: SHA,
    bytes: new ArrayBuffer(size),
    thumb_sha256: THUMB,
    thumb: new ArrayBuffer(10),
    media_type: "image/jpeg",
  };
  return keep("set_item", { item_id: ITEM, field: "maker", value: "x" }, photo);
}

/** How many originals are on this device alone. */
export const originalsHere = () => photosOnlyHere().filter(({ is_thumb }) => !is_thumb).length;
