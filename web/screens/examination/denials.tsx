/** Looked for and not found: what buyers expect to be stated, each with the light that could have shown it. */
import type { Step } from "../../job/progress.ts";
import { withdrawnBy } from "../../job/stopped.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt } from "../../parts/notices.tsx";

export function Denials({
  item,
  plan,
  book,
  step,
  light,
}: {
  item: ItemRecord;
  plan: Plan;
  book: PlanBook;
  step: Step;
  light: string;
}) {
  const found = new Set(step.findings.map(({ value }) => value.term));
  const expected = plan.negatives.filter(
    (negative) => negative.zones.includes(step.zone.zone) && !withdrawnBy(negative, item).length,
  );
  const named = new Set(expected.flatMap(({ terms }) => terms));
  const more = step.zone.usual.filter((term) => !named.has(term));
  return (
    <section>
      <h2>Looked for and not found</h2>
      <div class="chips">
        {expected.flatMap(({ words, terms, lights }) =>
          [terms.filter((term) => !found.has(term))]
            .filter((left) => left.length)
            .map((left) => (
              <Denial
                key={left.join()}
                item={item}
                book={book}
                step={step}
                terms={left}
                words={left.length === terms.length ? words : ""}
                light={lights.includes(light) ? light : (lights[0] ?? light)}
              />
            )),
        )}
      </div>
      {light && more.length > 0 && (
        <details>
          <summary>Others that this zone often has</summary>
          <div class="chips">
            {more
              .filter((term) => !found.has(term))
              .map((term) => (
                <Denial key={term} item={item} book={book} step={step} terms={[term]} light={light} />
              ))}
          </div>
        </details>
      )}
      {expected.length === 0 && !more.length && <p class="none">Nothing is expected to be stated here.</p>}
    </section>
  );
}

/**
 * One tap says that it was looked for in this light and not seen.
 * `words` are the plan's own
 */
function Denial({
  item,
  book,
  step,
  terms,
  words = "",
  light,
}: {
  item: ItemRecord;
  book: PlanBook;
  step: Step;
  terms: string[];
  words?: string;
  light: string;
}) {
  const isSaid = terms.every((term) => {
    const denial = fieldValue(item, `denials/${step.key}/${term}`);
    return denial && !denial.withdrawn;
  });
  const names = terms.map(
    (term) => book.vocabulary.terms.find((one) => one.term === term)?.noun ?? term.replaceAll("-", " "),
  );
  const toggle = () =>
    attempt(async () => {
      for (const term of terms)
        await keep("record_denial", {
          item_id: item.record_id,
          zone: step.key,
          term,
          light,
          withdrawn: isSaid,
        });
    });
  return (
    <button type="button" class="chip" aria-pressed={isSaid} onClick={toggle}>
      {words
        ? firstUpper(words)
        : `No ${names.length > 1 ? `${names.slice(0, -1).join(", ")} or ${names.at(-1)}` : names[0]}`}
      <small>{book.words.lights.find((one) => one.light === light)?.words ?? light}</small>
    </button>
  );
}
