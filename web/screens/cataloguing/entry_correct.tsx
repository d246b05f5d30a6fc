/**
 * Putting right at the desk what a table recorded: the value and why, which the history keeps beside who and when. The
 * words that rest on it follow.
 */

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { enteredIn } from "../../local/held.ts";
import { asTyped } from "../../local/outbox.ts";
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
  /** Why, where that is plain before anybody says more. */
  why?: string;
};

const WHY = "why";
/** What stood on record as the form was opened, beside what it is of; with the first key it is held with the rest. */
const OPENED = "opened";

export function Correct(of: CorrectOf) {
  const [isOpen, setOpen] = useState(() => enteredIn(of.held) !== undefined);
  const says = of.says ?? "Correct";
  if (isOpen) return <Open {...of} close={() => setOpen(false)} />;
  return (
    <button
      type="button"
      class="quiet on-screen"
      aria-label={`${says}: ${of.called}`}
      onClick={() => setOpen(true)}
    >
      {says}
    </button>
  );
}

type OpenOf = CorrectOf & { close: () => void };

function Open({
  called,
  held,
  now,
  fields,
  wrong,
  put,
  strike,
  back,
  says,
  why: plain,
  close: shut,
}: OpenOf) {
  const stands = JSON.stringify([held, now]);
  const { form, set, drop } = useHeld<Corrected>(held, { ...now, [WHY]: plain ?? "", [OPENED]: stands });
  const isOvertaken = form[OPENED] !== stands;
  const why = (form[WHY] ?? "").trim();
  const close = () => {
    drop();
    shut();
  };
  const keep = (work: () => Promise<unknown>, done: string) =>
    attempt(async () => {
      // What came in while it was open was not meant to be replaced: both stay, and somebody settles it.
      await (isOvertaken ? asTyped({ unseen: true }, work) : work());
      close();
      if (isOvertaken) sayDone(`${done} What was said meanwhile stands beside it.`);
      else sayDone(done, back && (() => back(form).then(syncNow)));
      syncNow();
    });
  const [, opened] = JSON.parse(form[OPENED] ?? stands) as [string, Corrected];
  const isChanged = Object.entries(now).some(
    ([name, value]) => ![value, opened[name]].includes(form[name] ?? ""),
  );
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
      {isOvertaken && (
        <p class="bar wrong" role="status">
          This was changed while you had it open. What you enter will stand beside it, for somebody to settle.
          To go on from what stands now, leave it as it is and open it again.
        </p>
      )}
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
