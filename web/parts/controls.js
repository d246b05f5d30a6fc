/** The pieces that every form is made of. Each saves as it is typed or tapped; none has a "save" button. */
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { html } from "./html.js";
import { attempt } from "./notices.js";

/**
 * A line or a box of text; every keystroke goes to `save`.
 * @param {{label: string, hint?: string, value: any, save: (text: string) => Promise<unknown>, lines?: number,
 *   type?: string, inputmode?: string, autocomplete?: string, unit?: string, max?: number, of?: string}} given
 *   `of` tells fields of the same label on one screen apart
 */
export function Typed({ label, hint, value, save, lines = 1, type = "text", inputmode, autocomplete = "off", unit, max = 4000, of = "" }) {
  const id = useId();
  const [text, setText] = useState(String(value ?? ""));
  const focused = useRef(false);
  useEffect(() => {
    if (!focused.current) setText(String(value ?? "")); // what others set never moves under somebody's fingers
  }, [value]);
  const draft = `draft ${location.hash} ${of} ${label}`;
  const newest = useRef(/** @type {string|null} */ (null));
  const saving = useRef(false);
  const keepNow = async (/** @type {string} */ text) => {
    newest.current = text;
    setText(text);
    holdDraft(draft, text);
    if (saving.current) return; // fast fingers: the save under way is followed by one of the newest words
    saving.current = true;
    while (newest.current !== null) {
      const now = newest.current;
      newest.current = null;
      const kept = await attempt(async () => { await save(now); return true; });
      if (kept && newest.current === null) dropDraft(draft);
    }
    saving.current = false;
  };
  const typed = (/** @type {any} */ event) => keepNow(event.target.value);
  useEffect(() => {
    const left = localStorage.getItem(draft);
    if (left !== null) keepNow(left); // the page was killed between a key and its saving
  }, []);
  const common = {
    id, value: text, onInput: typed, maxLength: max, autocomplete,
    "aria-describedby": hint ? `${id}-hint` : undefined,
    onFocus: () => { focused.current = true; },
    onBlur: () => { focused.current = false; },
  };
  return html`<div class="field">
    <label for=${id}>${label}</label>
    ${hint && html`<p class="hint" id=${`${id}-hint`}>${hint}</p>`}
    ${lines > 1
      ? html`<textarea rows=${lines} ...${common}></textarea>`
      : html`<span class=${unit ? "with-unit" : ""}><input type=${type} inputmode=${inputmode} ...${common} />${unit && html`<span class="unit">${unit}</span>`}</span>`}
  </div>`;
}

/**
 * Hold what was typed until it is saved: the database answers some milliseconds later, and a page may be killed in
 * between. This store is written before the key's event ends.
 * @param {string} draft @param {string} text
 */
function holdDraft(draft, text) {
  try {
    localStorage.setItem(draft, text);
  } catch {
    // it is full: the save itself says so
  }
}

/** @param {string} draft */
function dropDraft(draft) {
  localStorage.removeItem(draft);
}

/** Whole numbers from what was typed; null if it is none. @param {string} text */
export function wholeNumber(text) {
  const trimmed = text.trim();
  return /^\d{1,6}$/.test(trimmed) ? Number(trimmed) : null;
}

/**
 * A whole number; what is no number is shown as such and not kept.
 * @param {{label: string, hint?: string, value: number|null|undefined, unit?: string, of?: string, save: (value: number) => Promise<unknown>}} given
 */
export function Counted({ label, hint, value, unit, of, save }) {
  const [wrong, setWrong] = useState(false);
  const typed = async (/** @type {string} */ text) => {
    const number = wholeNumber(text);
    setWrong(number === null && text.trim() !== "");
    if (number !== null) await save(number);
  };
  return html`<div class=${wrong ? "is-wrong" : ""}>
    <${Typed} label=${label} hint=${wrong ? "Whole numbers only; this is not kept yet." : hint} value=${value} unit=${unit} of=${of} inputmode="numeric" save=${typed} />
  </div>`;
}

/**
 * One of several, as buttons; tapping the chosen one again changes nothing.
 * @param {{label: string, options: [string, string][], value: string|null|undefined, choose: (value: string) => unknown, hideLabel?: boolean}} given
 */
export function Choice({ label, options, value, choose, hideLabel = false }) {
  const id = useId();
  return html`<div class="field" role="group" aria-labelledby=${id}>
    <span class=${hideLabel ? "unseen" : "label"} id=${id}>${label}</span>
    <div class="chips">
      ${options.map(
        ([key, words]) => html`<button type="button" key=${key} class="chip" aria-pressed=${value === key} onClick=${() => attempt(async () => choose(key))}>${words}</button>`,
      )}
    </div>
  </div>`;
}

/** @param {{label: string, options: [string, string][], value: string|null|undefined, choose: (value: string) => unknown, empty?: string}} given */
export function Select({ label, options, value, choose, empty = "Not chosen" }) {
  const id = useId();
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <select id=${id} value=${value ?? ""} onChange=${(/** @type {any} */ event) => attempt(async () => choose(event.target.value))}>
      <option value="">${empty}</option>
      ${options.map(([key, words]) => html`<option key=${key} value=${key} selected=${key === value}>${words}</option>`)}
    </select>
  </div>`;
}

/** Hours and minutes by this device. @param {string|number} moment */
export function clockWords(moment) {
  return new Date(moment).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
}

/** Day and time, for the desk. @param {string} moment */
export function momentWords(moment) {
  return new Date(moment).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
}
