/**
 * Bringing this device and the office together: texts first, then small pictures, then originals, then what
 * others have done. Driven by the page: after a save, when it is shown, when the line is back, and by a timer.
 */
import { computed, effect, signal } from "@preact/signals-core";
import type { Answer, OfficeStanding, Problem, RecordCopy } from "../job/types.ts";
import { beginReading, dayOfWork, letGoOfAll, letGoOfOtherDays } from "../local/day.ts";
import { rememberDevice } from "../local/device.ts";
import {
  dropErasedWords,
  type Erasure,
  isBehindInErasures,
  storeErasures,
  tellErasures,
} from "../local/erasures.ts";
import { storeFeed } from "../local/feed.ts";
import { forgetGoneDays } from "../local/held.ts";
import {
  type Asked,
  letGoOfAnswered,
  madeWhole,
  makeRoom,
  meet,
  photosStand,
  photosToAskFor,
  toldLast,
} from "../local/keeping.ts";
import { device, forgotten, load, refused, waiting } from "../local/memory.ts";
import { forgetErased } from "../local/opened.ts";
import { nowBy, settle, takeBatch } from "../local/outbox.ts";
import {
  confirmed,
  photoBytes,
  photoRefused,
  photosOnlyHere,
  photosToSend,
  refusedPhotos,
} from "../local/photos.ts";
import { plansTag, storePlans } from "../local/plans.ts";
import { ask, get, OfficeSays, post } from "./office.ts";

const BATCH = 200;
const BUNDLE_BYTES = 2 * 1024 * 1024;
const PIECE_BYTES = 512 * 1024;
/** So that a word being typed is one operation. */
const PAUSE_MS = 1500;
const SHORTEST_MS = 2_000;
const LONGEST_MS = 120_000;

/** What the office answers, as far as it is used here. */
type Says = { office: OfficeStanding };
type Answers = Says & { answers: Answer[]; office_time: string };
type PhotosStanding = { here: string[]; copied: string[] };
type PhotoAnswer = { sha256: string; outcome: "kept" | "refused"; problem: Partial<Problem> | null };
type FeedPage = Says & {
  records: RecordCopy[];
  cursor: number;
  epoch: string;
  more: boolean;
  day_id?: string;
  day_over?: boolean;
  office_time: string;
};

export type SyncProblem = { code: string; words: string; hint: string };
/** How the last round went; what waits stands in this device's memory. */
export const status = signal<{ busy: boolean; lastContactAt: number | null; problem: SyncProblem | null }>({
  busy: false,
  lastContactAt: null,
  problem: null,
});

function note(patch: Partial<(typeof status)["value"]>) {
  status.value = { ...status.peek(), ...patch };
}

/** How much is on this device only. */
export const counts = {
  operations: computed(() => waiting.value.length),
  originals: computed(() => photosOnlyHere().filter(({ is_thumb }) => !is_thumb).length),
  thumbs: computed(() => photosOnlyHere().filter(({ is_thumb }) => is_thumb).length),
  /** Operations and photos that a person must look at. */
  refused: computed(() => refused.value.length + refusedPhotos().length),
};

let failures = 0;
let askedAgain = false;
let toldHolding = -1;
/** The office's clock, as it was last heard in this round; empty before. */
let officeTime = "";
/** Whether operations may be kept here with words that were erased: before the first look, and after each answer. */
let mayHaveErased = true;
let timer: ReturnType<typeof setTimeout> | undefined;

/** Sync once, if no other tab does; asked while one is under way, once more after it. Never throws: what went wrong stands in the state. */
export async function syncNow() {
  askedAgain = status.peek().busy;
  if (askedAgain) return;
  note({ busy: true });
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
      note({ problem: { code: error.code, words: error.message, hint: error.hint } });
      if (error.code === "device_revoked") await signedOff();
    } else if (!(error instanceof TypeError) && !(error instanceof DOMException)) {
      note({
        problem: { code: "app_fault", words: String(error), hint: "Nothing is lost. Open the app again." },
      });
    }
  } finally {
    note({ busy: false });
    if (askedAgain && !failures) syncNow();
    else plan();
  }
}

async function round() {
  officeTime = "";
  await load();
  if (!device.peek()) return;
  await sendOperations();
  await askForPhotos();
  await sendThumbs();
  await readFeed();
  await hearErasures();
  await forgetGoneDays();
  await readPlans();
  note({ lastContactAt: Date.now(), problem: null });
  await sendOriginals();
  await sendOperations(); // what was typed meanwhile
  if (holding() !== toldHolding) await readFeed(); // the office hears that this device holds less
  await letGoOfAnswered(officeTime);
  await makeRoom();
  if (isWhole()) await madeWhole();
}

/** Whether an office that had lost something has heard all that this device can tell it. */
function isWhole() {
  if (!forgotten.peek() || forgotten.peek()?.done_at || askedAgain) return false;
  return !waiting.peek().some(({ waits }) => !waits) && !photosOnlyHere().length;
}

/** An address with what this device was told last, and that. */
function knowing(path: string): [path: string, asked: Asked] {
  const asked = toldLast();
  const said = Object.entries(asked).filter(([, value]) => value !== "");
  const added = new URLSearchParams(said.map(([name, value]) => [name, String(value)]));
  return [`${path}${path.includes("?") ? "&" : "?"}${added}`, asked];
}

/** Hear where the office stands; true if it has lost something, which asks for one more round. */
async function hear({ office }: Says, asked: Asked) {
  const lost = await meet(office, asked);
  askedAgain ||= lost;
  return lost;
}

/** How much is on this device only, all in all. */
function holding() {
  const { operations, originals, thumbs, refused } = counts;
  return operations.peek() + originals.peek() + thumbs.peek() + refused.peek();
}

async function sendOperations() {
  let waits = false;
  let moved = false;
  for (let after = 0; ; ) {
    const { clock_offset_ms = device.peek()?.clock_offset_ms, ...batch } = await takeBatch(BATCH, after);
    const last = batch.operations.at(-1);
    if (!last) {
      if (!waits || !moved) return;
      [after, waits, moved] = [0, false, false]; // what they wait for may have been among those that came later
      continue;
    }
    const [path, asked] = knowing("/sync/operations");
    const answered = await post<Answers>(path, { ...batch, sent_at: nowBy(clock_offset_ms) });
    officeTime = answered.office_time;
    mayHaveErased = true;
    await settle(answered.answers);
    await rememberClock(answered.office_time);
    for (const { outcome } of answered.answers) {
      if (outcome === "waiting") waits = true;
      else moved = true;
    }
    after = (await hear(answered, asked)) ? 0 : last.device_seq;
  }
}

/** Ask for photos that the office may have lost, or that may be safe by now. */
async function askForPhotos() {
  const sha256 = photosToAskFor();
  if (!sha256.length) return;
  const { here, copied } = await post<PhotosStanding>("/sync/photos", { sha256 });
  await photosStand(sha256, new Set(here), new Set(copied));
}

async function rememberClock(officeTime: string) {
  const offset = Date.parse(officeTime) - Date.now();
  const known = device.peek();
  if (known && Math.abs(offset - known.clock_offset_ms) > 2000)
    await rememberDevice({ clock_offset_ms: offset });
}

async function sendThumbs() {
  const thumbs = photosToSend().filter((photo) => photo.is_thumb);
  for (const group of groups(thumbs)) await sendBundle(group);
}

async function sendOriginals() {
  const originals = photosToSend().filter((photo) => !photo.is_thumb);
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
  const [path, asked] = knowing("/sync/bundle");
  const response = await ask(path, {
    method: "POST",
    body: new Blob([size.buffer, head, ...contents]),
    headers: { "Content-Type": "application/octet-stream" },
    limitMs: 120_000,
  });
  const { photos: answers, ...says }: Says & { photos: PhotoAnswer[] } = await response.json();
  await hear(says, asked);
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

/** The office does not know this device any more: it keeps what it owes, and nothing else. */
async function signedOff() {
  if (device.peek()?.revoked) return;
  await rememberDevice({ revoked: true });
  await letGoOfAll();
}

async function readFeed() {
  for (;;) {
    await beginReading();
    const known = device.peek();
    if (!known) return;
    const held = holding();
    const untold = waiting.peek().filter(({ waits }) => !waits).length;
    const { table_id } = known;
    const day_id = dayOfWork(known);
    const work = `&${new URLSearchParams({ day_id, table_id })}`;
    const [path, asked] = knowing(
      `/sync/feed?after=${known.cursor}&limit=500&holding=${held}&to_send=${untold}${work}`,
    );
    const page = await get<FeedPage>(path);
    toldHolding = held;
    officeTime = page.office_time;
    if (await hear(page, asked)) continue; // it is read from the start, over what is here
    const now = device.peek();
    if (!now || dayOfWork(now) !== day_id || now.table_id !== table_id) continue; // other work was chosen meanwhile
    await storeFeed(page);
    if (page.more) continue;
    if (page.day_id === undefined) return; // an office of before tells of every day, and takes none away
    await letGoOfOtherDays(Boolean(page.day_over), page.office_time);
    const still = device.peek();
    if (!still || dayOfWork(still) === page.day_id) return; // else its day is over, and it reads what is to come
  }
}

/** Hear whose words were erased, and let go of those here; an office that has forgotten is told of it. */
async function hearErasures() {
  const behind = await isBehindInErasures();
  if (behind) {
    const { erasures } = await get<{ erasures: Erasure[] }>("/sync/erasures");
    await storeErasures(erasures);
    await forgetErased(erasures.map(({ record_id }) => record_id));
  }
  if (behind || mayHaveErased) await dropErasedWords();
  mayHaveErased = false;
  await tellErasures();
}

async function readPlans() {
  const tag = plansTag();
  const response = await ask("/plans", tag ? { headers: { "If-None-Match": tag } } : {});
  if (response.status !== 304) await storePlans(await response.json(), response.headers.get("ETag"));
}

/** Set the next try: soon while something waits, later after each failure, with chance so that phones do not come all at once. */
function plan() {
  clearTimeout(timer);
  const idle = !counts.operations.peek() && !counts.originals.peek() && !counts.thumbs.peek() && !failures;
  const base = idle ? 15_000 : Math.min(LONGEST_MS, SHORTEST_MS * 2 ** failures);
  timer = setTimeout(syncNow, base * (0.5 + Math.random() / 2));
}

/** Start syncing by itself. */
export function startSync() {
  let pending: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const some = waiting.value.length > 0; // and each time it changes
    clearTimeout(pending);
    if (some && !status.peek().busy && navigator.onLine)
      pending = setTimeout(() => failures || syncNow(), PAUSE_MS);
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
