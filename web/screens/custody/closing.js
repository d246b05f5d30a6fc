/** Closing the day: every difference by its name, and two people who have read them; or the day stays open. */
import { useEffect, useState } from "preact/hooks";
import { differencesOf } from "../../job/closing.js";
import { DIFFERENCES, ENDS, rollCounts } from "../../job/custody.js";
import { newId } from "../../job/ids.js";
import { listed, valueOf } from "../../job/record.js";
import { planFinder } from "../../local/plans.js";
import { keep } from "../../local/outbox.js";
import { Choice, momentWords, Select, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { printWhole } from "../../parts/print.js";
import { RecordPhotos } from "../../parts/record_photos.js";
import { useDay, useHeld, useKept, useOfficeNews, useRecords } from "../../parts/use.js";
import { get } from "../../sync/office.js";
import { syncNow } from "../../sync/sync.js";

/** @import { RecordCopy } from "../../job/types.js" */

/** What the page finds by itself, in words. @type {Record<string, string>} */
const KINDS = {
  unsigned: "Taken back and not signed for", "no-receipt": "Left without a signed receipt", "tag-gone": "Tags gone and not replaced", zones: "Zones that nobody spoke of", views: "Views missing",
  "tag-on-two": "One number on two items", disagreement: "Two people disagree", class: "No class chosen", "passed-over": "Numbers that were passed over", "not-moved": "Still at the table", held: "Held, and not in isolation", "not-arrived": "Containers that have not arrived",
  visit: "Visits still open", count: "Counted otherwise at the table",
};

export default function Closing() {
  useOfficeNews(syncNow);
  const day = useDay();
  const day_id = day?.record_id ?? "";
  const visits = useRecords("visit", day_id);
  const items = useRecords("item", day_id);
  const containers = useRecords("container", day_id);
  const plan = useKept(planFinder, []);
  if (!day || !visits || !items || !containers || !plan) return html`<${Frame} title="Closing the day" place="#/closing"><p>${day === null ? "Choose the day first." : "Reading …"}</p><//>`;
  const found = differencesOf({ day, visits, items, containers, plan });
  const rolls = rollCounts(day, items, containers);
  const closed = day.fields["closed"];
  return html`<${Frame} title=${closed ? "The day is closed" : found.length ? `Closing the day: ${found.length} to name` : "Closing the day"} place="#/closing" action=${html`<button type="button" onClick=${printWhole}>Print this page</button>`}>
    <p class="lead">${day["held_on"]}, ${day["place"]}. ${visits.length} visits, ${items.length} items, ${containers.length} containers.</p>
    ${closed && html`<p class="bar">Closed by ${closed.value.closed_by} and ${closed.value.second_by}, ${momentWords(closed.made_at)}, with ${closed.value.named.length} named ${closed.value.named.length === 1 ? "difference" : "differences"}.</p>`}
    <section><h2>Numbers</h2>
      ${rolls.length ? html`<ul>${rolls.map((roll) => html`<li key=${roll.roll_id}>${roll.given_to}: ${roll.count} = ${roll.used} used + ${roll.spoiled} struck through + ${roll.unused} unused</li>`)}</ul>` : html`<p class="none">No roll was given out.</p>`}
    </section>
    <section><h2>Differences <span class="count">${found.length}</span></h2>
      ${found.length ? [...new Set(found.map(({ kind }) => kind))].map((kind) => {
        const of = found.filter((one) => one.kind === kind);
        return html`<details key=${kind} open=${of.length <= 12}><summary>${KINDS[kind] ?? DIFFERENCES.find(([key]) => key === kind)?.[1] ?? kind} <span class="count">${of.length}</span></summary>
          <ul class="gaps">${of.map((one) => html`<li key=${one.words}><a href=${one.at}>${one.words}</a></li>`)}</ul></details>`;
      }) : html`<p class="none">None: everything agrees.</p>`}
    </section>
    <${OfficeKnows} items=${items} />
    <${Named} day=${day} />
    <${Raise} day_id=${day.record_id} items=${items} />
    <${Close} day_id=${day.record_id} named=${found.map(({ words }) => words)} />
  <//>`;
}

/** What only the office can say: devices that still hold something, and photos without their records or the reverse. @param {{items: RecordCopy[]}} given */
function OfficeKnows({ items }) {
  const [told, setTold] = useState(/** @type {{devices: any[], orphans: string[], awaited: {sha256: string, item_id: string}[]}|null} */ (null));
  const [problem, setProblem] = useState("");
  useEffect(() => { get("/closing").then(setTold, (error) => setProblem(error.message)); }, [items]);
  if (!told) return html`<section><h2>What only the office knows</h2><p class="none">${problem ? `Not heard: ${problem}` : "Asking …"}</p></section>`;
  const holding = told.devices.filter((device) => device.holding && !device.revoked_at);
  const silent = told.devices.filter((device) => device.holding === null && !device.revoked_at);
  return html`<section><h2>What only the office knows</h2><ul>
    ${holding.map((device) => html`<li key=${device.device_id}><strong>${device.name}</strong> still holds ${device.holding}, last heard ${device.last_seen_at ? momentWords(device.last_seen_at) : "never"}</li>`)}
    ${silent.map((device) => html`<li key=${device.device_id}>${device.name} has not said what it holds</li>`)}
    ${!holding.length && !silent.length && html`<li>No device holds anything back.</li>`}
    <li>${told.awaited.length ? `${told.awaited.length} pictures are named in records and not here yet` : "Every picture that a record names is here."}</li>
    <li>${told.orphans.length ? html`${told.orphans.length} pictures belong to no record: ${told.orphans.map((sha256) => html`<a key=${sha256} href=${`/photos/${sha256}`} target="_blank" rel="noreferrer">${sha256.slice(0, 8)}</a> `)}` : "Every picture belongs to a record."}</li>
  </ul></section>`;
}

/** The differences that somebody raised, and how each ended. @param {{day: RecordCopy}} given */
function Named({ day }) {
  const raised = listed(day, "differences/");
  if (!raised.length) return null;
  return html`<section><h2>Raised today</h2>${raised.map(({ id, value }) => {
    const end = valueOf(day, `difference-ends/${id}`);
    return html`<article class="finding" key=${id}><h3>${DIFFERENCES.find(([key]) => key === value.difference)?.[1]}</h3>
      <p>${value.words ? `${value.words.replace(/[.\s]+$/, "")}.` : "Nothing written."} ${value.owner_told ? "The owner is told." : "The owner is not told."}${value.told ? ` Told as well: ${value.told}.` : ""}</p>
      <${RecordPhotos} record=${day} difference_id=${id} words="the difference" />
      ${end ? html`<p><strong>${ENDS.find(([key]) => key === end.ended)?.[1]}</strong>, with ${end.second_by}. ${end.words}</p>` : html`<${Settle} day_id=${day.record_id} difference_id=${id} />`}</article>`;
  })}</section>`;
}

/** @param {{day_id: string, difference_id: string}} given */
function Settle({ day_id, difference_id }) {
  const { said, set, drop } = useHeld(`settle ${difference_id}`, { ended: "", words: "", second_by: "" });
  const ready = said.ended && said.second_by.trim();
  const settle = () => attempt(async () => {
    await keep("settle_difference", { day_id, difference_id, ...said });
    drop();
  });
  return html`<${Choice} label="How it ended" options=${ENDS} value=${said.ended} choose=${set("ended")} />
    <div class="pair"><${Typed} of=${difference_id} label="What was done" value=${said.words} save=${set("words")} /><${Typed} of=${difference_id} label="Second person" value=${said.second_by} save=${set("second_by")} /></div>
    <button type="button" disabled=${!ready} onClick=${settle}>${ready ? "Settle it" : "Say how it ended and who was there"}</button>`;
}

/** @param {{day_id: string, items: RecordCopy[]}} given */
function Raise({ day_id, items }) {
  const { said, set, drop, held } = useHeld(`difference ${day_id}`, { difference: "", words: "", thing_id: "", owner_told: "no", told: "" });
  const [open, setOpen] = useState(held);
  const raise = () => attempt(async () => {
    await keep("raise_difference", { day_id, difference_id: newId(), difference: said.difference, words: said.words, thing_id: said.thing_id || null, owner_told: said.owner_told === "yes", told: said.told });
    drop();
    setOpen(false);
    sayDone("The difference is on record until it is settled. Photograph what there is to see.");
  });
  if (!open) return html`<p><button type="button" onClick=${() => setOpen(true)}>Note a difference</button></p>`;
  return html`<section><h2>Note a difference</h2>
    <${Choice} label="What does not agree?" options=${DIFFERENCES} value=${said.difference} choose=${set("difference")} />
    <${Select} label="Which item" options=${items.map((item) => [item.record_id, valueOf(item, "short_description") || item.record_id.slice(-6)])} value=${said.thing_id} empty="None, or not known" choose=${set("thing_id")} />
    <${Typed} label="What was seen and done first" value=${said.words} save=${set("words")} lines=${2} />
    <${Choice} label="Is the owner told?" options=${[["yes", "Yes"], ["no", "Not yet"]]} value=${said.owner_told} choose=${set("owner_told")} />
    <${Typed} label="Who else is told" value=${said.told} save=${set("told")} max=${200} />
    <button type="button" class="main" disabled=${!said.difference} onClick=${raise}>Put it on record</button></section>`;
}

/** @param {{day_id: string, named: string[]}} given */
function Close({ day_id, named }) {
  const { said, set, drop } = useHeld(`close ${day_id}`, { closed_by: "", second_by: "" });
  const ready = said.closed_by.trim() && said.second_by.trim() && said.closed_by.trim().toLowerCase() !== said.second_by.trim().toLowerCase();
  const close = () => attempt(async () => {
    await keep("close_day", { day_id, closed_by: said.closed_by, second_by: said.second_by, named: named.map((words) => words.slice(0, 400)) });
    drop();
    sayDone("The day is closed with these differences.");
  });
  return html`<section class="on-screen"><h2>Close it</h2>
    <div class="pair"><${Typed} label="Closed by" value=${said.closed_by} save=${set("closed_by")} /><${Typed} label="Second person" value=${said.second_by} save=${set("second_by")} /></div>
    <button type="button" disabled=${!ready} onClick=${close}>${ready ? (named.length ? `Close with ${named.length} named ${named.length === 1 ? "difference" : "differences"}` : "Close the day") : "Two people close a day"}</button></section>`;
}
