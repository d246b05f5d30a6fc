/** The differences of a day on the screens that name or count them. */
import { useEffect, useState } from "preact/hooks";
import type { Found } from "../job/closing_found.ts";
import { differencesOfDay, PARTS_OF_DIFFERENCES } from "../local/day_found.ts";

/**
 * Found a part a frame, after what stands already was painted: all at once a day of hundreds of things halts a phone.
 * Null until then. Of one day for as long as it is drawn.
 */
export function useDifferences(day_id: string): Found[] | null {
  const [count, setCount] = useState(0);
  useEffect(() => {
    if (count === PARTS_OF_DIFFERENCES.length) return undefined;
    const asked = requestAnimationFrame(() => {
      PARTS_OF_DIFFERENCES[count]?.(day_id);
      setCount(count + 1);
    });
    return () => cancelAnimationFrame(asked);
  }, [count]);
  return count === PARTS_OF_DIFFERENCES.length ? differencesOfDay(day_id) : null;
}
