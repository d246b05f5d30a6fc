/** Several of a list, in the text of a form that is entered and not kept yet. */

import type { Option } from "../../parts/choices.tsx";
import { Several } from "../../parts/several.tsx";

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

export function SeveralInText({ label, options, text, set }: SeveralOf) {
  const choose = (chosen: string[]) => set(chosenText(options, chosen));
  return <Several label={label} options={options} chosen={chosenIn(text)} choose={choose} />;
}
