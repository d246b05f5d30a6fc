/** The box of the search over the list. */

import type { Asked } from "../../job/desk.ts";

const WORDS = "queue-words";
const ASKS_FOR = "Words, tag, ticket or owner";

export function focusWords() {
  const box = document.getElementById(WORDS) as HTMLInputElement | null;
  box?.focus();
  box?.select();
}

/** Whoever has typed what to look for wants the list, and the next keys to be keys. */
const toList = new Set(["ArrowDown", "Enter"]);

type SearchBoxOf = { asked: Asked; ask: (change: Partial<Asked>) => void; down: () => unknown };

/** In the box a stroke is a letter as any: receipts and sets are numbered with one, and the search passes over it. */
export function SearchBox({ asked, ask, down }: SearchBoxOf) {
  const key = (event: KeyboardEvent & { currentTarget: HTMLInputElement }) => {
    if (event.key !== "Escape" && !toList.has(event.key)) return;
    event.preventDefault(); // a browser would wipe the words
    event.currentTarget.blur();
    if (toList.has(event.key)) down();
  };
  return (
    <div class="search-box" role="search">
      <label class="unseen" for={WORDS}>
        {ASKS_FOR}
      </label>
      <input
        id={WORDS}
        type="search"
        placeholder={ASKS_FOR}
        value={asked.words}
        onInput={(event) => ask({ words: event.currentTarget.value })}
        onKeyDown={key}
        autocomplete="off"
      />
      <kbd>/</kbd>
    </div>
  );
}
