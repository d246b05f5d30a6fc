/** Zones of which a trial that came off only in part showed no more than that part: what is said is of so much. */
import type { Described } from "./families.ts";
import { type Place, placesOf, zoneOf } from "./places.ts";
import type { Plan, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

/** How the words of a place end of which no more was seen. */
const SO_MUCH = "as was seen";

/** Whether the trial that shows a zone was made only in part: a carpet half turned over. */
function isSeenInPart({ tests }: Plan, record: RecordCopy, key: string) {
  return tests.some(
    ({ test, shows }) =>
      shows?.includes(zoneOf(key)) && fieldValue(record, `tests/${test}`)?.result === "works-in-part",
  );
}

/** Zones that were examined, by name: "the face or as much of the back as was seen". */
export function placesSeen(
  { plan, book, record }: Pick<Described, "plan" | "book" | "record">,
  keys: readonly string[],
  of: "all" | "none" | "nothing",
): Place {
  const inPart = keys.filter((key) => isSeenInPart(plan, record, key));
  if (!inPart.length) return placesOf(plan, book, keys, of);
  const rest = keys.filter((key) => !inPart.includes(key));
  const soMuch = `as much of ${placesOf(plan, book, inPart).words} ${SO_MUCH}`;
  if (!rest.length) return { words: soMuch, many: false };
  const { words } = placesOf(plan, book, rest, of);
  // "The case, the hands, and as much of the movement as was seen": that is of the movement alone.
  const comma = / (?:and|or) /.test(words) ? "," : "";
  return { words: `${words}${comma} ${of === "all" ? "and" : "or"} ${soMuch}`, many: true };
}

/** Words with the comma that parts them from what they are not of: "as much of the back as was seen, under a lamp". */
export function endedSeen(words: string) {
  return words.endsWith(SO_MUCH) ? `${words},` : words;
}
