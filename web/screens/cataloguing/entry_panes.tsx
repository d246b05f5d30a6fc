/**
 * An entry's two panes: photos, words and whether it is described on one side; drawing, findings and what else is known
 * on the other. Each scrolls by itself where there is room, and one finding is in hand in both.
 */

import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { unsettled } from "../../job/between.ts";
import { gradeOf, stepOf } from "../../job/condition.ts";
import { reckonedWords } from "../../job/condition_words.ts";
import type { Who } from "../../job/day_facts.ts";
import { outlinesOf } from "../../job/outlines_of.ts";
import { photosOf } from "../../job/progress.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import type { Opened } from "../../local/opened.ts";
import { Below } from "../../parts/below.tsx";
import { Condition } from "../../parts/condition.tsx";
import { gapsOf } from "../../parts/gaps.ts";
import { Between, ClaimedTag } from "./entry_between.tsx";
import { Doubled } from "./entry_doubled.tsx";
import { NumberedDrawing } from "./entry_drawing.tsx";
import { Facts } from "./entry_facts.tsx";
import { Findings, numberedFindings, Told } from "./entry_findings.tsx";
import { Finish } from "./entry_finish.tsx";
import { WhoSaidWhat } from "./entry_history.tsx";
import { Owner } from "./entry_owner.tsx";
import { Pictures } from "./entry_pictures.tsx";
import { WhereNow } from "./entry_where.tsx";
import { ZoneTable } from "./entry_zones.tsx";
import { useShortcuts } from "./shortcuts.ts";
import { useTexts } from "./texts_asked.ts";
import { Words } from "./words.tsx";

type PanesOf = {
  item: ItemRecord;
  plan: Plan | null;
  book: PlanBook | null;
  next: () => unknown;
  isListed: boolean;
  opened: Opened | null;
  who: Who;
};

export function Panes({ item, plan, book, next, isListed, opened, who }: PanesOf) {
  const inHand = useInHand(item, plan);
  const { findings, chosen, choose, panes } = inHand;
  const { texts, areDue } = useTexts(item, plan, book); // they come after what they are read against
  const drawings = plan ? outlinesOf(book, plan, item) : [];
  const past = opened?.operations ?? [];
  const isBehind = Boolean(fieldValue(item, "merged")?.into_id); // said before anything else is read
  const doubled = <Doubled item={item} others={opened?.others ?? []} />;
  const numbered = { item, plan, findings, chosen, choose };
  return (
    <div class="entry-panes" ref={panes}>
      <div>
        {isBehind && doubled}
        <Disagreements item={item} who={who} />
        <ClaimedTag item={item} />
        <Pictures item={item} plan={plan} {...inHand} />
        {book && areDue && <Words item={item} plan={plan} book={book} texts={texts()} />}
        <Finish {...{ item, plan, texts, areDue, past, next, isListed }} />
        {!isBehind && doubled}
        <FarBelow key={item.record_id}>
          <details class="on-screen">
            <summary>Condition, zone by zone, with who looked when</summary>
            <ZoneTable item={item} plan={plan} book={book} past={past} who={who} />
          </details>
        </FarBelow>
      </div>
      <div>
        {plan && drawings.length > 0 && <NumberedDrawing {...numbered} plan={plan} drawings={drawings} />}
        <section>
          <h3>Overall</h3>
          <Condition item={item} plan={plan} change={true}>
            {plan && <Reckoned item={item} plan={plan} />}
          </Condition>
        </section>
        {book && <Findings {...numbered} book={book} />}
        <Told item={item} />
        <FarBelow key={item.record_id}>
          <Rest item={item} plan={plan} book={book} who={who} />
          <Below>
            <WhoSaidWhat item={item} past={past} who={who} />
          </Below>
        </FarBelow>
      </div>
    </div>
  );
}

/** What comes when words and answers to bidders have been painted: all at once are too much for one frame. */
function FarBelow({ children }: { children: ComponentChildren }) {
  return (
    <Below>
      <Below>
        <Below>{children}</Below>
      </Below>
    </Below>
  );
}

/** Where the word comes from, in plain words: the figure behind it is the house's own, and nobody's to read out. */
function Reckoned({ item, plan }: { item: ItemRecord; plan: Plan }) {
  const { index, computed } = gradeOf(plan, item);
  if (!computed) return null;
  return (
    <p class="hint" title={`The house's count: ${index.toFixed(1)}`}>
      {reckonedWords(stepOf(index).word, computed)}
    </p>
  );
}

/**
 * Which finding and which photo are in hand, by press or by key; what is taken in hand comes into sight in both panes.
 */
function useInHand(item: ItemRecord, plan: Plan | null) {
  const [chosen, setChosen] = useState(0);
  const [at, show] = useState(0);
  const [isLarge, setLarge] = useState(false);
  const panes = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!chosen) return;
    for (const sight of [".big-picture", ".finding-line[aria-pressed=true]"])
      panes.current?.querySelector(sight)?.scrollIntoView({ block: "nearest" });
  }, [chosen]);
  const findings = numberedFindings(item, plan);
  const count = photosOf(item).length;
  const turn = (by: number) => {
    if (count) show((at + by + count) % count);
  };
  const choose = (number: number) => {
    const finding = findings.find((row) => row.number === number);
    if (!finding) return;
    setChosen(number === chosen ? 0 : number);
    if (finding.photo >= 0) show(finding.photo);
  };
  useShortcuts(
    { ArrowLeft: () => turn(-1), ArrowRight: () => turn(1), z: () => setLarge(!isLarge) },
    { over: ".large-picture" },
  );
  useShortcuts(Object.fromEntries(findings.slice(0, 9).map(({ number }) => [number, () => choose(number)])));
  return { findings, chosen, choose, at, show, isLarge, setLarge, panes };
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

type RestOf = { item: ItemRecord; plan: Plan | null; book: PlanBook | null; who: Who };

/** What is known beside its condition. */
function Rest({ item, plan, book, who }: RestOf) {
  return (
    <div class="entry-rest">
      <section>
        <h3>What it is</h3>
        <Facts item={item} plan={plan} book={book} />
      </section>
      {plan && <Missing item={item} />}
      <Owner key={item.visit_id} visit_id={item.visit_id} who={who} />
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
