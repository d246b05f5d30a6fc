/** All that was ever said of an item. */

import type { ComponentChildren } from "preact";
import { thingName } from "../../job/custody.ts";
import { tablesOf, type Who } from "../../job/day_facts.ts";
import type { Logged } from "../../job/desk.ts";
import {
  historyWords,
  inRuns,
  placeOf,
  type Run,
  type Signed,
  severityChange,
  signedOf,
} from "../../job/history_words.ts";
import type { ItemRecord } from "../../job/types.ts";
import { listsOf, rowName } from "../../local/plan_book.ts";
import { momentWords } from "../../parts/moments.ts";
import { clockOffWords } from "../../parts/office_knows.ts";
import { useRecord, useRecords } from "../../parts/use.ts";

type PastOf = { item: ItemRecord; past: readonly Logged[]; who: Who };

export function WhoSaidWhat({ item, past, who }: PastOf) {
  const runs = inRuns(past);
  const visit = useRecord("visit", item.visit_id);
  const signed = visit ? signedOf(visit, item.record_id, past) : [];
  return (
    <section class="on-screen">
      <h3>
        Who said what, when <span class="count">{runs.length}</span>
      </h3>
      <Runs item={item} runs={runs} who={who} signed={signed} isNewestFirst />
    </section>
  );
}

/** Operations one under the other, with who made them and what the office refused. */
export function History({ item, past, who }: PastOf) {
  return <Runs item={item} runs={inRuns(past)} who={who} />;
}

type RunsOf = Omit<PastOf, "past"> & {
  runs: Run[];
  /** The receipts among them. */
  signed?: Signed[];
  isNewestFirst?: boolean;
};

function Runs({ item, runs, who, signed = [], isNewestFirst = false }: RunsOf) {
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
  const rows = runs.flatMap(({ said, records }, index) => [
    ...signed
      .filter((one) => placeOf(one, runs) === index)
      .map((one) => <SignedHere key={one.number} signed={one} />),
    <li key={said.office_seq}>
      <Said said={said} who={who}>
        {historyWords(said.operation, named)}
        {severityChange(runs, index, named.lists)}
        {records > 1 && <small>typed, {records} records</small>}
      </Said>
    </li>,
  ]);
  const last = signed.filter((one) => placeOf(one, runs) === runs.length);
  rows.push(...last.map((one) => <SignedHere key={one.number} signed={one} />));
  return <ol class="history">{isNewestFirst ? rows.toReversed() : rows}</ol>;
}

/** What stands before it the owner has read; what comes after it nobody has signed by that. */
function SignedHere({ signed: { made_at, words } }: { signed: Signed }) {
  return (
    <li class="signed-here">
      <time datetime={made_at}>{momentWords(made_at)}</time> <strong>The owner</strong> {words}
    </li>
  );
}

type SaidOf = Pick<PastOf, "who"> & { said: Logged; children: ComponentChildren };

/** When and by whom, and what the office made of it. */
function Said({ said, who, children }: SaidOf) {
  const { operation, outcome, problem, received_at, clock_off_s } = said;
  return (
    <>
      <time datetime={operation.made_at}>{momentWords(operation.made_at)}</time>{" "}
      <strong>{who(operation.made_by)}</strong> {children}
      {outcome === "refused" ? <em>refused{problem ? `: ${problem.title}` : ""}</em> : null}
      {clock_off_s !== 0 && (
        <small>
          by a clock that was {clockOffWords(clock_off_s)}; the office heard it {momentWords(received_at)}
        </small>
      )}
    </>
  );
}
