/** What faults are called by a noun, one or several: "the crack", "the seized movement". */
import { termOf, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { nounOf, zoneNameOf, zoneOf } from "./places.ts";
import type { PlanBook } from "./types.ts";
import { spaced } from "./words.ts";

/** What goes on in a zone, and is told as what that is. */
const CHEMICAL = "chemical";

/** Of what has no noun of its own it is the noun of its signs, or the zone that is so: "the seized movement". */
export function nameOf(book: PlanBook, name: string, found: FindingValue[]) {
  const term = termOf(book, name);
  // Of the rotten stringing nobody reads of rotting fibre in the next sentence.
  const saysOn = found.map(({ zone }) => saidOn(book, term?.says_on[zoneOf(zone)], zone));
  if (term?.family === CHEMICAL && saysOn.length && saysOn.every(Boolean))
    return [...new Set(saysOn)].join(" and the ");
  const count = found[0]?.extent_count ?? 0;
  const several = found.length > 1 || count > 1 || (term?.spread && !count);
  const noun = (several && term?.plural) || term?.noun || term?.sign || term?.sought?.replace("sign of ", "");
  if (noun) return noun;
  const says = term?.says;
  if (!says) return spaced(name);
  const nouns = found.map(({ zone }) =>
    zone === WHOLE ? "state" : nounOf(zoneNameOf(book, zoneOf(zone)), 1),
  );
  return [...new Set(nouns)].map((noun) => `${says} ${noun}`).join(" and the ");
}

function saidOn(book: PlanBook, says: string | undefined, zone: string) {
  const name = zoneNameOf(book, zoneOf(zone));
  return says && `${says} ${nounOf(name, name.plural ? 2 : 1)}`;
}
