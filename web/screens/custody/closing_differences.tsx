/** What the closing finds by itself: the differences of a day, kind by kind; one with no address cannot be opened here. */

import { useState } from "preact/hooks";
import type { Found } from "../../job/closing.ts";
import { KINDS } from "../../job/closing_kinds.ts";
import { InTurn } from "../../parts/below.tsx";

const LONG_LIST = 12;
/** So many come in sight at first, all of them folded. */
const FIRST_KINDS = 6;

/** What the page finds by itself, kind by kind; a long list is folded. */
export function Differences({ found }: { found: Found[] }) {
  const kinds = [...new Set(found.map(({ kind }) => kind))];
  const oneKind = (kind: string) => (
    <OneKind key={kind} kind={kind} found={found.filter((difference) => difference.kind === kind)} />
  );
  return (
    <section class="found">
      <h2>
        Differences <span class="count">{found.length}</span>
      </h2>
      <InTurn of={kinds} first={FIRST_KINDS} draw={oneKind} />
      {!found.length && <p class="none">None: everything agrees.</p>}
    </section>
  );
}

/** The lines of a folded list are drawn when it is opened: a day with hundreds of them stands the sooner. */
function OneKind({ kind, found }: { kind: string; found: Found[] }) {
  const [isOpen, setOpen] = useState(found.length <= LONG_LIST);
  return (
    <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {KINDS.find(([key]) => key === kind)?.[1]} <span class="count">{found.length}</span>
      </summary>
      {isOpen && (
        <ul class="gaps">
          {found.map(({ words, at }) => (
            <li key={words}>{at ? <a href={at}>{words}</a> : words}</li>
          ))}
        </ul>
      )}
    </details>
  );
}
