/** The visits of a day by where their owners are: who waits, who is at a table, who has left. */

import { useState } from "preact/hooks";
import type { VisitRecord } from "../../job/types.ts";
import { brought, fieldValue, needsWords, ownerWords } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { InTurn } from "../../parts/below.tsx";
import type { VisitGaps } from "../../parts/gaps.ts";
import { clockWords } from "../../parts/moments.ts";

/** So many fill the first screenful of a large window: tiles of who waits, and rows of visits. */
const FIRST_WAITING = 24;

const FIRST_ROWS = 12;

/** Who waits, as tiles to be called from: the ticket, since when, what they brought. */
export function Waiting({ visits }: { visits: VisitRecord[] }) {
  return (
    <section>
      <h2>
        Waiting <span class="count">{visits.length}</span>
      </h2>
      {!visits.length && <p class="none">Nobody waits.</p>}
      <ul class="waiting">
        <InTurn
          of={visits}
          first={FIRST_WAITING}
          draw={(visit) => (
            <li key={visit.record_id} class={brought(visit) || needsWords(visit) ? "worded" : ""}>
              <WaitingTile visit={visit} />
            </li>
          )}
        />
      </ul>
    </section>
  );
}

function WaitingTile({ visit }: { visit: VisitRecord }) {
  return (
    <a class="button" href={`#/visit/${visit.record_id}`}>
      <Ticket of={visit} />
      {ownerWords(visit) && <small class="name">{ownerWords(visit)}</small>}
      <Needs of={visit} />
      <small>{[`came ${clockWords(visit.opened_at)}`, brought(visit)].filter(Boolean).join(", ")}</small>
    </a>
  );
}

/** What its owner needs stands by itself: whoever calls them reads it first. */
export function Needs({ of }: { of: VisitRecord }) {
  const needs = needsWords(of);
  return needs ? (
    <small class="needs">
      <b>Needs:</b> {needs}
    </small>
  ) : null;
}

/** As large as it can be and still stand on one line of its tile: one without a run of its own is longer. */
function Ticket({ of }: { of: VisitRecord }) {
  const ticket = fieldValue(of, "ticket") || "no ticket";
  return <strong class={ticket.length > 4 ? "figure long" : "figure"}>{ticket}</strong>;
}

type VisitsOf = { visits: VisitRecord[]; gaps: ReadonlyMap<string, VisitGaps> };

export function Visits({ title, visits, gaps, none }: VisitsOf & { title: string; none: string }) {
  return (
    <section>
      <h2>
        {title} <span class="count">{visits.length}</span>
      </h2>
      {visits.length ? <VisitRows visits={visits} gaps={gaps} /> : <p class="none">{none}</p>}
    </section>
  );
}

/** Who has left is folded away. */
export function Left({ visits, gaps }: VisitsOf) {
  const [open, setOpen] = useState(false);
  return (
    <section>
      <div class="with-key">
        <h2>
          Left <span class="count">{visits.length}</span>
        </h2>
        {visits.length > 0 && (
          <button type="button" class="quiet" aria-expanded={open} onClick={() => setOpen(!open)}>
            {open ? "Hide them" : "Show them"}
          </button>
        )}
      </div>
      {open && <VisitRows visits={visits} gaps={gaps} />}
    </section>
  );
}

function VisitRows({ visits, gaps }: VisitsOf) {
  return (
    <ul class="rows">
      <InTurn
        of={visits}
        first={FIRST_ROWS}
        draw={(visit) => (
          <li key={visit.record_id}>
            <VisitRow visit={visit} {...(gaps.get(visit.record_id) ?? { items: 0, open: 0 })} />
          </li>
        )}
      />
    </ul>
  );
}

/** One visit: `items` on its list, `open` of them with something missing. */
function VisitRow({ visit, items, open }: VisitGaps & { visit: VisitRecord }) {
  return (
    <a class="row" href={`#/visit/${visit.record_id}`}>
      <strong class="ticket">{fieldValue(visit, "ticket") || "no ticket"}</strong>
      <span class="what">
        {ownerWords(visit) || fieldValue(visit, "kinds") || ""}
        <small>
          {countWords(items, "item")}, came {clockWords(visit.opened_at)}
        </small>
        <Needs of={visit} />
      </span>
      {open > 0 && <span class="left">{open} unfinished</span>}
      {open === 0 && items > 0 && <span class="left all">all done</span>}
    </a>
  );
}
