/** That a day is closed, when and by whom: said at once wherever somebody could go on working on it. */

import { closedWords } from "../job/day_facts.ts";
import type { DayRecord } from "../job/types.ts";
import { momentWords } from "./moments.ts";

export function DayClosed({ day }: { day: DayRecord }) {
  const words = closedWords(day, momentWords);
  return words ? (
    <p class="bar" role="status">
      {words}
    </p>
  ) : null;
}
