/** What every screen has on which several zones are said at once. */

import { useLayoutEffect } from "preact/hooks";

/** It opens in the place of a list that may be scrolled, and its first words say what a press means. */
export function useFromTheTop() {
  useLayoutEffect(() => scrollTo(0, 0), []);
}

/** Nothing is said of any of them now. */
export function NotNow({ close }: { close: () => unknown }) {
  return (
    <button type="button" onClick={close}>
      Back to the zones
    </button>
  );
}
