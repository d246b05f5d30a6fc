/** Several of a list, as buttons: tapping a chosen one again leaves it out. */

import type { ComponentChildren } from "preact";
import { attempt } from "./notices.tsx";

type SeveralOf = {
  label: string;
  /** Each with its words, and what else is to be known of it. */
  options: readonly (readonly [key: string, words: string, title?: string])[];
  chosen: readonly string[];
  choose: (chosen: string[]) => Promise<unknown>;
  /** Between the label and the list. */
  children?: ComponentChildren;
};

export function Several({ label, options, chosen, choose, children }: SeveralOf) {
  const toggle = (key: string) => {
    const others = chosen.filter((other) => other !== key);
    return attempt(() => choose(chosen.includes(key) ? others : [...chosen, key]));
  };
  return (
    <div class="field" role="group" aria-label={label}>
      <span class="label">{label}</span>
      {children}
      <div class="chips">
        {options.map(([key, words, title]) => (
          <button
            type="button"
            key={key}
            class="chip"
            title={title}
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
