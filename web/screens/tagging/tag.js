/** Tying a tag: scan it or key it in; a wrong character is caught at once, a number is never used twice. */
import { useState } from "preact/hooks";
import { photosOf, tagsOf } from "../../job/progress.js";
import { valueOf } from "../../job/record.js";
import { parseTag, shown, tagInQr, TagError } from "../../job/tag.js";
import { keep } from "../../local/outbox.js";
import { listRecords } from "../../local/records.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { Scanner } from "../../parts/scanner.js";
import { Thumb } from "../../parts/thumb.js";
import { useRecord } from "../../parts/use.js";

/** The item that a tag is tied to, as far as this device knows. @param {string} tag */
export async function itemWithTag(tag) {
  return (await listRecords("item")).find((item) => tagsOf(item).includes(tag)) ?? null;
}

/** @param {{item_id: string}} given */
export default function Tag({ item_id }) {
  const item = useRecord(item_id);
  const [tag, setTag] = useState("");
  const back = `#/item/${item_id}`;
  if (!item) return html`<${Frame} title="Tag" back=${back}><p>Reading …</p><//>`;
  const tied = tagsOf(item);
  const tie = () => attempt(async () => {
    const other = await itemWithTag(tag);
    if (other && other.record_id !== item_id) {
      throw new TagError("tag_taken", `${shown(tag)} is tied to “${valueOf(other, "short_description") || "another item"}” already. Take a fresh tag; look at both items if this one was on it.`);
    }
    if (!other) await keep("tie_tag", { item_id, tag, piece: 1 });
    setTag("");
    sayDone(`${shown(tag)} is tied to this item.`);
  });
  const first = photosOf(item)[0]?.value;
  return html`<${Frame} title="Tag" back=${back} item=${item} stoppedToo=${true}
    action=${tag
      ? html`<button type="button" onClick=${() => setTag("")}>Another</button><button type="button" class="main" onClick=${tie}>Tie ${shown(tag)} to this item</button>`
      : html`<a class="button main" href=${back}>Back to the item</a>`}>
    <section class="this-one">
      <${Thumb} sha256=${first?.thumb_sha256} words="the item's first photo" />
      <p><strong>${valueOf(item, "short_description") || "Not named yet"}</strong><br />${tied.length ? `Tied: ${tied.map(shown).join(", ")}` : "No tag is tied yet."}</p>
    </section>
    ${tag
      ? html`<p class="big-tag" role="status"><span class="unseen">Read: </span>${shown(tag)}</p><p class="lead">Is it on this item? Then tie it.</p>`
      : html`<${TagEntry} found=${setTag} />`}
  <//>`;
}

/** Scan or key in a tag. @param {{found: (tag: string) => void}} given */
export function TagEntry({ found }) {
  const [typed, setTyped] = useState("");
  const [scanning, setScanning] = useState(false);
  const problem = problemOf(typed);
  const type = (/** @type {any} */ event) => {
    setTyped(event.target.value);
    if (event.target.value && problemOf(event.target.value) === null) found(parseTag(event.target.value));
  };
  return html`
    ${scanning
      ? html`<${Scanner} found=${(/** @type {string} */ text) => found(tagInQr(text))} close=${() => setScanning(false)} />`
      : html`<p><button type="button" class="large" onClick=${() => setScanning(true)}>Scan the tag</button></p>`}
    <div class=${problem ? "field is-wrong" : "field"}>
      <label for="tag">or key it in</label>
      <p class="hint" id="tag-hint" role="status">${problem || "Six characters under the code, such as 7K3-QW5"}</p>
      <input id="tag" class="code" value=${typed} onInput=${type} autocomplete="off" autocapitalize="characters" spellcheck=${false} aria-describedby="tag-hint" maxlength="9" />
    </div>`;
}

/** What is wrong with a typed tag: nothing (null) if it is one, "" while it is too short to say. @param {string} typed */
function problemOf(typed) {
  try {
    parseTag(typed);
    return null;
  } catch (error) {
    const short = typed.replace(/[\s-]/g, "").length < 6;
    if (short && /^[\s0-9a-z-]*$/i.test(typed)) return "";
    return error instanceof Error ? error.message : String(error);
  }
}
