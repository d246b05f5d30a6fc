/** What the closing finds by itself: the differences of a day, kind by kind. */

import { useState } from "preact/hooks";
import type { Found } from "../../job/closing.ts";
import { DIFFERENCES } from "../../job/custody.ts";

const LONG_LIST = 12;
/** What the page finds by itself, in words. */
const KINDS: Record<string, string> = {
  incident: "Incidents that nobody has settled",
  stopped: "Stopped",
  unsigned: "Taken back and not signed for",
  "no-receipt": "Left without a signed receipt",
  "tag-gone": "Tags gone and not replaced",
  zones: "Zones that nobody spoke of",
  views: "Views missing",
  "tag-on-two": "One number on two items",
  disagreement: "Two people disagree",
  class: "No class chosen",
  "passed-over": "Numbers that were passed over",
  "not-moved": "Still at the table",
  held: "Held, and not in isolation",
  "not-arrived": "Containers that have not arrived",
  visit: "Visits still open",
  count: "Counted otherwise at the table",
};

/** What the page finds by itself, kind by kind; a long list is folded. */
export function Differences({ found }: { found: Found[] }) {
  const kinds = [...new Set(found.map(({ kind }) => kind))];
  return (
    <section>
      <h2>
        Differences <span class="count">{found.length}</span>
      </h2>
      {kinds.map((kind) => (
        <OneKind key={kind} kind={kind} found={found.filter((difference) => difference.kind === kind)} />
      ))}
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
        {KINDS[kind] ?? DIFFERENCES.find(([key]) => key === kind)?.[1] ?? kind}{" "}
        <span class="count">{found.length}</span>
      </summary>
      {isOpen && (
        <ul class="gaps">
          {found.map(({ words, at }) => (
            <li key={words}>
              <a href={at}>{words}</a>
            </li>
          ))}
        </ul>
      )}
    </details>
  );
}
