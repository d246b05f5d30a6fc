/** Numbers in use that are in no roll's sum, said beside those sums wherever they stand. */

import { someOf } from "../job/closing_found.ts";
import { numbersOfNoRoll } from "../job/of_no_roll.ts";
import { shown } from "../job/tag.ts";
import { countWords, isOrAre } from "../job/words.ts";
import { derived } from "../local/derived.ts";
import { recordOf, records } from "../local/memory.ts";

const numbersOfNoRollOn = derived((day_id: string): string[] => {
  const day = recordOf("day", day_id);
  return day ? numbersOfNoRoll(day, records("item", day_id) ?? [], records("container", day_id) ?? []) : [];
});

export function OfNoRoll({ day_id }: { day_id: string }) {
  const numbers = numbersOfNoRollOn(day_id);
  if (!numbers.length) return null;
  return (
    <p class="bar">
      {countWords(numbers.length, "number")} on things of this day {isOrAre(numbers.length)} of no roll of it,
      and counted in none: {someOf(numbers, shown)}. Their labels are of a roll that has not gone on from
      another day, or of another office.
    </p>
  );
}
