/** Described, or not yet: what must not be is said and refused, what is open is named and asks for a reason. */

import type { JSX, RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { doFirst, openOn, reasonsFor, whyNotDescribed } from "../../job/described.ts";
import type { Logged } from "../../job/desk.ts";
import type { DeskText } from "../../job/desk_words.ts";
import type { ItemRecord, Plan, ThingRecord } from "../../job/types.ts";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { sayWrong } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecord, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { ChangedSince } from "./entry_changed.tsx";
import { DoFirst, HeldApart, WhoCleared } from "./entry_held.tsx";
import { isAt, moveEntry } from "./entry_moved.ts";
import { useNotSignedFor } from "./entry_unsigned.tsx";
import { WasFinished } from "./entry_was_finished.tsx";
import { LieApart } from "./entry_where.tsx";
import { useShortcuts } from "./shortcuts.ts";

type FinishOf = {
  item: ItemRecord;
  plan: Plan | null;
  /** Worked out as they are first asked for. */
  texts: () => readonly DeskText[];
  /** What is open is counted with them, or as soon as D is pressed. */
  areDue: boolean;
  past: readonly Logged[];
  next: () => unknown;
  isListed: boolean;
};

const NOT_LISTED =
  "D describes what is in the list shown, and this is not: press “Described” below its words, or widen the list.";

/** `isListed` says whether it is in the list shown: a key that was meant for the list does nothing to another entry. */
export function Finish({ item, plan, texts, areDue, past, next, isListed }: FinishOf) {
  const [asks, setAsks] = useState(0); // how often it was asked for; what speaks against it comes into view each time
  const heading = useRef<HTMLHeadingElement>(null);
  const containers = useRecords("container", item.day_id) ?? [];
  const byId = new Map<string, ThingRecord>(containers.map((container) => [container.record_id, container]));
  const why = whyNotDescribed(item, byId, useRecord("day", item.day_id));
  const unsigned = useNotSignedFor(item);
  const openNow = () => openOn(item, plan, texts(), byId, unsigned);
  const open = areDue || asks > 0 ? openNow() : [];
  const of = [item, byId, unsigned] as const;
  useEffect(() => {
    const question = heading.current?.parentElement;
    question?.scrollIntoView({ block: "nearest" });
    question?.querySelector("button")?.scrollIntoView({ block: "nearest" }); // a long one ends out of sight
    if (!question?.contains(document.activeElement)) heading.current?.focus();
  }, [asks, why, open.length]); // what the office says meanwhile may ask otherwise
  const leave = () => setAsks(0);
  const isMoving = useRef(false);
  /** Once for each entry: a second press before the next one is drawn is meant for neither. */
  const finish = async (reason: string) => {
    if (isMoving.current || !isAt(item)) return false;
    isMoving.current = true;
    const isDone = await moveEntry(item, "described", reason, next);
    isMoving.current = false;
    if (isDone) leave();
    return isDone;
  };
  const described = () => (why || openNow().length ? setAsks(asks + 1) : finish(""));
  useShortcuts({ d: () => (isListed ? described() : sayWrong(new Error(NOT_LISTED))) });
  return (
    <section class="finish" aria-label="Described or not">
      {asks > 0 && why && (
        <div class="bar wrong" role="alert">
          <h3 ref={heading} tabIndex={-1}>
            Not described
          </h3>
          <p>{why}</p>
          <WhoCleared item={item} />
        </div>
      )}
      {asks > 0 && !why && open.length > 0 && (
        <StillOpen
          {...{ item, open, finish, leave, heading }}
          reasons={reasonsFor(...of)}
          first={doFirst(...of)}
        />
      )}
      {!why && <LieApart item={item} byId={byId} />}
      <WasFinished item={item} />
      <ChangedSince item={item} past={past} />
      <div class="finish-keys at-words">
        <TieOn press={described} left={open.length && !why ? `${open.length} open` : undefined}>
          Described, next <kbd>D</kbd>
        </TieOn>
      </div>
      {/* Where the entry is one long page, its end is at the thumb; of the two keys one is drawn. */}
      <InDock>
        <TieOn press={described} left={open.length && !why ? `${open.length} open` : undefined}>
          Described, next
        </TieOn>
      </InDock>
    </section>
  );
}

type StillOpenOf = {
  item: ItemRecord;
  open: string[];
  /** Those on the keys 1, 2 ...; and what is better done first. */
  reasons: readonly string[];
  first: string[];
  finish: (reason: string) => Promise<boolean | undefined>;
  leave: () => void;
  heading: RefObject<HTMLHeadingElement>;
};

/** What each of the keys 1, 2, 3 ... does. */
function byNumber(works: (() => unknown)[]) {
  return Object.fromEntries(works.map((work, index) => [index + 1, work]));
}

/** While it asks, a number is a reason: the findings take none. */
const FINDINGS_REST = byNumber(Array.from({ length: 9 }, () => () => {}));

/** The heading's id. */
const STILL_OPEN = "still-open";

/** What a reader of the catalogue would miss, and why it is described all the same. */
function StillOpen({ item, open, reasons, first, finish, leave, heading }: StillOpenOf) {
  const { form, set, drop } = useHeld(`described ${item.record_id}`, { reason: "" });
  const [chosen, setChosen] = useState("");
  const say = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (chosen) say.current?.focus();
  }, [chosen]);
  const reason = chosen || form.reason.trim();
  /** `typed` is what stood in the field: it has become the reason, or another was taken. */
  const done = async (reason: string, typed = form.reason) => {
    if (await finish(reason)) drop({ reason: typed });
  };
  /** Enter says what stands in the field: its last letters are still on their way to where they are held. */
  const own = (event: JSX.TargetedSubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    const typed = event.currentTarget.querySelector("input")?.value;
    if (typed?.trim() || reason) done(typed?.trim() || reason, typed);
  };
  useShortcuts(
    // A number that was meant for a finding only chooses: Enter, where the key leads, says it.
    { ...FINDINGS_REST, ...byNumber(reasons.map((reason) => () => setChosen(reason))), Escape: leave },
    { first: true },
  );
  return (
    <div class="card in-hand" role="group" aria-labelledby={STILL_OPEN}>
      <h3 id={STILL_OPEN} ref={heading} tabIndex={-1}>
        Still open
      </h3>
      <ul class="still-open">
        {open.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <HeldApart item={item} />
      <DoFirst first={first} />
      <p class="label">Why it counts as described all the same</p>
      <div class="chips">
        {reasons.map((reason, index) => (
          <button
            type="button"
            key={reason}
            class="chip"
            aria-pressed={reason === chosen}
            onClick={() => done(reason)}
          >
            <kbd>{index + 1}</kbd> {reason}
          </button>
        ))}
      </div>
      <form onSubmit={own}>
        <Typed
          label={reasons.length ? "Another reason" : "Your reason"}
          into="set_entry.reason"
          value={form.reason}
          save={async (text) => {
            setChosen("");
            await set("reason")(text);
          }}
        />
        <p class="finish-keys">
          <button type="button" ref={say} class="main" disabled={!reason} onClick={() => done(reason)}>
            {chosen ? `Described: ${chosen}` : reason ? "Described" : "Say why first"}
          </button>
          <button type="button" class="quiet" onClick={leave}>
            Not yet: close this, and it stays as it was <kbd>Esc</kbd>
          </button>
        </p>
      </form>
    </div>
  );
}
