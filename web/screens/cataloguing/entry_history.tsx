/** All that was ever said of an item. */

import { thingName } from "../../job/custody.ts";
import { tablesOf, type Who } from "../../job/day_facts.ts";
import type { Logged } from "../../job/desk.ts";
import { historyWords, inRuns, type Run } from "../../job/history_words.ts";
import type { ItemRecord } from "../../job/types.ts";
import { listsOf, rowName } from "../../local/plan_book.ts";
import { momentWords } from "../../parts/moments.ts";
import { clockOffWords } from "../../parts/office_knows.ts";
import { useRecord, useRecords } from "../../parts/use.ts";

type PastOf = { item: ItemRecord; past: readonly Logged[]; who: Who };

export function WhoSaidWhat({ item, past, who }: PastOf) {
  const runs = inRuns(past);
  return (
    <section class="on-screen">
      <h3>
        Who said what, when <span class="count">{runs.length}</span>
      </h3>
      <Runs item={item} runs={runs.toReversed()} who={who} />
    </section>
  );
}

/** Operations one under the other, with who made them and what the office refused. */
export function History({ item, past, who }: PastOf) {
  return <Runs item={item} runs={inRuns(past)} who={who} />;
}

function Runs({ item, runs, who }: Omit<PastOf, "past"> & { runs: Run[] }) {
  const day = useRecord("day", item.day_id);
  const containers = useRecords("container", item.day_id) ?? [];
  const named = {
    containerName: (id: string) => {
      const container = containers.find(({ record_id }) => record_id === id);
      return container ? thingName(container) : "";
    },
    lists: listsOf(item),
    tableName: (id: string) => (day && tablesOf(day).find(({ table_id }) => table_id === id)?.name) ?? "",
    hazardName: rowName,
    disagreements: item.disagreements,
  };
  return (
    <ol class="history">
      {runs.map(
        ({ said: { office_seq, operation, outcome, problem, received_at, clock_off_s }, records }) => (
          <li key={office_seq}>
            <time datetime={operation.made_at}>{momentWords(operation.made_at)}</time>{" "}
            <strong>{who(operation.made_by)}</strong> {historyWords(operation, named)}
            {records > 1 && <small>typed, {records} records</small>}
            {outcome === "refused" ? <em>refused{problem ? `: ${problem.title}` : ""}</em> : null}
            {clock_off_s !== 0 && (
              <small>
                by a clock that was {clockOffWords(clock_off_s)}; the office heard it{" "}
                {momentWords(received_at)}
              </small>
            )}
          </li>
        ),
      )}
    </ol>
  );
}
