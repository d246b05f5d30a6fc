/**
 * Where the marks of a drawing stand is worked out once, and takes as long as all the rest of an entry: so that is done
 * before an entry is opened, and where it is not, after the entry stands.
 */

import { useEffect, useState } from "preact/hooks";
import type { Outline, PlanBook } from "../../job/types.ts";
import { whenIdle } from "../../parts/idle.ts";
import { isPlaced, placesOn } from "../../parts/outline_marks.ts";

/** Whether the marks of a drawing have their places; they get them once what is drawn without them has been painted. */
export function usePlaced(drawing: Outline | undefined): boolean {
  const [, setPlaced] = useState(drawing);
  useEffect(() => {
    if (!drawing || isPlaced(drawing)) return;
    const timer = setTimeout(() => {
      placesOn(drawing);
      setPlaced(drawing);
    });
    return () => clearTimeout(timer);
  }, [drawing]);
  return drawing !== undefined && isPlaced(drawing);
}

/** The drawing that an entry of each class shows first, one each time that nothing else is to do. */
export function usePlacedAhead(book: PlanBook | null) {
  useEffect(() => {
    const left = Object.values(book?.outlines ?? {}).flatMap(([first]) => first ?? []);
    let isShown = true;
    const next = () => {
      const drawing = isShown && left.pop();
      if (!drawing) return;
      placesOn(drawing);
      whenIdle(next);
    };
    whenIdle(next);
    return () => {
      isShown = false;
    };
  }, [book]);
}
