/** What happened to zones since they were made, where their findings have not said it. */

import { type Described, deniedBy, seenFindings, termOf, touch, wholeOfZones } from "./families.ts";
import type { Families, FindingValue } from "./fields.ts";
import { isMissing, isNone } from "./gone.ts";
import { originWords } from "./in_lists.ts";
import { type Place, placesOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { behindColon, goingOnWith, type Sentence, sentence } from "./sentences.ts";
import { type Listed, listed } from "./values.ts";

type Origin = Families["origins"];
const ORIGINAL = ["original", "original-probably"];

/** `about` are the zones that it speaks of. */
export type OriginSentence = Sentence & { about: string[] };

export function originSentences(described: Described): OriginSentence[] {
  const { plan, book, record } = described;
  const order = plan.zones.flatMap(keysOf);
  const origins = listed(record, "origins/")
    .filter((origin) => origin.value.origin && !isSaid(described, origin))
    .sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id) || a.id.localeCompare(b.id));
  const groups = new Map<string, Listed<Origin>[]>();
  for (const origin of origins) {
    const rest = changedBefore(described, origin);
    const key = JSON.stringify([
      origin.value.origin,
      origin.value.note?.trim(),
      rest,
      origin.value.note ? zoneOf(origin.id) : "",
      described.apart?.(`origins/${origin.id}`),
    ]);
    groups.set(key, [...(groups.get(key) ?? []), origin]);
  }
  const rank = book.words.originalities.map(({ originality }) => originality);
  return [...groups.values()]
    .sort((a, b) => rank.indexOf(originOf(a)) - rank.indexOf(originOf(b)))
    .map((group) => {
      const zones = group.map(({ id }) => id);
      const rest = group.some((origin) => changedBefore(described, origin)) ? "otherwise " : "";
      const origin = originOf(group);
      const { words, many } = ofOrigin(described, zones, origin);
      const is = many ? "are" : "is";
      const note = (origin === "not-determined" ? behindColon : goingOnWith)(group[0]?.value.note);
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

/** What zones are called of which a word says what became of them: the metal is refinished, and not its finish. */
function ofOrigin({ plan, book }: Described, zones: string[], origin: string): Place {
  const term = book.vocabulary.terms.find(({ origins }) => origins.includes(origin));
  const [whole] = wholeOfZones(term, zones) ?? [];
  return whole ? { words: `the ${whole}`, many: false } : placesOf(plan, book, zones);
}

function originOf(group: Listed<Origin>[]) {
  return group[0]?.value.origin ?? "";
}

/** Whether what is on record as original was changed since, by a finding or by what a zone near it is. */
export function isNoLongerOriginal(described: Described, id: string): boolean {
  const origin = listed(described.record, "origins/").find((one) => one.id === id);
  return Boolean(origin && ORIGINAL.includes(origin.value.origin ?? "") && isSaid(described, origin));
}

/** Whether a finding on the zone says it already, or says that all of it is no longer what it was. */
function isSaid({ book, record, plan }: Described, { id, value }: Listed<Origin>) {
  // Of what is gone, or never was there, nobody saw it: only a note can tell what is meant.
  if (!value.note?.trim() && (isMissing(record, id) || isMissing(record, zoneOf(id)) || isNone(record, id)))
    return true;
  const found = seenFindings(record).filter(
    (finding) => finding.value.zone === id || zoneOf(id) === finding.value.zone,
  );
  const origin = value.origin ?? "";
  if (ORIGINAL.includes(origin))
    return (
      found.some(
        (finding) => isChange(book, finding.value.term, finding.value.origin) && !finding.value.extent_count,
      ) ||
      listed(record, "origins/").some(
        (other) =>
          other.id !== id && touch(plan, other.id, id) && deniedBy(book, other.value.origin).length > 0,
      )
    );
  return (
    !value.note?.trim() &&
    found.some((finding) => finding.value.origin === origin || shows(book, finding.value, origin))
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
      (finding) => finding.value.zone === id && isChange(book, finding.value.term, finding.value.origin),
    )
  );
}

/** Whether a finding says that something later stands where the first was, or lies over it. */
function isChange(book: Described["book"], name: string, origin: string | null) {
  const later = ["replaced", "associated", "refinished"];
  return later.some((value) => value === origin || deniedBy(book, value).includes(name));
}
