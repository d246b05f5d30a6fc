/**
 * Bringing this device and the office together: texts first, then small pictures, then originals, then what
 * others have done. Driven by the page: after a save, when it is shown, when the line is back, and by a timer.
 */
import { rememberDevice, thisDevice } from "../local/device.js";
import { subscribe, tell } from "../local/news.js";
import { refused, settle, takeBatch, waiting } from "../local/outbox.js";
import { confirmed, photoBytes, photoRefused, photosToSend } from "../local/photos.js";
import { plansTag, storePlans } from "../local/plans.js";
import { storeFeed } from "../local/records.js";
import { ask, OfficeSays } from "./office.js";

const BATCH = 200;
const BUNDLE_BYTES = 2 * 1024 * 1024;
const PIECE_BYTES = 512 * 1024;
const SHORTEST_MS = 2_000;
const LONGEST_MS = 120_000;

/** @type {{busy: boolean, lastContactAt: number|null, problem: {code: string, words: string, hint: string}|null}} */
const state = { busy: false, lastContactAt: null, problem: null };
let failures = 0;
let askedAgain = false;
let toldHolding = -1;
/** @type {ReturnType<typeof setTimeout>|undefined} */
let timer;

/** How things stand, with counts. */
export async function syncState() {
  const [ops, no, photos] = await Promise.all([waiting(), refused(), photosToSend()]);
  return { ...state, waiting: ops.length, photosWaiting: photos.filter((photo) => !photo.is_thumb).length, thumbsWaiting: photos.filter((photo) => photo.is_thumb).length, refused: no.length };
}

/** Sync once, if no other tab does; asked while one is under way, once more after it. Never throws: what went wrong stands in the state. */
export async function syncNow() {
  askedAgain = state.busy;
  if (state.busy) return;
  state.busy = true;
  try {
    if (navigator.locks) await navigator.locks.request("intake-sync", { ifAvailable: true }, async (lock) => { if (lock) await round(); });
    else await round();
    failures = 0;
  } catch (error) {
    failures += 1;
    if (error instanceof OfficeSays) {
      state.problem = { code: error.code, words: error.message, hint: error.hint };
      if (error.code === "device_revoked") await rememberDevice({ revoked: true });
    } else if (!(error instanceof TypeError) && !(error instanceof DOMException)) {
      state.problem = { code: "app_fault", words: String(error), hint: "Nothing is lost. Open the app again." };
    }
  } finally {
    state.busy = false;
    tell();
    if (askedAgain && !failures) syncNow();
    else plan();
  }
}

async function round() {
  const device = await thisDevice();
  if (!device) return;
  await sendOperations();
  await sendThumbs();
  await readFeed();
  await readPlans();
  state.lastContactAt = Date.now();
  state.problem = null;
  await sendOriginals();
  await sendOperations(); // what was typed meanwhile
  if ((await holding()) !== toldHolding) await readFeed(); // the office hears that this device holds less
}

/** How much is on this device only. */
async function holding() {
  const [ops, no, photos] = await Promise.all([waiting(), refused(), photosToSend()]);
  return ops.length + no.length + photos.length;
}

async function sendOperations() {
  for (;;) {
    const operations = await takeBatch(BATCH);
    if (!operations.length) return;
    const response = await ask("/sync/operations", { method: "POST", body: JSON.stringify({ operations }), headers: { "Content-Type": "application/json" } });
    const told = await response.json();
    await settle(told.answers);
    await rememberClock(told.office_time);
    if (!told.answers.length) return; // the office waits for something that is not here any more
    if (operations.length < BATCH) return;
  }
}

/** @param {string} officeTime */
async function rememberClock(officeTime) {
  const offset = Date.parse(officeTime) - Date.now();
  const device = await thisDevice();
  if (device && Math.abs(offset - device.clock_offset_ms) > 2000) await rememberDevice({ clock_offset_ms: offset });
}

async function sendThumbs() {
  const thumbs = (await photosToSend()).filter((photo) => photo.is_thumb);
  for (const group of groups(thumbs)) await sendBundle(group);
}

async function sendOriginals() {
  const originals = (await photosToSend()).filter((photo) => !photo.is_thumb);
  for (const group of groups(originals.filter((photo) => photo.size < BUNDLE_BYTES))) await sendBundle(group);
  for (const photo of originals.filter((one) => one.size >= BUNDLE_BYTES)) await sendPieces(photo.sha256);
}

/** Photos in groups of at most two million bytes. @param {{sha256: string, size: number}[]} photos */
function groups(photos) {
  /** @type {string[][]} */
  const made = [];
  let size = Infinity;
  for (const photo of photos) {
    if (size + photo.size > BUNDLE_BYTES) {
      made.push([]);
      size = 0;
    }
    /** @type {string[]} */ (made.at(-1)).push(photo.sha256);
    size += photo.size;
  }
  return made;
}

/** Several whole pictures in one request. @param {string[]} digests */
async function sendBundle(digests) {
  const contents = [];
  const photos = [];
  for (const sha256 of digests) {
    const bytes = await photoBytes(sha256);
    if (!bytes) continue;
    contents.push(bytes);
    photos.push({ sha256, bytes: bytes.byteLength });
  }
  const head = new TextEncoder().encode(JSON.stringify({ operations: [], photos }));
  const size = new DataView(new ArrayBuffer(4));
  size.setUint32(0, head.byteLength);
  const response = await ask("/sync/bundle", { method: "POST", body: new Blob([size.buffer, head, ...contents]), headers: { "Content-Type": "application/octet-stream" }, limitMs: 120_000 });
  const told = await response.json();
  await confirmed(told.photos.filter((/** @type {any} */ photo) => photo.outcome === "kept").map((/** @type {any} */ photo) => photo.sha256));
  for (const photo of told.photos) if (photo.outcome === "refused") await photoRefused(photo.sha256, photo.problem);
}

/** A large picture piece by piece, from where the office has it. @param {string} sha256 */
async function sendPieces(sha256) {
  const bytes = await photoBytes(sha256);
  if (!bytes) return;
  const had = await ask(`/photos/${sha256}`, { method: "HEAD" }).then(
    (response) => Number(response.headers.get("Upload-Offset")),
    (error) => {
      if (error instanceof OfficeSays && error.status === 404) return 0;
      throw error;
    },
  );
  try {
    await sendFrom(sha256, bytes, had).catch((error) => {
      // What the office had from before a cut was damaged there; it has thrown it away and takes the picture anew.
      const damaged = error instanceof OfficeSays && error.problem?.code === "wrong_digest" && had > 0;
      if (damaged) return sendFrom(sha256, bytes, 0);
      throw error;
    });
  } catch (error) {
    if (error instanceof OfficeSays && [413, 422].includes(error.status)) {
      await photoRefused(sha256, error.problem);
      return;
    }
    throw error;
  }
  await confirmed([sha256]);
}

/** @param {string} sha256 @param {ArrayBuffer} bytes @param {number} offset */
async function sendFrom(sha256, bytes, offset) {
  while (offset < bytes.byteLength) {
    const response = await ask(`/photos/${sha256}`, {
      method: "PATCH",
      body: bytes.slice(offset, offset + PIECE_BYTES),
      headers: { "Upload-Offset": String(offset), "Upload-Length": String(bytes.byteLength), "Content-Type": "application/octet-stream" },
      limitMs: 120_000,
    });
    offset = Number(response.headers.get("Upload-Offset"));
  }
}

async function readFeed() {
  for (;;) {
    const device = /** @type {import("../local/device.js").ThisDevice} */ (await thisDevice());
    const held = await holding();
    const page = await (await ask(`/sync/feed?after=${device.cursor}&limit=500&holding=${held}`)).json();
    toldHolding = held;
    if (device.epoch && page.epoch !== device.epoch && device.cursor) {
      await rememberDevice({ cursor: 0 }); // another office's file: read all of it again, keep the outbox
      await storeFeed({ records: [], cursor: 0, epoch: page.epoch });
      continue;
    }
    await storeFeed(page);
    if (!page.more) return;
  }
}

async function readPlans() {
  const tag = await plansTag();
  const response = await ask("/plans", tag ? { headers: { "If-None-Match": tag } } : {});
  if (response.status !== 304) await storePlans(await response.json(), response.headers.get("ETag"));
}

/** Set the next try: soon while something waits, later after each failure, with chance so that phones do not come all at once. */
async function plan() {
  clearTimeout(timer);
  const { waiting: left, photosWaiting, thumbsWaiting } = await syncState();
  const idle = !left && !photosWaiting && !thumbsWaiting && !failures;
  const base = idle ? 15_000 : Math.min(LONGEST_MS, SHORTEST_MS * 2 ** failures);
  timer = setTimeout(syncNow, base * (0.5 + Math.random() / 2));
}

/** Start syncing by itself. */
export function startSync() {
  let pending = 0;
  subscribe(() => {
    clearTimeout(pending);
    // A pause, so that a word being typed is one operation.
    if (!state.busy && navigator.onLine) pending = /** @type {any} */ (setTimeout(async () => { if (!failures && (await waiting()).length) syncNow(); }, 1500));
  });
  addEventListener("online", () => { failures = 0; syncNow(); });
  addEventListener("pageshow", () => syncNow());
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") syncNow(); });
  syncNow();
}
