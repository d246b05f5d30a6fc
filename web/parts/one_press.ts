/**
 * What is pressed twice in haste acts once. Two rules, and no screen has one of its own.
 *
 * A button that began something takes no press until that has ended and the screen shows it: what a press makes is made
 * from what is on the screen, and a second press would make the same once more.
 *
 * A key that came to lie under the finger by its last press takes none for a moment after that, after what it began has
 * ended, or after the last that it did not take: nobody has read it. A press at another place, or on a key that was
 * there before and says the same, counts however fast it comes: numbers, a count, Clear from zone to zone.
 */

/** Which buttons are held stands in the page itself: there whoever does not see it hears of it, too. */
const HELD = "aria-disabled";

/** A trembling finger is back within a third of a second; whoever reads what came takes longer. */
const HASTE_MS = 350;
/** A finger that comes back is no further off, and no key is smaller. */
const NEAR_PX = 24;
const AROUND = [-NEAR_PX, 0, NEAR_PX];

/** When and where a finger came down, or what that began was done, and which keys lay there, with what they said. */
type Press = { at: number; x: number; y: number; keys: Map<Element, string>; isTaken?: boolean };
let before: Press | undefined;
let last: Press | undefined;

function keyOf(target: EventTarget | null) {
  return (target as Element | null)?.closest("a,button,input,label,select,summary,textarea") ?? null;
}

/** What a key says it does: not of which thing, nor of how many. */
function nameOf(key: Element) {
  const words = (key.querySelector(".leads-to") ?? key).textContent ?? "";
  return words.replace(/:.*|\d+/gs, "");
}

function cameDown({ clientX: x, clientY: y, timeStamp: at }: PointerEvent) {
  const keys: Press["keys"] = new Map();
  for (const right of AROUND)
    for (const down of AROUND) {
      const key = keyOf(document.elementFromPoint(x + right, y + down));
      if (key) keys.set(key, nameOf(key));
    }
  before = last;
  last = { at, x, y, keys };
}

/**
 * Whether a key came under the finger since it was there last. Such a press makes the moment longer, and what lay there
 * before it is still what the finger meant: a third and a fourth in haste mean no more than the second.
 */
function isInHaste(key: Element) {
  if (!last || !before || last.isTaken) return false;
  const isNear = Math.abs(last.x - before.x) <= NEAR_PX && Math.abs(last.y - before.y) <= NEAR_PX;
  if (isNear && last.at - before.at < HASTE_MS && before.keys.get(key) !== nameOf(key)) {
    last.keys = before.keys;
    return true;
  }
  last.isTaken = true; // a label hands its press on to what it is of
  return false;
}

/** What the last press began is done, by the clock of presses: from now on what came of it is there to be read. */
function isDone() {
  if (last) last.at = new Event("").timeStamp;
}

/** The button of the press that is being handled right now, so that no button has to hand itself on. */
function pressed() {
  const event = window.event as Partial<SubmitEvent> | undefined;
  const by = event?.submitter ?? event?.currentTarget;
  return by instanceof HTMLButtonElement ? by : null;
}

/** Do the work of a press; the button that it began with takes no other meanwhile. */
export async function oncePressed<T>(work: () => Promise<T>): Promise<T> {
  const button = pressed();
  if (!button || button.hasAttribute(HELD)) return work();
  button.setAttribute(HELD, "true");
  try {
    return await work();
  } finally {
    // The frame after the next shows what the work changed, also where it went on to another screen.
    requestAnimationFrame(() => requestAnimationFrame(() => letGo(button)));
  }
}

function letGo(button: Element) {
  button.removeAttribute(HELD);
  isDone();
}

addEventListener("pointerdown", cameDown, true);
addEventListener("hashchange", isDone);
addEventListener(
  "click",
  (event: MouseEvent) => {
    const key = keyOf(event.target);
    // A key of the keyboard, or the app itself, presses without a finger, and `detail` is 0.
    if (!key || !(key.hasAttribute(HELD) || (event.detail && isInHaste(key)))) return;
    event.preventDefault();
    event.stopImmediatePropagation();
  },
  true,
);

// A phone may stop the storage of a hidden page: work that never ends for it holds no button for good.
document.addEventListener("visibilitychange", () => {
  for (const button of document.querySelectorAll(`button[${HELD}]`)) letGo(button);
});
