/** One difference of a closing, with what is known of it: said by a key, in one's own words, or for all of its kind. */

import { useLayoutEffect, useRef } from "preact/hooks";
import type { Found } from "../../job/closing_found.ts";
import { choosesFirst, reasonsOfAll, withoutReason } from "../../job/closing_reasons.ts";
import { Typed } from "../../parts/controls.tsx";
import { NO_NAME } from "../../parts/no_name.ts";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import type { Naming } from "./closing_differences.tsx";
import { NamedLine, SaidBeside } from "./closing_named_line.tsx";
import { usePrivateName, WITH_THE_NAME } from "./closing_private_name.tsx";

type LineOf = { difference: Found; kind: readonly Found[]; naming: Naming };

export function DifferenceLine({ difference, kind, naming }: LineOf) {
  const { key, words, at } = difference;
  const said = naming.reasons.get(key);
  const reason = said ? said.reason + (said.said_by ? ` (${said.said_by})` : "") : "";
  const isOpen = naming.inHand === key;
  /** On to the next of the kind of which nobody said anything. */
  const next = () => {
    const others = withoutReason(kind, naming.reasons).filter((other) => other !== difference);
    const index = kind.indexOf(difference);
    return (others.find((other) => kind.indexOf(other) > index) ?? others[0])?.key ?? "";
  };
  return (
    <>
      <NamedLine words={words} at={at}>
        {naming.say ? (
          <button
            type="button"
            class="chip"
            aria-expanded={isOpen}
            aria-label={`${reason || "What is known of it?"} ${words}`}
            onClick={() => naming.take(isOpen ? "" : key)}
          >
            {reason || "What is known of it?"}
          </button>
        ) : (
          reason && <em>{reason}</em>
        )}
        <SaidBeside said={said?.otherwise} />
      </NamedLine>
      {isOpen && naming.say && (
        <Known
          label={`What is known of it: ${words}`}
          id={key}
          of={[difference]}
          reason={said?.reason ?? ""}
          naming={naming}
          goOn={() => naming.take(next())}
        />
      )}
    </>
  );
}

type OneForAllOf = { id: string; label: string; of: readonly Found[]; naming: Naming };

/** One reason for all of a kind of which nothing was said, or for every record and view. */
export function OneForAll({ id, label, of, naming }: OneForAllOf) {
  const unsaid = withoutReason(of, naming.reasons);
  if (unsaid.length < 2) return null;
  if (naming.inHand !== id)
    return (
      <p class="on-screen">
        <button type="button" onClick={() => naming.take(id)}>
          {unsaid.length === of.length ? label : `One reason for the other ${unsaid.length}`}
        </button>
      </p>
    );
  return <Known {...{ label, id, naming }} of={unsaid} reason="" goOn={() => naming.take("")} />;
}

type KnownOf = {
  label: string;
  id: string;
  of: readonly Found[];
  reason: string;
  naming: Naming;
  goOn: () => void;
};

/** Whether what is in hand was gone on from by Enter in its own words. */
let isWriting = false;

/** What is known, said by a key or in one's own words, of one difference or of several alike. */
function Known({ label, id, of, reason, naming, goOn }: KnownOf) {
  const group = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    // The number keys are heard on the group; to whoever still writes a digit is part of a word, and no reason.
    const field = isWriting ? group.current?.querySelector("input") : null;
    isWriting = false;
    (field ?? group.current)?.focus({ preventScroll: true });
    // What is answered stands above its keys, and comes in sight with them: of the two it is what must be read.
    const line = group.current?.closest("li") ?? group.current;
    line?.scrollIntoView({ block: "nearest" });
    line?.firstElementChild?.scrollIntoView({ block: "nearest" });
  }, []);
  const choices = reasonsOfAll(of);
  const own = useHeld(`own words ${naming.day_id} ${id}`, { text: choices.includes(reason) ? "" : reason });
  const text = own.form.text.trim();
  const say = (given: string, typed = own.form.text) =>
    attempt(async () => {
      await naming.say?.(of, given);
      own.drop({ text: typed });
      goOn();
      setTimeout(() => {
        isWriting = false; // what is next was drawn
      });
    });
  const named = usePrivateName(naming.day_id, text, "in the closing");
  /** Enter says what stands in the field: its last letters are still on their way to where they are held. */
  const write = (typed: string) => {
    if (!typed.trim() || named.asksFirst(typed.trim())) return;
    isWriting = true;
    say(typed.trim(), typed);
  };
  const press = (event: KeyboardEvent) => {
    const typing = event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement;
    const chosen = choices[Number(event.key) - 1];
    if (event.key === "Escape") naming.take("");
    else if (event.key === "Enter" && typing) write((event.target as HTMLInputElement).value);
    else if (chosen && !typing && choosesFirst(of))
      group.current?.querySelectorAll<HTMLButtonElement>(".chip")[choices.indexOf(chosen)]?.focus();
    else if (chosen && !typing) say(chosen);
    else return;
    event.preventDefault();
  };
  return (
    <div
      ref={group}
      class="card in-hand on-screen"
      role="group"
      aria-label={label}
      tabIndex={-1}
      onKeyDown={press}
    >
      {of.length > 1 && <p>{label}</p>}
      {choosesFirst(of) && <p class="hint">A number chooses, Enter says it.</p>}
      <div class="chips">
        {choices.map((choice, index) => (
          <button
            type="button"
            key={choice}
            class="chip"
            aria-pressed={reason === choice}
            onClick={() => say(choice)}
          >
            <kbd>{index + 1}</kbd> {choice}
          </button>
        ))}
      </div>
      <Typed
        of={id}
        label="Or in your own words"
        hint={NO_NAME}
        into="explain_differences.reason"
        value={own.form.text}
        save={own.set("text")}
      />
      {named.warning}
      <button type="button" disabled={!text} onClick={() => named.asksFirst(text) || say(text)}>
        {!text ? "Choose a reason, or write one" : named.isAsked ? WITH_THE_NAME : "Say it"}
      </button>
    </div>
  );
}
