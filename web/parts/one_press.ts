/**
 * A button that began something takes no press until that has ended and the screen shows it: what a press makes is made
 * from what is on the screen, and a second press in haste would make the same once more.
 */

/** Which buttons are held stands in the page itself: there whoever does not see it hears of it, too. */
const HELD = "aria-disabled";

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
}

addEventListener(
  "click",
  (event) => {
    if (!(event.target as Element).closest(`button[${HELD}]`)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
  },
  true,
);

// A phone may stop the storage of a hidden page: work that never ends for it holds no button for good.
document.addEventListener("visibilitychange", () => {
  for (const button of document.querySelectorAll(`button[${HELD}]`)) letGo(button);
});
