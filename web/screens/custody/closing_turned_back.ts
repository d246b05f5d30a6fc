/** A closing that the office did not take, and what the office finds that this device may not have heard of. */

import { useEffect, useState } from "preact/hooks";
import type { Found } from "../../job/closing_found.ts";
import { kindSections } from "../../job/day_closing.ts";
import type { Refused } from "../../local/database.ts";
import { refused } from "../../local/memory.ts";
import { EVERY_LINE, readClosing } from "../../sync/closing_pages.ts";

const NONE: readonly Found[] = [];

/** The closing of a day that this device sent last and the office refused; undefined if there is none. */
export function closingTurnedBack(day_id: string): Refused | undefined {
  return refused.value.findLast(
    ({ operation }) => operation.kind === "close_day" && operation.day_id === day_id,
  );
}

/** What the office finds of a day, asked only after it refused a closing and again at each news; none out of reach. */
export function useOfficeFinds(day_id: string, isAsked: boolean, news: number): readonly Found[] {
  const [found, setFound] = useState(NONE);
  useEffect(() => {
    if (!isAsked) return setFound(NONE);
    readClosing(day_id, EVERY_LINE).then(
      (closing) => setFound(kindSections(closing).flatMap(({ lines }) => lines)),
      () => {}, // out of reach: what is found here can be explained, and the closing waits to be sent
    );
    return undefined;
  }, [day_id, isAsked, news]);
  return found;
}
