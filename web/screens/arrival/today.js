/** Today: who is being served, who waits, what is missing on what was already looked at. */
import { useState } from "preact/hooks";
import { missing } from "../../job/progress.js";
import { newId } from "../../job/ids.js";
import { valueOf, listed } from "../../job/record.js";
import { countWords } from "../../job/words.js";
import { rememberDevice } from "../../local/device.js";
import { keep } from "../../local/outbox.js";
import { planFinder } from "../../local/plans.js";
import { listRecords } from "../../local/records.js";
import { clockWords, Select } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { useDay, useDevice, useKept, useRecords } from "../../parts/use.js";

/** @import { RecordCopy } from "../../job/types.js" */

export default function Today() {
  const device = useDevice();
  const days = useRecords("day");
  const day = useDay();
  if (!device || !days || day === undefined) return html`<${Frame} title="Today" place="#/today"><p>Reading …</p><//>`;
  if (!day) return html`<${ChooseDay} days=${days} role=${device.role} />`;
  return html`<${TodayOf} key=${day.record_id} day=${day} device=${device} />`;
}

/** @param {{days: RecordCopy[], role: string}} given */
function ChooseDay({ days, role }) {
  return html`<${Frame} title="Today" place="#/today">
    ${days.length
      ? html`<p class="lead">Which day is it?</p>
          <ul class="rows">
            ${days.map((day) => html`<li key=${day.record_id}><button type="button" class="row" onClick=${() => rememberDevice({ day_id: day.record_id })}><strong>${day["held_on"]}</strong> ${day["house"]}, ${day["place"]}</button></li>`)}
          </ul>`
      : html`<p class="lead">No valuation day is on this device yet.</p>
          <p>${role === "manager" ? html`<a href="#/day">Set up the day</a>.` : "The manager sets it up; stay in reach of the network until it appears here."}</p>`}
  <//>`;
}

/** @param {{day: RecordCopy, device: import("../../local/device.js").ThisDevice}} given */
function TodayOf({ day, device }) {
  const visits = useRecords("visit", day.record_id);
  const gaps = useKept(() => gapsOf(day.record_id), [day.record_id]);
  const [showLeft, setShowLeft] = useState(false);
  if (!visits || !gaps) return html`<${Frame} title="Today" place="#/today"><p>Reading …</p><//>`;
  const at = (/** @type {string} */ stage) => visits.filter((visit) => valueOf(visit, "stage") === stage);
  const open = () => attempt(async () => {
    const visit_id = newId();
    await keep("open_visit", { visit_id, day_id: day.record_id, ticket: nextTicket(visits), bags: 1, kinds: "" });
    location.hash = `#/visit/${visit_id}`;
  });
  const mine = device.role !== "porter";
  return html`<${Frame} title="Today" place="#/today"
    action=${mine
      ? html`<a class="button" href="#/tag">Find by tag</a><button type="button" class="main" onClick=${open}>New visit</button>`
      : html`<a class="button main" href="#/tag">Find by tag</a>`}>
    <p class="hint of-day">${day["held_on"]}: ${day["house"]}, ${day["place"]}</p>
    <${AtThisDevice} day=${day} device=${device} />
    <${Visits} title="At the tables" visits=${at("at-table")} gaps=${gaps} none="Nobody is at a table." />
    <${Visits} title="Waiting" visits=${at("waiting")} gaps=${gaps} none="Nobody waits." />
    <section>
      <h2>Left <span class="count">${at("left").length}</span></h2>
      ${at("left").length > 0 && html`<button type="button" class="quiet" aria-expanded=${showLeft} onClick=${() => setShowLeft(!showLeft)}>${showLeft ? "Hide them" : "Show them"}</button>`}
      ${showLeft && html`<${VisitRows} visits=${at("left")} gaps=${gaps} />`}
    </section>
  <//>`;
}

/** Who holds this device, and at which table: asked once, then one line. @param {{day: RecordCopy, device: import("../../local/device.js").ThisDevice}} given */
function AtThisDevice({ day, device }) {
  const people = listed(day, "people/").map(({ value }) => value);
  const person = people.find(({ person_id }) => person_id === device.person_id);
  const table = day["tables"].find((/** @type {any} */ one) => one.table_id === device.table_id);
  const atTable = device.role === "table";
  const [open, setOpen] = useState(!person || (atTable && !table));
  if (!open && person) {
    return html`<p class="at-device"><strong>${person.name}</strong>${table ? `, ${table.name}` : ""} <button type="button" class="quiet" onClick=${() => setOpen(true)}>Change</button></p>`;
  }
  return html`<section>
    <div class="pair">
      <${Select} label="Who is at this device?" value=${device.person_id} empty="Choose your name"
        options=${people.map((one) => [one.person_id, one.name])} choose=${(/** @type {string} */ person_id) => rememberDevice({ person_id })} />
      ${atTable && html`<${Select} label="Which table?" value=${device.table_id} empty="No table"
        options=${day["tables"].map((/** @type {any} */ one) => [one.table_id, one.name])} choose=${(/** @type {string} */ table_id) => rememberDevice({ table_id })} />`}
    </div>
    ${person
      ? html`<button type="button" onClick=${() => setOpen(false)}>That is right</button>`
      : html`<p class="bar">Choose your name first: every record says who made it.</p>`}
  </section>`;
}

/** @param {{title: string, visits: RecordCopy[], gaps: Gaps, none: string}} given */
function Visits({ title, visits, gaps, none }) {
  return html`<section>
    <h2>${title} <span class="count">${visits.length}</span></h2>
    ${visits.length ? html`<${VisitRows} visits=${visits} gaps=${gaps} />` : html`<p class="none">${none}</p>`}
  </section>`;
}

/** @param {{visits: RecordCopy[], gaps: Gaps}} given */
function VisitRows({ visits, gaps }) {
  return html`<ul class="rows">
    ${visits.map((visit) => {
      const { items, open } = gaps.get(visit.record_id) ?? { items: 0, open: 0 };
      return html`<li key=${visit.record_id}>
        <a class="row" href=${`#/visit/${visit.record_id}`}>
          <strong class="ticket">${valueOf(visit, "ticket") || "no ticket"}</strong>
          <span class="what">${valueOf(visit, "consignor/name") || valueOf(visit, "kinds") || "Nothing said yet"}
            <small>${countWords(items, "item")}, came ${clockWords(visit.opened_at)}</small></span>
          ${open > 0 ? html`<span class="left">${open} unfinished</span>` : items > 0 ? html`<span class="left all">✓ all done</span>` : null}
        </a>
      </li>`;
    })}
  </ul>`;
}

/** @typedef {Map<string, {items: number, open: number}>} Gaps the items of each visit, and how many miss something */

/** @param {string} day_id @returns {Promise<Gaps>} */
async function gapsOf(day_id) {
  /** @type {Gaps} */
  const gaps = new Map();
  const planOf = await planFinder();
  for (const item of await listRecords("item", day_id)) {
    const visit_id = /** @type {string} */ (item.visit_id);
    const sum = gaps.get(visit_id) ?? { items: 0, open: 0 };
    sum.items += 1;
    if (missing(planOf(item), item).length) sum.open += 1;
    gaps.set(visit_id, sum);
  }
  return gaps;
}

/** The ticket after the highest of its kind: Q04 gives Q05. @param {RecordCopy[]} visits */
export function nextTicket(visits) {
  const numbers = visits.map((visit) => /^Q(\d+)$/.exec(valueOf(visit, "ticket"))?.[1]).filter((digits) => digits !== undefined);
  return `Q${String(1 + Math.max(0, ...numbers.map(Number))).padStart(2, "0")}`;
}
