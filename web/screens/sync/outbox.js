/** What is still on this device only, and what the office refused, with what to do. */
import { useState } from "preact/hooks";
import { operationWords, fieldWords } from "../../job/words.js";
import { refused, sendAgain, waiting } from "../../local/outbox.js";
import { photosToSend, refusedPhotos } from "../../local/photos.js";
import { currentRecord } from "../../local/records.js";
import { recordIdOf, valueOf } from "../../job/record.js";
import { parseTag, shown } from "../../job/tag.js";
import { clockWords, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { useDevice, useKept } from "../../parts/use.js";
import { syncNow, syncState } from "../../sync/sync.js";

/** @import { Refused } from "../../local/outbox.js" */

const LONG_LIST = 30;

export default function Outbox() {
  const device = useDevice();
  const state = useKept(syncState, []);
  const held = useKept(waiting, []);
  const no = useKept(refused, []);
  const photos = useKept(photosToSend, []);
  const badPhotos = useKept(refusedPhotos, []);
  if (!state || !held || !no || !photos || !badPhotos || !device) return html`<${Frame} title="On this device" place="#/outbox"><p>Reading …</p><//>`;
  const originals = photos.filter((photo) => !photo.is_thumb);
  const nothing = !held.length && !photos.length && !no.length && !badPhotos.length;
  return html`<${Frame} title="On this device" place="#/outbox"
    action=${html`<button type="button" class="main" disabled=${state.busy} onClick=${() => syncNow()}>${state.busy ? "Sending …" : "Send now"}</button>`}>
    <dl class="counts">
      <div><dt>Records on this device only</dt><dd>${held.length}</dd></div>
      <div><dt>Photos on this device only</dt><dd>${originals.length}</dd></div>
      <div><dt>Refused</dt><dd>${no.length + badPhotos.length}</dd></div>
    </dl>
    <p class="lead">${nothing ? "Everything from this device is at the desk." : "Keep this device charged and do not clear its storage: what is listed here is nowhere else yet."}</p>
    <p class="hint">This is ${device.name} (${device.role}). ${state.lastContactAt ? `Last heard from the office at ${clockWords(state.lastContactAt)}.` : "The office was not heard from since the app was opened."}</p>
    ${no.length > 0 && html`<section>
      <h2>Refused: a person must look</h2>
      ${no.map((one) => html`<${RefusedOne} key=${one.operation_id} one=${one} />`)}
    </section>`}
    ${badPhotos.length > 0 && html`<section>
      <h2>Photos that the office could not take</h2>
      <ul class="rows">${badPhotos.map((photo) => html`<li key=${photo.sha256} class="row"><span class="what">${photo.problem.detail} <small>${photo.problem.hint} The file stays on this device.</small></span></li>`)}</ul>
    </section>`}
    ${held.length > 0 && html`<section>
      <h2>Waiting to be sent <span class="count">${held.length}</span></h2>
      <ul class="lines">${held.slice(0, LONG_LIST).map((op) => html`<li key=${op.operation_id}><a href=${addressOf(op)}>${clockWords(op.made_at)} ${operationWords(op)}</a></li>`)}</ul>
      ${held.length > LONG_LIST && html`<p class="hint">and ${held.length - LONG_LIST} more</p>`}
    </section>`}
  <//>`;
}

/** @param {any} op */
function addressOf(op) {
  if (op.item_id) return `#/item/${op.item_id}`;
  if (op.visit_id) return `#/visit/${op.visit_id}`;
  return "#/day";
}

/** @param {{one: Refused}} given */
function RefusedOne({ one }) {
  const { operation, problem } = one;
  const record = useKept(() => currentRecord(recordIdOf(operation)), [one.operation_id]);
  const between = operation.kind === "tie_tag" ? record?.disagreements.find((/** @type {any} */ one) => one.field === `tags/${operation["tag"]}`) : undefined;
  const editable = operation.kind === "tie_tag" ? "tag" : typeof operation["value"] === "string" ? "value" : "";
  const [text, setText] = useState(String(operation[editable] ?? ""));
  const again = () => attempt(async () => {
    await sendAgain(one, !editable ? {} : { [editable]: editable === "tag" ? parseTag(text) : text });
    sayDone("It waits to be sent again.");
    syncNow();
  });
  return html`<article class="finding">
    <h3>${problem.title}</h3>
    <p>${operationWords(operation)}${record ? html` on <a href=${addressOf(operation)}>${valueOf(record, "short_description") || valueOf(record, "ticket") || "this record"}</a>` : null}</p>
    <p><strong>${problem.detail}</strong> ${problem.hint}</p>
    ${between && html`<p>${between.settled ? (between.settled.choose === "other" ? "The desk has settled it: the tag is on this item. Send it again." : "The desk has settled it: the tag is on the other item. This one needs a fresh tag.") : "The desk sees both items as well, and can settle it."}</p>`}
    ${editable && html`<${Typed} of=${one.operation_id} label=${editable === "tag" ? "Another tag" : fieldWords(operation["field"] ?? "value")} value=${editable === "tag" && text.length === 6 ? shown(text) : text} save=${async (/** @type {string} */ now) => setText(now)} />`}
    <p><button type="button" onClick=${again}>${editable ? "Send it corrected" : "Send it again"}</button></p>
  </article>`;
}
