/** The ways to add a finding: the usual terms of a zone by a tap, every other by its words. */

import { useEffect, useRef, useState } from "preact/hooks";
import { newId } from "../../job/ids.ts";
import { type Step, zoneName } from "../../job/progress.ts";
import { termsFound } from "../../job/terms_found.ts";
import type { Operation, PlanBook, Term } from "../../job/types.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { moreOnFinding } from "../../parts/with_words.ts";
import { usualActivity } from "./finding_words.ts";

const MOST_OFFERED = 16;
export const NOTHING_MEASURED = {
  extent_mm: null,
  extent_mm_across: null,
  extent_percent: null,
  extent_count: null,
  extent_words: null,
};

type NewFindingOf = {
  item_id: string;
  step: Step;
  book: PlanBook;
  /** Says of the zone that something was found, if that is not said yet. */
  found: () => Promise<readonly Operation[]>;
  /** Whether every other term may be searched, and the key that opens that. */
  isOther: boolean;
  askOther: () => void;
};

export function NewFinding({ item_id, step, book, found, isOther, askOther }: NewFindingOf) {
  const [words, setWords] = useState("");
  const terms = offered(book, step, words);
  const record = (term: Term) =>
    attempt(async () => {
      const finding_id = newId();
      const made = await keep("record_finding", {
        item_id,
        finding_id,
        zone: step.key,
        term: term.term,
        side: step.member,
        severity: term.severity,
        ...NOTHING_MEASURED,
        activity: usualActivity(term.activity),
        certainty: "certain",
        origin: null,
        note: "",
        withdrawn: false,
      });
      const all = [...(await found()), made];
      const of = { item_id, finding_id, zone: step.key, before: step.state };
      sayDone(`${firstUpper(spaced(term.term))} on ${zoneName(step.key)}.`, () =>
        moreOnFinding.value?.findingBack(all, of),
      );
      setWords("");
      if (isOther) askOther();
    });
  return (
    <section>
      <h3 class="hint">
        {step.findings.length ? "Another finding?" : "Seen a fault? One press records it."}
      </h3>
      <div class="chips">
        {terms.map((term) => (
          <button
            type="button"
            key={term.term}
            class="chip"
            title={term.definition}
            onClick={() => record(term)}
          >
            {spaced(term.term)}
          </button>
        ))}
        {!isOther && (
          <button type="button" class="chip" onClick={askOther}>
            Other
          </button>
        )}
      </div>
      {!terms.length && words && (
        <p class="none">
          No term is called that. Try another word, or record the nearest and write a note. What does not work
          is said under Tried and measured.
        </p>
      )}
      {isOther && <OtherTerms words={words} type={setWords} />}
    </section>
  );
}

function OtherTerms({ words, type }: { words: string; type: (words: string) => void }) {
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  return (
    <div class="field">
      <label for="term-words">Search all terms</label>
      <input
        id="term-words"
        type="search"
        ref={field}
        value={words}
        onInput={(event) => type(event.currentTarget.value)}
        autocomplete="off"
        placeholder="as it is said at the table"
      />
    </div>
  );
}

/** The usual findings of a zone; with words typed, every term that they find. */
function offered({ vocabulary }: PlanBook, { zone }: Step, words: string): Term[] {
  if (words.trim()) return termsFound(vocabulary.terms, zone, words).slice(0, MOST_OFFERED);
  return zone.usual.flatMap((name) => vocabulary.terms.find(({ term }) => term === name) ?? []);
}
