/** What the house found of a thing since it was left, said before it goes back: what is not here does not go. */

import { foundByHouse, foundInWords } from "../../job/found_by_house.ts";
import { isNotCome } from "../../job/not_come.ts";
import { isInParts } from "../../job/number_parts.ts";
import { isMissing } from "../../job/parts_lost.ts";
import { countAlike } from "../../job/piece_open.ts";
import type { ItemRecord } from "../../job/types.ts";
import { countBack, pieceCount } from "../../job/with_owner.ts";
import { firstUpper } from "../../job/words.ts";
import { useRecord } from "../../parts/use.ts";

export type Short = {
  found: string[];
  /** All of it, as far as it is not back, was not there as it was to be compared. */
  isNotHere: boolean;
  /** Some of it is missing, and each piece has its own number: those that are here go one by one. */
  isByNumber: boolean;
  /** Whether the piece with a number is noted as missing, and has not come since. */
  lacks: (tag: string) => boolean;
};

export function useShort(item: ItemRecord): Short {
  const day = useRecord("day", item.day_id);
  if (!day) return { found: [], isNotHere: isNotCome(item), isByNumber: false, lacks: () => false };
  const all = foundByHouse(item, day);
  const of = pieceCount(item);
  const isByNumber = all.missing !== 0 && of > 1 && of >= countAlike(item) && !isInParts(item);
  const isLast = isByNumber && of - countBack(item) <= (all.missing ?? 1);
  const lacks = (tag: string) => isMissing(item, tag, day);
  return { found: foundInWords(all), isNotHere: isNotCome(item) || isLast, isByNumber, lacks };
}

export function FoundOfIt({ short: { found, isNotHere, isByNumber } }: { short: Short }) {
  return (
    <>
      {found.map((words) => (
        <p key={words} class="bar">
          {firstUpper(words)}.
        </p>
      ))}
      {isNotHere ? (
        <p class="bar wrong">
          It was not there as it was to be compared, so it does not go back. Once somebody has it in hand, it
          is scanned where it is; then it goes.
        </p>
      ) : (
        isByNumber && (
          <p class="bar">Not all of it is here: each piece that is goes back by its own number.</p>
        )
      )}
    </>
  );
}
