/** From a tag to its item. */
import { useEffect, useState } from "preact/hooks";
import { isReturned } from "../../job/custody.js";
import { parseTag, shown } from "../../job/tag.js";
import { photosOf, tagsOf } from "../../job/progress.js";
import { listed, valueOf } from "../../job/record.js";
import { listRecords } from "../../local/records.js";
import { clockWords } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { Thumb } from "../../parts/thumb.js";
import { useRecords } from "../../parts/use.js";
import { get } from "../../sync/office.js";
import { itemWithTag, TagEntry } from "./tag.js";

/** @param {{tag?: string, role: string}} given */
export default function FindByTag({ tag = "", role }) {
  const [said, setSaid] = useState("");
  const open = (/** @type {string} */ read) => attempt(async () => {
    const [item, container] = await Promise.all([itemWithTag(parseTag(read)), containerWith(parseTag(read))]);
    if (container) {
      location.replace(`#/container/${container.record_id}`);
      return;
    }
    const item_id = item?.record_id ?? (await atOffice(parseTag(read)));
    if (item_id) location.replace(role === "desk" ? `#/entry/${item_id}` : `#/item/${item_id}`);
    else setSaid(`${shown(parseTag(read))} is a good tag, but no item with it is known here. It may be on another device that has not synced yet.`);
  });
  useEffect(() => {
    if (tag) open(tag);
  }, [tag]);
  return html`<${Frame} title="Find by tag" back=${role === "desk" ? "#/queue" : "#/today"}>
    ${said && html`<p class="bar" role="status">${said}</p>`}
    <${TagEntry} found=${open} />
    <${Untagged} />
  <//>`;
}

/** The container under a number, as far as this device knows. @param {string} number */
async function containerWith(number) {
  return (await listRecords("container")).find((one) => one["number"] === number) ?? null;
}

/** A tag fell off: what has none, with its first picture and the hour it was taken. */
function Untagged() {
  const items = useRecords("item");
  const without = (items ?? []).filter((item) => !tagsOf(item).length && !isReturned(item));
  if (!without.length) return null;
  return html`<section><h2>Without a tag <span class="count">${without.length}</span></h2>
    <ul class="rows">${without.map((item) => {
      const first = photosOf(item)[0]?.value;
      const lost = listed(item, "tags/").map(({ value }) => value).filter((one) => one.gone);
      return html`<li key=${item.record_id}><a class="row" href=${`#/item/${item.record_id}/tag`}><${Thumb} sha256=${first?.thumb_sha256} words="its first photo" />
        <span class="what">${valueOf(item, "short_description") || "Not named yet"}<small>${clockWords(first?.taken_at ?? item.opened_at)}${lost.length ? `, had ${lost.map((one) => shown(one.tag)).join(", ")}` : ""}</small></span></a></li>`;
    })}</ul></section>`;
}

/** @param {string} tag @returns {Promise<string|null>} */
async function atOffice(tag) {
  try {
    const { entries } = await get(`/queue?words=${tag}&limit=2`);
    return entries.find((/** @type {any} */ entry) => entry.tags.includes(tag))?.item_id ?? null;
  } catch {
    return null; // no network: this device knows what it knows
  }
}
