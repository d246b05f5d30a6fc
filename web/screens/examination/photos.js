/** The photos of an item: the views its class needs, which of them are there, and the rest. */
import { useState } from "preact/hooks";
import { isRequired, photosOf, zoneName } from "../../job/progress.js";
import { keep } from "../../local/outbox.js";
import { keepPhoto } from "../../local/photos.js";
import { Select } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { NextStep } from "../../parts/next_step.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { PictureButtons } from "../../parts/pictures.js";
import { Thumb } from "../../parts/thumb.js";
import { usePlan, useRecord } from "../../parts/use.js";

/** @param {{item_id: string}} given */
export default function Photos({ item_id }) {
  const item = useRecord(item_id);
  const plan = usePlan(item);
  const [chosen, setChosen] = useState("");
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined) return html`<${Frame} title="Photos" back=${back}><p>Reading …</p><//>`;
  const photos = photosOf(item);
  const views = plan?.views ?? [];
  const taken = new Set(photos.map(({ value }) => value.view));
  const open = views.filter((view) => !taken.has(view.view));
  const missing = open.filter(isRequired);
  const view = chosen || (missing[0] ?? open[0])?.view || null;
  const words = views.find((one) => one.view === view)?.words;
  const take = async (/** @type {Blob} */ blob) => {
    await keepPhoto({ blob, item_id, view, zone: null, finding_id: null });
    setChosen("");
  };
  const withdraw = (/** @type {string} */ photo_id, /** @type {any} */ value) => attempt(async () => {
    await keep("attach_photo", { item_id, photo_id, ...value, withdrawn: true });
    sayDone("The photo is withdrawn.", () => keep("attach_photo", { item_id, photo_id, ...value, withdrawn: false }));
  });
  return html`<${Frame} title=${missing.length ? `Photos, ${missing.length} missing` : `Photos: ${photos.length}`} back=${back} item=${item} stoppedToo=${true}
    action=${html`<${NextStep} item=${item} plan=${plan} here="/photos" />`}>
    <section>
      <h2>${view ? `Next: ${words}` : "Another photo"}</h2>
      <${PictureButtons} take=${take} series=${view ? `Next: ${words}` : "Another photo"} />
      ${views.length > 0 && html`<ul class="views">
        ${views.map((one) => html`<li key=${one.view}>
          <button type="button" class="chip" aria-pressed=${view === one.view} onClick=${() => setChosen(one.view)}>
            <span aria-hidden="true">${taken.has(one.view) ? "✓" : isRequired(one) ? "○" : "·"}</span> ${one.words}${taken.has(one.view) ? "" : isRequired(one) ? "" : " (where it applies)"}
          </button>
        </li>`)}
      </ul>`}
    </section>
    <section>
      <h2>Taken <span class="count">${photos.length}</span></h2>
      ${photos.length ? null : html`<p class="none">No photo yet.</p>`}
      <ul class="photo-rows">
        ${photos.map(({ id, value }) => html`<li key=${id}>
          <${Thumb} sha256=${value.thumb_sha256} words=${`photo: ${value.view ?? value.zone ?? "no view"}`} />
          <div>
            ${value.zone
              ? html`<p>${zoneName(value.zone)}${value.finding_id ? ", a finding" : ""}</p>`
              : html`<${Select} label="Shows" options=${views.map((one) => [one.view, one.words])} value=${value.view} empty="No named view"
                  choose=${(/** @type {string} */ to) => keep("attach_photo", { item_id, photo_id: id, ...value, view: to || null })} />`}
            <button type="button" class="quiet" onClick=${() => withdraw(id, value)}>Withdraw</button>
          </div>
        </li>`)}
      </ul>
    </section>
  <//>`;
}
