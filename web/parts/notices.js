/** One line at a time to the person: what was done, with a way back, or what went wrong and what to do. */
import { useEffect, useState } from "preact/hooks";
import { html } from "./html.js";

/** @typedef {{words: string, wrong: boolean, undo?: () => unknown}} Notice */

/** @type {Notice|null} */
let current = null;
/** @type {Set<() => void>} */
const watchers = new Set();
/** @type {ReturnType<typeof setTimeout>|undefined} */
let timer;
const SHOWN_MS = 7000;

/** @param {Notice|null} notice */
function show(notice) {
  current = notice;
  clearTimeout(timer);
  if (notice && !notice.wrong) timer = setTimeout(() => show(null), SHOWN_MS);
  for (const watcher of watchers) watcher();
}

/** Say what was done. @param {string} words @param {() => unknown} [undo] */
export function sayDone(words, undo) {
  show({ words, wrong: false, ...(undo ? { undo } : {}) });
}

/** Say what went wrong; it stays until it is read. @param {unknown} error */
export function sayWrong(error) {
  const words = error instanceof Error ? error.message : String(error);
  const hint = error instanceof Error && "hint" in error ? ` ${error.hint}` : "";
  show({ words: words + hint, wrong: true });
}

/**
 * Do something on a tap; what goes wrong is said, never swallowed.
 * @template T @param {() => Promise<T>} work @returns {Promise<T|undefined>}
 */
export async function attempt(work) {
  try {
    return await work();
  } catch (error) {
    sayWrong(error);
    return undefined;
  }
}

export function Notices() {
  const [notice, setNotice] = useState(current);
  useEffect(() => {
    const watcher = () => setNotice(current);
    watchers.add(watcher);
    return () => void watchers.delete(watcher);
  }, []);
  const undo = notice?.undo;
  return html`<div class="notices" aria-live="polite">
    ${notice &&
    html`<div class=${notice.wrong ? "notice wrong" : "notice"} role=${notice.wrong ? "alert" : "status"}>
      <p>${notice.words}</p>
      ${undo && html`<button type="button" class="quiet" onClick=${() => { show(null); attempt(async () => undo()); }}>Undo</button>`}
      <button type="button" class="quiet" onClick=${() => show(null)}>${notice.wrong ? "I have read it" : "Close"}</button>
    </div>`}
  </div>`;
}
