/** What the office has of an item, and all that was ever said of it. */

import { useEffect, useState } from "preact/hooks";
import type { ItemRecord, Operation, Problem } from "../../job/types.ts";
import { operationWords } from "../../job/words.ts";
import { clockOffWords, momentWords } from "../../parts/moments.ts";
import { useRecord } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";

/** An operation as the office's log has it, refused ones too. */
export type Logged = {
  office_seq: number;
  operation: Operation;
  outcome: "kept" | "refused";
  problem: Problem | null;
  received_at: string;
  clock_off_s: number;
};
/** A person's name by their id. */
export type Who = (person_id: string) => string;

/**
 * An item and its history, read anew at each `news`; what this desk has just typed is newer than the office's copy.
 * `problem` says why what is shown may not be fresh.
 */
export function useEntry(item_id: string, news: number) {
  const [office, setOffice] = useState<ItemRecord | null>(null);
  const [past, setPast] = useState<Logged[]>([]);
  const [problem, setProblem] = useState("");
  const here = useRecord("item", item_id);
  useEffect(() => {
    let live = true;
    const read = async () => {
      try {
        const [record, history] = await Promise.all([
          get<ItemRecord>(`/records/${item_id}`),
          get<{ operations: Logged[] }>(`/records/${item_id}/history`),
        ]);
        if (!live) return;
        setOffice(record);
        setPast(history.operations);
        setProblem("");
      } catch (error) {
        if (live) setProblem(error instanceof Error ? error.message : String(error));
      }
    };
    read();
    return () => {
      live = false;
    };
  }, [item_id, news]);
  return { item: here ?? office, past, problem };
}

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
