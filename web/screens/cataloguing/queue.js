/** The cataloguing queue, read from the office: what has arrived, in order, found by words, tag, class and state. */
import { useEffect, useRef, useState } from "preact/hooks";
import { shown } from "../../job/tag.js";
import { countWords, ENTRY_WORDS } from "../../job/words.js";
import { momentWords } from "../../parts/controls.js";
import { LEVEL_WORDS } from "../../parts/caution_bar.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { useOfficeNews, usePlanBook, useShortcuts } from "../../parts/use.js";
import { get } from "../../sync/office.js";
import { syncNow } from "../../sync/sync.js";
import Entry from "./entry.js";

/**
 * @typedef {{entry_seq: number, item_id: string, ticket: string|null, short_description: string|null, class_id: string|null,
 *   state: string, tags: string[], photo_count: number, finding_count: number, disagreement_count: number, caution: string|null,
 *   arrived_at: string, thumb_sha256: string|null, missing: number|null}} QueueEntry
 */

const PAGE = 50;
const SETTLE_MS = 150;

/** What was asked last stays, so that coming back from an entry shows the same list. */
const asked = { words: "", state: "", class_id: "" };

/** @param {{item_id?: string}} given the entry that is open beside the list, if any */
export default function Queue({ item_id = "" }) {
  const [question, setQuestion] = useState({ ...asked });
  const [list, setList] = useState(/** @type {{entries: QueueEntry[], count: number, count_capped: boolean, next: number|null}|null} */ (null));
  const [problem, setProblem] = useState("");
  const [news, setNews] = useState(0);
  const shownCount = useRef(PAGE);
  const book = usePlanBook();
  useOfficeNews(() => {
    setNews((count) => count + 1);
    syncNow(); // the visit and the other items of the day are read from this device
  });
  useEffect(() => {
    Object.assign(asked, question);
    let live = true;
    const timer = setTimeout(async () => {
      try {
        const found = await readPages(question, shownCount.current);
        if (live) {
          setList(found);
          setProblem("");
        }
      } catch (error) {
        if (live) setProblem(error instanceof TypeError || error instanceof DOMException ? "The office is not reached. The queue is read from it; this is what was seen last." : String(/** @type {any} */ (error).message));
      }
    }, SETTLE_MS);
    return () => { live = false; clearTimeout(timer); };
  }, [question, news]);
  const step = (/** @type {number} */ by) => {
    const rows = list?.entries ?? [];
    const next = rows[rows.findIndex((entry) => entry.item_id === item_id) + by];
    if (!next) return false;
    location.hash = `#/entry/${next.item_id}`;
    return true;
  };
  useShortcuts({ ArrowDown: () => step(1), ArrowUp: () => step(-1), "/": () => document.getElementById("queue-words")?.focus() });
  const more = () => { shownCount.current += PAGE; setNews((count) => count + 1); };
  const ask = (/** @type {Partial<typeof asked>} */ change) => { shownCount.current = PAGE; setQuestion({ ...question, ...change }); };
  const classes = Object.values(book?.plans ?? {}).sort((one, other) => one.name.localeCompare(other.name));
  const className = (/** @type {string|null} */ class_id) => (class_id ? book?.plans[class_id]?.name ?? class_id : "no class");
  return html`<${Frame} title="Cataloguing queue" place="#/queue" wide=${true}>
    <div class=${item_id ? "desk with-entry" : "desk"}>
      <section class="list" aria-label="Queue">
        <div class="filters" role="search">
          <div class="field"><label for="queue-words">Words or tag <kbd>/</kbd></label><input id="queue-words" type="search" value=${question.words} onInput=${(/** @type {any} */ event) => ask({ words: event.target.value })} autocomplete="off" /></div>
          <div class="field"><label for="queue-state">State</label><select id="queue-state" value=${question.state} onChange=${(/** @type {any} */ event) => ask({ state: event.target.value })}>
            <option value="">Any</option>${Object.entries(ENTRY_WORDS).map(([key, words]) => html`<option key=${key} value=${key}>${words}</option>`)}</select></div>
          <div class="field"><label for="queue-class">Class</label><select id="queue-class" value=${question.class_id} onChange=${(/** @type {any} */ event) => ask({ class_id: event.target.value })}>
            <option value="">Any</option>${classes.map((plan) => html`<option key=${plan.class_id} value=${plan.class_id}>${plan.name}</option>`)}</select></div>
        </div>
        ${problem && html`<p class="bar wrong" role="alert">${problem}</p>`}
        <p class="hint" role="status">${list ? `${list.count}${list.count_capped ? " or more" : ""} in the queue${question.words || question.state || question.class_id ? " as asked" : ""}` : "Reading …"}. <span class="keys">Keys: <kbd>↑</kbd> <kbd>↓</kbd> next, <kbd>p</kbd> pick up, <kbd>d</kbd> described</span></p>
        <ul class="rows queue">
          ${list?.entries.map((entry) => html`<li key=${entry.item_id}>
            <a class="row" href=${`#/entry/${entry.item_id}`} aria-current=${entry.item_id === item_id ? "true" : undefined}>
              ${entry.thumb_sha256 ? html`<img class="thumb" src=${`/photos/${entry.thumb_sha256}`} alt="" loading="lazy" />` : html`<span class="thumb empty" aria-hidden="true"></span>`}
              <span class="what">${entry.short_description || "Not named yet"}
                <small>${entry.tags.map(shown).join(", ") || "no tag"} · ${className(entry.class_id)} · ${entry.ticket ?? ""} · ${momentWords(entry.arrived_at)}</small>
                <small>${countWords(entry.photo_count, "photo")} · ${countWords(entry.finding_count, "finding")}${entry.missing ? ` · ${countWords(entry.missing, "zone")} not looked at` : ""}${entry.caution ? ` · ${LEVEL_WORDS[entry.caution]}` : ""}${entry.disagreement_count ? ` · ≠ ${entry.disagreement_count} to settle` : ""}</small></span>
              <span class=${`entry-state ${entry.state}`}>${ENTRY_WORDS[entry.state]}</span>
            </a>
          </li>`)}
        </ul>
        ${list?.entries.length === 0 && html`<p class="none">Nothing in the queue is like that.</p>`}
        ${list?.next && html`<p><button type="button" onClick=${more}>Show more</button></p>`}
      </section>
      ${item_id && html`<section class="detail" aria-label="Entry"><${Entry} key=${item_id} item_id=${item_id} news=${news} /></section>`}
    </div>
  <//>`;
}

/** @param {typeof asked} question @param {number} wanted */
async function readPages(question, wanted) {
  /** @type {QueueEntry[]} */
  const entries = [];
  let page;
  let after = 0;
  do {
    page = await get(`/queue?${new URLSearchParams({ ...question, after: String(after), limit: String(PAGE) })}`);
    entries.push(...page.entries);
    after = page.next ?? 0;
  } while (after && entries.length < wanted);
  return { ...page, entries };
}
