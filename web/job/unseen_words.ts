/** Zones that were not examined, by name: of what may not be there at all it is not said that it is. */
import { listInWords } from "./english.ts";
import { type Described, seenFindings } from "./families.ts";
import { nounOf, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { DENYING, isInName, isNamedIn, wordsIn } from "./there.ts";
import type { ZoneName } from "./types.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";

/** "the verso, any watermark and the support": zones of which nobody saw anything, in the order of the walk. */
export function placesUnseen(described: Described, keys: readonly string[], of: "all" | "none"): string {
  const { plan, book } = described;
  const unseen = of === "all" ? "unseen" : of;
  if (!keys.some((key) => isAnyOpen(described, key))) return placesOf(plan, book, keys, unseen).words;
  const byZone = groupedBy([...keys], (key) =>
    isAnyOpen(described, key) ? zoneOf(key) : `the ${zoneOf(key)}`,
  );
  const names = [...byZone.values()].map((some) => {
    const name = zoneNameOf(book, zoneOf(some[0] ?? ""));
    const isAny = isAnyOpen(described, some[0] ?? "");
    return isAny ? `any ${nounOf(name, name.plural ? 2 : 1)}` : placesOf(plan, book, some, unseen).words;
  });
  return listInWords(names, of === "none" ? "or" : "and");
}

function namesIt(note: string, name: ZoneName) {
  return isNamedIn(note, name) && !DENYING.some((word) => wordsIn(note).includes(word));
}

/** Whether nobody can know that it has such a zone: only a look would tell, and nothing else on record speaks of it. */
export function isAnyOpen(described: Described, key: string): boolean {
  const { plan, book, record } = described;
  const zone = zoneOf(key);
  if (!zoneNameOf(book, zone).if_any || isInName(described, zone)) return false;
  const isFound = seenFindings(record).some(({ value }) => zoneOf(value.zone) === zone);
  const isMarked =
    Boolean(plan.zones.find((row) => row.zone === zone)?.wording?.length) &&
    listed(record, "marks/").some(({ value }) => !value.withdrawn);
  const isJudged = Boolean(fieldValue(record, `origins/${key}`));
  // "The inner cover stayed shut": whoever tried it has seen that it is there.
  const isNoted = listed(record, "tests/").some(({ value }) =>
    namesIt(value.note ?? "", zoneNameOf(book, zone)),
  );
  return !isFound && !isMarked && !isJudged && !isNoted;
}
