/** Keys of the desk that work wherever the hands are. */
import { useLayoutEffect } from "preact/hooks";
import { useLatest } from "../../parts/use.ts";

type Where = {
  /** Those of a question that is open: they go before what the same keys do otherwise. */
  first?: boolean;
  /** The window that they work in as well, as its selector has it; behind any other they do nothing. */
  over?: string;
};

const FIELD = /^(INPUT|TEXTAREA|SELECT)$/;

/** Esc leaves a field, and what was typed stays; but where the field itself or an open window takes it. */
export function useEscapeFromFields() {
  useLayoutEffect(() => {
    const leave = ({ key, target, defaultPrevented }: KeyboardEvent) => {
      if (key !== "Escape" || defaultPrevented || !(target instanceof HTMLElement)) return;
      if (FIELD.test(target.tagName) && !target.closest("dialog")) target.blur();
    };
    addEventListener("keydown", leave);
    return () => removeEventListener("keydown", leave);
  }, []);
}

/**
 * Single keys that do something while nobody types in a field: what each does, by its name in a key event; false leaves
 * the key to the browser. One that is held down is one press, but for the arrows, which walk on; and none does anything
 * to what lies behind an open window, where nobody reads it.
 */
export function useShortcuts(keys: Record<string, () => unknown>, { first = false, over }: Where = {}) {
  const latest = useLatest(keys);
  useLayoutEffect(() => {
    // From the first drawing on: whoever is quick presses the next key before it has been painted.
    const press = (event: KeyboardEvent) => {
      const typing = event.target instanceof HTMLElement && FIELD.test(event.target.tagName);
      const work = latest.current[event.key] ?? latest.current[event.key.toLowerCase()]; // as keys are printed
      if (!work || typing || event.ctrlKey || event.metaKey || event.altKey) return;
      const open = document.querySelector("dialog[open]");
      if (open && !(over && open.matches(over))) return;
      if (first) event.stopPropagation();
      const isHeld = event.repeat && !event.key.startsWith("Arrow");
      if (isHeld || work() !== false) event.preventDefault();
    };
    addEventListener("keydown", press, first);
    return () => removeEventListener("keydown", press, first);
  }, []);
}
