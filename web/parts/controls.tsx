/** Fields that are typed into. Each saves with every key; none has a "save" button. */
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { longestText, type TextOf } from "../job/kinds_read.ts";
import { dropForm, enteredIn, enterInJournal } from "../local/held.ts";
import { asTyped } from "../local/outbox.ts";
import { fieldLeft, keyTyped } from "../local/typing.ts";
import { attempt } from "./notices.tsx";
import { useOwnId } from "./own_id.ts";

/**
 * What is typed and not saved yet, and under which label; `from` is what stood there when the typing began, and was
 * meant to be replaced. `at` is when it was typed, by this device's clock. Versions before said neither when nor where.
 */
type Draft = { text: string; from: string; at?: number; label?: string };

/** What a line of an operation holds. Whatever takes more, or less, says into which member it goes. */
const LINE = 400;

/**
 * A line or a box of text; every keystroke goes to `save`. `of` tells fields of the same label on one screen apart;
 * `into` is the member of an operation that takes the text, and says how much it takes.
 */
export function Typed({
  label,
  hint,
  value,
  save,
  lines = 1,
  type = "text",
  inputmode,
  autocomplete = "off",
  unit,
  into,
  max = into ? longestText(into) : LINE,
  of = "",
  wrong,
  below,
}: {
  label: string;
  hint?: string;
  value: string | number | null | undefined;
  save: (text: string) => Promise<unknown>;
  lines?: number;
  type?: string;
  inputmode?: string;
  autocomplete?: string;
  unit?: string;
  into?: TextOf;
  max?: number;
  of?: string;
  /** What is typed is not kept; the hint says why. */
  wrong?: boolean;
  /** What stands under it for the text as it is; `write` puts another in its place, as if it had been typed. */
  below?: (text: string, write: (text: string) => void) => ComponentChildren;
}) {
  const id = useOwnId();
  const [text, setText] = useState(String(value ?? ""));
  const control = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
  useEffect(() => {
    // What others set, or an earlier save of ours brings back, never moves under somebody's fingers. The page's own
    // word for where they are is taken: a window that is not in front hears of no focus. What is not for this device
    // any more goes, unless somebody is typing.
    const isFree = document.activeElement !== control.current || (!value && from.current === null);
    if (isFree && !saving.current) setText(String(value ?? ""));
  }, [value]);
  const draft = `draft ${location.hash} ${of} ${label}`;
  const newest = useRef<string | null>(null);
  const saving = useRef(false);
  const from = useRef<string | null>(null); // what stood here when the typing began
  const keepNow = async (text: string, keepIt = save, at = Date.now()) => {
    newest.current = text;
    setText(text);
    from.current ??= String(value ?? "");
    enterInJournal(draft, { text, from: from.current, at, label } satisfies Draft);
    if (saving.current) return; // fast fingers: the save under way is followed by one of the newest words
    saving.current = true;
    while (newest.current !== null) {
      const now = newest.current;
      newest.current = null;
      const kept = await attempt(async () => {
        await keepIt(now);
        return true;
      });
      if (!kept || newest.current !== null) continue;
      await dropForm(draft);
      from.current = null;
    }
    saving.current = false;
  };
  const typed = (event: JSX.TargetedInputEvent<HTMLInputElement | HTMLTextAreaElement>) => {
    keyTyped();
    return keepNow(event.currentTarget.value);
  };
  useEffect(() => fieldLeft, []); // one that goes from the screen hears of no focus lost
  useEffect(() => {
    const left = enteredIn(draft) as Draft | undefined;
    if (!left) return;
    // The page was killed between a key and its saving. What somebody else wrote since then was not seen by who typed.
    from.current = left.from;
    const unseen = left.from !== String(value ?? "");
    const at = left.at ?? Date.now();
    keepNow(left.text, (text) => asTyped({ at, unseen }, () => save(text)), at);
  }, []);
  const common = {
    id,
    value: text,
    onInput: typed,
    onBlur: fieldLeft,
    maxLength: max,
    autocomplete,
    "aria-describedby": hint ? `${id}-hint` : undefined,
    ref: control,
  };
  return (
    <div class={wrong ? "field is-wrong" : "field"}>
      <label for={id}>{label}</label>
      {hint && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {lines > 1 ? (
        <textarea rows={lines} {...common}></textarea>
      ) : (
        <span class={unit ? "with-unit" : ""}>
          <input type={type} inputmode={inputmode} {...common} />
          {unit && <span class="unit">{unit}</span>}
        </span>
      )}
      {below?.(text, (becomes) => {
        keepNow(becomes);
        control.current?.focus();
      })}
    </div>
  );
}

/** Whole numbers from what was typed; null if it is none. */
export function wholeNumber(text: string) {
  const trimmed = text.trim();
  return /^\d{1,6}$/.test(trimmed) ? Number(trimmed) : null;
}

/** A whole number; what is no number is shown as such and not kept. */
export function Counted({
  label,
  hint,
  value,
  unit,
  of,
  save,
}: {
  label: string;
  hint?: string;
  value: number | null | undefined;
  unit?: string;
  of?: string;
  save: (value: number) => Promise<unknown>;
}) {
  const [wrong, setWrong] = useState(false);
  const typed = async (text: string) => {
    const number = wholeNumber(text);
    setWrong(number === null && text.trim() !== "");
    if (number !== null) await save(number);
  };
  return (
    <Typed
      label={label}
      hint={wrong ? "Whole numbers only; this is not kept yet." : hint}
      value={value}
      unit={unit}
      of={of}
      inputmode="numeric"
      save={typed}
      wrong={wrong}
    />
  );
}
