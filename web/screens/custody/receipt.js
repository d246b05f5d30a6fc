/** The receipt of a visit: what is left with the house, what went back, and the owner's signature under it. */
import { newId } from "../../job/ids.js";
import { receiptLine, receiptState } from "../../job/receipt.js";
import { listed, valueOf } from "../../job/record.js";
import { shown } from "../../job/tag.js";
import { countWords } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { momentWords, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { printWhole } from "../../parts/print.js";
import { SignatureDrawn, SignatureField } from "../../parts/signature.js";
import { useDevice, useHeld, useRecord, useRecords } from "../../parts/use.js";

/** @import { Receipt, ReceiptLine } from "../../job/receipt.js" */
/** @import { RecordCopy } from "../../job/types.js" */

/** @typedef {{house_by: string, signed_by: string, on_paper: string, strokes: string}} Said what is entered before it is signed */

/** @param {{visit_id: string}} given */
export default function ReceiptScreen({ visit_id }) {
  const device = useDevice();
  const visit = useRecord(visit_id);
  const day = useRecord(visit?.day_id ?? "");
  const items = useRecords("item", visit?.day_id ?? "");
  const containers = useRecords("container", visit?.day_id ?? "");
  const { said, set, drop } = useHeld(`receipt ${visit_id}`, /** @type {Partial<Said>} */ ({}));
  const back = `#/visit/${visit_id}`;
  if (!visit || !day || !items || !containers) return html`<${Frame} title="Receipt" back=${back}><p>Reading …</p><//>`;
  const state = receiptState(visit, items, new Map(containers.map((one) => [one.record_id, one])));
  const ticket = valueOf(visit, "ticket");
  const what = state.backUnsigned.length ? "taken-back" : state.hereUnsigned.length ? "left" : null;
  const here = state.here.map(receiptLine);
  const lines = what === "left" ? here : state.backUnsigned.map(receiptLine);
  const things = countWords(lines.length, "thing");
  const replaces = what === "left" ? state.last : undefined;
  const whole = { house_by: valuerOf(day, device?.person_id ?? ""), signed_by: valueOf(visit, "consignor/name") ?? "", on_paper: "", strokes: "", ...said };
  const ready = whole.house_by.trim() && (whole.strokes || whole.on_paper.trim());
  const sign = () => attempt(async () => {
    const number = `${ticket}/${state.receipts.length + 1}`;
    await keep("sign_receipt", { visit_id, receipt_id: newId(), number, what, lines, replaces: replaces?.id ?? null, ...whole });
    drop();
    sayDone(`Receipt ${number} is signed and on this device.`);
  });
  return html`<${Frame} title=${`Receipt ${ticket}`} back=${back} action=${what
    ? html`<button type="button" class="main" disabled=${!ready} onClick=${sign}>${ready ? `Sign for ${things}` : whole.house_by.trim() ? "The owner's signature is missing" : "Say who signs for the house"}</button>`
    : html`<button type="button" onClick=${printWhole}>Print the receipt</button>`}>
    <p class="lead">${day["house"]}, ${day["place"]}, ${day["held_on"]}. Ticket ${ticket}${valueOf(visit, "consignor/name") ? `, ${valueOf(visit, "consignor/name")}` : ""}${valueOf(visit, "consignor/acting_for") ? `, acting for ${valueOf(visit, "consignor/acting_for")}` : ""}.</p>
    <section><h2>Left with the house <span class="count">${here.length}</span></h2>
      ${here.length ? html`<${Lines} lines=${here} />` : html`<p class="none">Nothing is left here.</p>`}</section>
    ${state.untagged.length > 0 && html`<p class="bar">${countWords(state.untagged.length, "thing")} of this visit ${state.untagged.length === 1 ? "has" : "have"} no number and ${state.untagged.length === 1 ? "is" : "are"} not on the receipt. Tie a tag to what stays; the rest goes home with its owner.</p>`}
    ${state.back.length > 0 && html`<section><h2>Back with the owner <span class="count">${state.back.length}</span></h2><${Lines} lines=${state.back.map(receiptLine)} back=${true} /></section>`}
    ${what && html`<${Sign} key=${what} what=${what} lines=${lines} things=${things} replaces=${replaces} said=${whole} set=${set} />`}
    ${state.receipts.length > 0 && html`<section><h2>Signed</h2>
      ${!what && html`<p class="lead">✓ Everything is signed for.</p>`}
      ${state.receipts.map((one) => html`<${Signed} key=${one.id} receipt=${one} later=${state.receipts.find((other) => other.replaces === one.id)} />`)}</section>`}
    <p class="hint">What the house charges, who carries the risk and until when, and how personal words are kept stand on the house's own terms, which go with this receipt.</p>
  <//>`;
}

/** @param {RecordCopy} day @param {string} person_id */
function valuerOf(day, person_id) {
  return listed(day, "people/").find(({ id }) => id === person_id)?.value.name ?? "";
}

/** @param {{lines: ReceiptLine[], back?: boolean}} given */
function Lines({ lines, back = false }) {
  return html`<ol class="steps">${lines.map((line) => html`<li key=${line.item_id}><strong>${line.tags.map(shown).join(", ") || "never tagged"}</strong>${back && line.tags.length ? " (void)" : ""} ${line.words}</li>`)}</ol>`;
}

/** @param {{what: "left"|"taken-back", lines: ReceiptLine[], things: string, replaces: Receipt|undefined, said: Said, set: (name: string) => (value: string) => Promise<void>}} given */
function Sign({ what, lines, things, replaces, said, set }) {
  return html`<section class="on-screen"><h2>${what === "left" ? `Sign for ${things} left` : `Sign for ${things} taken back`}</h2>
    ${replaces && html`<p class="bar">The list has changed since receipt ${replaces.number}. A receipt is never edited: this one takes its place.</p>`}
    ${what === "taken-back" && html`<${Lines} lines=${lines} back=${true} />`}
    <${SignatureField} label=${what === "left" ? "I have left these things and the list is right" : "I have these things back"} strokes=${said.strokes} draw=${set("strokes")} />
    <${Typed} label="or signed on paper: pad and number" value=${said.on_paper} save=${set("on_paper")} max=${100} />
    <div class="pair"><${Typed} label="Name of who signs" value=${said.signed_by} save=${set("signed_by")} max=${200} />
      <${Typed} label="For the house" value=${said.house_by} save=${set("house_by")} max=${200} /></div></section>`;
}

/** @param {{receipt: Receipt, later: Receipt|undefined}} given */
function Signed({ receipt, later }) {
  return html`<article class="finding">
    <h3>${receipt.number}: ${countWords(receipt.lines.length, "thing")} ${receipt.what === "left" ? "left" : "taken back"}</h3>
    <p>${momentWords(receipt.made_at)}, for the house ${receipt.house_by}${receipt.signed_by ? `, signed by ${receipt.signed_by}` : ""}${receipt.on_paper ? `, on paper: ${receipt.on_paper}` : ""}.${later ? ` Receipt ${later.number} has taken its place.` : ""}</p>
    ${receipt.strokes ? html`<${SignatureDrawn} strokes=${receipt.strokes} words=${`Signature on receipt ${receipt.number}`} />` : !receipt.on_paper && html`<p class="none">The signature was erased.</p>`}
    <details class="on-paper"><summary>What was signed</summary><${Lines} lines=${receipt.lines} back=${receipt.what === "taken-back"} /></details></article>`;
}
