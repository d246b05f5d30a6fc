/**
 * Stop: a sign of hazard or restriction was noticed. What everybody does first, which sign it is, what staff may and may
 * not do, who decides; and later what they decided. The tool never says what a thing is, nor that it is safe.
 */

import { useState } from "preact/hooks";
import type { Caution, Plan, PlanBook } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { Frame } from "../../parts/frame.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { Raise } from "./stop_raise.tsx";
import { Raised } from "./stop_raised.tsx";

export default function Stop({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [chosen, setChosen] = useState<Caution | null>(null);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book?.cautions)
    return (
      <Frame title="Stop" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  if (chosen) return <Raise item={item} book={book} caution={chosen} close={() => setChosen(null)} />;
  const raised = listed(item, "cautions/");
  const to_item = (
    <a class="button main" href={back}>
      Back to the item
    </a>
  );
  return (
    <Frame title="Stop" back={back} item={item} stoppedToo={true} action={to_item}>
      {raised.length === 0 && <WhatEverybodyDoes book={book} />}
      {raised.map(({ id, value }) => (
        <Raised key={id} id={id} value={value} item={item} book={book} />
      ))}
      <section>
        <h2>{raised.length ? "Another sign" : "What was noticed?"}</h2>
        <Signs book={book} plan={plan} choose={setChosen} />
      </section>
      <p class="hint">
        {book.cautions.country}. {book.cautions.notice}
      </p>
    </Frame>
  );
}

function WhatEverybodyDoes({ book }: { book: PlanBook }) {
  return (
    <ol class="steps stop-card">
      {book.cautions.card.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ol>
  );
}

type SignsOf = { book: PlanBook; plan: Plan | null; choose: (caution: Caution) => void };

function Signs({ book, plan, choose }: SignsOf) {
  const [words, setWords] = useState("");
  const offered = offeredSigns(book, plan, words);
  return (
    <>
      <div class="field">
        <label for="sign-words">Search the signs</label>
        <input
          id="sign-words"
          type="search"
          value={words}
          onInput={(event) => setWords(event.currentTarget.value)}
          autocomplete="off"
          placeholder="blade, mould, battery, old film …"
        />
      </div>
      <ul class="rows">
        {offered.map((caution) => (
          <li key={caution.hazard}>
            <button type="button" class="row" onClick={() => choose(caution)}>
              <span class="what">
                <span class={`level ${caution.level}`}>{LEVEL_WORDS[caution.level]}</span>
                {caution.sign}
                <small>{caution.subject}</small>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {!offered.length && (
        <p class="none">No sign is called that. Try another word; when in doubt, hands off and call.</p>
      )}
    </>
  );
}

/** The signs that things of this class can have first; with words typed, those that have them. */
function offeredSigns(book: PlanBook, plan: Plan | null, words: string): Caution[] {
  const asked = words.trim().toLowerCase();
  const all = book.cautions.cautions;
  if (asked) return all.filter(({ subject, sign }) => `${subject} ${sign}`.toLowerCase().includes(asked));
  const usual = all.filter(({ hazard }) => plan?.hazards.includes(hazard));
  return [...usual, ...all.filter((caution) => !usual.includes(caution))];
}
