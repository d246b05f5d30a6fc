/** An item's zones at the desk: state, what was said, what was looked for and not seen, and the history of each. */

import type { Who } from "../../job/day_facts.ts";
import type { Logged } from "../../job/desk.ts";
import { severityWords } from "../../job/graded.ts";
import { originWords } from "../../job/in_lists.ts";
import { denialWords, lightWords, reasonWords } from "../../job/list_words.ts";
import { marksByZone } from "../../job/marks_on.ts";
import { type Step, walk, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Operation, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { findingInWords } from "../../job/wording.ts";
import { firstUpper } from "../../job/words.ts";
import { CopiedMarks } from "../../parts/copied_marks.tsx";
import { StateMark } from "../../parts/zone_marks.tsx";
import { CorrectDenial, CorrectZone } from "./entry_correct_looked.tsx";
import { History } from "./entry_history.tsx";

type ZonesOf = { item: ItemRecord; plan: Plan | null; book: PlanBook | null; past: Logged[]; who: Who };

export function ZoneTable({ item, plan, book, past, who }: ZonesOf) {
  if (!plan || !book) return <p class="none">No class was chosen, so there is no list of zones.</p>;
  const marks = marksByZone(plan, item);
  return (
    <table class="zone-table">
      <thead>
        <tr>
          <th scope="col">Zone</th>
          <th scope="col">State</th>
          <th scope="col">What was said</th>
        </tr>
      </thead>
      <tbody>
        {walk(plan, item).map((step) => (
          <tr key={step.key} class={step.state?.state ?? "untouched"}>
            <th scope="row">{zoneName(step.key)}</th>
            <td>
              <StateMark said={step.state} /> <CorrectZone item={item} book={book} step={step} />
            </td>
            <td>
              <CopiedMarks marks={marks.get(step.key) ?? []} />
              <Findings item={item} step={step} plan={plan} book={book} />
              <Origin item={item} book={book} zone={step.key} />
              <Denials item={item} step={step} plan={plan} book={book} />
              {step.state?.reason ? firstUpper(reasonWords({ plan, book }, step.state.reason, step.key)) : ""}
              {step.state?.light ? <small>{lightWords({ plan, book }, step.state.light)}</small> : ""}
              {step.state?.count ? <small> {step.state.count} counted</small> : ""}
              <ZoneHistory
                item={item}
                past={past.filter(({ operation }) => isOf(operation, step.key))}
                who={who}
              />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

type FindingsOf = { item: ItemRecord; step: Step; plan: Plan; book: PlanBook };

function Findings({ item, step, plan, book }: FindingsOf) {
  return step.findings.map(({ id, value }) => (
    <p key={id}>
      {firstUpper(findingInWords({ plan, book, record: item }, value))}.{" "}
      <small>{firstUpper(severityWords({ book }, value.severity))}</small>
    </p>
  ));
}

function Origin({ item, book, zone }: { item: ItemRecord; book: PlanBook; zone: string }) {
  const origin = fieldValue(item, `origins/${zone}`);
  if (!origin?.origin) return null;
  return (
    <p>
      {firstUpper(originWords(book, origin.origin))}
      {origin.note ? `: ${origin.note}` : ""}
    </p>
  );
}

function Denials({ item, step, plan, book }: FindingsOf) {
  const denials = listed(item, "denials/").filter(({ value }) => value.zone === step.key && !value.withdrawn);
  return denials.map(({ id, value }) => (
    <div key={id}>
      {firstUpper(denialWords({ plan, book }, value))}
      {step.findings.some((found) => found.value.term === value.term) && (
        <small>, but it was found after all</small>
      )}{" "}
      <CorrectDenial item={item} plan={plan} book={book} denial={value} />
    </div>
  ));
}

/** Whether an operation speaks of a zone. */
function isOf(operation: Operation, zone: string) {
  if (operation.kind === "examine_rest") return operation.zones.includes(zone);
  return "zone" in operation && operation.zone === zone;
}

/** Who said what of one zone, when. */
function ZoneHistory({ item, past, who }: Pick<ZonesOf, "item" | "past" | "who">) {
  if (past.length < 2) return null;
  return (
    <details>
      <summary>{past.length} looks</summary>
      <History item={item} past={past} who={who} />
    </details>
  );
}
