/** What the list says where nothing is as it was asked: what does it, and the way back to all of it. */

import { ASKED_NOTHING, type Asked } from "../../job/desk.ts";
import { focusWords } from "./queue_search.tsx";

type NoneOf = { asked: Asked; ask: (change: Partial<Asked>) => void };

export function NoneAsAsked({ asked, ask }: NoneOf) {
  const { words, ...filters } = asked;
  const isFiltered = Object.values(filters).some(Boolean);
  if (!words && !isFiltered)
    return <p class="none">Nothing is in the queue yet: what a table puts on record comes here by itself.</p>;
  const among = isFiltered ? "of what the filters leave" : "in the queue";
  const clear = (change: Partial<Asked>) => {
    ask(change);
    focusWords(); // the key that was pressed goes with what it stood under
  };
  return (
    <>
      <p class="none">{words ? `Nothing ${among} has “${words}”.` : "Nothing in the queue is like that."}</p>
      <p class="keys">
        {words && (
          <button type="button" onClick={() => clear({ words: "" })}>
            Clear the search
          </button>
        )}
        {isFiltered && (
          <button type="button" onClick={() => clear({ ...ASKED_NOTHING, words })}>
            Clear the filters
          </button>
        )}
      </p>
    </>
  );
}
