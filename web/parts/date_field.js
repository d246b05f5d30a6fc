/** A date in the trade's words, with the years they cover beside them; years and two switches where words do not do. */
import { useState } from "preact/hooks";
import { dateOf, readDate } from "../job/dates.js";
import { Choice, Typed } from "./controls.js";
import { html } from "./html.js";
import { attempt } from "./notices.js";

/** @import { Conventions } from "../job/dates.js" */
/** @typedef {{words: string, earliest: number|null, latest: number|null, edtf: string|null}} DateValue */

/** @param {number} year astronomical */
function yearWords(year) {
  return year < 1 ? `${1 - year} BC` : String(year);
}

/** @param {DateValue} date */
export function spanWords({ earliest, latest, edtf }) {
  if (earliest === null && latest === null) return edtf === "XXXX" ? "No year is known" : "No years yet";
  const span = earliest === null ? `up to ${yearWords(/** @type {number} */ (latest))}` : latest === null ? `from ${yearWords(earliest)}` : earliest === latest ? yearWords(earliest) : `${yearWords(earliest)} to ${yearWords(latest)}`;
  return `${span}${edtf ? ` · EDTF ${edtf}` : ""}`;
}

/** @param {{date: DateValue|null|undefined, conventions: Conventions|undefined, save: (date: DateValue) => Promise<unknown>}} given `conventions` are the house's */
export function DateField({ date, conventions, save }) {
  const [problem, setProblem] = useState("");
  const [open, setOpen] = useState(false);
  const typed = async (/** @type {string} */ words) => {
    const read = readDate(words, conventions);
    setProblem(words.trim() ? (read.problem ?? "") : "");
    await save(read.date ?? { words, earliest: null, latest: null, edtf: null }); // words that are not understood are kept as words
  };
  return html`<div class=${problem ? "is-far" : ""}>
    <${Typed} label="Date" hint=${problem ? `${problem} The words are kept.` : date?.words ? spanWords(date) : "Such as 1931, circa 1880, late 19th century, before 1840"} value=${date?.words} save=${typed} max=${200} />
  </div>
  ${open
    ? html`<${Years} date=${date} conventions=${conventions} save=${async (/** @type {DateValue} */ chosen) => { setProblem(""); await save(chosen); }} close=${() => setOpen(false)} />`
    : html`<p><button type="button" class="chip" onClick=${() => setOpen(true)}>Give the years instead</button></p>`}`;
}

/** @param {{date: DateValue|null|undefined, conventions: Conventions|undefined, save: (date: DateValue) => Promise<unknown>, close: () => void}} given */
function Years({ date, conventions, save, close }) {
  const [said, setSaid] = useState({ from: String(date?.earliest ?? ""), to: String(date?.latest ?? ""), how: "" });
  const year = (/** @type {string} */ text) => (/^-?\d{1,5}$/.test(text.trim()) ? Number(text.trim()) : null);
  const set = (/** @type {string} */ name) => async (/** @type {string} */ text) => setSaid((before) => ({ ...before, [name]: text }));
  const read = dateOf({ from: year(said.from), to: year(said.to), about: said.how === "about", probably: said.how === "probably" }, conventions);
  return html`<div class="pair">
      <${Typed} label="From the year" value=${said.from} save=${set("from")} inputmode="numeric" />
      <${Typed} label="To the year" value=${said.to} save=${set("to")} inputmode="numeric" />
    </div>
    <${Choice} label="Are these years" options=${[["", "as they are"], ["about", "about"], ["probably", "probable"]]} value=${said.how} choose=${set("how")} />
    <p class="inline"><button type="button" class="main" disabled=${!read.date} onClick=${() => attempt(async () => { if (read.date) await save(read.date); close(); })}>${read.date ? `Use “${read.date.words}”` : read.problem}</button>
      <button type="button" class="quiet" onClick=${close}>Not now</button></p>`;
}
