/**
 * Putting right at the desk what a table recorded: the value and why, which the history keeps beside who and when. The
 * words that rest on it follow.
 */

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { Typed } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { syncNow } from "../../sync/sync.ts";

/** A form to correct one thing: each of its fields as text. */
export type Corrected = Record<string, string>;

type CorrectOf = {
  /** What is corrected, for its key and its notice. */
  called: string;
  /** Its form by its name, which says of what it is as well. */
  held: string;
  /** What stands on record now. */
  now: Corrected;
  fields: (form: Corrected, set: (name: string) => (text: string) => Promise<void>) => ComponentChildren;
  /** What keeps it from being put on record as entered, in words; "" if nothing. */
  wrong?: (form: Corrected) => string;
  put: (form: Corrected, correction: string) => Promise<unknown>;
  /** Takes it off the record, for what is none. */
  strike?: { words: string; put: (correction: string) => Promise<unknown> } | undefined;
  /** Puts back what stood before; left out where nothing did that could stand there again. */
  back?: ((form: Corrected) => Promise<unknown>) | undefined;
  /** What stands on the key, where nothing is put right but said for the first time. */
  says?: string;
};

const WHY = "why";

export function Correct({ called, held, now, fields, wrong, put, strike, back, says }: CorrectOf) {
  const { form, set, drop, isOld } = useHeld<Corrected>(held, { ...now, [WHY]: "" });
  const [isOpen, setOpen] = useState(isOld);
  if (!isOpen)
    return (
      <button
        type="button"
        class="quiet on-screen"
        aria-label={`${says ?? "Correct"}: ${called}`}
        onClick={() => setOpen(true)}
      >
        {says ?? "Correct"}
      </button>
    );
  const why = (form[WHY] ?? "").trim();
  const close = () => {
    drop();
    setOpen(false);
  };
  const keep = (work: () => Promise<unknown>, done: string) =>
    attempt(async () => {
      await work();
      close();
      sayDone(done, back && (() => back(form).then(syncNow)));
      syncNow();
    });
  const isChanged = Object.entries(now).some(([name, value]) => form[name] !== value);
  const lacks = !isChanged
    ? says
      ? "Write it first"
      : "Change it first"
    : (wrong?.(form) ?? "") || (why ? "" : "Say why first");
  const correct = (event: JSX.TargetedSubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (!lacks) keep(() => put(form, why), `${says ? "On record" : "Corrected"}: ${called}.`);
  };
  return (
    <form class="card in-hand on-screen" aria-label={`${says ?? "Correct"}: ${called}`} onSubmit={correct}>
      {fields(form, set)}
      <Typed
        label="Why"
        hint="The history keeps it, with your name and what stood before."
        of={held}
        into="set_item.correction"
        value={form[WHY]}
        save={set(WHY)}
      />
      <p class="inline">
        <button type="submit" class="main" disabled={lacks !== ""}>
          {lacks || (says ? "Put it on record" : "Correct it")}
        </button>
        {strike && (
          <button
            type="button"
            disabled={!why}
            onClick={() => keep(() => strike.put(why), `Taken off the record: ${called}.`)}
          >
            {strike.words}
          </button>
        )}
        <button type="button" class="quiet" onClick={close}>
          Leave it as it is
        </button>
      </p>
    </form>
  );
}
