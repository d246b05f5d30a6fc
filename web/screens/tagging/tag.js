/** Tying a tag: scan it or key it in; a wrong character is caught at once, a number is never used twice. */
import { useState } from "preact/hooks";
import { claimsOf, isReturned, pieceCount, rollCounts, thingName, thingWith } from "../../job/custody.js";
import { newId } from "../../job/ids.js";
import { photosOf, tagsOf } from "../../job/progress.js";
import { cautionMark, listed, valueOf } from "../../job/record.js";
import { parseTag, shown, tagInQr, TagError } from "../../job/tag.js";
import { keep } from "../../local/outbox.js";
import { listRecords } from "../../local/records.js";
import { Counted, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { KeptLabels } from "../../parts/kept_labels.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { OwnLabel } from "../../parts/own_label.js";
import { Scanner } from "../../parts/scanner.js";
import { Thumb } from "../../parts/thumb.js";
import { useDevice, useHeld, useRecord, useRecords } from "../../parts/use.js";

/** @import { RollCount } from "../../job/custody.js" */
/** @import { RecordCopy } from "../../job/types.js" */

/** What a device at a table prints: string tags, one a page. */
const ONE_A_PAGE = "tag-85x45";

/** The item that a tag is tied to, as far as this device knows. @param {string} tag */
export async function itemWithTag(tag) {
  return (await listRecords("item")).find((item) => tagsOf(item).includes(tag)) ?? null;
}

/** Another item of the same visit that looks the same on paper. @param {RecordCopy} item @param {RecordCopy[]} items */
function lookalikeOf(item, items) {
  const same = (/** @type {string} */ field, /** @type {RecordCopy} */ other) => (valueOf(item, field) ?? "").trim().toLowerCase() === (valueOf(other, field) ?? "").trim().toLowerCase();
  return items.find((other) => other.record_id !== item.record_id && other.visit_id === item.visit_id && valueOf(item, "short_description") && same("short_description", other) && same("class_id", other)) ?? null;
}

/** @param {{item_id: string}} given */
export default function Tag({ item_id }) {
  const item = useRecord(item_id);
  const device = useDevice();
  const day = useRecord(item?.day_id ?? "");
  const items = useRecords("item");
  const containers = useRecords("container");
  const [tag, setTag] = useState("");
  const { said: { mark }, set, drop } = useHeld(`mark ${item_id}`, { mark: "" });
  const back = `#/item/${item_id}`;
  if (!item || !items || !containers) return html`<${Frame} title="Tag" back=${back}><p>Reading …</p><//>`;
  const told = listed(item, "tags/").map(({ value }) => value);
  const tied = told.filter((one) => !one.gone);
  const of = pieceCount(item);
  const twin = lookalikeOf(item, items);
  const lost = told.find((one) => one.gone && one.gone !== "taken-back" && !one.replaced_by);
  const ready = !twin || Boolean(mark.trim());
  const tie = () => attempt(async () => {
    const other = thingWith(tag, items, containers);
    if (other && other.record_id !== item_id) {
      throw new TagError("tag_taken", `${shown(tag)} is tied to “${thingName(other)}” already. Take a fresh tag; look at both items if this one was on it.`);
    }
    if (told.some((one) => one.tag === tag && one.gone)) throw new TagError("tag_taken", `${shown(tag)} was on this item and is gone. A number never comes back: take a fresh tag.`);
    if (!other) await keep("tie_tag", { item_id, tag, piece: lost?.piece ?? Math.min(of, tied.length + 1), of, mark: mark.trim() });
    if (lost) await keep("remove_tag", { item_id, tag: lost.tag, why: lost.gone, replaced_by: tag });
    setTag("");
    drop();
    sayDone(`${shown(tag)} is tied to this item.`);
  });
  const first = photosOf(item)[0]?.value;
  return html`<${Frame} title="Tag" back=${back} item=${item} stoppedToo=${true}
    action=${tag
      ? html`<button type="button" onClick=${() => setTag("")}>Another</button><button type="button" class="main" disabled=${!ready} onClick=${tie}>${ready ? `Tie ${shown(tag)} to this item` : "Say what tells it apart"}</button>`
      : html`<a class="button main" href=${back}>Back to the item</a>`}>
    <section class="this-one">
      <${Thumb} sha256=${first?.thumb_sha256} words="the item's first photo" />
      <p><strong>${valueOf(item, "short_description") || "Not named yet"}</strong><br />${tied.length ? `Tied: ${tied.map((one) => shown(one.tag)).join(", ")}` : "No tag is tied yet."}</p>
    </section>
    ${twin && html`<div class="bar"><p>Another item of this visit is called the same. What tells this one from it?</p>
      <${Typed} label="A mark that only this one has" value=${mark} save=${set("mark")} /></div>`}
    ${claimsOf(item).map(({ tag: claimed }) => html`<p class="bar" key=${claimed}>${shown(claimed)} was tied to another item as well, by a device that had not heard of this one. The desk sees both and settles it; a fresh tag on this item does no harm.</p>`)}
    ${tag
      ? html`<p class="big-tag" role="status"><span class="unseen">Read: </span>${shown(tag)}</p><p class="lead">${lost ? `It takes the place of ${shown(lost.tag)}, which is ${lost.gone.replace("-", " ")}. ` : ""}Is it on this one? Then tie it.</p>`
      : html`<${TagEntry} found=${setTag} />`}
    ${day && html`<${RollLeft} rolls=${rollCounts(day, items, containers)} day_id=${day.record_id} name=${device?.name ?? ""} />`}
    ${told.length > 0 && html`<section><h2>Numbers of this item</h2>
      ${told.map((one) => html`<${Tied} key=${one.tag} one=${one} item=${item} />`)}
      ${cautionMark([item]) && tied.length > 0 && html`<p class="bar">Its tag has to say “${cautionMark([item])}”: print it anew, or write it on.</p>`}
      <${Counted} label="How many pieces it has" hint="Each piece gets a tag of its own" value=${of} save=${(/** @type {number} */ pieces) => (pieces > 0 && tied[0] ? keep("tie_tag", { item_id, tag: tied[0].tag, piece: tied[0].piece, of: pieces, mark: tied[0].mark ?? "" }) : Promise.resolve())} />
      ${tied.length < of && html`<p class="bar">${of - tied.length} of its ${of} pieces have no tag yet.</p>`}
    </section>`}
    ${tied.length > 0 && html`<${TakeBack} item=${item} tags=${tied.map((one) => one.tag)} />`}
    ${!told.length && html`<${GoesHome} item=${item} />`}
  <//>`;
}

/** @param {{one: any, item: RecordCopy}} given */
function Tied({ one, item }) {
  const item_id = item.record_id;
  const [asking, setAsking] = useState(false);
  const gone = (/** @type {string} */ why) => attempt(async () => {
    await keep("remove_tag", { item_id, tag: one.tag, why, replaced_by: null });
    setAsking(false);
    sayDone(`${shown(one.tag)} is noted as ${why.replace("-", " ")}. Tie a fresh one.`);
  });
  return html`<div class="row"><span class="what"><strong>${shown(one.tag)}</strong>${one.of > 1 ? ` piece ${one.piece} of ${one.of}` : ""}${one.mark ? html`<small>Told apart by: ${one.mark}</small>` : null}
      ${one.gone && html`<small>${one.gone.replace("-", " ")}${one.replaced_by ? `, now ${shown(one.replaced_by)}` : ""}</small>`}</span>
    ${!one.gone && !asking && html`<${OwnLabel} tag=${one.tag} kind="tag" items=${[item]} piece=${one.piece} pieces=${one.of ?? 1} words="Print it" />`}
    ${!one.gone && (asking
      ? html`<span class="chips">${[["fallen-off", "Fell off"], ["lost", "Lost"], ["damaged", "Damaged"]].map(([why, words]) => html`<button type="button" key=${why} class="chip" onClick=${() => gone(/** @type {string} */ (why))}>${words}</button>`)}</span>`
      : html`<button type="button" class="quiet" onClick=${() => setAsking(true)}>It is gone</button>`)}</div>`;
}

/** What is left of this device's roll; a spare can be taken with no network. @param {{rolls: RollCount[], day_id: string, name: string}} given */
function RollLeft({ rolls, day_id, name }) {
  const mine = rolls.filter((roll) => roll.given_to === name);
  const spare = rolls.filter((roll) => roll.given_to.toLowerCase() === "spare" && roll.unused);
  const left = mine.reduce((sum, roll) => sum + roll.unused, 0);
  const low = mine.length > 0 && mine.every((roll) => roll.low);
  if (!mine.length && !spare.length) return null;
  return html`<div class=${low ? "bar" : ""}><p>${mine.length ? `${left} numbers are left on this device's roll${mine.find((roll) => roll.next) ? `; the next is ${shown(mine.find((roll) => roll.next)?.next ?? "")}` : ""}.${low ? " Four fifths are gone." : ""}` : "This device has no roll of its own."}</p>
    ${mine.filter((roll) => roll.next).map((roll) => html`<${KeptLabels} key=${roll.roll_id} roll_id=${roll.roll_id} address=${`/labels.pdf?sheet=${ONE_A_PAGE}&first=${roll.next}&count=${roll.unused}`} />`)}
    ${(low || !mine.length) && spare[0] && html`<button type="button" onClick=${() => attempt(() => keep("give_roll", { day_id, roll_id: spare[0]?.roll_id, given_to: name, for_device_id: null }))}>Take the spare roll from ${shown(spare[0].first_tag)}</button>`}</div>`;
}

/** What was only looked at goes home without a number; nobody signs for what never left its owner's hand. @param {{item: RecordCopy}} given */
function GoesHome({ item }) {
  const device = useDevice();
  if (isReturned(item)) return html`<p class="bar">It went home with its owner, without a number.</p>`;
  const go = () => attempt(async () => {
    const move = { move_id: newId(), thing_id: item.record_id, from_place: "table", to_place: "returned", at: "", given_by: device?.name ?? "", taken_by: "the owner", count: 1, signed: false };
    await keep("record_move", move);
    sayDone("It went home with its owner.", () => keep("record_move", { ...move, move_id: newId(), from_place: "returned", to_place: "table", given_by: "the owner", taken_by: device?.name ?? "" }));
  });
  return html`<p><button type="button" onClick=${go}>It goes home with its owner, without a tag</button></p>`;
}

/** The owner takes it back: the tags are voided, and the owner signs on the receipt, or the closing names it. @param {{item: RecordCopy, tags: string[]}} given */
function TakeBack({ item, tags }) {
  const { said: { given }, set, drop, held } = useHeld(`take back ${item.record_id}`, { given: "" });
  const [open, setOpen] = useState(held);
  const take = () => attempt(async () => {
    const item_id = item.record_id;
    for (const tag of [null, ...tags]) {
      if (valueOf(item, tag ? `inside/${tag}` : "inside")?.container_id) await keep("put_inside", { thing_id: item_id, container_id: null, tag });
    }
    for (const tag of tags) await keep("remove_tag", { item_id, tag, why: "taken-back", replaced_by: null });
    const from = valueOf(item, "whereabouts")?.to_place ?? "table";
    await keep("record_move", { move_id: newId(), thing_id: item_id, from_place: from, to_place: "returned", at: "", given_by: given.trim(), taken_by: "the owner", count: tags.length, signed: false });
    drop();
    sayDone("It is back with the owner, and its tags are void. Now the owner signs for it.");
    location.hash = `#/visit/${item.visit_id}/receipt`;
  });
  if (!open) return html`<p><button type="button" onClick=${() => setOpen(true)}>The owner takes it back</button></p>`;
  return html`<section><h2>Back to the owner</h2><p class="hint">Its ${tags.length === 1 ? "tag is" : "tags are"} void from now on. Take the tag off and keep it.</p>
    <${Typed} label="Given back by" value=${given} save=${set("given")} />
    <button type="button" disabled=${!given.trim()} onClick=${take}>Give it back, and sign for it</button></section>`;
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
