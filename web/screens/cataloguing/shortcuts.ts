/** Keys of the desk that work wherever the hands are. */
import { useEffect } from "preact/hooks";
import { useLatest } from "../../parts/use.ts";

/**
 * Single keys that do something while nobody types in a field.
 * what each key does, by its name in a key event; false leaves the key to the browser
 */
export function useShortcuts(keys: Record<string, () => unknown>) {
  const latest = useLatest(keys);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const typing =
        event.target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
      const work = latest.current[event.key];
      if (!work || typing || event.ctrlKey || event.metaKey || event.altKey) return;
      if (work() !== false) event.preventDefault();
    };
    addEventListener("keydown", press);
    return () => removeEventListener("keydown", press);
  }, []);
}
