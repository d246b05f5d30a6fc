/** Several of a list, in the text of a form that is entered and not kept yet. */

import type { Option } from "../../parts/choices.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useOwnId } from "../../parts/own_id.ts";

const BETWEEN = "\n";

/** What is chosen as one text, in the order of the list, so that the same choice is the same text. */
export function chosenText(options: readonly Option<string>[], chosen: readonly string[]) {
  return options.flatMap(([key]) => (chosen.includes(key) ? key : [])).join(BETWEEN);
}

export function chosenIn(text: string) {
  return text.split(BETWEEN).filter(Boolean);
}

type SeveralOf = {
  label: string;
  options: readonly Option<string>[];
  text: string;
  set: (text: string) => Promise<void>;
};

export function Several({ label, options, text, set }: SeveralOf) {
  const id = useOwnId();
  const chosen = chosenIn(text);
  const toggle = (key: string) => {
    const next = chosen.includes(key) ? chosen.filter((other) => other !== key) : [...chosen, key];
    return attempt(() => set(chosenText(options, next)));
  };
  return (
    <div class="field" role="group" aria-labelledby={id}>
      <span class="label" id={id}>
        {label}
      </span>
      <div class="chips">
        {options.map(([key, words]) => (
          <button
            type="button"
            key={key}
            class="chip"
            aria-pressed={chosen.includes(key)}
            onClick={() => toggle(key)}
          >
            {words}
          </button>
        ))}
      </div>
    </div>
  );
}
