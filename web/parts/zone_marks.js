/** A zone's state as mark and word, never as colour alone. */
import { STATE_MARKS, STATE_WORDS } from "../job/words.js";
import { html } from "./html.js";

/** @param {{state: string|undefined}} given */
export function StateMark({ state }) {
  const name = state ?? "untouched";
  return html`<span class=${`state ${name}`}><span class="mark" aria-hidden="true">${STATE_MARKS[name]}</span> ${state ? STATE_WORDS[state] : "Not looked at"}</span>`;
}
