/**
 * What the closing finds by itself: the differences of a day, kind by kind; one with no address cannot be opened here.
 */

import { useState } from "preact/hooks";
import type { Found } from "../../job/closing.ts";
import { KINDS } from "../../job/closing_kinds.ts";
import { foundSince, inClosing, type Named, type Reasons, withoutReason } from "../../job/closing_reasons.ts";
import { InTurn } from "../../parts/below.tsx";
import { DifferenceLine, NamedLine } from "./closing_reason.tsx";

/** What is known of the differences, the one in hand, and how more is said; a day that is closed takes no more. */
export type Naming = {
  reasons: Reasons;
  inHand: string;
  take: (words: string) => void;
  say: ((words: readonly string[], reason: string) => unknown) | null;
};

const LONG_LIST = 12;
/** So many come in sight at first, all of them folded. */
const FIRST_KINDS = 6;

/** Where nothing is said of them, as on the desk, which reads what was closed. */
const ONLY_READ: Naming = { reasons: {}, inHand: "", take: () => {}, say: null };

type DifferencesOf = { found: Found[]; naming?: Naming; title?: string };

/** What the page finds by itself, kind by kind; a long list is folded. */
export function Differences({ found, naming = ONLY_READ, title = "Differences" }: DifferencesOf) {
  const kinds = [...new Set(found.map(({ kind }) => kind))];
  const oneKind = (kind: string) => (
    <OneKind
      key={kind}
      kind={kind}
      found={found.filter((difference) => difference.kind === kind)}
      naming={naming}
    />
  );
  return (
    <section class="found">
      <h2>
        {title} <span class="count">{found.length}</span>
      </h2>
      <InTurn of={kinds} first={FIRST_KINDS} draw={oneKind} />
      {!found.length && <p class="none">None: everything agrees.</p>}
    </section>
  );
}

/** The lines of a folded list are drawn when it is opened: a day with hundreds of them stands the sooner. */
function OneKind({ kind, found, naming }: { kind: string; found: Found[]; naming: Naming }) {
  const left = naming.say ? withoutReason(found, naming.reasons).length : 0;
  const [isOpen, setOpen] = useState(found.length <= LONG_LIST);
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
      {isOpen && (
        <ul class="gaps">
          {found.map((difference) => (
            <li key={`${difference.at} ${difference.words}`}>
              <DifferenceLine difference={difference} kind={found} naming={naming} />
            </li>
          ))}
        </ul>
      )}
    </details>
  );
}

/** What a day was closed with, and what was known of each; then what has come since. `found` is what is so now. */
export function ClosedWith({ named, found }: { named: Named[]; found: Found[] }) {
  const now = new Map(found.map((difference) => [inClosing(difference.words), difference]));
  const since = foundSince(found, named);
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
            draw={({ words, reason }) => (
              <li key={words}>
                <NamedLine words={words} at={now.get(words)?.at}>
                  <em>
                    {reason || "not explained"}
                    {!now.has(words) && "; not found any more"}
                  </em>
                </NamedLine>
              </li>
            )}
          />
        </ul>
      </section>
      {since.length > 0 && <Differences found={since} title="Since then" />}
    </div>
  );
}
