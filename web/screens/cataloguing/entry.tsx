/** One entry: its pictures, what was found, the desk's words, and who said what and when. */

import { useEffect, useState } from "preact/hooks";
import { unsettled } from "../../job/between.ts";
import { isBackWithOwner } from "../../job/custody.ts";
import { namesOn, tablesOf, type Who } from "../../job/day_facts.ts";
import { deskTexts } from "../../job/desk_words.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import type { ItemRecord, Plan, PlanBook, VisitRecord } from "../../job/types.ts";
import { fieldValue, ownerWords } from "../../job/values.ts";
import type { Opened } from "../../local/opened.ts";
import { Below } from "../../parts/below.tsx";
import { CautionBar } from "../../parts/caution_bar.tsx";
import { Condition } from "../../parts/condition.tsx";
import { gapsOf } from "../../parts/gaps.ts";
import { Tag } from "../../parts/tag.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { Between, ClaimedTag } from "./entry_between.tsx";
import { Doubled } from "./entry_doubled.tsx";
import { NumberedDrawing } from "./entry_drawing.tsx";
import { Facts } from "./entry_facts.tsx";
import { Findings, numberedFindings, Told } from "./entry_findings.tsx";
import { Finish, moveEntry } from "./entry_finish.tsx";
import { WhoSaidWhat } from "./entry_history.tsx";
import { Owner } from "./entry_owner.tsx";
import { Pictures } from "./entry_pictures.tsx";
import { WhereNow } from "./entry_where.tsx";
import { ZoneTable } from "./entry_zones.tsx";
import { useShortcuts } from "./shortcuts.ts";
import { Words } from "./words.tsx";

/** `opened` is what the office said of it last; null until it has, or until what was kept of it is read. */
export default function Entry({
  item_id,
  opened,
  next,
}: {
  item_id: string;
  opened: Opened | null;
  next: () => unknown;
}) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook() ?? null;
  const visit = useRecord("visit", item?.visit_id ?? "");
  const who = useNames(item?.day_id ?? "", opened);
  if (!item || plan === undefined) return <p>Reading …</p>;
  const past = opened?.operations ?? [];
  return (
    <article class="entry">
      <Head item={item} plan={plan} visit={visit ?? null} />
      <CautionBar item_id={item.record_id} />
      <Doubled item={item} others={opened?.others ?? []} />
      <Disagreements item={item} who={who} />
      <ClaimedTag item={item} />
      {book && <Panes item={item} plan={plan} book={book} next={next} />}
      <Below key={item.record_id}>
        <Rest item={item} plan={plan} book={book} who={who} />
        <details class="on-screen">
          <summary>Condition, zone by zone, with who looked when</summary>
          <ZoneTable item={item} plan={plan} book={book} past={past} who={who} />
        </details>
        <WhoSaidWhat item={item} past={past} who={who} />
      </Below>
    </article>
  );
}

/** Names by id: as the office says with the entry, else as the day's list has them here. */
function useNames(day_id: string, opened: Opened | null): Who {
  const day = useRecord("day", day_id);
  const listedName = namesOn(day);
  return (person_id) => opened?.people[person_id] ?? listedName(person_id);
}

function Head({ item, plan, visit }: { item: ItemRecord; plan: Plan | null; visit: VisitRecord | null }) {
  const owner = ownerWords(visit);
  const table = useTableName(item.day_id, visit);
  const tags = tagsOf(item);
  return (
    <header class="entry-head">
      <div>
        <h2>{fieldValue(item, "short_description") || "Not named yet"}</h2>
        <p>
          {tags.length ? (
            tags.map((tag, index) => <Tag key={tag} tag={tag} inHand={!index} />)
          ) : (
            <Tag tag={undefined} />
          )}{" "}
          {tags.length > 1 && `${tags.length} pieces, `}
          {plan?.name.toLowerCase() ?? "no class"}, {visit ? fieldValue(visit, "ticket") : "…"}
          {owner ? ` ${owner}` : ""}
          {table ? `, ${table}` : ""}
        </p>
      </div>
      <HeadKeys item={item} />
    </header>
  );
}

function useTableName(day_id: string, visit: VisitRecord | null) {
  const day = useRecord("day", day_id);
  const table_id = visit && fieldValue(visit, "table_id");
  return (
    (day &&
      tablesOf(day)
        .find((table) => table.table_id === table_id)
        ?.name.toLowerCase()) ??
    ""
  );
}

/** Its place in the queue, by press or by key; described is asked for below the words. */
function HeadKeys({ item }: { item: ItemRecord }) {
  const state = fieldValue(item, "entry")?.state ?? "waiting";
  const isWaiting = state === "waiting";
  const isBack = isBackWithOwner(item); // there is nothing to pick up, but what was taken in hand can be put back
  const turn = () => moveEntry(item, isWaiting ? "picked-up" : "waiting");
  useShortcuts({ p: () => !(isBack && isWaiting) && turn() });
  return (
    <div class="head-keys on-screen">
      <button type="button" onClick={() => print()}>
        Print
      </button>
      {isBack && isWaiting ? (
        <strong>Back with its owner</strong>
      ) : (
        <button type="button" onClick={turn}>
          {isWaiting ? "Pick up" : "Put back"} <kbd>P</kbd>
        </button>
      )}
      <a class="button" href="#/queue">
        Close
      </a>
    </div>
  );
}

function Disagreements({ item, who }: { item: ItemRecord; who: Who }) {
  const open = unsettled(item);
  if (!open.length) return null;
  return (
    <section>
      <h3>
        Two values <span class="count">{open.length}</span>
      </h3>
      {open.map((between) => (
        <Between key={between.disagreement_id} between={between} item={item} who={who} />
      ))}
    </section>
  );
}

type PanesOf = { item: ItemRecord; plan: Plan | null; book: PlanBook; next: () => unknown };

/** Photo and words on one side, drawing and findings on the other; one finding is in hand on all of them. */
function Panes({ item, plan, book, next }: PanesOf) {
  const [chosen, setChosen] = useState(0);
  const [at, setAt] = useState(0);
  const [isLarge, setLarge] = useState(false);
  useEffect(() => {
    setChosen(0);
    setAt(0);
  }, [item.record_id]);
  const findings = numberedFindings(item, plan);
  const count = photosOf(item).length;
  const turn = (by: number) => {
    if (count) setAt((at + by + count) % count);
  };
  const choose = (number: number) => {
    const finding = findings.find((one) => one.number === number);
    if (!finding) return;
    setChosen(number === chosen ? 0 : number);
    if (finding.photo >= 0) setAt(finding.photo);
  };
  useShortcuts({
    ArrowLeft: () => turn(-1),
    ArrowRight: () => turn(1),
    z: () => setLarge(!isLarge),
    ...Object.fromEntries(findings.slice(0, 9).map(({ number }) => [number, () => choose(number)])),
  });
  const texts = deskTexts(plan, book, item); // to be read and to be judged: making them is the most of a drawing
  const drawings = plan ? book.outlines?.[plan.class_id] : undefined;
  const numbered = { item, plan, findings, chosen, choose };
  return (
    <div class="entry-panes">
      <div>
        <Pictures
          item={item}
          plan={plan}
          findings={findings}
          at={at}
          show={setAt}
          isLarge={isLarge}
          setLarge={setLarge}
        />
        <Words item={item} plan={plan} book={book} texts={texts} />
        <Finish item={item} plan={plan} texts={texts} next={next} />
      </div>
      <div>
        {plan && drawings && <NumberedDrawing {...numbered} plan={plan} drawings={drawings} />}
        <section>
          <h3>Overall</h3>
          <Condition item={item} plan={plan} change={true} />
        </section>
        <Findings {...numbered} book={book} />
        <Told item={item} />
      </div>
    </div>
  );
}

type RestOf = { item: ItemRecord; plan: Plan | null; book: PlanBook | null; who: Who };

/** What is known beside its condition. */
function Rest({ item, plan, book, who }: RestOf) {
  return (
    <div class="entry-rest">
      <section>
        <h3>What it is</h3>
        <Facts item={item} book={book} />
      </section>
      {plan && <Missing item={item} />}
      <section>
        <h3>Its owner</h3>
        <Owner key={item.visit_id} visit_id={item.visit_id} who={who} />
      </section>
      <section>
        <h3>Where it is</h3>
        <WhereNow item={item} />
      </section>
    </div>
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
