/** The sections of a day's closing as the office tells it: as many lines of each as were read, and a key for more. */

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Found } from "../../job/closing_found.ts";
import { KINDS } from "../../job/closing_kinds.ts";
import {
  type ClosingSection,
  type KindSection,
  type NamedThen,
  receiptsWords,
  type VisitSigned,
} from "../../job/day_closing.ts";
import { InTurn } from "../../parts/below.tsx";
import { attempt } from "../../parts/notices.tsx";
import { Sign } from "../../parts/sign.tsx";
import { NamedLine, SaidBeside } from "./closing_named_line.tsx";

/** A longer section is folded; the office tells so many lines with its count. */
const LONG_LIST = 12;

/** How more lines of a section are read. `isWhole`: it is printed, with every line. */
export type Paging = { isWhole: boolean; more: (section: ClosingSection) => Promise<unknown> };

/** The differences of one kind; of many the lines are drawn when they are opened. */
export function Folded({ of, paging }: { of: KindSection; paging: Paging }) {
  const [isOpen, setOpen] = useState(of.count <= LONG_LIST);
  return (
    <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        {KINDS.find(([kind]) => kind === of.section)?.[1]} <span class="count">{of.count}</span>
      </summary>
      {isOpen && <Lines of={of} paging={paging} draw={drawFound} />}
    </details>
  );
}

type LinesOf<Line> = {
  of: (Omit<ClosingSection, "lines"> & { lines: Line[] }) | undefined;
  paging: Paging;
  draw: (line: Line) => ComponentChildren;
};

/** As many lines as were read, and a key for more of them. */
export function Lines<Line>({ of, paging, draw }: LinesOf<Line>) {
  if (!of) return null;
  const left = of.count - of.lines.length;
  return (
    <>
      <ul class="gaps">
        {paging.isWhole ? of.lines.map(draw) : <InTurn of={of.lines} first={LONG_LIST} draw={draw} />}
      </ul>
      {left > 0 && (
        <button
          type="button"
          class="quiet on-screen"
          onClick={() => attempt(() => paging.more(of as ClosingSection))}
        >
          Show more ({left} left)
        </button>
      )}
    </>
  );
}

export function drawFound({ key, words, at }: Pick<Found, "key" | "words" | "at">) {
  return (
    <li key={key}>
      <NamedLine words={words} at={atTheDesk(at)}>
        {null}
      </NamedLine>
    </li>
  );
}

export function drawNamed({ key, words, reason, said_by, at, is_found, beside }: NamedThen) {
  return (
    <li key={key || words}>
      <NamedLine words={words} at={atTheDesk(at)}>
        <em>
          {reason || "not explained"}
          {said_by && ` (${said_by})`}
          {!is_found && "; not found any more"}
        </em>
        <SaidBeside said={beside} />
      </NamedLine>
    </li>
  );
}

export function drawSigned(visit: VisitSigned) {
  const isOwed = visit.here_unsigned + visit.back_unsigned > 0; // somebody has yet to sign
  return (
    <li key={visit.visit_id}>
      <Sign of={isOwed ? "differs" : "agrees"} />
      <span class="signed-words">
        <strong>{visit.ticket}</strong>: {receiptsWords(visit)}
      </span>
    </li>
  );
}

/** Where a desk looks: at a thing's entry; what it keeps no record of it cannot open. */
function atTheDesk(at: string) {
  const item_id = /^#\/item\/(.+)$/.exec(at)?.[1];
  return item_id ? `#/entry/${item_id}` : "";
}
