/** The sentence in hand: what it rests on, what the record says now, and what the desk can make of it. */

import { useEffect, useRef } from "preact/hooks";
import { type DeskText, isAdded, type Line } from "../../job/desk_words.ts";
import { asText } from "../../job/sentences.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import type { Actions } from "./words_actions.ts";
import { draftOf, isDraft, OwnSentence } from "./words_own.tsx";
import { RestsOn } from "./words_rest.tsx";

const TOLD = 2; // from this severity on bidders expect to be told

type InHandOf = {
  item: ItemRecord;
  book: PlanBook;
  text: DeskText;
  line: Line;
  actions: Actions;
  isWriting: boolean;
  begin: () => void;
};

export function SentenceInHand({ item, book, text, line, actions, isWriting, begin }: InHandOf) {
  const box = useRef<HTMLDivElement>(null);
  const draft = draftOf(item.record_id, text.name, line);
  const showsField = isWriting || actions.isRewritten || isDraft(draft);
  useEffect(() => {
    if (isWriting) box.current?.querySelector("textarea")?.focus();
  }, [isWriting]);
  return (
    <div class="in-hand" ref={box}>
      <RestsOn item={item} line={line} />
      {line.differs ? (
        <NowSays line={line} actions={actions} />
      ) : (
        line.version && !isAdded(line) && <p class="hint">The record says: {asText(line.recorded)}</p>
      )}
      {actions.isStruck && <NotTold item={item} book={book} line={line} />}
      {showsField && <OwnSentence name={draft} line={line} actions={actions} />}
      {line.fixed ? (
        <p class="hint">What is said of a caution stays until the caution is cleared.</p>
      ) : (
        <Choices text={text} line={line} actions={actions} begin={showsField ? null : begin} />
      )}
    </div>
  );
}

type ChoicesOf = Pick<InHandOf, "text" | "line" | "actions"> & { begin: (() => void) | null };

function Choices({ text, line, actions, begin }: ChoicesOf) {
  const at = text.lines.findIndex(({ sentence }) => sentence === line.sentence);
  return (
    <p class="inline">
      {begin && (
        <button type="button" onClick={begin}>
          Rewrite <kbd>R</kbd>
        </button>
      )}
      {!actions.isStruck && (
        <button type="button" onClick={actions.strike}>
          {isAdded(line) ? "Take it out" : "Strike"} <kbd>X</kbd>
        </button>
      )}
      {line.version && !isAdded(line) && (
        <button type="button" onClick={actions.putBack}>
          Put back <kbd>U</kbd>
        </button>
      )}
      {text.lines.length > 1 && at >= 0 && (
        <>
          <button type="button" onClick={() => actions.move(-1)} disabled={at === 0}>
            Up <kbd>Alt ↑</kbd>
          </button>
          <button type="button" onClick={() => actions.move(1)} disabled={at === text.lines.length - 1}>
            Down <kbd>Alt ↓</kbd>
          </button>
        </>
      )}
    </p>
  );
}

/** What the record has come to say since the desk wrote. */
function NowSays({ line, actions }: { line: Line; actions: Actions }) {
  const now = asText(line.recorded);
  return (
    <div class="bar">
      <p>
        <strong>{now ? "The record now says:" : "The record says nothing of this any more."}</strong> {now}
      </p>
      {line.version?.record_words && <p class="hint">When you wrote, it said: {line.version.record_words}</p>}
      <p class="inline">
        <button type="button" onClick={actions.keepMine}>
          Keep mine
        </button>
        <button type="button" onClick={actions.putBack}>
          {now ? "Take the record's" : "Take it out"}
        </button>
      </p>
    </div>
  );
}

/** What bidders are then not told of. */
function NotTold({ item, book, line }: Pick<InHandOf, "item" | "book" | "line">) {
  const fields = line.recorded.flatMap(({ from }) => from);
  const found = listed(item, "findings/").filter(({ id }) => fields.includes(`findings/${id}`));
  const worst = Math.max(0, ...found.map(({ value }) => value.severity));
  if (worst < TOLD) return null;
  const words = book.words.severities.find(({ severity }) => severity === worst)?.words ?? "";
  return (
    <p class="bar">
      A {words} finding is told nowhere now: not in print, nor in the answers. Say it in a sentence of your
      own, or put this one back.
    </p>
  );
}
