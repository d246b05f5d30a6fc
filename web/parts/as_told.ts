/** What the office answered and may name an owner: it stands for as long as nobody's words were erased since. */
import { useState } from "preact/hooks";
import { same } from "../job/between.ts";
import { erasures } from "../local/memory.ts";

/** The answer, null before it came and once it is to be asked for anew; and how to ask for it. */
export function useTold<Answer>(): [Answer | null, (asking: () => Promise<Answer>) => Promise<void>] {
  const [told, setTold] = useState<{ answer: Answer; as: object } | null>(null);
  const ask = async (asking: () => Promise<Answer>) => {
    const as = erasures.peek(); // what is heard while the office answers counts
    setTold({ answer: await asking(), as });
  };
  return [told && same(told.as, erasures.value) ? told.answer : null, ask];
}
