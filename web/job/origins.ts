/** What happened to zones since they were made, where their findings have not said it. */
import { type Described, deniedBy, seenFindings, termOf, touch } from "./families.ts";
import type { Families, FindingValue } from "./fields.ts";
import { placesOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { behindColon, type Sentence, sentence } from "./sentences.ts";
import { type Listed, listed } from "./values.ts";
import { originWords } from "./wording.ts";

type Origin = Families["origins"];
const ORIGINAL = ["original", "original-probably"];

/** `about` are the zones that it speaks of. */
export type OriginSentence = Sentence & { about: string[] };

export function originSentences(described: Described): OriginSentence[] {
  const { plan, book, record } = described;
  const order = plan.zones.flatMap(keysOf);
  const said = listed(record, "origins/")
    .filter((one) => one.value.origin && !isSaid(described, one))
    .sort((one, other) => order.indexOf(one.id) - order.indexOf(other.id) || one.id.localeCompare(other.id));
  const groups = new Map<string, Listed<Origin>[]>();
  for (const one of said) {
    const rest = changedBefore(described, one);
    const key = JSON.stringify([
      one.value.origin,
      one.value.note?.trim(),
      rest,
      one.value.note ? zoneOf(one.id) : "",
    ]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  const rank = book.words.originalities.map(({ originality }) => originality);
  return [...groups.values()]
    .sort((one, other) => rank.indexOf(originOf(one)) - rank.indexOf(originOf(other)))
    .map((group) => {
      const zones = group.map(({ id }) => id);
      const rest = group.some((one) => changedBefore(described, one)) ? "otherwise " : "";
      const { words, many } = placesOf(plan, book, zones);
      const is = many ? "are" : "is";
      const note = behindColon(group[0]?.value.note);
      const origin = originOf(group);
      return {
        ...sentence(
          origin === "not-determined"
            ? `whether ${words} ${is} original was not determined${note}`
            : `${words} ${is} ${rest}${originWords(book, origin)}${note}`,
          zones.map((id) => `origins/${id}`),
        ),
        about: zones,
      };
    });
}

function originOf(group: Listed<Origin>[]) {
  return group[0]?.value.origin ?? "";
}

/** Whether a finding on the zone says it already, or says that all of it is no longer what it was. */
function isSaid({ book, record, plan }: Described, { id, value }: Listed<Origin>) {
  const found = seenFindings(record).filter((one) => one.value.zone === id || zoneOf(id) === one.value.zone);
  const origin = value.origin ?? "";
  if (ORIGINAL.includes(origin))
    return (
      found.some((one) => isChange(book, one.value.term, one.value.origin) && !one.value.extent_count) ||
      listed(record, "origins/").some(
        (other) =>
          other.id !== id && touch(plan, other.id, id) && deniedBy(book, other.value.origin).length > 0,
      )
    );
  return (
    !value.note?.trim() && found.some((one) => one.value.origin === origin || shows(book, one.value, origin))
  );
}

/** Whether a finding says of all of its zone what an origin would say again. */
function shows(book: Described["book"], found: FindingValue, origin: string) {
  const { term, extent_mm, extent_percent, extent_count } = found;
  const isOfAll = !(extent_mm || extent_percent || extent_count);
  return termOf(book, term)?.origins.includes(origin) || (isOfAll && deniedBy(book, origin).includes(term));
}

/** Whether some of an original zone was changed, so that the rest of it is meant. */
function changedBefore({ book, record }: Described, { id, value }: Listed<Origin>) {
  return (
    ORIGINAL.includes(value.origin ?? "") &&
    seenFindings(record).some(
      (one) => one.value.zone === id && isChange(book, one.value.term, one.value.origin),
    )
  );
}

/** Whether a finding says that something later stands where the first was, or lies over it. */
function isChange(book: Described["book"], name: string, origin: string | null) {
  const later = ["replaced", "associated", "refinished"];
  return later.some((one) => one === origin || deniedBy(book, one).includes(name));
}
