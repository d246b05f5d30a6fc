/** The differences of a day on the screens that name or count them. */
import { useEffect, useState } from "preact/hooks";
import type { Found } from "../job/closing_found.ts";
import { differencesOfDay, STEPS_TO_DIFFERENCES } from "../local/day_found.ts";

/**
 * Found a part a frame, after what stands already was painted: all at once a day of hundreds of things halts a phone.
 * Null until then, and until what a screen shows beside them is made by `more`. Of one day for as long as it is drawn.
 */
export function useDifferences(
  day_id: string,
  more: readonly ((day_id: string) => unknown)[] = [],
): Found[] | null {
  const [isFound, setFound] = useState(false);
  useEffect(() => {
    const steps = [...STEPS_TO_DIFFERENCES, ...more];
    let asked = 0;
    const goOn = () => {
      steps.shift()?.(day_id);
      if (!steps.length) return setFound(true);
      asked = requestAnimationFrame(goOn);
    };
    asked = requestAnimationFrame(goOn);
    return () => cancelAnimationFrame(asked);
  }, []);
  return isFound ? differencesOfDay(day_id) : null;
}
