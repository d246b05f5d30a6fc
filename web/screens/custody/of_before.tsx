/** What of earlier days has not come yet, or stayed in the hall: on whatever day it comes, every porter takes it in. */

import { thingName } from "../../job/custody.ts";
import { dateWords, dayFacts } from "../../job/day_facts.ts";
import { listInWords } from "../../job/english.ts";
import { comeWords, type Load, loadName } from "../../job/loads.ts";
import { shown } from "../../job/tag.ts";
import type { DayRecord } from "../../job/types.ts";
import type { Standing } from "../../job/where_list.ts";
import { firstUpper } from "../../job/words.ts";
import { daysAwaited } from "../../local/device.ts";
import { isToCome, loadsHere } from "../../local/loads_of_day.ts";
import { device, recordOf } from "../../local/memory.ts";
import { placesOfDay } from "../../local/places_of_day.ts";
import { clockWords } from "../../parts/moments.ts";

/** So many are named; the rest is counted. */
const NAMED = 6;

export function OfBefore() {
  const days = device.value ? daysAwaited(device.value) : [];
  const awaited = days.flatMap((day_id) => {
    const day = recordOf("day", day_id);
    const standing = (at: string) =>
      placesOfDay(day_id).flatMap(({ place, standing }) => (place === at ? standing : []));
    const [inVan, inHall] = [standing("van"), standing("holding")];
    const isLeft = inVan.length > 0 || inHall.length > 0;
    return day && isLeft && day_id !== device.value?.day_id ? [{ day, inVan, inHall }] : [];
  });
  if (!awaited.length) return null;
  const loads = loadsHere().filter(isToCome);
  return (
    <>
      {awaited.map(({ day, inVan, inHall }) => (
        <div key={day.record_id} class="bar">
          {inVan.length > 0 && <p>{ofDayWords(day, inVan, "not come")}</p>}
          {inHall.length > 0 && <p>{ofDayWords(day, inHall, "stayed in the holding area")}</p>}
          {loads.map(
            ({ load, day: of }) =>
              of.record_id === day.record_id && (
                <p key={load.id}>
                  <a href={`#/load/${load.id}`}>
                    {firstUpper(loadName(load))}: {comeWords(load)}
                  </a>
                </p>
              ),
          )}
        </div>
      ))}
    </>
  );
}

/** "Of 29 November 2026: crate 7K3-QW5 and jugs 7K3-QW6 have not come." */
function ofDayWords(day: DayRecord, things: readonly Standing[], what: string) {
  const names = things.map(({ thing, tag }) => {
    const name = thingName(thing);
    return tag && thing.kind === "item" ? `${name} ${shown(tag)}` : name;
  });
  const rest = names.length - NAMED;
  const said = rest > 1 ? [...names.slice(0, NAMED), `${rest} more`] : names;
  const verb = names.length === 1 ? "has" : "have";
  return `Of ${dateWords(dayFacts(day).held_on)}: ${listInWords(said)} ${verb} ${what}.`;
}

/** When a load of another day left. */
export function leftOn({ set }: Load, day: DayRecord) {
  return `${dateWords(dayFacts(day).held_on)}, ${clockWords(set.made_at)}`;
}
