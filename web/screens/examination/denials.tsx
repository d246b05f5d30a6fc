/** Looked for and not found: what buyers expect to be stated, each with the light that could have shown it. */

import { useState } from "preact/hooks";
import { listInWords } from "../../job/english.ts";
import { withdrawnBy } from "../../job/stopped.ts";
import type { PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { attempt } from "../../parts/notices.tsx";
import { Sign } from "../../parts/sign.tsx";
import type { ZoneGiven } from "./zone.tsx";
import type { Examining } from "./zone_state.ts";
import { sweeps } from "./zones_sweep.tsx";

type DenialsOf = ZoneGiven & { examining: Examining };

/** One row: what is denied, in which light. `words` are the plan's own. */
type Denied = { terms: string[]; words: string; light: string; lights: string[]; isByThisLight: boolean };

export function Denials(given: DenialsOf) {
  const { step, examining } = given;
  const { expected, others } = deniable(given);
  const isBare = !expected.length && !(examining.light && others.length);
  if (step.state?.state === "not-examined" || isBare) return null;
  const row = (denied: Denied) => <Denial key={denied.terms.join()} {...given} {...denied} />;
  return (
    <section class="denials">
      <h3 class="hint">Looked for and not found</h3>
      {expected.length > 0 && <ul class="rows">{expected.map(row)}</ul>}
      {examining.light && others.length > 0 && (
        <details key={step.key}>
          <summary>Others that this zone often has</summary>
          <ul class="rows">{others.map(row)}</ul>
        </details>
      )}
    </section>
  );
}

/** What the plan expects to be denied on this zone, and what else it often has; without what was found. */
function deniable({ item, plan, step, examining }: DenialsOf): { expected: Denied[]; others: Denied[] } {
  const { light } = examining;
  const found = new Set(step.findings.map(({ value }) => value.term));
  const negatives = plan.negatives.filter(
    (negative) => negative.zones.includes(step.zone.zone) && !withdrawnBy(negative, item).length,
  );
  const expected = negatives.flatMap(({ words, terms, lights }) => {
    const left = terms.filter((term) => !found.has(term));
    if (!left.length) return [];
    const isByThisLight = lights.includes(light);
    return [
      {
        terms: left,
        words: left.length === terms.length ? words : "",
        light: isByThisLight ? light : (lights[0] ?? light),
        lights,
        isByThisLight,
      },
    ];
  });
  const named = new Set(negatives.flatMap(({ terms }) => terms));
  const others = step.zone.usual
    .filter((term) => !named.has(term) && !found.has(term))
    .map((term) => ({ terms: [term], words: "", light, lights: [], isByThisLight: true }));
  return { expected, others };
}

/**
 * One press says that it was looked for in this light and not seen; another key beside it says so of a zone that is
 * clear as well, which is what is mostly meant.
 */
function Denial({
  item,
  plan,
  book,
  step,
  examining,
  terms,
  words,
  light,
  lights,
  isByThisLight,
}: DenialsOf & Denied) {
  const [asking, setAsking] = useState(false);
  const denials = terms.map((term) => fieldValue(item, `denials/${step.key}/${term}`));
  const isSaid = denials.every((denial) => denial && !denial.withdrawn);
  const said = (isSaid && denials[0]?.light) || light;
  const say = async (withdrawn: boolean, by = light) => {
    for (const term of terms)
      await keep("record_denial", { item_id: item.record_id, zone: step.key, term, light: by, withdrawn });
    setAsking(false);
  };
  // Nobody is said to have looked with a lamp that is not in hand: which one it was is asked.
  const press = () => (isSaid || isByThisLight ? attempt(() => say(isSaid)) : setAsking(!asking));
  const nameOf = (of: string) => book.words.lights.find((row) => row.light === of)?.words ?? of;
  const sayAndClear = async () => {
    await say(false);
    await examining.clear();
  };
  const sentence = words ? firstUpper(words) : `No ${listed(book, terms)}`;
  return (
    <li class="denial">
      <button type="button" class="row" aria-pressed={isSaid} onClick={press}>
        {isSaid ? <Sign of="check" /> : <span class="sign to-say" aria-hidden="true"></span>}
        <span class="what">{sentence}</span>
        <small>{isSaid || isByThisLight ? nameOf(said) : `shows in: ${lights.map(nameOf).join(", ")}`}</small>
      </button>
      {asking && !isSaid && (
        <Choice
          label="Looked for with what?"
          options={lights.map((of) => [of, nameOf(of)] as const)}
          value={null}
          choose={(by) => say(false, by)}
        />
      )}
      {isSaid && sweeps.value?.against(plan, item, said)}
      {!examining.state && !isSaid && examining.light && isByThisLight && words && (
        <button
          type="button"
          class="key"
          aria-label={`Clear, and ${words}`}
          onClick={() => attempt(sayAndClear)}
        >
          and clear
        </button>
      )}
    </li>
  );
}

/** Several terms by their nouns: "chip, crack or hairline". */
function listed(book: PlanBook, terms: string[]) {
  const names = terms.map(
    (term) => book.vocabulary.terms.find((row) => row.term === term)?.noun ?? term.replaceAll("-", " "),
  );
  return listInWords(names, "or");
}
