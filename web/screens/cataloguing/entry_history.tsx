/** All that was ever said of an item. */

import type { Logged } from "../../job/desk.ts";
import { operationWords } from "../../job/operation_words.ts";
import { clockOffWords, momentWords } from "../../parts/moments.ts";

/** A person's name by their id. */
export type Who = (person_id: string) => string;

export function WhoSaidWhat({ past, who }: { past: Logged[]; who: Who }) {
  return (
    <section class="on-screen">
      <h3>
        Who said what, when <span class="count">{past.length}</span>
      </h3>
      <History past={past} who={who} />
    </section>
  );
}

/** Operations one under the other, with who made them and what the office refused. */
export function History({ past, who }: { past: Logged[]; who: Who }) {
  return (
    <ol class="history">
      {past.map(({ office_seq, operation, outcome, problem, received_at, clock_off_s }) => (
        <li key={office_seq}>
          <time datetime={operation.made_at}>{momentWords(operation.made_at)}</time>{" "}
          <strong>{who(operation.made_by)}</strong> {operationWords(operation)}
          {outcome === "refused" ? <em>refused{problem ? `: ${problem.title}` : ""}</em> : null}
          {clock_off_s !== 0 && (
            <small>
              by a clock that was {clockOffWords(clock_off_s)}; the office heard it {momentWords(received_at)}
            </small>
          )}
        </li>
      ))}
    </ol>
  );
}
