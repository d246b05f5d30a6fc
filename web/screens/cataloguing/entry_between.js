/** Two people said different things of one field, or two devices tied one number: what each said, and which holds. */
import { claimsOn, thingName } from "../../job/custody.js";
import { photosOf, tagsOf } from "../../job/progress.js";
import { shown } from "../../job/tag.js";
import { fieldWords, valueWords } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { momentWords, Typed } from "../../parts/controls.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { Thumb } from "../../parts/thumb.js";
import { useHeld, useRecord, useRecords } from "../../parts/use.js";
import { syncNow } from "../../sync/sync.js";

/** @import { Disagreement, RecordCopy } from "../../job/types.js" */

/** @param {{one: Disagreement, item: RecordCopy, who: (person_id: string) => string}} given */
export function Between({ one, item, who }) {
  const { said: { note }, set, drop } = useHeld(`between ${one.disagreement_id}`, { note: "" });
  const tied = useRecord(one.kept.value?.item_id ?? "");
  const items = useRecords("item", item.day_id) ?? [];
  // Whichever item has the number by now: another question about it may have been settled meanwhile.
  const elsewhere = items.find((other) => tagsOf(other).includes(one.kept.value?.tag)) ?? tied;
  const settle = (/** @type {"kept"|"other"} */ choose) => attempt(async () => {
    const tag = one.kept.value?.tag;
    if (choose === "other" && elsewhere && tagsOf(elsewhere).includes(tag)) {
      await keep("remove_tag", { item_id: elsewhere.record_id, tag, why: "on-another-item", replaced_by: null });
    }
    await keep("settle_disagreement", { record_id: item.record_id, disagreement_id: one.disagreement_id, choose, note });
    drop();
    syncNow();
  });
  if (one.field.startsWith("tags/")) return html`<${OneNumber} one=${one} item=${item} elsewhere=${elsewhere} who=${who} settle=${settle} note=${note} setNote=${set("note")} />`;
  const side = (/** @type {"kept"|"other"} */ choose, /** @type {string} */ title) => html`<div class="side">
    <h4>${title}</h4>
    <p class="said">${valueWords(one[choose].value)}</p>
    <p class="hint">${who(one[choose].made_by)}, ${momentWords(one[choose].made_at)}</p>
    <button type="button" onClick=${() => settle(choose)}>This one holds</button>
  </div>`;
  return html`<div class="between">
    <p>Two people set ${fieldWords(one.field)} without having seen each other's value. Nothing is lost; say which holds.</p>
    <div class="sides">${side("kept", "In force")}${side("other", "Said as well")}</div>
    <${Typed} of=${one.disagreement_id} label="Why (kept with the decision)" value=${note} save=${set("note")} />
  </div>`;
}

/**
 * One number and two items, with the first picture of each.
 * @param {{one: Disagreement, item: RecordCopy, elsewhere: RecordCopy|null|undefined, who: (person_id: string) => string,
 *   settle: (choose: "kept"|"other") => Promise<void>, note: string, setNote: (note: string) => Promise<void>}} given
 */
function OneNumber({ one, item, elsewhere, who, settle, note, setNote }) {
  const tag = shown(one.other.value.tag);
  const side = (/** @type {"kept"|"other"} */ choose, /** @type {RecordCopy|null|undefined} */ thing, /** @type {string} */ title) => html`<div class="side">
    <h4>${title}</h4>
    ${thing && html`<div class="this-one"><${Thumb} sha256=${photosOf(thing)[0]?.value.thumb_sha256} words="its first photo" /><p class="said">${thingName(thing)}</p></div>`}
    <p class="hint">${who(one[choose].made_by)}, ${momentWords(one[choose].made_at)}</p>
    <button type="button" onClick=${() => settle(choose)}>${tag} is on this one</button>
  </div>`;
  return html`<div class="between">
    <p>${tag} was tied to two items by two devices that had not heard of each other. Both items are safe. Look at the tag in the hand, say which item it is on, and tie a fresh tag to the other.</p>
    <div class="sides">${side("kept", elsewhere, "Tied first, as heard here")}${side("other", item, "This item")}</div>
    <${Typed} of=${one.disagreement_id} label="How it was told (kept with the decision)" value=${note} save=${setNote} />
  </div>`;
}

/** That another item's record asks for a number of this one. @param {{item: RecordCopy}} given */
export function ClaimedTag({ item }) {
  const claims = claimsOn(item, useRecords("item", item.day_id) ?? []);
  return claims.map(({ tag, by }) => html`<p class="bar" key=${tag}>${shown(tag)} was tied to another item as well: <a href=${`#/entry/${by.record_id}`}>${thingName(by)}. See both and settle it</a>.</p>`);
}
