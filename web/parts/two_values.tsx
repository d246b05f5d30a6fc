/**
 * Two people said different things of one field: what each said, who and when, and the keys that let one of them hold.
 */

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { settlementOf, sidesOf } from "../job/between.ts";
import { chosenAgainWords, contestedWords } from "../job/contested_words.ts";
import { claimIn } from "../job/custody.ts";
import type { Who } from "../job/day_facts.ts";
import type { SettleDisagreement } from "../job/operations.ts";
import { shown } from "../job/tag.ts";
import type { Disagreement, FieldValue, RecordCopy } from "../job/types.ts";
import { valueWords } from "../job/value_words.ts";
import { keep } from "../local/outbox.ts";
import { listsOf } from "../local/plan_book.ts";
import { syncNow } from "../sync/sync.ts";
import { Typed } from "./controls.tsx";
import { momentWords } from "./moments.ts";
import { attempt, sayDone } from "./notices.tsx";
import { useHeld } from "./use_held.ts";

export type Choose = SettleDisagreement["choose"];

/**
 * The reasons that are given most; anything else is typed. Common practice. None says more of an owner than that they
 * spoke: whoever gave way reads it, and the office tells it wherever the owner is (`PRESSED` in its
 * `sync/overruled.py`).
 */
const REASONS = [
  "Looked at again",
  "Compared with a picture",
  "Measured again",
  "The owner says so",
  "The other was a slip",
] as const;

/** Say which side holds, with how that is known: a press without a reason asks for one, and the next is the answer. */
export function useSettling(record: RecordCopy, between: Disagreement) {
  const held = useHeld(`between ${between.disagreement_id}`, { note: "" });
  const [asked, setAsked] = useState<Choose | null>(null);
  const settle = async (choose: Choose, note: string) => {
    await keep("settle_disagreement", { ...settlementOf(record, between, choose), note });
    held.drop();
    sayDone(settledWords(record, between, choose));
    syncNow();
  };
  /** `before` goes before the settlement; false if a reason was asked for instead. */
  const press = async (choose: Choose, before?: () => Promise<unknown>, reason = held.form.note.trim()) => {
    if (!reason) {
      setAsked(choose);
      return false;
    }
    await before?.();
    await settle(choose, reason);
    return true;
  };
  return { note: held.form.note, setNote: held.set("note"), asked, press };
}

/**
 * What was done, with what holds now. It has no way back: who gave way is told. A later word may say otherwise, and
 * where that is said in a field it is told here.
 */
function settledWords(record: RecordCopy, between: Disagreement, choose: Choose): string {
  const claim = claimIn(between);
  if (claim)
    return `Settled: the tag ${shown(claim.tag)} is on ${choose === "other" ? "this thing" : "the other thing"}.`;
  const lists = listsOf(record);
  const set = choose === "standing" ? record.fields[between.field] : between[choose];
  const holds = `Settled: ${contestedWords(between, lists)} is “${valueWords(set?.value, between.field, lists)}”.`;
  return `${holds} ${chosenAgainWords(between.field)}`.trim();
}

type TwoValuesOf = { between: Disagreement; record: RecordCopy; who: Who; settled?: () => unknown };

/** Two values of a field of any record; `settled` hears that one of them was chosen. */
export function TwoValues({ between, record, who, settled }: TwoValuesOf) {
  const { note, setNote, asked, press } = useSettling(record, between);
  const holds = async (choose: Choose, reason?: string) => {
    if (await press(choose, undefined, reason)) await settled?.();
  };
  return (
    <div class="between">
      <p>
        Two people disagree on “{contestedWords(between, listsOf(record))}”, and neither had seen the other's
        value. Nothing is lost; say which holds.
      </p>
      <div class="sides">
        {sidesOf(record, between).map(({ choose, set, isInForce }) => (
          <Side
            key={choose}
            title={isInForce ? "In force" : "Said as well"}
            set={set}
            who={who}
            button="This one holds"
            isAsked={asked === choose}
            choose={() => holds(choose)}
          >
            <p class="said">{valueWords(set.value, between.field, listsOf(record))}</p>
          </Side>
        ))}
      </div>
      {asked && <AskWhy choose={(reason) => holds(asked, reason)} />}
      <Typed of={between.disagreement_id} label="Why (kept with the decision)" value={note} save={setNote} />
    </div>
  );
}

type SideOf = {
  title: string;
  set: FieldValue;
  who: Who;
  button: string;
  /** It was pressed, and nobody has said why. */
  isAsked: boolean;
  choose: () => Promise<unknown>;
  children: ComponentChildren;
};

/** One of the two: what was said, by whom, and the button that lets it hold. */
export function Side({ title, set, who, button, isAsked, choose, children }: SideOf) {
  return (
    <div class="side">
      <h4>{title}</h4>
      {children}
      <p class="hint">
        {who(set.made_by)}, {momentWords(set.made_at)}
      </p>
      <button type="button" aria-pressed={isAsked} onClick={() => attempt(choose)}>
        {button}
      </button>
    </div>
  );
}

/** A side was pressed without a reason: below both, those that are given most, each of which settles it. */
export function AskWhy({ choose }: { choose: (reason: string) => Promise<unknown> }) {
  return (
    <div role="alert">
      <p class="label">
        Why? A reason pressed here is told to whoever said the other value. One that you write below is read
        only where the owner’s name is: at the table where the owner sat, and at desks and managers.
      </p>
      <div class="chips">
        {REASONS.map((reason) => (
          <button type="button" key={reason} class="chip" onClick={() => attempt(() => choose(reason))}>
            {reason}
          </button>
        ))}
      </div>
    </div>
  );
}
