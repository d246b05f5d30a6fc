/** A visit: one owner's turn. What they brought, who they are, and their items. */
import { missing, photosOf, tagsOf } from "../../job/progress.js";
import { newId } from "../../job/ids.js";
import { isReturned } from "../../job/custody.js";
import { receiptState } from "../../job/receipt.js";
import { valueOf } from "../../job/record.js";
import { shown } from "../../job/tag.js";
import { countWords, STAGE_WORDS } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { planFinder } from "../../local/plans.js";
import { listRecords } from "../../local/records.js";
import { Choice, Counted, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { RecordPhotos } from "../../parts/record_photos.js";
import { Thumb } from "../../parts/thumb.js";
import { useDevice, useKept, useRecord, useRecords } from "../../parts/use.js";

/** @import { RecordCopy } from "../../job/types.js" */

/** @type {[string, string][]} */
const ACTING_AS = [["owner", "Owner"], ["executor", "Executor"], ["attorney", "Attorney"], ["spouse", "Spouse"], ["other", "Other"]];

/** @param {{visit_id: string}} given */
export default function Visit({ visit_id }) {
  const visit = useRecord(visit_id);
  const visits = useRecords("visit", visit?.day_id ?? "");
  const device = useDevice();
  const items = useKept(() => itemsOf(visit_id), [visit_id]);
  if (visit === undefined || !items || !device) return html`<${Frame} title="Visit" back="#/today"><p>Reading …</p><//>`;
  if (visit === null) return html`<${Frame} title="Visit" back="#/today"><p>This visit is not on this device yet. It comes with the next sync.</p><//>`;
  const name = (valueOf(visit, "consignor/name") ?? "").trim().toLowerCase();
  const namesakes = name ? (visits ?? []).filter((one) => one.record_id !== visit_id && (valueOf(one, "consignor/name") ?? "").trim().toLowerCase() === name) : [];
  const set = (/** @type {string} */ field) => (/** @type {any} */ value) => keep("set_visit", { visit_id, field, value });
  const owner = (/** @type {string} */ field) => (/** @type {string} */ value) => keep("set_consignor", { visit_id, field, value });
  const put = () => attempt(async () => {
    const item_id = newId();
    if (valueOf(visit, "stage") === "waiting") await toTable();
    await keep("open_item", { item_id, visit_id, day_id: visit.day_id });
    location.hash = `#/item/${item_id}`;
  });
  const toTable = async () => {
    if (device.table_id) await keep("set_visit", { visit_id, field: "table_id", value: device.table_id });
    await keep("set_visit", { visit_id, field: "stage", value: "at-table" });
  };
  const stage = valueOf(visit, "stage");
  const choose = (/** @type {string} */ next) => (next === "at-table" ? toTable() : keep("set_visit", { visit_id, field: "stage", value: next }));
  const counted = valueOf(visit, "item_count");
  return html`<${Frame} title=${`Visit ${valueOf(visit, "ticket")}`} back="#/today"
    action=${device.role === "door"
      ? html`<button type="button" class="main" onClick=${() => { location.hash = "#/today"; }}>Done, next person</button>`
      : device.role === "porter" ? null : html`<button type="button" class="main" onClick=${put}>Put an item on the table</button>`}>
    <${Choice} label="Where they are" options=${Object.entries(STAGE_WORDS)} value=${stage} choose=${choose} />
    <section>
      <h2>Items <span class="count">${counted ? `${items.length} of ${counted} counted` : items.length}</span></h2>
      ${items.length
        ? html`<ul class="rows">${items.map((item) => html`<${ItemRow} key=${item.record.record_id} ...${item} />`)}</ul>`
        : html`<p class="none">Nothing is on the table yet.</p>`}
      ${device.role !== "door" && html`<${Counted} label="Things counted at unpacking" hint="Count before looking: at the end the list must come to this number." value=${counted} save=${set("item_count")} />`}
    </section>
    <section>
      <h2>Unpacked</h2>
      <p class="hint">One picture of everything on the table with the ticket in it, before anything is looked at.</p>
      <${RecordPhotos} record=${visit} words="what was unpacked" />
    </section>
    ${items.length > 0 && html`<section>
      <h2>Receipt</h2>
      <p><a class="button" href=${`#/visit/${visit_id}/receipt`}>${receiptWords(visit, items.map(({ record }) => record))}</a></p>
    </section>`}
    <section>
      <h2>Arrival</h2>
      <div class="pair">
        <${Typed} label="Ticket" value=${valueOf(visit, "ticket")} save=${set("ticket")} max=${20} />
        <${Counted} label="Bags" value=${valueOf(visit, "bags")} save=${set("bags")} />
      </div>
      <${Typed} label="What they brought, in their words" value=${valueOf(visit, "kinds")} save=${set("kinds")} lines=${2} />
      <${Typed} label="Needs" hint="A chair, help with carrying, a quiet place, an interpreter" value=${valueOf(visit, "needs")} save=${set("needs")} />
    </section>
    <section>
      <h2>Owner</h2>
      ${namesakes.length > 0 && html`<p class="bar">${namesakes.map((one) => valueOf(one, "ticket")).join(", ")} ${namesakes.length === 1 ? "has" : "have"} an owner of the same name. Go by the ticket, never by the name.</p>`}
      <${Typed} label="Name" value=${valueOf(visit, "consignor/name")} save=${owner("name")} />
      <${Typed} label="Address" value=${valueOf(visit, "consignor/address")} save=${owner("address")} lines=${2} />
      <div class="pair">
        <${Typed} label="Telephone" type="tel" inputmode="tel" value=${valueOf(visit, "consignor/telephone")} save=${owner("telephone")} />
        <${Typed} label="Email" type="email" inputmode="email" value=${valueOf(visit, "consignor/email")} save=${owner("email")} />
      </div>
      <${Typed} label="How they like to be reached" value=${valueOf(visit, "consignor/preferred_contact")} save=${owner("preferred_contact")} />
      <${Choice} label="Acting as" options=${ACTING_AS} value=${valueOf(visit, "consignor/acting_as")} choose=${owner("acting_as")} />
      ${valueOf(visit, "consignor/acting_as") && valueOf(visit, "consignor/acting_as") !== "owner" &&
      html`<${Typed} label="Acting for" value=${valueOf(visit, "consignor/acting_for")} save=${owner("acting_for")} />`}
      <${Typed} label="Identity seen" hint="The kind of document only, never its number. What must be checked is a matter of local law." value=${valueOf(visit, "consignor/identity_seen")} save=${owner("identity_seen")} />
    </section>
    <section>
      <h2>Note</h2>
      <${Typed} label="Note on this visit" value=${valueOf(visit, "note")} save=${set("note")} lines=${3} />
    </section>
  <//>`;
}

/** What is still to be signed, on the way to the receipt. @param {RecordCopy} visit @param {RecordCopy[]} items */
function receiptWords(visit, items) {
  const { receipts, hereUnsigned, backUnsigned } = receiptState(visit, items, new Map());
  if (backUnsigned.length) return `Sign for ${countWords(backUnsigned.length, "thing")} taken back`;
  if (hereUnsigned.length) return receipts.length ? "The list has changed: sign anew" : `Show and sign for ${countWords(hereUnsigned.length, "thing")}`;
  return "✓ Signed: show the receipt";
}

/** @param {string} visit_id */
async function itemsOf(visit_id) {
  const items = (await listRecords("item")).filter((item) => item.visit_id === visit_id);
  const planOf = await planFinder();
  return items.map((record) => ({ record, gaps: missing(planOf(record), record).length }));
}

/** @param {{record: RecordCopy, gaps: number}} given */
function ItemRow({ record, gaps }) {
  const first = photosOf(record)[0]?.value;
  const home = isReturned(record);
  return html`<li>
    <a class="row" href=${`#/item/${record.record_id}`}>
      <${Thumb} sha256=${first?.thumb_sha256} words="" />
      <span class="what">${valueOf(record, "short_description") || "Not named yet"}<small>${tagsOf(record).map(shown).join(", ") || "no tag"}</small></span>
      <span class=${gaps && !home ? "left" : "left all"}>${home ? "with its owner" : gaps ? `${gaps} missing` : "✓ done"}</span>
    </a>
  </li>`;
}
