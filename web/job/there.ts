/** What a thing has, by what was seen of it or what it is called: a tick alone may be of what never was there. */
import { type Described, seenFindings } from "./families.ts";
import { MISSING, mayBeMissing } from "./gone.ts";
import { zoneNameOf } from "./places.ts";
import type { RecordCopy, ZoneName } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

export const DENYING = ["no", "not", "without", "lacking", "lacks", "missing"];

/** Whether a zone was examined and is not missing. */
export function isThere(record: RecordCopy, zone: string) {
  const state = fieldValue(record, `zones/${zone}`)?.state;
  return state === "clear" || (state === "finding" && !mayBeMissing(record, zone));
}

/**
 * Whether a thing has what may be ticked of what never had any: there something was found, its name says so, or it is
 * why somebody did not try something, such as weighing it.
 */
export function isKnownToHave(record: RecordCopy, zone: string, named: string[]) {
  const isWhy = listed(record, "tests/").some(
    ({ value: { result, why } }) =>
      result === "not-done" && named.some((word) => wordsIn(why ?? "").includes(word)),
  );
  return isSeen(record, zone) || isSaidToHave(record, named) || isWhy;
}

/** Whether something was found on a zone, or it was counted or judged: a tick alone may be of what never was there. */
export function isSeen(record: RecordCopy, zone: string) {
  const isFound = seenFindings(record).some(({ value }) => value.zone === zone && value.term !== MISSING);
  const { count } = fieldValue(record, `zones/${zone}`) ?? {};
  return isFound || Boolean(count) || Boolean(fieldValue(record, `origins/${zone}`)?.origin);
}

/**
 * Whether somebody said of this zone by itself that it is clear: who looks at a key by itself has one before him.
 * What one press said of several together is no such word; those share their operation, or their moment and device.
 */
export function isClearedAlone(record: RecordCopy, zone: string) {
  const { value, set } = listed(record, "zones/").find(({ id }) => id === zone) ?? {};
  if (value?.state !== "clear" || !set) return false;
  return !listed(record, "zones/").some(
    ({ id, set: other }) =>
      id !== zone &&
      (other.operation_id === set.operation_id ||
        (other.made_at === set.made_at && other.device_id === set.device_id)),
  );
}

/** Whether one of these words stands in what it is called. */
export function isCalled(record: RecordCopy, some: string[]) {
  const words = wordsIn(fieldValue(record, "short_description") ?? "");
  return some.some((word) => words.includes(word));
}

/** Whether what it is called says that it has something; "without papers" says that it has not. */
function isSaidToHave(record: RecordCopy, some: string[]) {
  return isCalled(record, some) && !isCalled(record, DENYING);
}

/** Whether a question asks for a zone by its name: "Do cover, saucer or stand belong?" */
export function isNamedIn(words: string, name: ZoneName) {
  const asked = ` ${words.toLowerCase().replaceAll(/[^a-z-]+/g, " ")} `;
  // Who asks for stones asks for side stones, and for the main stone.
  const [, kind = ""] = (name.many ?? `${name.one}s`).match(/^\S+ (\S+)$/) ?? [];
  const nouns = [name.one, name.many ?? name.one, kind, ...(name.lacking ?? "").split(" or ")];
  return nouns.some((noun) => noun && asked.includes(` ${noun} `));
}

/** Whether what it is called names a zone: of a walking figure nobody says that it has no figure. */
export function isInName({ book, record }: Pick<Described, "book" | "record">, zone: string) {
  const name = fieldValue(record, "short_description") ?? "";
  return isNamedIn(name, zoneNameOf(book, zone)) && !isCalled(record, DENYING);
}

/** Whether pictures of it are all that ever came here, by its name: nobody tied a number to it. */
export function isOfPictures(record: RecordCopy) {
  const name = fieldValue(record, "short_description") ?? "";
  return (
    /[,(] ?(?:seen )?(?:from|in) (?:photographs|pictures)\b/i.test(name) && !listed(record, "tags/").length
  );
}

/** Whether nothing is on record of it beyond that. */
export function isOfPicturesAlone(record: RecordCopy) {
  return isOfPictures(record) && !listed(record, "zones/").length && !seenFindings(record).length;
}

export function wordsIn(words: string) {
  return words.toLowerCase().split(/[^\p{L}]+/u);
}
