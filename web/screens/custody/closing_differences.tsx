/**
 * What the closing finds by itself: the differences of a day, kind by kind; one with no address cannot be opened here.
 */

import { Fragment } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Changed } from "../../job/changed_since.ts";
import type { Found } from "../../job/closing_found.ts";
import { KINDS, needsOwnReason } from "../../job/closing_kinds.ts";
import {
  foundSince,
  inClosing,
  type Named,
  type Reasons,
  saidBeside,
  withoutReason,
} from "../../job/closing_reasons.ts";
import type { DayRecord } from "../../job/types.ts";
import { InTurn } from "../../parts/below.tsx";
import { NamedLine, SaidBeside } from "./closing_named_line.tsx";
import { DifferenceLine, OneForAll } from "./closing_reason.tsx";

/**
 * What is known of the differences, the one in hand by what it is known by, and how more is said; a day that is closed
 * takes no more.
 */
export type Naming = {
  day_id: string;
  reasons: Reasons;
  inHand: string;
  take: (key: string) => void;
  say: ((of: readonly Found[], reason: string) => Promise<unknown>) | null;
};

/** In hand where one word is said for all records and views. */
export const WORD_FOR_ALL = "records";

const LONG_LIST = 12;
/** So many come in sight at first, all of them folded. */
const FIRST_KINDS = 6;

/** Where nothing is said of them, as of a day that was closed. */
const ONLY_READ: Naming = { day_id: "", reasons: new Map(), inHand: "", take: () => {}, say: null };

/** `signed`: how many a person signed, of whom `found` are those that stand as they were signed. */
type DifferencesOf = { found: readonly Found[]; naming?: Naming; title?: string; signed?: number };

/** What the page finds by itself, kind by kind; a long list is folded. */
export function Differences({ found, naming = ONLY_READ, title = "Differences", signed }: DifferencesOf) {
  const kinds = [...new Set(found.map(({ kind }) => kind))];
  const records = found.filter((difference) => !needsOwnReason(difference));
  const firstOfRecords = records[0]?.kind;
  const oneKind = (kind: string) => (
    <Fragment key={kind}>
      {naming.say && kind === firstOfRecords && (
        <OneForAll
          id={WORD_FOR_ALL}
          label={`One word for all ${records.length} records and views`}
          of={records}
          naming={naming}
        />
      )}
      <OneKind kind={kind} found={found.filter((difference) => difference.kind === kind)} naming={naming} />
    </Fragment>
  );
  return (
    <section class="found">
      <h2>
        {title} <span class="count">{signed ?? found.length}</span>
      </h2>
      <InTurn of={kinds} first={FIRST_KINDS} draw={oneKind} />
      {!found.length && (
        <p class="none">{signed ? "None of it stands as it was signed." : "None: everything agrees."}</p>
      )}
    </section>
  );
}

/** The lines of a folded list are drawn when it is opened: a day with hundreds of them stands the sooner. */
function OneKind({ kind, found, naming }: { kind: string; found: Found[]; naming: Naming }) {
  const left = naming.say ? withoutReason(found, naming.reasons).length : 0;
  const [isOpen, setOpen] = useState(found.length <= LONG_LIST);
  const isInHand = naming.say !== null && found.some(({ key }) => key === naming.inHand);
  useEffect(() => {
    if (isInHand) setOpen(true);
  }, [isInHand]);
  return (
    <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {KINDS.find(([key]) => key === kind)?.[1]} <span class="count">{found.length}</span>
        {naming.say && (
          <small class="on-screen">
            {" "}
            {left ? `${found.length - left} of ${found.length} explained` : "all explained"}
          </small>
        )}
      </summary>
      {isOpen && naming.say && found.length > 1 && (
        <OneForAll
          id={`kind ${kind}`}
          label={`One reason for all ${found.length}`}
          of={found}
          naming={naming}
        />
      )}
      {isOpen && (
        <ul class="gaps">
          {found.map((difference) => (
            <li key={difference.key}>
              <DifferenceLine difference={difference} kind={found} naming={naming} />
            </li>
          ))}
        </ul>
      )}
    </details>
  );
}

type ClosedWithOf = { day: DayRecord; named: Named[]; found: Found[]; changed: readonly Changed[] };

/**
 * What a day was closed with, and what was known of each; then what has come since, and what was changed. `found` is
 * what is so now.
 */
export function ClosedWith({ day, named, found, changed }: ClosedWithOf) {
  const now = new Map(found.flatMap((difference) => namesOf(difference).map((name) => [name, difference])));
  const since = foundSince(found, named);
  const beside = saidBeside(day, named);
  return (
    <div class="found">
      <section>
        <h2>
          Closed with <span class="count">{named.length}</span>
        </h2>
        {!named.length && <p class="none">Nothing: everything agreed.</p>}
        <ul class="gaps">
          <InTurn
            of={named}
            first={LONG_LIST}
            draw={({ key, words, reason, said_by }) => (
              <li key={key || words}>
                <NamedLine words={words} at={now.get(key || words)?.at}>
                  <em>
                    {reason || "not explained"}
                    {said_by && ` (${said_by})`}
                    {!now.has(key || words) && "; not found any more"}
                  </em>
                  <SaidBeside said={beside.get(key)} />
                </NamedLine>
              </li>
            )}
          />
        </ul>
      </section>
      {since.length > 0 && <Differences found={since} title="Since then" />}
      {changed.length > 0 && (
        <section>
          <h2>
            Changed since then <span class="count">{changed.length}</span>
          </h2>
          <ul class="gaps">
            <InTurn of={changed} first={LONG_LIST} draw={drawChanged} />
          </ul>
        </section>
      )}
    </div>
  );
}

function drawChanged({ key, words, at }: Changed) {
  return (
    <li key={key}>
      <NamedLine words={words} at={at}>
        {null}
      </NamedLine>
    </li>
  );
}

/** By what a closing may name a difference: those of before by its words. */
function namesOf({ key, former, words }: Found) {
  return [key, ...(former ? [former] : []), inClosing(words)];
}
