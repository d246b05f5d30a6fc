/** A container: what is in it, at any depth, its seal, where it is. Its list is printed for its lid. */
import { useState } from "preact/hooks";
import { contentsOf, piecesHere, placeWords, thingName, whereIs } from "../../job/custody.js";
import { newId } from "../../job/ids.js";
import { photosOf, tagsOf } from "../../job/progress.js";
import { cautionMark, standingCautions, valueOf } from "../../job/record.js";
import { shown } from "../../job/tag.js";
import { firstUpper } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { keepPhoto } from "../../local/photos.js";
import { LEVEL_WORDS } from "../../parts/caution_bar.js";
import { Choice, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { OwnLabel } from "../../parts/own_label.js";
import { PictureButtons } from "../../parts/pictures.js";
import { Thumb } from "../../parts/thumb.js";
import { useHeld, useRecord, useRecords } from "../../parts/use.js";

/** @import { RecordCopy } from "../../job/types.js" */

/** @type {[string, string][]} */
const SEALS = [["sealed", "Sealed now"], ["intact", "Intact at the check"], ["differs", "Number differs"], ["broken", "Broken"], ["opened", "Opened by two"]];

/** @param {{container_id: string}} given */
export default function Container({ container_id }) {
  const container = useRecord(container_id);
  const items = useRecords("item");
  const containers = useRecords("container");
  if (!container || !items || !containers) return html`<${Frame} title="Container" back="#/porter"><p>${container === null ? "This container is not on this device yet." : "Reading …"}</p><//>`;
  const things = [...items, ...containers];
  const { place, at, inside } = whereIs(container, new Map(things.map((one) => [one.record_id, one])));
  const held = deep(container_id, things).filter((one) => one.kind === "item");
  return html`<${Frame} title=${firstUpper(thingName(container))} back="#/porter" action=${html`<button type="button" onClick=${() => print()}>Print its list</button>`}>
    <p class="big-tag">${shown(container["number"])}</p>
    <p class="lead">${placeWords(place)}${at ? `, ${at}` : ""}${inside.length ? `, inside ${inside.map(thingName).join(", inside ")}` : ""}. ${held.length} ${held.length === 1 ? "item" : "items"}.</p>
    ${cautionMark(held) && html`<p class="bar wrong">Something in it is ${cautionMark(held)}. Its label has to say so.</p>`}
    <p><${OwnLabel} tag=${container["number"]} kind=${container["kind_of"]} items=${held} words="Print its label" /></p>
    ${held.length > 0 && html`<${CheckIn} items=${held} day_id=${container.day_id} />`}
    <section><h2>In it</h2><${Contents} container_id=${container_id} things=${things} /></section>
    <${Seal} container=${container} />
  <//>`;
}

/** Opened by two: each item beside its photographs of the table. @param {{items: RecordCopy[], day_id: string}} given */
function CheckIn({ items, day_id }) {
  const [open, setOpen] = useState(false);
  const { said: { second }, set } = useHeld(`check-in ${day_id}`, { second: "" });
  const left = items.filter((item) => !valueOf(item, "check-in")).length;
  if (!open) return html`<p><button type="button" onClick=${() => setOpen(true)}>Check in what is in it${left ? `: ${left} to compare` : ""}</button></p>`;
  const said = (/** @type {RecordCopy} */ item, /** @type {string} */ state) => attempt(async () => {
    await keep("check_in", { item_id: item.record_id, state, words: "", second_by: second });
    if (state === "differs") await keep("raise_difference", { day_id, difference_id: newId(), difference: "new-damage", thing_id: item.record_id, words: `${thingName(item)} differs from its photographs of the table`, owner_told: false, told: "" });
  });
  return html`<section><h2>Check in <span class="count">${left} left</span></h2>
    <${Typed} label="Second person" hint="Whoever packed does not open alone" value=${second} save=${set("second")} />
    ${items.map((item) => {
      const done = valueOf(item, "check-in");
      return html`<article class="finding" key=${item.record_id}><h3>${firstUpper(thingName(item))} ${tagsOf(item).map(shown).join(", ")}</h3>
        <div class="pictures">${photosOf(item).map(({ id, value }) => html`<${Thumb} key=${id} sha256=${value.thumb_sha256} words=${`photo: ${value.view ?? value.zone ?? "no view"}`} />`)}</div>
        <${PictureButtons} take=${(/** @type {Blob} */ blob) => keepPhoto({ blob, item_id: item.record_id, view: null, zone: null, finding_id: null })} />
        <${Choice} label="Beside its photographs" options=${[["as-recorded", "As recorded"], ["differs", "Differs"]]} value=${done?.state} choose=${(/** @type {string} */ state) => (second.trim() ? said(item, state) : undefined)} />
        ${!second.trim() && html`<p class="hint">Name the second person first.</p>`}
        ${done?.state === "differs" && html`<${Typed} of=${item.record_id} label="What differs" value=${done.words} save=${(/** @type {string} */ words) => keep("check_in", { item_id: item.record_id, words }, { amend: true })} />`}</article>`;
    })}</section>`;
}

/** Everything inside, at any depth. @param {string} container_id @param {RecordCopy[]} things @returns {RecordCopy[]} */
function deep(container_id, things) {
  return contentsOf(container_id, things).flatMap((one) => [one, ...(one.kind === "container" ? deep(one.record_id, things) : [])]);
}

/** @param {{container_id: string, things: RecordCopy[]}} given */
function Contents({ container_id, things }) {
  const contents = contentsOf(container_id, things);
  const out = (/** @type {RecordCopy} */ thing) => attempt(async () => {
    const here = [null, ...tagsOf(thing)].filter((tag) => valueOf(thing, tag ? `inside/${tag}` : "inside")?.container_id === container_id);
    for (const tag of here) await keep("put_inside", { thing_id: thing.record_id, container_id: null, tag });
    sayDone(`${thingName(thing)} is out.`, async () => {
      for (const tag of here) await keep("put_inside", { thing_id: thing.record_id, container_id, tag });
    });
  });
  if (!contents.length) return html`<p class="none">Nothing was scanned into it.</p>`;
  return html`<ul class="rows">${contents.map((one) => html`<li key=${one.record_id}><div class="row">
    ${one.kind === "item" && html`<${Thumb} sha256=${photosOf(one)[0]?.value.thumb_sha256} words="its first photo" />`}
    <span class="what"><a href=${one.kind === "item" ? `#/item/${one.record_id}` : `#/container/${one.record_id}`}>${firstUpper(thingName(one))}</a>
      <small>${one.kind === "item" ? [tagsOf(one).map(shown).join(", "), piecesHere(one, container_id)].filter(Boolean).join(" · ") : ""}${standingCautions(one).length ? ` · ${LEVEL_WORDS[standingCautions(one)[0]?.value.level]}` : ""}</small></span>
    <button type="button" class="quiet" onClick=${() => out(one)}>Take out</button></div>
    ${one.kind === "container" && html`<div class="nested"><${Contents} container_id=${one.record_id} things=${things} /></div>`}</li>`)}</ul>`;
}

/** @param {{container: RecordCopy}} given */
function Seal({ container }) {
  const seal = valueOf(container, "seal");
  const { said, set, drop } = useHeld(`seal ${container.record_id}`, { seal: seal?.seal ?? "", second_by: "", state: "" });
  const ready = said.seal.trim() && said.second_by.trim() && said.state;
  const record = () => attempt(async () => {
    await keep("seal_container", { container_id: container.record_id, ...said });
    drop();
    sayDone("The seal is on record.");
  });
  return html`<section><h2>Seal</h2>
    <p>${seal ? `${seal.seal}: ${SEALS.find(([key]) => key === seal.state)?.[1].toLowerCase()}, second person ${seal.second_by}.` : "No seal is on record."}</p>
    <div class="pair"><${Typed} label="Seal number" hint="Read aloud, keyed, photographed on the crate" value=${said.seal} save=${set("seal")} /><${Typed} label="Second person" value=${said.second_by} save=${set("second_by")} /></div>
    <${Choice} label="It is" options=${SEALS} value=${said.state} choose=${set("state")} />
    <button type="button" disabled=${!ready} onClick=${record}>${ready ? "Record the seal" : "Number, second person and state first"}</button>
  </section>`;
}
