/** The porter: scan one thing after the other, to a place or into a container, with a large count and no network. */
import { useRef, useState } from "preact/hooks";
import { PLACES, placeWords, thingName, thingWith, whereIs } from "../../job/custody.js";
import { newId } from "../../job/ids.js";
import { photosOf, tagsOf } from "../../job/progress.js";
import { isHeldApart, listed, valueOf } from "../../job/record.js";
import { parseTag, shown, tagInQr } from "../../job/tag.js";
import { keep } from "../../local/outbox.js";
import { Choice, Counted, Select, Typed } from "../../parts/controls.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { Scanner } from "../../parts/scanner.js";
import { sound } from "../../parts/sounds.js";
import { Thumb } from "../../parts/thumb.js";
import { useDay, useDevice, useHeld, useRecords } from "../../parts/use.js";

/** @import { RecordCopy } from "../../job/types.js" */
/** @typedef {{tag: string, words: string, good: boolean, thing: RecordCopy|null}} Scanned */

export default function Porter() {
  const device = useDevice();
  const day = useDay();
  const items = useRecords("item");
  const containers = useRecords("container");
  const [aim, setAim] = useState({ work: "move", to: "holding", at: "", given: "", container: "" });
  const [counted, setCounted] = useState(/** @type {Scanned[]} */ ([]));
  const [scanning, setScanning] = useState(false);
  const [typed, setTyped] = useState("");
  const busy = useRef(Promise.resolve());
  const done = useRef(new Set()); // what the screen shows may be a scan behind
  if (!day || !device || !items || !containers) return html`<${Frame} title="Porter" place="#/porter"><p>${day === null ? "Choose the day on the Today screen first." : "Reading …"}</p><//>`;
  const people = listed(day, "people/").map(({ value }) => value);
  const me = people.find((person) => person.person_id === device.person_id)?.name ?? "";
  const set = (/** @type {Record<string, string>} */ patch) => { setAim((before) => ({ ...before, ...patch })); setCounted([]); done.current.clear(); };
  const ready = aim.work === "open" || (aim.work === "inside" ? Boolean(aim.container) : Boolean(aim.given && me));
  const good = counted.filter((one) => one.good).length;

  /** Count one number; each waits for the one before, so that two quick scans are two rows. @param {string} tag */
  const count = (tag) => {
    busy.current = busy.current.then(() => countNow(tag)).catch(() => {});
    return busy.current;
  };
  const countNow = async (/** @type {string} */ tag) => {
    const thing = thingWith(tag, items, containers);
    const tell = (/** @type {string} */ words, /** @type {boolean} */ fine) => {
      sound(fine);
      if (fine) done.current.add(tag);
      setCounted((before) => [{ tag, words, good: fine, thing }, ...before]);
    };
    if (done.current.has(tag)) return tell("was counted already", false);
    try {
      if (aim.work === "open") return tell(await open(tag, thing), true);
      if (!thing) return tell("is on nothing this device knows. Set it aside and note a difference", false);
      // Pieces with tags of their own travel apart; a thing in one piece moves as a whole.
      const told = valueOf(thing, `tags/${tag}`);
      const piece = told && tagsOf(thing).length > 1 ? tag : null;
      const pieceWords = piece ? `, piece ${told.piece} of ${told.of}` : "";
      if (aim.work === "inside") {
        await keep("put_inside", { thing_id: thing.record_id, container_id: aim.container, tag: piece });
        return tell(`${thingName(thing)} is in${pieceWords}`, true);
      }
      if (thing.kind === "item" && isHeldApart(thing) && !["isolation", "returned", "table"].includes(aim.to)) return tell(`${thingName(thing)} is held apart: isolation only`, false);
      const from = whereIs(thing, new Map([...items, ...containers].map((one) => [one.record_id, one])), piece ?? undefined).place;
      await keep("record_move", { move_id: newId(), thing_id: thing.record_id, from_place: from, to_place: aim.to, at: aim.at, given_by: aim.given, taken_by: me, count: null, signed: false, tag: piece });
      return tell(`${thingName(thing)}${pieceWords}: ${placeWords(from).toLowerCase()} to ${placeWords(aim.to).toLowerCase()}`, true);
    } catch (error) {
      return tell(error instanceof Error ? error.message : String(error), false);
    }
  };
  const open = async (/** @type {string} */ number, /** @type {RecordCopy|null} */ thing) => {
    if (thing) throw new Error(`is on ${thingName(thing)} already: take a fresh label`);
    const container_id = newId();
    await keep("open_container", { container_id, day_id: day.record_id, number, kind_of: aim.at || "box" });
    return `${aim.at || "box"} opened. What goes into it?`;
  };
  const key = () => attempt(async () => {
    await count(parseTag(typed));
    setTyped("");
  });
  const scanned = async (/** @type {string} */ text) => { await count(tagInQr(text)); };
  return html`<${Frame} title="Porter" place="#/porter"
    action=${scanning ? null : html`<button type="button" class="main" disabled=${!ready} onClick=${() => setScanning(true)}>${ready ? "Scan" : aim.work === "inside" ? "Choose the container first" : me ? "Say who gives" : "Choose your name on the Today screen"}</button>`}>
    ${scanning ? html`<p class="lead">${aimWords(aim, containers)}</p>` : html`<${Aim} aim=${aim} set=${set} setAt=${(/** @type {string} */ at) => setAim((before) => ({ ...before, at }))} people=${people} me=${me} containers=${containers} />`}
    ${scanning && html`<${Scanner} found=${scanned} close=${() => setScanning(false)} />`}
    <p class="big-tag" role="status">${good}<span class="unseen"> counted</span></p>
    ${ready && html`<form class="inline" onSubmit=${(/** @type {Event} */ event) => { event.preventDefault(); key(); }}>
      <div class="field"><label for="porter-tag">or key it in</label><input id="porter-tag" class="code" value=${typed} autocomplete="off" onInput=${(/** @type {any} */ event) => setTyped(event.target.value)} /></div>
      <button type="submit" disabled=${!typed.trim()}>Count it</button></form>`}
    ${aim.work === "move" && good > 0 && !scanning && html`<${TakersCount} key=${aim.to} day_id=${day.record_id} aim=${aim} me=${me} counted=${counted.filter((one) => one.good)} />`}
    <ul class="rows">${counted.map((one, place) => html`<li key=${counted.length - place} class=${one.good ? "row" : "row is-wrong"}>
      ${one.thing?.kind === "item" && html`<${Thumb} sha256=${photosOf(one.thing)[0]?.value.thumb_sha256} words="its first photo" />`}
      <span class="what"><strong>${shown(one.tag)}</strong> ${one.words}</span><span aria-hidden="true">${one.good ? "✓" : "!"}</span></li>`)}</ul>
  <//>`;
}

/**
 * Whoever takes the load counts by hand; where that differs from what was scanned, it is a difference with a name.
 * @param {{day_id: string, aim: AimOf, me: string, counted: Scanned[]}} given
 */
function TakersCount({ day_id, aim, me, counted }) {
  const { said, set, drop } = useHeld(`load to ${aim.to}`, /** @type {{crates: number|null, pieces: number|null}} */ ({ crates: null, pieces: null }));
  const [kept, setKept] = useState("");
  const scanned_crates = counted.filter((one) => one.thing?.kind === "container").length;
  const scanned_pieces = counted.length - scanned_crates;
  const record = () => attempt(async () => {
    const { crates, pieces } = /** @type {{crates: number, pieces: number}} */ (said);
    await keep("count_load", { day_id, load_id: newId(), to_place: aim.to, at: aim.at, given_by: aim.given, taken_by: me, crates, pieces, scanned_crates, scanned_pieces });
    const agrees = crates === scanned_crates && pieces === scanned_pieces;
    const words = `${me} counted crates ${crates} and loose pieces ${pieces}; scanned were ${scanned_crates} and ${scanned_pieces}`;
    if (!agrees) await keep("raise_difference", { day_id, difference_id: newId(), difference: crates + pieces < counted.length ? "item-short" : "item-over", thing_id: null, words: `Load to ${placeWords(aim.to).toLowerCase()}${aim.at ? `, ${aim.at}` : ""}: ${words}`, owner_told: false, told: "" });
    drop();
    setKept(agrees ? `Both counts agree: ${words}.` : `The counts differ, and the closing names it: ${words}. Search before the van leaves.`);
  });
  if (kept) return html`<p class="bar" role="status">${kept}</p>`;
  const ready = said.crates !== null && said.pieces !== null;
  return html`<section><h2>Counted by hand</h2>
    <p class="hint">${me}, who takes it, counts what stands there, without looking at the list.</p>
    <div class="pair"><${Counted} label="Crates, boxes and bags" value=${said.crates} save=${set("crates")} />
      <${Counted} label="Loose pieces" value=${said.pieces} save=${set("pieces")} /></div>
    <button type="button" disabled=${!ready} onClick=${record}>${ready ? "Record the count" : "Count both first"}</button></section>`;
}

/** @typedef {{work: string, to: string, at: string, given: string, container: string}} AimOf */

/** What is counted now, in one line. @param {AimOf} aim @param {RecordCopy[]} containers */
function aimWords(aim, containers) {
  if (aim.work === "open") return `New: ${aim.at || "box"}`;
  const into = containers.find((one) => one.record_id === aim.container);
  return aim.work === "inside" ? `Into ${into ? thingName(into) : "a container"}` : `To ${placeWords(aim.to).toLowerCase()}${aim.at ? `, ${aim.at}` : ""}, given by ${aim.given}`;
}

/**
 * What is done with the things that are scanned. Another aim begins another count.
 * @param {{aim: AimOf, set: (patch: Record<string, string>) => void, setAt: (at: string) => void, people: any[], me: string, containers: RecordCopy[]}} given
 */
function Aim({ aim, set, setAt, people, me, containers }) {
  return html`
    <${Choice} label="What is done" options=${[["move", "Move to a place"], ["inside", "Put into a container"], ["open", "New bag, box or crate"]]} value=${aim.work} choose=${(/** @type {string} */ work) => set({ work, at: work === "open" ? "box" : "" })} />
    ${aim.work === "move" && html`
      <${Choice} label="To" options=${PLACES.filter(([place]) => place !== "returned")} value=${aim.to} choose=${(/** @type {string} */ to) => set({ to })} />
      <div class="pair"><${Typed} label="Where exactly" hint="Shelf, trip, table" value=${aim.at} save=${async (/** @type {string} */ at) => setAt(at)} />
        <${Select} label="Given by" options=${people.filter((person) => person.name !== me).map((person) => [person.name, person.name])} value=${aim.given} choose=${(/** @type {string} */ given) => set({ given })} /></div>
      <p class="hint">Taken by ${me || "nobody yet: choose your name on the Today screen"}.</p>`}
    ${aim.work === "inside" && html`<${Select} label="Into" options=${containers.map((one) => [one.record_id, thingName(one)])} value=${aim.container} choose=${(/** @type {string} */ container) => set({ container })} empty="Choose a container" />
      ${aim.container && html`<p><a href=${`#/container/${aim.container}`}>See what is in it, and its seal</a></p>`}`}
    ${aim.work === "open" && html`<${Choice} label="Which" options=${[["bag", "Bag"], ["box", "Box"], ["crate", "Crate"]]} value=${aim.at} choose=${(/** @type {string} */ at) => set({ at })} />`}`;
}
