/** From a tag to its item. */
import { useEffect, useState } from "preact/hooks";
import { parseTag, shown } from "../../job/tag.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { get } from "../../sync/office.js";
import { itemWithTag, TagEntry } from "./tag.js";

/** @param {{tag?: string, role: string}} given */
export default function FindByTag({ tag = "", role }) {
  const [said, setSaid] = useState("");
  const open = (/** @type {string} */ read) => attempt(async () => {
    const item = await itemWithTag(parseTag(read));
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
  <//>`;
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
