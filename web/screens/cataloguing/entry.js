/** One entry: everything that is known of the item, who said what and when, and the desk's own words. */
import { useEffect, useState } from "preact/hooks";
import { piecesOf, placeWords, thingName, whereIs } from "../../job/custody.js";
import { lotDescription, lotHeading, sizeInWords } from "../../job/lot.js";
import { asText, conditionParagraph } from "../../job/paragraph.js";
import { listed, valueOf } from "../../job/record.js";
import { missing, photosOf, tagsOf, walk, zoneName } from "../../job/progress.js";
import { shown } from "../../job/tag.js";
import { DATE_CERTAINTIES, ENTRY_WORDS, firstUpper, MAKER_CERTAINTIES, operationWords } from "../../job/words.js";
import { keep } from "../../local/outbox.js";
import { currentRecord } from "../../local/records.js";
import { CautionBar } from "../../parts/caution_bar.js";
import { Condition } from "../../parts/condition.js";
import { momentWords, Typed } from "../../parts/controls.js";
import { spanWords } from "../../parts/date_field.js";
import { html } from "../../parts/html.js";
import { InWords } from "../../parts/in_words.js";
import { attempt, sayDone } from "../../parts/notices.js";
import { Outline } from "../../parts/outline.js";
import { Thumb } from "../../parts/thumb.js";
import { useKept, usePlan, usePlanBook, useRecord, useRecords, useShortcuts } from "../../parts/use.js";
import { get } from "../../sync/office.js";
import { syncNow } from "../../sync/sync.js";
import { RESULTS } from "../examination/works.js";
import { Between, ClaimedTag } from "./entry_between.js";
import { Doubled } from "./entry_doubled.js";
import { ZoneTable } from "./entry_zones.js";

/** @import { Where } from "../../job/custody.js" */
/** @import { Plan, PlanBook, RecordCopy } from "../../job/types.js" */

/** @param {{item_id: string, news: number}} given `news` changes whenever the office has kept something */
export default function Entry({ item_id, news }) {
  const [office, setOffice] = useState(/** @type {RecordCopy|null} */ (null));
  const [past, setPast] = useState(/** @type {any[]} */ ([]));
  const [problem, setProblem] = useState("");
  const here = useKept(() => currentRecord(item_id), [item_id]);
  useEffect(() => {
    let live = true;
    Promise.all([get(`/records/${item_id}`), get(`/records/${item_id}/history`)]).then(
      ([record, history]) => { if (live) { setOffice(record); setPast(history.operations); setProblem(""); } },
      (error) => { if (live) setProblem(error.message); },
    );
    return () => { live = false; };
  }, [item_id, news]);
  // What this desk has just typed is newer than the office's copy; without it the office's copy stands.
  const item = here ?? office;
  const plan = usePlan(item);
  const book = usePlanBook();
  const visit = useRecord(item?.visit_id ?? "");
  const day = useRecord(item?.day_id ?? "");
  const state = valueOf(item, "entry")?.state ?? "waiting";
  const move = (/** @type {string} */ to) => attempt(async () => {
    const before = state;
    await keep("set_entry", { item_id, state: to });
    sayDone(`Moved to “${ENTRY_WORDS[to]}”.`, () => keep("set_entry", { item_id, state: before }).then(syncNow));
    syncNow();
  });
  useShortcuts({ p: () => move("picked-up"), d: () => move("described") });
  if (!item || plan === undefined) return html`<p>${problem || "Reading …"}</p>`;
  const people = new Map(day ? listed(day, "people/").map(({ id, value }) => [id, value.name]) : []);
  const who = (/** @type {string} */ person_id) => people.get(person_id) ?? (person_id || "nobody named");
  const set = (/** @type {string} */ field) => (/** @type {string} */ value) => keep("set_item", { item_id, field, value });
  const open = item.disagreements.filter((one) => !one.settled);
  const gaps = missing(plan ?? null, item);
  const known = facts(item, book ?? null);
  return html`<article class="entry">
    <header class="entry-head">
      <a class="back" href="#/queue" aria-label="Close this entry"><span aria-hidden="true">×</span></a>
      <div><h2>${valueOf(item, "short_description") || "Not named yet"}</h2>
        <p>${tagsOf(item).map(shown).join(", ") || "no tag"} · ${plan?.name ?? "no class"} · visit ${visit ? valueOf(visit, "ticket") : "…"}${valueOf(visit, "consignor/name") ? `, ${valueOf(visit, "consignor/name")}` : ""}</p></div>
      <div class="chips" role="group" aria-label="State">
        ${Object.entries(ENTRY_WORDS).map(([key, words]) => html`<button type="button" key=${key} class="chip" aria-pressed=${state === key} onClick=${() => move(key)}>${words}</button>`)}
      </div>
    </header>
    <p><button type="button" class="quiet" onClick=${() => print()}>Print this sheet</button></p>
    ${problem && html`<p class="bar">Not fresh: ${problem}</p>`}
    <${CautionBar} item=${item} />
    <${Doubled} item=${item} />
    ${open.length > 0 && html`<section><h3>Disagreements <span class="count">${open.length}</span></h3>${open.map((one) => html`<${Between} key=${one.disagreement_id} one=${one} item=${item} who=${who} />`)}</section>`}
    <${ClaimedTag} item=${item} />
    <div class="columns">
      <div>
        <section><h3>Photos <span class="count">${photosOf(item).length}</span></h3><${Pictures} item=${item} plan=${plan ?? null} /></section>
        <section class=${["heading", "lot_description", "condition_words"].some((field) => valueOf(item, field)) ? "" : "on-screen"}><h3>The desk's words</h3>
          ${["heading", "lot_description", "condition_words"].map((field) => html`<p key=${field} class="print-only">${valueOf(item, field)}</p>`)}
          <${Typed} label="Heading" value=${valueOf(item, "heading")} save=${set("heading")} />
          <${Typed} label="Lot description" value=${valueOf(item, "lot_description")} save=${set("lot_description")} lines=${6} />
          <${Typed} label="Condition" value=${valueOf(item, "condition_words")} save=${set("condition_words")} lines=${6} />
          ${book && html`<${TakeWords} item=${item} plan=${plan ?? null} book=${book} />`}
        </section>
        ${book && html`<section><h3>The record in words</h3><p class="hint">Made from the record alone: it leaves out, joins and orders, and adds nothing.</p><${InWords} plan=${plan ?? null} item=${item} book=${book} heading="h4" /></section>`}
      </div>
      <div>
        <section><h3>What it is</h3>${known.length ? null : html`<p class="none">Nothing was said beyond its short description.</p>`}<dl class="facts">
          ${known.map(([name, value]) => html`<div key=${name}><dt>${name}</dt><dd>${value}</dd></div>`)}
        </dl></section>
        ${gaps.length > 0 && html`<section><h3>Missing</h3><ul>${gaps.map((gap) => html`<li key=${gap.what}>${gap.words}</li>`)}</ul></section>`}
        <section><h3>Where it is</h3><${WhereNow} item=${item} /></section>
        <section><h3>Overall condition</h3><${Condition} item=${item} plan=${plan ?? null} change=${true} /></section>
        <section><h3>Condition, zone by zone</h3>
          ${plan && book?.outlines?.[plan.class_id] && html`<p class="hint">${plan.frame_note}</p><${Outline} all=${true} drawings=${book.outlines[plan.class_id]} steps=${walk(plan, item)} />`}
          <${ZoneTable} item=${item} plan=${plan ?? null} book=${book ?? null} past=${past} who=${who} /></section>
      </div>
    </div>
    <section class="on-screen"><h3>Who said what, when <span class="count">${past.length}</span></h3>
      <ol class="history">${past.map(({ office_seq, operation, outcome, problem: why }) => html`<li key=${office_seq}>
        <time datetime=${operation.made_at}>${momentWords(operation.made_at)}</time> <strong>${who(operation.made_by)}</strong> ${operationWords(operation)}${outcome === "refused" ? html` <em>refused: ${why?.title}</em>` : null}</li>`)}</ol>
    </section>
  </article>`;
}

/** @param {PlanBook|null} book @param {string[]|undefined} chosen */
function evidenceWords(book, chosen) {
  return chosen?.map((one) => book?.words.evidences.find(({ evidence }) => evidence === one)?.words ?? one).join(", ");
}

/** What is known of an item, in the order of reading. @param {RecordCopy} item @param {PlanBook|null} book @returns {[string, string][]} */
function facts(item, book) {
  const date = valueOf(item, "dates");
  const certainty = (/** @type {[string, string][]} */ words, /** @type {string} */ field) => words.find(([key]) => key === valueOf(item, field))?.[1];
  const sure = (/** @type {string|undefined} */ value, /** @type {string|undefined} */ how) => [value, how && `(${how.toLowerCase()})`].filter(Boolean).join(" ");
  /** @type {[string, any][]} */
  const all = [
    ["Seen", valueOf(item, "seen_words")],
    ["Concluded", valueOf(item, "concluded_words")],
    ["Told by the owner, not checked", valueOf(item, "told_words")],
    ["Materials", valueOf(item, "materials")],
    ["Colour now", valueOf(item, "colour_now")],
    ["Colour where light did not reach", valueOf(item, "colour_was")],
    ["Maker", sure(valueOf(item, "maker"), certainty(MAKER_CERTAINTIES, "maker_certainty"))],
    ["What speaks for the maker", evidenceWords(book, valueOf(item, "maker_evidence"))],
    ["Date", sure(date?.words, certainty(DATE_CERTAINTIES, "dates_certainty"))],
    ["Years", date?.words && spanWords(date)],
    ["What speaks for the date", evidenceWords(book, valueOf(item, "dates_evidence"))],
    ...listed(item, "marks/").filter(({ value }) => !value.withdrawn).map(({ value }) => /** @type {[string, string]} */ ([
      `Mark, ${value.place || "place not noted"}`, [value.text, [value.technique, value.colour, value.completeness].filter(Boolean).join(", "), value.reading && `Read as: ${value.reading}`].filter(Boolean).join("\n")])),
    ["Looked for marks at", valueOf(item, "marks_looked")],
    ...listed(item, "measures/").filter(({ value }) => value.value).map(({ id, value }) => /** @type {[string, string]} */ ([firstUpper(id.replaceAll("-", " ")), `${sizeInWords(value)}${/[a-z"']/i.test(value.typed) ? `, read off as ${value.typed}` : ""}`])),
    ...listed(item, "tests/").map(({ id, value }) => /** @type {[string, string]} */ ([`Tried: ${id.replaceAll("-", " ")}`, [RESULTS.find(([key]) => key === value.result)?.[1], value.why.replaceAll("-", " "), value.note].filter(Boolean).join(", ")])),
    ["Stated", listed(item, "statements/").filter(({ value }) => !value.withdrawn).map(({ value }) => value.words).join("; ")],
    ["Packaging", valueOf(item, "packaging")],
  ];
  return all.filter(([, value]) => value);
}

/** Its place by the ledger, piece by piece where they are apart. @param {{item: RecordCopy}} given */
function WhereNow({ item }) {
  const containers = useRecords("container", item.day_id) ?? [];
  const byId = new Map(containers.map((one) => [one.record_id, one]));
  const words = (/** @type {Where} */ { place, at, inside }) => [placeWords(place) + (at ? `, ${at}` : ""), ...inside.map((one) => `inside ${thingName(one)}`)].join(", ");
  const pieces = piecesOf(item, byId);
  const apart = new Set(pieces.map(({ where }) => words(where))).size > 1;
  const check = valueOf(item, "check-in");
  return html`<p>${apart ? "Its pieces are apart; it is not complete in one place." : `${words(pieces[0]?.where ?? whereIs(item, byId))}.`}
      ${check ? html` <small>Compared with its photographs: ${check.state.replace("-", " ")}${check.words ? `, ${check.words}` : ""}</small>` : null}</p>
    ${apart && html`<ul>${pieces.map((one) => html`<li key=${one.tag}>${shown(one.tag)}, piece ${one.piece} of ${one.of}: ${words(one.where)}</li>`)}</ul>`}`;
}

/** Put the record's words where the desk has written none; what it has written stays. @param {{item: RecordCopy, plan: Plan|null, book: PlanBook}} given */
function TakeWords({ item, plan, book }) {
  /** @type {[string, string|undefined][]} */
  const offered = [
    ["heading", lotHeading(item)?.words],
    ["lot_description", asText(lotDescription(plan, book, item))],
    ["condition_words", plan ? asText(conditionParagraph(plan, book, item)) : ""],
  ];
  const free = offered.filter(([field, words]) => words && !valueOf(item, field));
  if (!free.length) return null;
  const take = () => attempt(async () => {
    for (const [field, value] of free) await keep("set_item", { item_id: item.record_id, field, value });
    sayDone("The record's words are there to work on.");
    syncNow();
  });
  return html`<button type="button" onClick=${take}>Begin with the record's words</button>`;
}

/** @param {{item: RecordCopy, plan: Plan|null}} given */
function Pictures({ item, plan }) {
  const photos = photosOf(item);
  if (!photos.length) return html`<p class="none">No photo came with it.</p>`;
  return html`<ul class="desk-pictures">
    ${photos.map(({ id, value }) => {
      const finding = value.finding_id ? valueOf(item, `findings/${value.finding_id}`) : null;
      const words = finding ? `${finding.term.replaceAll("-", " ")} on ${zoneName(finding.zone)}` : value.zone ? zoneName(value.zone) : plan?.views.find((view) => view.view === value.view)?.words ?? "no named view";
      return html`<li key=${id}><figure>
        <a href=${`/photos/${value.sha256}/large`} target="_blank" rel="noreferrer"><${Thumb} sha256=${value.thumb_sha256} words=${words} /></a>
        <figcaption>${words}</figcaption>
      </figure></li>`;
    })}
  </ul>`;
}
