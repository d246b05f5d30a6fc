/** A zone's state as sign and word, never as colour alone. */
import { STATE_WORDS } from "../job/words.ts";
import { ZoneSign } from "./sign.tsx";

export function StateMark({ state }: { state: string | undefined }) {
  return (
    <span class={`state ${state ?? "untouched"}`}>
      <ZoneSign state={state} /> {state ? STATE_WORDS[state] : "Not looked at"}
    </span>
  );
}
