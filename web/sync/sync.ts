/**
 * Bringing this device and the office together: words first, then what others have done, then small pictures, then
 * originals. Driven by the page: after a save, when it is shown, when the line is back, and by a timer.
 */
import { effect } from "@preact/signals-core";
import { errorWords } from "../job/words.ts";
import { isPhoneFull, StorageFull, StorageTrouble } from "../local/database.ts";
import { letGoOfAll } from "../local/day.ts";
import { rememberDevice } from "../local/device.ts";
import { letGoOfAnswered, madeWhole, makeRoom } from "../local/keeping.ts";
import { load } from "../local/load.ts";
import { device, forgotten, waiting } from "../local/memory.ts";
import { photosOnlyHere } from "../local/photos.ts";
import { sendWhatMayBeHeard } from "../local/sent_again.ts";
import { ask, OfficeSays } from "./office.ts";
import { forgetShown, hearErasures, hearWhatMayGo, holdsOtherwise, readFeed, readPlans } from "./read.ts";
import { round, whenFull } from "./round.ts";
import { sendOperations } from "./send_operations.ts";
import { askForPhotos, sendOriginals, sendThumbs } from "./send_photos.ts";
import { counts, note, type SyncProblem, status } from "./status.ts";

/** So that a word being typed is one operation. */
const PAUSE_MS = 1500;
const SHORTEST_MS = 2_000;
/** So that a phone is heard soon after the network is back; the office answers hundreds of such tries at once. */
const LONGEST_MS = 10_000;
/** A Stop that others called is heard with the feed: so often it is asked for, whatever else there is to do. */
const IDLE_MS = 15_000;

/** A full phone first makes so much room at a time. */
const ROOM_ON_A_FULL_PHONE = 20_000_000;

let failures = 0;
/** Rounds after which all that is left waits for something that the office lacks, and nothing new was heard. */
let inVain = 0;
let heardTo: number | undefined;
let timer: ReturnType<typeof setTimeout> | undefined;

/**
 * Sync once, if no other tab does; asked while one is under way, once more after it. Never throws: what went wrong
 * stands in the state.
 */
export async function syncNow() {
  round.again = status.peek().busy;
  if (round.again) return;
  note({ busy: true });
  try {
    if (navigator.locks)
      await navigator.locks.request("intake-sync", { ifAvailable: true }, async (lock) => {
        if (lock) await sync();
      });
    else await sync();
    failures = 0;
  } catch (error) {
    failures += 1;
    isHeardAllTheSame = false;
    note({ out_of_reach: isOfTheLine(error) });
    if (error instanceof OfficeSays) {
      note({ problem: { code: error.code, words: error.message, hint: error.hint } });
      if (error.code === "device_revoked") await signedOff();
    } else if (!isOfTheLine(error)) {
      note({ problem: problemOf(error) });
    }
  } finally {
    note({ busy: false });
    if (round.again && !failures) syncNow();
    else plan();
  }
}

async function sync() {
  await keepInStep().catch(async (error) => {
    if (error instanceof StorageFull) await whenFull.hear?.();
    throw error;
  });
}

async function keepInStep() {
  round.officeTime = "";
  await load();
  if (!device.peek()) return;
  if (isPhoneFull()) await letGoOfWhatIsSafe();
  const saidNone = saysNoNetwork();
  const notTaken = (await knock()) ? await sendOperations().then(nothing, heardAllTheSame) : null;
  await readFeed(); // a Stop that somebody called is heard before any picture goes
  await hearErasures();
  if (notTaken) throw notTaken;
  await sendWhatMayBeHeard();
  await readPlans();
  isHeardAllTheSame ||= saidNone && saysNoNetwork(); // it may have gone while the office answered
  note({ lastContactAt: Date.now(), problem: null, out_of_reach: false });
  await askForPhotos();
  await sendThumbs();
  await sendOriginals();
  await sendOperations(); // what was typed meanwhile
  if (holdsOtherwise()) await readFeed(); // the office hears that this device holds less
  await letGoOfAnswered(round.officeTime);
  await makeRoom();
  if (isWhole()) await madeWhole();
}

const nothing = () => null;

/**
 * An office whose disk is full takes nothing and still tells everything, and a line may be too thin for what waits
 * alone. A Stop, an erasure and the end of a day are heard then all the same, and what this device owes stays here. No
 * reading helps one that the office does not know, or whose line is gone.
 */
function heardAllTheSame(error: unknown) {
  const isSlow = error instanceof TypeError && error.cause instanceof DOMException;
  if (!isSlow && !(error instanceof OfficeSays && ![401, 403].includes(error.status))) throw error;
  return error;
}

/** What the device itself says; an office on the same laptop, or behind a network that it overlooks, is there then. */
const saysNoNetwork = () => navigator.onLine === false;
/** The office answers although the device says that it has no network: its word is no reason to ask less often. */
let isHeardAllTheSame = false;

/**
 * Whatever leaves with a request counts as tried, since nobody can tell whether the office heard it, and is not taken
 * back any more. So an office that may not be there is asked first without anything: what was never sent stays so. It
 * throws when nothing answers. Whether anything waits: what is kept from now on goes once the office has answered.
 */
async function knock() {
  if (!waiting.peek().length) return false;
  const { lastContactAt, out_of_reach } = status.peek();
  if (!lastContactAt || out_of_reach || saysNoNetwork())
    await ask("/health").catch((error) => {
      if (!(error instanceof OfficeSays)) throw error;
    });
  return true;
}

/**
 * On a full phone nothing can be written, not even that something is about to be sent. So what stands in two places
 * goes first, as the office says it; with no second place set up, some originals that the office has.
 */
async function letGoOfWhatIsSafe() {
  await letGoOfAnswered("");
  await makeRoom(ROOM_ON_A_FULL_PHONE);
  await askForPhotos();
}

/** What went wrong on this device itself. */
function problemOf(error: unknown): SyncProblem {
  if (error instanceof StorageTrouble) return { code: "storage", words: error.message, hint: "" };
  return { code: "app_fault", words: errorWords(error), hint: "Nothing is lost. Open the app again." };
}

/** Whether no answer came at all, as with no network or one that hangs. */
function isOfTheLine(error: unknown) {
  return error instanceof TypeError || error instanceof DOMException;
}

/** Whether an office that had lost something has heard all that this device can tell it. */
function isWhole() {
  if (!forgotten.peek() || forgotten.peek()?.done_at || round.again) return false;
  return !waiting.peek().some(({ waits }) => !waits) && !photosOnlyHere().length;
}

/**
 * The office does not know this device any more: it keeps what it owes, and nothing else. Done each time that is heard:
 * the app may have been killed the first time, and somebody may have typed since.
 */
async function signedOff() {
  try {
    const gone = await letGoOfAll();
    if (gone || !device.peek()?.revoked) await forgetShown();
    await rememberDevice({ revoked: true }); // a page that could not store it shows it already
    await whenFull.takenOff?.(true);
    const settled = await hearWhatMayGo();
    if (!settled) return;
    await askForPhotos();
    await letGoOfAnswered(round.officeTime, settled);
  } catch (error) {
    if (error instanceof StorageFull) await whenFull.takenOff?.(false);
    // What was sent from here stays until an office says that it is safe; one of before says nothing to such a device.
    if (!(error instanceof OfficeSays) && !isOfTheLine(error)) note({ problem: problemOf(error) });
  }
}

/**
 * Set the next try: soon while something waits, later after each failure, and each time that all of it still waits for
 * what the office lacks; with chance so that phones do not come all at once.
 */
function plan() {
  clearTimeout(timer);
  const pictures = counts.originals.peek() + counts.thumbs.peek();
  const idle = !counts.operations.peek() && !pictures && !failures;
  const cursor = device.peek()?.cursor;
  const isVain = !idle && !pictures && !failures && waiting.peek().every(({ waits }) => waits);
  inVain = isVain && cursor === heardTo ? inVain + 1 : 0;
  heardTo = cursor;
  const longer = failures || Math.max(0, inVain - 1);
  const base = idle ? IDLE_MS : Math.min(failures ? LONGEST_MS : IDLE_MS, SHORTEST_MS * 2 ** longer);
  timer = setTimeout(syncNow, base * (0.5 + Math.random() / 2));
}

/** Start syncing by itself. */
export function startSync() {
  let pending: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    const some = waiting.value.length > 0; // and each time it changes
    inVain = 0;
    clearTimeout(pending);
    if (some && !status.peek().busy && (navigator.onLine || isHeardAllTheSame))
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
