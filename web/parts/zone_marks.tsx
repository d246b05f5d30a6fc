/** A zone's state as mark and word, never as colour alone. */
import { STATE_MARKS, STATE_WORDS } from "../job/words.ts";

export function StateMark({ state }: { state: string | undefined }) {
  const name = state ?? "untouched";
  return (
    <span class={`state ${name}`}>
      <span class="mark" aria-hidden="true">
        {STATE_MARKS[name]}
      </span>{" "}
      {state ? STATE_WORDS[state] : "Not looked at"}
    </span>
  );
}
