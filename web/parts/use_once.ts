/** A press that makes something, which a second press in haste makes no second time. */
import { useRef } from "preact/hooks";

/** Pressed for nothing yet. */
const NOT_YET = {};

/**
 * `work` once for each `of`, which is what it makes another of: until that changes, or the screen is left, further
 * presses do nothing. What failed can be pressed again.
 */
export function useOnce<Given extends unknown[]>(
  work: (...given: Given) => Promise<unknown>,
  of: unknown = null,
): (...given: Given) => Promise<void> {
  const pressed = useRef<unknown>(NOT_YET);
  return async (...given) => {
    if (pressed.current === of) return;
    pressed.current = of;
    try {
      await work(...given);
    } catch (error) {
      pressed.current = NOT_YET;
      throw error;
    }
  };
}
