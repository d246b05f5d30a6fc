/** Numbers: rolls given out, what became of each number, labels to print, numbers struck through. */
import { useEffect, useState } from "preact/hooks";
import { newId } from "../../job/ids.js";
import { rollCounts } from "../../job/custody.js";
import { codesFrom, parseTag, run, serialOf, shown } from "../../job/tag.js";
import { keep } from "../../local/outbox.js";
import { Choice, Counted, Select, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { KeptLabels } from "../../parts/kept_labels.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { useDay, useHeld, useRecords } from "../../parts/use.js";
import { get } from "../../sync/office.js";

/** @import { RollCount } from "../../job/custody.js" */
/** @typedef {{sheet: string, words: string, columns: number, rows: number}} SheetWords */

/** @type {[string, string][]} */
const KINDS = [["tag", "String tags"], ["bag", "Bag labels"], ["box", "Box labels"], ["crate", "Crate labels"]];

export default function Rolls() {
  const day = useDay();
  const items = useRecords("item");
  const containers = useRecords("container");
  const [known, setKnown] = useState(/** @type {{sheets: SheetWords[], next_tag: string}|null} */ (null));
  const [problem, setProblem] = useState("");
  useEffect(() => { get("/labels/sheets").then(setKnown, (error) => setProblem(error.message)); }, [day]);
  if (!day || !items || !containers) return html`<${Frame} title="Numbers" place="#/rolls"><p>${day === null ? "Choose the day first, on the Day screen." : "Reading …"}</p><//>`;
  const counts = rollCounts(day, items, containers);
  const total = (/** @type {"count"|"used"|"spoiled"|"unused"} */ what) => counts.reduce((sum, roll) => sum + roll[what], 0);
  return html`<${Frame} title="Numbers" place="#/rolls">
    <dl class="counts">
      ${/** @type {["count"|"used"|"spoiled"|"unused", string][]} */ ([["count", "Given out"], ["used", "Used"], ["spoiled", "Struck through"], ["unused", "Unused"]]).map(([what, words]) => html`<div key=${what}><dt>${words}</dt><dd>${total(what)}</dd></div>`)}
    </dl>
    ${problem && html`<p class="bar">Labels are made at the office: ${problem}</p>`}
    <${NewRoll} day_id=${day.record_id} next=${freeFrom(counts, known?.next_tag)} />
    ${counts.map((roll) => html`<${Roll} key=${roll.roll_id} roll=${roll} day_id=${day.record_id} sheets=${known?.sheets ?? []} />`)}
    <${Spoil} day_id=${day.record_id} />
  <//>`;
}

/** The first number after every roll, as far as the office and this device know. @param {RollCount[]} counts @param {string|undefined} told */
function freeFrom(counts, told) {
  const here = counts.at(-1)?.last_tag;
  const after = Math.max(here ? serialOf(here) + 1 : 1, told ? serialOf(told) : 1);
  return codesFrom(after).next().value ?? "";
}

/** @param {{day_id: string, next: string}} given */
function NewRoll({ day_id, next }) {
  const [count, setCount] = useState(200);
  const [to, setTo] = useState("printed stock");
  const issue = () => attempt(async () => {
    const last_tag = run(next, count).at(-1) ?? next;
    await keep("issue_roll", { day_id, roll_id: newId(), first_tag: next, last_tag, count, given_to: to.trim(), for_device_id: null });
    sayDone(`${count} numbers from ${shown(next)} on are given to ${to.trim()}.`);
  });
  return html`<section><h2>Give out a roll</h2>
    <div class="pair">
      <${Counted} label="How many numbers" value=${count} save=${async (/** @type {number} */ number) => setCount(Math.min(20000, Math.max(1, number)))} />
      <${Typed} label="To whom" hint="A table, a device, “spare” or “printed stock”" value=${to} save=${async (/** @type {string} */ text) => setTo(text)} />
    </div>
    <button type="button" class="main" disabled=${!to.trim()} onClick=${issue}>Give out ${count} from ${shown(next)}</button>
  </section>`;
}

/** @param {{roll: RollCount, day_id: string, sheets: SheetWords[]}} given */
function Roll({ roll, day_id, sheets }) {
  const [printing, setPrinting] = useState(false);
  const give = (/** @type {string} */ given_to) => keep("give_roll", { day_id, roll_id: roll.roll_id, given_to, for_device_id: null });
  return html`<article class="finding">
    <h3>${shown(roll.first_tag)} to ${shown(roll.last_tag)}</h3>
    <p>${roll.count} numbers: <strong>${roll.used}</strong> used, <strong>${roll.spoiled}</strong> struck through, <strong>${roll.unused}</strong> unused.${roll.next ? ` Next: ${shown(roll.next)}.` : ""}</p>
    ${roll.low && html`<p class="bar">${roll.unused ? "Four fifths are gone: have the next roll at hand." : "All of it is gone."}</p>`}
    <${Typed} of=${roll.roll_id} label="Given to" value=${roll.given_to} save=${give} />
    ${printing ? html`<${Print} roll=${roll} sheets=${sheets} />` : html`<button type="button" onClick=${() => setPrinting(true)}>Print its labels</button>`}
  </article>`;
}

/** @param {{roll: RollCount, sheets: SheetWords[]}} given */
function Print({ roll, sheets }) {
  const [asked, setAsked] = useState({ sheet: sheets[0]?.sheet ?? "", kind: "tag", start: 1, pieces: 1, dots_per_inch: 300, count: roll.unused || roll.count, caution: "" });
  const sheet = sheets.find((one) => one.sheet === asked.sheet);
  const set = (/** @type {Record<string, any>} */ patch) => setAsked((before) => ({ ...before, ...patch }));
  const address = `/labels.pdf?${new URLSearchParams({ ...Object.fromEntries(Object.entries(asked).map(([name, value]) => [name, String(value)])), first: roll.next ?? roll.first_tag })}`;
  if (!sheet) return html`<p class="none">The office has not told its label sheets yet.</p>`;
  return html`<div>
    <${Choice} label="Labels" options=${KINDS} value=${asked.kind} choose=${(/** @type {string} */ kind) => set({ kind })} />
    <${Select} label="On" options=${sheets.map((one) => [one.sheet, one.words])} value=${asked.sheet} choose=${(/** @type {string} */ name) => set({ sheet: name, start: 1 })} />
    <div class="pair">
      <${Counted} of=${`${roll.roll_id} n`} label="How many" value=${asked.count} save=${async (/** @type {number} */ count) => set({ count: Math.max(1, count) })} />
      <${Counted} of=${`${roll.roll_id} p`} label="Pieces to a thing" hint="Each piece gets a number: “piece 2 of 3”" value=${asked.pieces} save=${async (/** @type {number} */ pieces) => set({ pieces: Math.max(1, pieces) })} />
      <${Counted} of=${`${roll.roll_id} s`} label="Begin at label" hint=${`1 to ${sheet.columns * sheet.rows}, for a half-used sheet`} value=${asked.start} save=${async (/** @type {number} */ start) => set({ start: Math.max(1, start) })} />
      <${Typed} of=${roll.roll_id} label="Caution mark" hint="Printed on each, such as “held apart”; empty for none" value=${asked.caution} max=${40} save=${async (/** @type {string} */ caution) => set({ caution })} />
      <${Choice} label="Printer" options=${[["203", "203 dots an inch"], ["300", "300"], ["600", "600"]]} value=${String(asked.dots_per_inch)} choose=${(/** @type {string} */ dots) => set({ dots_per_inch: Number(dots) })} />
    </div>
    <p class="inline"><a class="button main" href=${address} target="_blank" rel="noreferrer">Open the labels</a>
      <a class="button" href=${`/labels/calibration.pdf?sheet=${asked.sheet}`} target="_blank" rel="noreferrer">Calibration page</a></p>
    <${KeptLabels} roll_id=${roll.roll_id} address=${address} />
    <p class="hint">Print at full size (100 %), without “fit to page”. Lay the calibration page over your stock first.</p>
  </div>`;
}

/** @param {{day_id: string}} given */
function Spoil({ day_id }) {
  const { said: { typed, why }, set, drop } = useHeld(`spoiled ${day_id}`, { typed: "", why: "" });
  const strike = () => attempt(async () => {
    const tag = parseTag(typed);
    await keep("spoil_tag", { day_id, tag, why });
    drop();
    sayDone(`${shown(tag)} is struck through. Keep the tag.`);
  });
  return html`<section><h2>Strike a number through</h2>
    <p class="hint">Torn, wet or misprinted before it was tied. Keep the tag: it is counted.</p>
    <div class="pair"><${Typed} label="Number" value=${typed} save=${set("typed")} /><${Typed} label="What is wrong with it" value=${why} save=${set("why")} /></div>
    <button type="button" disabled=${!typed.trim()} onClick=${strike}>Strike it through</button>
  </section>`;
}
