/** The desk's own words for a sentence: a draft of this device until the field is left. Half a one would be printed. */
import { useEffect, useRef } from "preact/hooks";
import type { Line } from "../../job/desk_words.ts";
import { asText } from "../../job/sentences.ts";
import { enteredIn } from "../../local/held.ts";
import { asTyped } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { syncNow } from "../../sync/sync.ts";
import type { Actions } from "./words_actions.ts";

const LONG = 3; // lines

/** `from` is what record and desk said as the typing began, and when that was. */
type Draft = { words: string | null; from: { record: string; desk: string; at: number } | null };

/** By what a sentence that is being written is held. */
export function draftOf(item_id: string, text: string, { sentence }: Line) {
  return `your sentence ${item_id} ${text} ${sentence}`;
}

/** Whether a sentence was begun on this device and is not on record yet. */
export function isDraft(name: string) {
  return enteredIn(name) !== undefined;
}

type OwnOf = { name: string; line: Line; actions: Actions };

export function OwnSentence({ name, line, actions }: OwnOf) {
  const { form, set, drop } = useHeld<Draft>(name, { words: null, from: null });
  const desk = line.version?.words ?? "";
  const typed = (words: string) => {
    if (!typing.current.from) set("from")({ record: asText(line.recorded), desk, at: Date.now() });
    typing.current = {
      words,
      from: typing.current.from ?? { record: asText(line.recorded), desk, at: Date.now() },
    };
    return set("words")(words);
  };
  const typing = useRef<Draft>(form);
  const record = useRef(() => {});
  record.current = () => {
    const { words, from } = typing.current;
    if (words === null || !from) return;
    typing.current = { words: null, from: null };
    // What another desk wrote since was not seen by who typed.
    const how = { at: from.at, unseen: from.desk !== desk };
    attempt(async () => {
      await asTyped(how, () => actions.write(words, from.record));
      drop({ words, from });
      syncNow();
    });
  };
  useEffect(() => () => record.current(), []); // one that goes from the screen hears of no focus lost
  return (
    <div onFocusOut={() => record.current()}>
      <Typed
        label="Your sentence"
        hint={
          form.words === null ? "" : "A draft until you leave the field: then it is printed and answered so."
        }
        of={name}
        into="write_sentence.words"
        value={form.words ?? (actions.isRewritten ? line.version?.words : asText(line.recorded))}
        save={typed}
        lines={LONG}
      />
    </div>
  );
}
