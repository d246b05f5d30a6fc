/** One text of a lot: its sentences as they will be read, and below them the one in hand. */

import { useState } from "preact/hooks";
import { type DeskText, isAdded, type Line, newLine } from "../../job/desk_words.ts";
import { newId } from "../../job/ids.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { type Actions, actionsOn, leaveWhole, order } from "./words_actions.ts";
import { SentenceInHand } from "./words_in_hand.tsx";
import { Sentences } from "./words_sentences.tsx";

const TITLES = { heading: "Heading", description: "Lot description", condition: "Condition" };
const NOTHING_YET = {
  heading: "Nobody has said what it is.",
  description: "Nobody has said what it is.",
  condition: "No zone was spoken of yet.",
};

type TextOf = { item: ItemRecord; book: PlanBook; text: DeskText };

export function Text({ item, book, text }: TextOf) {
  return (
    <section>
      <h4>{TITLES[text.name]}</h4>
      <p class={text.name === "heading" ? "print-only lead" : "print-only"}>{text.words}</p>
      <div class="on-screen">
        {text.whole ? (
          <TypedWhole item={item} text={text} />
        ) : (
          <BySentence item={item} book={book} text={text} />
        )}
      </div>
    </section>
  );
}

function BySentence({ item, book, text }: TextOf) {
  const [chosen, setChosen] = useState("");
  const [isWriting, write] = useState(false);
  const choose = (sentence: string, writing = false) => {
    setChosen(sentence);
    write(writing);
  };
  const lines = linesWith(text.lines, chosen);
  const line = lines.find(({ sentence }) => sentence === chosen);
  const actions = line && actionsOn(item, text, line);
  const press = (event: KeyboardEvent) => {
    const leave = () => choose("");
    const work = actions && keysOn(line, actions, { begin: () => write(true), leave })[event.key];
    if (!work || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target instanceof HTMLTextAreaElement && event.key !== "Escape") return;
    work();
    event.preventDefault();
    event.stopPropagation(); // the same key means something else to the entry
  };
  return (
    <div role="group" aria-label={TITLES[text.name]} onKeyDown={press}>
      {lines.length > 0 ? (
        <Sentences
          label={`${TITLES[text.name]}, sentence by sentence`}
          lines={lines}
          chosen={chosen}
          choose={choose}
          move={(line, by) => actionsOn(item, text, line).move(by)}
        />
      ) : (
        <p class="none">{NOTHING_YET[text.name]}</p>
      )}
      {line && actions && (
        <SentenceInHand
          key={line.sentence}
          item={item}
          book={book}
          text={text}
          line={line}
          actions={actions}
          isWriting={isWriting}
          begin={() => write(true)}
        />
      )}
      {text.name !== "heading" && (
        <p class="inline">
          <button type="button" class="quiet" onClick={() => choose(newLine(newId()).sentence, true)}>
            Add a sentence
          </button>
          {text.isOrdered && (
            <button type="button" class="quiet" onClick={() => order(item.record_id, text, [])}>
              Back to the record's order
            </button>
          )}
        </p>
      )}
    </div>
  );
}

/** What each key does to the sentence in hand. */
function keysOn(
  line: Line,
  { isStruck, strike, putBack }: Actions,
  { begin, leave }: { begin: () => void; leave: () => void },
): Partial<Record<string, () => unknown>> {
  if (line.fixed) return { Escape: leave };
  const keys = { r: begin, x: isStruck ? putBack : strike, Escape: leave };
  return line.version && !isAdded(line) ? { ...keys, u: putBack } : keys;
}

/** The lines, and a sentence that is being added and of which nothing is written yet. */
function linesWith(lines: Line[], chosen: string): Line[] {
  const added = newLine(chosen.replace(/^own\//, ""));
  const isNew = added.sentence === chosen && !lines.some(({ sentence }) => sentence === chosen);
  return isNew ? [...lines, added] : lines;
}

/** A text from before sentences had versions: it stands until somebody goes back to the record's. */
function TypedWhole({ item, text }: { item: ItemRecord; text: DeskText }) {
  return (
    <>
      <p class="text">{text.whole}</p>
      <p class="hint">It was typed as a whole, so it does not follow the record.</p>
      <button type="button" class="quiet" onClick={() => leaveWhole(item, text)}>
        Take the record's sentences instead
      </button>
    </>
  );
}
