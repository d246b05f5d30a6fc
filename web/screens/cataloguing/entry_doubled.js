/** The same thing recorded twice, at the desk. */
import { useState } from "preact/hooks";
import { tagsOf } from "../../job/progress.js";
import { valueOf } from "../../job/record.js";
import { shown } from "../../job/tag.js";
import { keep } from "../../local/outbox.js";
import { Select, Typed } from "../../parts/controls.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { useHeld, useRecords } from "../../parts/use.js";
import { syncNow } from "../../sync/sync.js";

/** @import { RecordCopy } from "../../job/types.js" */

/** The same thing recorded twice: one record stands behind the other, and both keep their histories. @param {{item: RecordCopy}} given */
export function Doubled({ item }) {
  const items = useRecords("item", item.day_id);
  const { said: { into, why }, set, drop, held } = useHeld(`doubled ${item.record_id}`, { into: "", why: "" });
  const [open, setOpen] = useState(held);
  const name = (/** @type {RecordCopy} */ one) => `${valueOf(one, "short_description") || "not named"} ${tagsOf(one).map(shown).join(", ")}`;
  const front = items?.find((one) => one.record_id === valueOf(item, "merged")?.into_id);
  const behind = items?.filter((one) => valueOf(one, "merged")?.into_id === item.record_id) ?? [];
  const others = items?.filter((one) => one.visit_id === item.visit_id && one.record_id !== item.record_id && !valueOf(one, "merged")?.into_id) ?? [];
  const merge = (/** @type {string|null} */ into_id) => attempt(async () => {
    await keep("merge_item", { item_id: item.record_id, into_id, why });
    drop();
    setOpen(false);
    syncNow();
  });
  if (front) return html`<p class="bar">Recorded twice: this record stands behind <a href=${`#/entry/${front.record_id}`}>${name(front)}</a>. ${valueOf(item, "merged").why} <button type="button" class="quiet" onClick=${() => merge(null)}>They are two things</button></p>`;
  return html`${behind.length > 0 && html`<p class="bar">Recorded twice; the other history: ${behind.map((one) => html`<a key=${one.record_id} href=${`#/entry/${one.record_id}`}>${name(one)}</a> `)}</p>`}
    ${open
      ? html`<div class="bar"><${Select} label="It is the same thing as" options=${others.map((one) => [one.record_id, name(one)])} value=${into} choose=${set("into")} />
          <${Typed} label="How that is known" value=${why} save=${set("why")} />
          <button type="button" disabled=${!into || !why.trim()} onClick=${() => merge(into)}>Put this record behind it</button> <button type="button" class="quiet" onClick=${() => setOpen(false)}>Not now</button></div>`
      : others.length > 0 && html`<p><button type="button" class="quiet" onClick=${() => setOpen(true)}>Recorded twice?</button></p>`}`;
}
