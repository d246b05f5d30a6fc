/** How bad a finding is. */

import type { FindingValue } from "../../job/fields.ts";
import type { PlanBook, Term } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { Nick } from "../../parts/nick.tsx";
import { attempt } from "../../parts/notices.tsx";

export type Change = (patch: Partial<FindingValue>) => Promise<unknown>;

export type PartOf = { value: FindingValue; book: PlanBook; change: Change };

/**
 * One press; a nick as deep as it is bad, its figure and its word. Where it begins is the vocabulary's word, and says
 * so until somebody gives another.
 */
export function Severity({ value, term, book, change }: PartOf & { term: Term | undefined }) {
  const { severities } = book.words;
  const given = severities.find(({ severity }) => severity === value.severity);
  const isUsual = term?.severity === value.severity;
  return (
    <>
      <fieldset class="severities">
        <legend class="unseen">Severity</legend>
        {severities.map(({ severity, words }) => (
          <button
            type="button"
            key={severity}
            class="key"
            aria-pressed={value.severity === severity}
            onClick={() => attempt(() => change({ severity }))}
          >
            <span>
              <Nick severity={severity} /> {severity}
            </span>
            <small>{words}</small>
          </button>
        ))}
      </fieldset>
      <p class="hint">
        {isUsual && given ? `Where this term begins: press another if it is not ${given.words}. ` : ""}
        {given && firstUpper(given.meaning)}
      </p>
    </>
  );
}
