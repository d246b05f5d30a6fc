/** The keys of the desk: what each does, in one place for the hands and for the list of them. */

import { useEffect, useRef } from "preact/hooks";

export const DESK_KEYS: readonly (readonly [keys: string, words: string])[] = [
  ["↑ ↓", "next entry"],
  ["← →", "photo"],
  ["Z", "large"],
  ["1-9", "finding, on drawing and photo"],
  ["E", "words"],
  ["D", "described, next"],
  ["P", "pick up, put back"],
  ["/", "search"],
];
const MORE_KEYS: typeof DESK_KEYS = [
  ["↓ or Enter in the search", "to the list"],
  ["Esc in the search", "back to the list; the words stay"],
  ["1-4", "a reason why it is described all the same; Enter says it"],
  ["Esc", "leave a field, a large photo, this list, a question"],
  ["?", "this list"],
];

export function KeysFoot({ showAll }: { showAll: () => void }) {
  return (
    <div class="keys-foot">
      {DESK_KEYS.map(([keys, words]) => (
        <span key={keys}>
          <Keys keys={keys} /> {words}
        </span>
      ))}
      <button type="button" class="quiet" onClick={showAll}>
        <kbd>?</kbd> all keys
      </button>
    </div>
  );
}

function Keys({ keys }: { keys: string }) {
  return (
    <>
      {keys
        .split(" ")
        .map((key) => (/^(or|in|the|search)$/.test(key) ? ` ${key} ` : <kbd key={key}>{key}</kbd>))}
    </>
  );
}

export function AllKeys({ close }: { close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog ref={dialog} class="all-keys card" aria-label="Keys" onClose={close}>
      <h2>Keys</h2>
      <dl>
        {[...DESK_KEYS, ...MORE_KEYS].map(([keys, words]) => (
          <div key={keys}>
            <dt>
              <Keys keys={keys} />
            </dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <form method="dialog">
        <button type="submit">Close</button>
      </form>
    </dialog>
  );
}
