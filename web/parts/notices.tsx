/** One line at a time: what was done, or what went wrong and what to do; and the way back in one place. */
import { useEffect, useReducer } from "preact/hooks";
import { fieldValue } from "../job/values.ts";
import { errorWords } from "../job/words.ts";
import { device, recordOf } from "../local/memory.ts";
import { acts } from "../local/outbox.ts";
import { OfficeSays } from "../sync/office.ts";
import { note } from "../sync/status.ts";
import { useNotOver } from "./not_over.ts";
import { oncePressed } from "./one_press.ts";
import { Sign } from "./sign.tsx";
import { useSelected } from "./use.ts";

/** `here`: of a screen that the office said no to, or was not there for; it goes with the screen. */
export type Notice = { words: string; wrong: boolean; here?: boolean };

/** Where what outlives the page until it is read is held. */
const UNREAD = "unread";

/** What somebody has to read, also after the page was opened anew. */
function unread(): Notice | null {
  const words = localStorage.getItem(UNREAD);
  return words ? { words, wrong: true } : null;
}

let current = unread();
/**
 * The way back from what was done last stands at the thing that it was done to, and at the one that the screen went on
 * to by itself. It is gone once something else is done, or the day was closed or left for another: what was a slip
 * before it would now change what two people have read.
 */
type WayBack = { undo: () => unknown; words: string; of: string; wentOnTo: string; onDay: string };
let wayBack: WayBack | null = null;
const watchers: Set<() => void> = new Set();

/** Where what is said belongs: the screen that stands once whatever was done has gone on to the next. */
let saidAt = "";

function show(notice: Notice | null) {
  current = notice ?? unread();
  queueMicrotask(() => {
    saidAt = location.hash;
  });
  drawAnew();
}

function drawAnew() {
  for (const watcher of watchers) watcher();
}

acts.subscribe(() => {
  wayBack = null;
  drawAnew();
});

/** The thing that a screen is about: what was done to another one is not undone from here. */
function thingHere() {
  return location.hash.split("/").slice(0, 3).join("/");
}

/** The day that is worked on, and whether it is closed. */
function onDay() {
  const { day_id = "" } = device.value ?? {};
  return `${day_id} ${Boolean(fieldValue(recordOf("day", day_id), "closed"))}`;
}

/** Say what was done. */
export function sayDone(words: string, undo?: () => unknown) {
  const here = thingHere();
  const back = undo ? { undo, words, of: here, wentOnTo: here, onDay: onDay() } : null;
  wayBack = back;
  show({ words, wrong: false });
  queueMicrotask(() => {
    if (back) back.wentOnTo = thingHere();
  });
}

/**
 * What was done is said until the next thing is touched, a key does something else, or another screen is there; what
 * went wrong stays until it is read, on whichever screen if it is this device that could not do it. The line goes
 * once the touch has arrived: a page that moved between finger down and finger up would lose it. The keys that only
 * go to Undo, or are held beside others, do nothing else.
 */
function goOn({ target }: Event) {
  const onIt = target instanceof Element && target.closest(".notice, .undo");
  if (current && !current.wrong && !onIt) show(null);
}

const GO_TO_UNDO = new Set(["Tab", "Shift", "Control", "Alt", "Meta"]);

addEventListener("click", goOn, true);
addEventListener("input", goOn, true); // what is pasted or dictated comes without a key
addEventListener("keydown", (event: KeyboardEvent) => GO_TO_UNDO.has(event.key) || goOn(event), true);
addEventListener("hashchange", (event) => {
  if (location.hash !== saidAt) current?.here ? show(null) : goOn(event);
  drawAnew(); // whether the way back stands depends on the thing that is open
});

/** Say what went wrong, until it is read; that the office does not know this device stands above every screen. */
export function sayWrong(error: unknown) {
  if (error instanceof OfficeSays && error.code === "not_paired" && device.peek())
    return note({ problem: { code: error.code, words: error.message, hint: error.hint } });
  const here = error instanceof OfficeSays || error instanceof TypeError; // the latter with no connection
  show({ words: wrongWords(error), wrong: true, here });
}

/** What went wrong, and what to do. */
export function wrongWords(error: unknown): string {
  const words = errorWords(error);
  const hint = error instanceof Error && "hint" in error ? ` ${error.hint}` : "";
  return words + hint;
}

/** Say what somebody has to put right, until it is read: nothing else of this device tells it. */
export function sayUntilRead(words: string) {
  localStorage.setItem(UNREAD, [unread()?.words, words].filter(Boolean).join(" "));
  show(null);
}

/** What was said is over: its cause is gone. */
export function sayNothing() {
  show(null);
}

/** Do something on a tap; what goes wrong is said, never swallowed. */
export async function attempt<T>(work: () => Promise<T>): Promise<T | undefined> {
  try {
    return await oncePressed(work);
  } catch (error) {
    sayWrong(error);
    return undefined;
  }
}

/** Drawn anew whenever something is to be said, or another thing is open. */
function useNotice() {
  const [, draw] = useReducer((times: number) => times + 1, 0);
  const drawn = current;
  useEffect(() => {
    const watcher = () => draw(null);
    watchers.add(watcher);
    if (current !== drawn) draw(null); // it was said while this screen took the place of another
    return () => void watchers.delete(watcher);
  }, []);
  return current;
}

function read() {
  if (unread()?.words === current?.words) localStorage.removeItem(UNREAD);
  show(null);
}

/** Stands above the keys of the dock, and on no key: nor on the one that it was said for. */
export function Notices() {
  const notice = useNotice();
  const here = useNotOver<HTMLDivElement>(notice);
  return (
    <div class="notices" aria-live="polite" ref={here}>
      {notice && (
        <div class={notice.wrong ? "notice wrong" : "notice"} role={notice.wrong ? "alert" : "status"}>
          <p>{notice.words}</p>
          {notice.wrong && (
            <button type="button" class="quiet" onClick={read}>
              I have read it
            </button>
          )}
        </div>
      )}
    </div>
  );
}

/**
 * The way back from what was done last on this thing, or on the one before it; nothing if there is none. It says what
 * it takes back, unless that is said beside it, and what it has taken back.
 */
export function Undo() {
  const notice = useNotice();
  const here = thingHere();
  const day = useSelected(onDay, []);
  if (!wayBack || wayBack.onDay !== day || (wayBack.of !== here && wayBack.wentOnTo !== here)) return null;
  const { undo, words } = wayBack;
  const [of = ""] = notice?.words === words ? [] : words.split(". ");
  const back = () => {
    wayBack = null;
    show(null);
    const before = current;
    attempt(async () => {
      await undo();
      if (current === before) sayDone(`Taken back: ${words}`);
    });
  };
  return (
    <button type="button" class="undo" onClick={back}>
      <Sign of="undo" /> <span>Undo{of && `: ${of.replace(/\.$/, "")}`}</span>
    </button>
  );
}
