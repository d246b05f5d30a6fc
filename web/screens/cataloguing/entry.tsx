/** One entry: everything that is known of the item, who said what and when, and the desk's own words. */

import { photosOf, tagsOf, walk } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { Outline as Drawing, ItemRecord, Plan, VisitRecord } from "../../job/types.ts";
import { fieldValue, listed, ownerWords } from "../../job/values.ts";
import { ENTRY_STATES, ENTRY_WORDS, type EntryState } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { CautionBar } from "../../parts/caution_bar.tsx";
import { Condition } from "../../parts/condition.tsx";
import { gapsOf } from "../../parts/gaps.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Outline } from "../../parts/outline.tsx";
import { usePlan, usePlanBook, useRecord, useShortcuts } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";
import { Between, ClaimedTag } from "./entry_between.tsx";
import { Doubled } from "./entry_doubled.tsx";
import { Facts } from "./entry_facts.tsx";
import { type Logged, useEntry, type Who, WhoSaidWhat } from "./entry_history.tsx";
import { Owner } from "./entry_owner.tsx";
import { Pictures } from "./entry_pictures.tsx";
import { WhereNow } from "./entry_where.tsx";
import { ZoneTable } from "./entry_zones.tsx";
import { Words } from "./words.tsx";

/** `news` changes whenever the office has kept something. */
export default function Entry({ item_id, news }: { item_id: string; news: number }) {
  const { item, past, problem } = useEntry(item_id, news);
  const plan = usePlan(item);
  const visit = useRecord("visit", item?.visit_id ?? "");
  const who = usePeople(item?.day_id ?? "");
  if (!item || plan === undefined) return <p>{problem || "Reading …"}</p>;
  return (
    <article class="entry">
      <Head item={item} plan={plan} visit={visit ?? null} />
      <p>
        <button type="button" class="quiet" onClick={() => print()}>
          Print this sheet
        </button>
      </p>
      {problem && <p class="bar">Not fresh: {problem}</p>}
      <CautionBar item_id={item.record_id} />
      <Doubled item={item} />
      <Disagreements item={item} who={who} />
      <ClaimedTag item={item} />
      <Columns item={item} plan={plan} past={past} who={who} />
      <WhoSaidWhat past={past} who={who} />
    </article>
  );
}

/** The names of the people of a day, by their ids. */
function usePeople(day_id: string): Who {
  const day = useRecord("day", day_id);
  const people = new Map(day ? listed(day, "people/").map(({ id, value }) => [id, value.name]) : []);
  return (person_id) => people.get(person_id) ?? (person_id || "nobody named");
}

function Head({ item, plan, visit }: { item: ItemRecord; plan: Plan | null; visit: VisitRecord | null }) {
  const owner = ownerWords(visit);
  return (
    <header class="entry-head">
      <a class="back" href="#/queue">
        <span aria-hidden="true">×</span>
        <span class="unseen">Close this entry</span>
      </a>
      <div>
        <h2>{fieldValue(item, "short_description") || "Not named yet"}</h2>
        <p>
          {tagsOf(item).map(shown).join(", ") || "no tag"} · {plan?.name ?? "no class"} · visit{" "}
          {visit ? fieldValue(visit, "ticket") : "…"}
          {owner ? `, ${owner}` : ""}
        </p>
      </div>
      <State item={item} />
    </header>
  );
}

/** Its place in the queue, by tap or by key. */
function State({ item }: { item: ItemRecord }) {
  const item_id = item.record_id;
  const state = fieldValue(item, "entry")?.state ?? "waiting";
  const move = (next: EntryState) =>
    attempt(async () => {
      await keep("set_entry", { item_id, state: next });
      sayDone(`Moved to “${ENTRY_WORDS[next]}”.`, () => keep("set_entry", { item_id, state }).then(syncNow));
      syncNow();
    });
  useShortcuts({ p: () => move("picked-up"), d: () => move("described") });
  return (
    <div class="chips" role="group" aria-label="State">
      {ENTRY_STATES.map(([key, words]) => (
        <button type="button" key={key} class="chip" aria-pressed={state === key} onClick={() => move(key)}>
          {words}
        </button>
      ))}
    </div>
  );
}

function Disagreements({ item, who }: { item: ItemRecord; who: Who }) {
  const open = item.disagreements.filter(({ settled }) => !settled);
  if (!open.length) return null;
  return (
    <section>
      <h3>
        Disagreements <span class="count">{open.length}</span>
      </h3>
      {open.map((between) => (
        <Between key={between.disagreement_id} between={between} item={item} who={who} />
      ))}
    </section>
  );
}

type ColumnsOf = { item: ItemRecord; plan: Plan | null; past: Logged[]; who: Who };

/** What can be seen of it and what the desk writes on one side, what is known of it on the other. */
function Columns({ item, plan, past, who }: ColumnsOf) {
  const book = usePlanBook() ?? null;
  const drawings = plan ? book?.outlines?.[plan.class_id] : undefined;
  return (
    <div class="columns">
      <div>
        <section>
          <h3>
            Photos <span class="count">{photosOf(item).length}</span>
          </h3>
          <Pictures item={item} plan={plan} />
        </section>
        {book && <Words item={item} plan={plan} book={book} />}
      </div>
      <div>
        <section>
          <h3>What it is</h3>
          <Facts item={item} book={book} />
        </section>
        <Missing item={item} />
        <section>
          <h3>Its owner</h3>
          <Owner key={item.visit_id} visit_id={item.visit_id} />
        </section>
        <section>
          <h3>Where it is</h3>
          <WhereNow item={item} />
        </section>
        <section>
          <h3>Overall condition</h3>
          <Condition item={item} plan={plan} change={true} />
        </section>
        <section>
          <h3>Condition, zone by zone</h3>
          {plan && drawings && <Drawn item={item} plan={plan} drawings={drawings} />}
          <ZoneTable item={item} plan={plan} book={book} past={past} who={who} />
        </section>
      </div>
    </div>
  );
}

function Drawn({ item, plan, drawings }: { item: ItemRecord; plan: Plan; drawings: Drawing[] }) {
  return (
    <>
      <p class="hint">{plan.frame_note}</p>
      <Outline all={true} drawings={drawings} steps={walk(plan, item)} />
    </>
  );
}

function Missing({ item }: { item: ItemRecord }) {
  const gaps = gapsOf(item);
  if (!gaps.length) return null;
  return (
    <section>
      <h3>Missing</h3>
      <ul>
        {gaps.map((gap) => (
          <li key={gap.what}>{gap.words}</li>
        ))}
      </ul>
    </section>
  );
}
