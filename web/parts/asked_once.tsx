/** A button for what cannot be taken back: what follows is said first. */
import { useState } from "preact/hooks";

/** `isNext` where it is what comes next, and stands in the dock as its key. */
type AskedOf = { words: string; asks: string; act: () => void; isNext?: boolean };

/** What cannot be taken back by a tap asks once before it is done. */
export function AskedOnce({ words, asks, act, isNext = false }: AskedOf) {
  const [asked, setAsked] = useState(false);
  if (!asked)
    return (
      <button type="button" class={isNext ? "main" : "quiet"} onClick={() => setAsked(true)}>
        {words}
      </button>
    );
  return (
    <>
      <small>{asks}</small>
      <button
        type="button"
        class={isNext ? "main" : undefined}
        onClick={() => {
          setAsked(false);
          act();
        }}
      >
        {words}
      </button>
      <button type="button" class="quiet" onClick={() => setAsked(false)}>
        Not now
      </button>
    </>
  );
}
