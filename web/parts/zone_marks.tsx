/** A zone's state as sign and word, never as colour alone. */
import { neverHadIt, type Step } from "../job/progress.ts";
import { HAS_NONE, STATE_WORDS } from "../job/words.ts";
import { ZoneSign } from "./sign.tsx";

/** Of a zone that the thing never had nobody reads that it was neglected. */
export function StateMark({ said }: { said: Step["state"] }) {
  const state = said?.state;
  const words = neverHadIt(said) ? HAS_NONE : state && STATE_WORDS[state];
  return (
    <span class={`state ${state ?? "untouched"}`}>
      <ZoneSign state={state} /> {words || "Not looked at"}
    </span>
  );
}
