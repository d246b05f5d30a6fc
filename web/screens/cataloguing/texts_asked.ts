/**
 * The words of the entry that is open, worked out when they are first asked for. Making them is much of its drawing: it
 * is done when the rest has been painted, and they are drawn the frame after.
 */

import { useEffect, useMemo, useState } from "preact/hooks";
import { type DeskText, deskTexts } from "../../job/desk_words.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";

/** `texts` is the same, and what it worked out, as long as record, plan and lists are. */
export function useTexts(item: ItemRecord, plan: Plan | null, book: PlanBook | null) {
  const [areDue, setDue] = useState(false);
  const texts = useMemo(() => {
    let made: DeskText[] | undefined;
    return () => {
      made ??= book ? deskTexts(plan, book, item) : [];
      return made;
    };
  }, [plan, book, item]);
  useEffect(() => {
    texts();
    const asked = requestAnimationFrame(() => setDue(true));
    return () => cancelAnimationFrame(asked);
  }, []);
  return { texts, areDue };
}
