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
  const side = (/** @type {"kept"|"other"} */ choose, /** @type {string} */ title, /** @type {any} */ what, /** @type {string} */ button) => html`<div class="side">
    <h4>${title}</h4>
    ${what}
    <p class="hint">${who(one[choose].made_by)}, ${momentWords(one[choose].made_at)}</p>
    <button type="button" onClick=${() => settle(choose)}>${button}</button>
  </div>`;
  const both = (/** @type {string} */ words, /** @type {any[]} */ sides, /** @type {string} */ why) => html`<div class="between">
    <p>${words}</p>
    <div class="sides">${sides}</div>
    <${Typed} of=${one.disagreement_id} label=${why} value=${note} save=${set("note")} />
  </div>`;
  if (one.field.startsWith("tags/")) {
    const tag = shown(one.other.value.tag);
    const choice = `${tag} is on this one`;
    return both(
      `${tag} was tied to two items by two devices that had not heard of each other. Both items are kept. Look at the tag in the hand, say which item it is on, and tie a fresh tag to the other.`,
      [side("kept", "Tied first, as heard here", elsewhere && seen(elsewhere), choice), side("other", "This item", seen(item), choice)],
      "How it was told (kept with the decision)",
    );
  }
  const value = (/** @type {"kept"|"other"} */ which) => html`<p class="said">${valueWords(one[which].value)}</p>`;
  return both(
    `Two people set ${fieldWords(one.field)} without having seen each other's value. Nothing is lost; say which holds.`,
    [side("kept", "In force", value("kept"), "This one holds"), side("other", "Said as well", value("other"), "This one holds")],
    "Why (kept with the decision)",
  );
}

/** An item by its first picture and its name. @param {RecordCopy} item */
function seen(item) {
  return html`<div class="this-one"><${Thumb} sha256=${photosOf(item)[0]?.value.thumb_sha256} words="its first photo" /><p class="said">${thingName(item)}</p></div>`;
}

/** That another item's record asks for a number of this one. @param {{item: RecordCopy}} given */
export function ClaimedTag({ item }) {
  const claims = claimsOn(item, useRecords("item", item.day_id) ?? []);
  return claims.map(({ tag, by }) => html`<p class="bar" key=${tag}>${shown(tag)} was tied to another item as well: <a href=${`#/entry/${by.record_id}`}>${thingName(by)}. See both and settle it</a>.</p>`);
}
