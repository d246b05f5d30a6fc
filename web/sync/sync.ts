/**
 * Bringing this device and the office together: texts first, then small pictures, then originals, then what
 * others have done. Driven by the page: after a save, when it is shown, when the line is back, and by a timer.
 */
import type { Answer, Problem, RecordCopy } from "../job/types.ts";
import type { ThisDevice } from "../local/device.ts";
import { rememberDevice, thisDevice } from "../local/device.ts";
import { subscribe, tell } from "../local/news.ts";
import { refused, settle, takeBatch, waiting } from "../local/outbox.ts";
import { confirmed, photoBytes, photoRefused, photosToSend, refusedPhotos } from "../local/photos.ts";
import { plansTag, storePlans } from "../local/plans.ts";
import { storeFeed } from "../local/records.ts";
import { ask, get, OfficeSays, post } from "./office.ts";

const BATCH = 200;
const BUNDLE_BYTES = 2 * 1024 * 1024;
const PIECE_BYTES = 512 * 1024;
const SHORTEST_MS = 2_000;
const LONGEST_MS = 120_000;

/** What the office answers, as far as it is used here. */
type Answers = { answers: Answer[]; office_time: string };
type PhotoAnswer = { sha256: string; outcome: "kept" | "refused"; problem: Partial<Problem> | null };
type FeedPage = { records: RecordCopy[]; cursor: number; epoch: string; more: boolean };

const state: {
  busy: boolean;
  lastContactAt: number | null;
  problem: { code: string; words: string; hint: string } | null;
} = { busy: false, lastContactAt: null, problem: null };
let failures = 0;
let askedAgain = false;
let toldHolding = -1;
let timer: ReturnType<typeof setTimeout> | undefined;

/** How things stand, with counts. */
export async function syncState() {
  const [ops, no, photos, noPhotos] = await Promise.all([
    waiting(),
    refused(),
    photosToSend(),
    refusedPhotos(),
  ]);
  return {
    ...state,
    waiting: ops.length,
    photosWaiting: photos.filter((photo) => !photo.is_thumb).length,
    thumbsWaiting: photos.filter((photo) => photo.is_thumb).length,
    refused: no.length + noPhotos.length,
  };
}

/** Sync once, if no other tab does; asked while one is under way, once more after it. Never throws: what went wrong stands in the state. */
export async function syncNow() {
  askedAgain = state.busy;
  if (state.busy) return;
  state.busy = true;
  try {
    if (navigator.locks)
      await navigator.locks.request("intake-sync", { ifAvailable: true }, async (lock) => {
        if (lock) await round();
      });
    else await round();
    failures = 0;
  } catch (error) {
    failures += 1;
    if (error instanceof OfficeSays) {
      state.problem = { code: error.code, words: error.message, hint: error.hint };
      if (error.code === "device_revoked") await rememberDevice({ revoked: true });
    } else if (!(error instanceof TypeError) && !(error instanceof DOMException)) {
      state.problem = {
        code: "app_fault",
        words: String(error),
        hint: "Nothing is lost. Open the app again.",
      };
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
  const [ops, no, photos, noPhotos] = await Promise.all([
    waiting(),
    refused(),
    photosToSend(),
    refusedPhotos(),
  ]);
  return ops.length + no.length + photos.length + noPhotos.length;
}

async function sendOperations() {
  for (;;) {
    const operations = await takeBatch(BATCH);
    if (!operations.length) return;
    const { answers, office_time } = await post<Answers>("/sync/operations", { operations });
    await settle(answers);
    await rememberClock(office_time);
    if (!answers.length) return; // the office waits for something that is not here any more
    if (operations.length < BATCH) return;
  }
}

async function rememberClock(officeTime: string) {
  const offset = Date.parse(officeTime) - Date.now();
  const device = await thisDevice();
  if (device && Math.abs(offset - device.clock_offset_ms) > 2000)
    await rememberDevice({ clock_offset_ms: offset });
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

/** Photos in groups of at most two million bytes. */
function groups(photos: { sha256: string; size: number }[]) {
  const made: string[][] = [];
  let size = Infinity;
  for (const photo of photos) {
    if (size + photo.size > BUNDLE_BYTES) {
      made.push([]);
      size = 0;
    }
    (made.at(-1) as string[]).push(photo.sha256);
    size += photo.size;
  }
  return made;
}

/** Several whole pictures in one request. */
async function sendBundle(digests: string[]) {
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
  const response = await ask("/sync/bundle", {
    method: "POST",
    body: new Blob([size.buffer, head, ...contents]),
    headers: { "Content-Type": "application/octet-stream" },
    limitMs: 120_000,
  });
  const { photos: answers }: { photos: PhotoAnswer[] } = await response.json();
  await confirmed(answers.filter(({ outcome }) => outcome === "kept").map(({ sha256 }) => sha256));
  for (const { sha256, outcome, problem } of answers)
    if (outcome === "refused") await photoRefused(sha256, problem ?? {});
}

/**
 * A large picture piece by piece, from where the office has it. Only what stands whole at the office is confirmed:
 * it may have as many bytes as the picture and not have checked them yet.
 */
async function sendPieces(sha256: string) {
  const bytes = await photoBytes(sha256);
  if (!bytes) return;
  const had = await ask(`/photos/${sha256}`, { method: "HEAD" }).then(standing, (error) => {
    if (error instanceof OfficeSays && error.status === 404) return NOTHING;
    throw error;
  });
  try {
    await sendFrom(sha256, bytes, had).catch((error) => {
      // What the office had from before a cut was damaged there; it has thrown it away and takes the picture anew.
      const damaged = error instanceof OfficeSays && error.problem?.code === "wrong_digest" && had.offset > 0;
      if (damaged) return sendFrom(sha256, bytes, NOTHING);
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

type Standing = { offset: number; complete: boolean };
const NOTHING: Standing = { offset: 0, complete: false };

/** How much the office has of a picture, and whether it stands there whole. */
function standing({ headers }: Response): Standing {
  return {
    offset: Number(headers.get("Upload-Offset")),
    complete: headers.get("Upload-Complete") === "?1",
  };
}

/** Send what is left; the last request may be empty, when all bytes are there. */
async function sendFrom(sha256: string, bytes: ArrayBuffer, from: Standing) {
  let now = from;
  while (!now.complete) {
    const { offset } = now;
    const response = await ask(`/photos/${sha256}`, {
      method: "PATCH",
      body: bytes.slice(offset, offset + PIECE_BYTES),
      headers: {
        "Upload-Offset": String(offset),
        "Upload-Length": String(bytes.byteLength),
        "Content-Type": "application/octet-stream",
      },
      limitMs: 120_000,
    });
    now = standing(response);
    if (!now.complete && now.offset <= offset)
      throw new Error("The office takes no more of a picture and does not have it whole.");
  }
}

async function readFeed() {
  for (;;) {
    const device = (await thisDevice()) as ThisDevice;
    const held = await holding();
    const page = await get<FeedPage>(`/sync/feed?after=${device.cursor}&limit=500&holding=${held}`);
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
    if (!state.busy && navigator.onLine)
      pending = setTimeout(async () => {
        if (!failures && (await waiting()).length) syncNow();
      }, 1500);
  });
  addEventListener("online", () => {
    failures = 0;
    syncNow();
  });
  addEventListener("pageshow", () => syncNow());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") syncNow();
  });
  syncNow();
}
