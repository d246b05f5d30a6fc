/** One difference of a closing, with what is known of it: said by a key, in one's own words, or for all of its kind. */

import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Found } from "../../job/closing.ts";
import { REASONS, reasonFor, withoutReason } from "../../job/closing_reasons.ts";
import { Typed } from "../../parts/controls.tsx";
import type { Naming } from "./closing_differences.tsx";

type NamedLineOf = { words: string; at?: string | undefined; children: ComponentChildren };
type LineOf = { difference: Found; kind: readonly Found[]; naming: Naming };

export function DifferenceLine({ difference: { words, at }, kind, naming }: LineOf) {
  const reason = reasonFor(naming.reasons, words);
  const isOpen = naming.inHand === words;
  return (
    <>
      <NamedLine words={words} at={at}>
        {naming.say ? (
          <button
            type="button"
            class="chip"
            aria-expanded={isOpen}
            aria-label={`${reason || "What is known of it?"} ${words}`}
            onClick={() => naming.take(isOpen ? "" : words)}
          >
            {reason || "What is known of it?"}
          </button>
        ) : (
          reason && <em>{reason}</em>
        )}
      </NamedLine>
      {isOpen && naming.say && (
        <Known words={words} reason={reason} kind={kind} {...naming} say={naming.say} />
      )}
    </>
  );
}

/** A difference by its name, which leads to it where it can be opened, and beside it what is known of it. */
export function NamedLine({ words, at, children }: NamedLineOf) {
  return (
    <span class="named-line">
      <span>{at ? <a href={at}>{words}</a> : words}</span>
      {children}
    </span>
  );
}

type KnownOf = Naming & {
  words: string;
  reason: string;
  kind: readonly Found[];
  say: NonNullable<Naming["say"]>;
};

function Known({ words, reason, kind, reasons, say, take }: KnownOf) {
  const group = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => group.current?.focus(), []); // so that the number keys are heard
  const others = withoutReason(kind, reasons).filter((other) => other.words !== words);
  /** On to the next of the kind of which nobody said anything. */
  const goOn = (given: string) => {
    say([words], given);
    const index = kind.findIndex((other) => other.words === words);
    const next = others.find((other) => kind.indexOf(other) > index) ?? others[0];
    take(next?.words ?? "");
  };
  const press = (event: KeyboardEvent) => {
    const typing = event.target instanceof HTMLElement && /^(INPUT|TEXTAREA)$/.test(event.target.tagName);
    const chosen = REASONS[Number(event.key) - 1];
    if (event.key === "Escape") take("");
    else if (chosen && !typing) goOn(chosen);
    else return;
    event.preventDefault();
  };
  return (
    <div
      ref={group}
      class="card in-hand on-screen"
      role="group"
      aria-label={`What is known of it: ${words}`}
      tabIndex={-1}
      onKeyDown={press}
    >
      <div class="chips">
        {REASONS.map((choice, index) => (
          <button
            type="button"
            key={choice}
            class="chip"
            aria-pressed={reason === choice}
            onClick={() => goOn(choice)}
          >
            <kbd>{index + 1}</kbd> {choice}
          </button>
        ))}
      </div>
      <Typed
        of={words}
        label="Or in your own words"
        into="close_day.reasons"
        value={REASONS.some((choice) => choice === reason) ? "" : reason}
        save={async (text) => say([words], text)}
      />
      {reason && others.length > 0 && (
        <button
          type="button"
          onClick={() => {
            say(
              others.map((other) => other.words),
              reason,
            );
            take("");
          }}
        >
          The same for the {others.length} others of this kind
        </button>
      )}
    </div>
  );
}
