/** A closing that the office did not take, and what the office finds that this device may not have heard of. */

import { useEffect, useMemo, useState } from "preact/hooks";
import type { Found } from "../../job/closing_found.ts";
import { type DayClosing, kindSections } from "../../job/day_closing.ts";
import type { Refused } from "../../local/database.ts";
import { refused } from "../../local/memory.ts";
import { useAskedOfDay } from "../../parts/day_at_news.ts";
import { EVERY_LINE, readClosing } from "../../sync/closing_pages.ts";
import { mayPass } from "../../sync/office.ts";

const NONE: readonly Found[] = [];

/** The closing of a day that this device sent last and the office refused; undefined if there is none. */
export function closingTurnedBack(day_id: string): Refused | undefined {
  return refused.value.findLast(
    ({ operation }) => operation.kind === "close_day" && operation.day_id === day_id,
  );
}

/**
 * What the office finds of a day, asked only after it refused a closing, and again as something of the day was kept;
 * none out of reach: what is found here can be explained, and the closing waits to be sent.
 */
export function useOfficeFinds(day_id: string, isAsked: boolean): readonly Found[] {
  const [told, setTold] = useState<DayClosing | null>(null);
  const ask = async () => {
    if (!isAsked) return true;
    try {
      setTold(await readClosing(day_id, EVERY_LINE, told));
    } catch (error) {
      return !mayPass(error);
    }
    return true;
  };
  const again = useAskedOfDay(day_id, ask);
  useEffect(() => {
    if (isAsked) again();
    else setTold(null);
  }, [isAsked]);
  return useMemo(() => (told ? kindSections(told).flatMap(({ lines }) => lines) : NONE), [told]);
}
