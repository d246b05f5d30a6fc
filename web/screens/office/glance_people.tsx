/** What a manager looks at first, who waits for how long, and how many differences the closing has to name so far. */

import type { Found } from "../../job/closing_found.ts";
import { type DifferenceKind, KINDS } from "../../job/closing_kinds.ts";
import { minutesSince } from "../../job/day_sums.ts";
import type { VisitRecord } from "../../job/types.ts";
import { fieldValue, isPrivate, ownerWords } from "../../job/values.ts";
import { InTurn } from "../../parts/below.tsx";
import { clockWords } from "../../parts/moments.ts";
import { Sign } from "../../parts/sign.tsx";

/** What is simply not over yet while the day goes on. */
const GOES_ON: readonly DifferenceKind[] = ["visit", "not-moved", "no-receipt", "zones", "views", "class"];
const FIRST = 6;
const FIRST_WAITING = 8; // so many come in sight at first

export function ToLookAt({ found }: { found: readonly Found[] }) {
  const first = found.filter(({ kind }) => !GOES_ON.includes(kind));
  return (
    <section class="card">
      <h2>
        To look at <span class="count">{first.length}</span>
      </h2>
      {!first.length && <p class="none">Nothing that cannot wait for the closing.</p>}
      <ul class="lines-of">
        {first.slice(0, FIRST).map(({ kind, words, at }) => (
          <li key={words}>
            <Sign of={kind === "stopped" || kind === "incident" ? "stop" : "differs"} />
            <a href={at || "#/closing"}>
              <span>{words}</span>
            </a>
          </li>
        ))}
      </ul>
      {first.length > FIRST && <a href="#/closing">And {first.length - FIRST} more</a>}
    </section>
  );
}

export function SoFar({ found }: { found: readonly Found[] }) {
  const counts = KINDS.flatMap(([kind, words]) => {
    const count = found.filter((difference) => difference.kind === kind).length;
    return count ? [{ words, count }] : [];
  });
  const most = Math.max(1, ...counts.map(({ count }) => count));
  return (
    <section class="card">
      <h2>
        <a href="#/closing">Differences so far</a> <span class="count">{found.length}</span>
      </h2>
      <ul class="measured">
        {counts.map(({ words, count }) => (
          <Measured key={words} words={words} of={count} most={most} figure={String(count)} />
        ))}
      </ul>
    </section>
  );
}

export function Waiting({ visits, now }: { visits: VisitRecord[]; now: number }) {
  const first = [...visits].sort((a, b) => a.opened_at.localeCompare(b.opened_at));
  const most = Math.max(1, ...first.map(({ opened_at }) => minutesSince(opened_at, now) ?? 0));
  const oneVisit = (visit: VisitRecord) => {
    const minutes = minutesSince(visit.opened_at, now);
    const who = `${fieldValue(visit, "ticket") || "no ticket"} ${ownerWords(visit)}`;
    const words = [who.trim(), !isPrivate(visit) && fieldValue(visit, "needs")].filter(Boolean).join(", ");
    const figure = minutes === null ? `since ${clockWords(visit.opened_at)}` : `${minutes} min`;
    const href = `#/visit/${visit.record_id}`;
    return (
      <Measured
        key={visit.record_id}
        words={words}
        href={href}
        of={minutes ?? 0}
        most={most}
        figure={figure}
      />
    );
  };
  return (
    <section class="card">
      <h2>
        Waiting <span class="count">{visits.length}</span>
      </h2>
      {!visits.length && <p class="none">Nobody waits.</p>}
      <ul class="measured">
        <InTurn of={first} first={FIRST_WAITING} draw={oneVisit} />
      </ul>
    </section>
  );
}

type MeasuredOf = { words: string; of: number; most: number; figure: string; href?: string };

/** A line of words with its figure, and how it stands beside the longest as a bar. */
function Measured({ words, of, most, figure, href }: MeasuredOf) {
  return (
    <li>
      <span>{href ? <a href={href}>{words}</a> : words}</span>
      <svg class="bar-of" viewBox={`0 0 ${most} 1`} preserveAspectRatio="none" aria-hidden="true">
        <rect class="first" width={of} height="1" />
      </svg>
      <strong>{figure}</strong>
    </li>
  );
}
