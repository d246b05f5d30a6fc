/**
 * What a key or a fold opens comes in sight: it opened under the dock, or below the screen, and nobody saw that it did.
 * What was pressed stays in sight as well. It comes with the words' pack, which every device keeps.
 */

/** So far from the head and from the dock. */
const ROOM_PX = 8;
/** What belongs to what was pressed: a finding, a fold, a row of a list. */
const OPENED_IN = "details, article, section, fieldset, li";

addEventListener("click", ({ target }) => {
  const key = target instanceof Element ? target.closest("[aria-expanded], summary") : null;
  // What the dock opens stands in the dock; so does the menu of the head.
  if (!key?.closest("main")) return;
  requestAnimationFrame(() => requestAnimationFrame(() => bringInSight(key)));
});

function bringInSight(key: Element) {
  const around = key.closest(OPENED_IN);
  const isOpen = key.matches("summary")
    ? around?.matches("[open]")
    : key.getAttribute("aria-expanded") === "true";
  if (!key.isConnected || !around || !isOpen) return;
  const head = document.querySelector(".top")?.getBoundingClientRect().bottom ?? 0;
  const foot = document.querySelector(".dock")?.getBoundingClientRect().top ?? innerHeight;
  const hidden = around.getBoundingClientRect().bottom + ROOM_PX - Math.min(foot, innerHeight);
  const room = key.getBoundingClientRect().top - ROOM_PX - Math.max(head, 0);
  const by = Math.min(hidden, room);
  if (by > 0) scrollBy({ top: by, behavior: "instant" });
}
