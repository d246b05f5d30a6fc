/** A line that comes up in the dock lies on no key that was just pressed: the page goes on by as much. */

import { useLayoutEffect, useRef } from "preact/hooks";

/** What was pressed last, but in the dock. */
let pressed: Element | null = null;

addEventListener(
  "click",
  ({ target }) => {
    pressed = target instanceof Element ? target.closest("main button, main a") : null;
  },
  true,
);

/** For a line in the dock that is another whenever something else is said. */
export function useNotOver<Line extends Element>(said: unknown) {
  const line = useRef<Line>(null);
  useLayoutEffect(() => {
    const dock = line.current?.parentElement?.getBoundingClientRect();
    const key = pressed?.isConnected && pressed.getBoundingClientRect();
    if (said && dock && key && key.top < innerHeight) scrollBy(0, Math.max(0, key.bottom - dock.top));
  }, [said]);
  return line;
}
