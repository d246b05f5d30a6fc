/** Marks, labels and signatures that were examined and not copied: silence of them reads as if there were none. */

import { listInWords } from "./english.ts";
import { type Described, seenFindings, touch, WHOLE } from "./families.ts";
import { isMissing } from "./gone.ts";
import { howWords, lightOf } from "./lights.ts";
import { isBlank, isOnlyDenied, itOrThem } from "./looked.ts";
import { ANY, isCopyOf, wordingOf } from "./mark_on.ts";
import { isAnyMark } from "./marks.ts";
import { countAlike } from "./piece_open.ts";
import { type Place, placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isCalled } from "./there.ts";
import type { Question } from "./types.ts";
import { keysAsked } from "./untried.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";

/** What stands in place of a light where an answer has told of a zone. */
const FOUND_ON = "found";
const UNREAD = "mark-illegible";
type Uncopied = Sentence & { about: string[] };

/**
 * That what stands on a zone asked about was not copied, where no such mark is on record: that there is nothing to
 * report of marks reads as if there were none. Of what the answer has `told` already, nobody says again how it was
 * examined.
 */
export function uncopied(described: Described, question: Question, told: readonly string[]): Uncopied[] {
  return uncopiedOf(described, keysAsked(described, question), told);
}

/** The same for the paragraph, of marks that no question asks for: of what is asked for the answer tells it. */
export function uncopiedSentences(described: Described): Uncopied[] {
  const { plan } = described;
  const isAsked = (zone: string) => plan.questions.some(({ zones }) => zones.includes(zone));
  const zones = plan.zones.filter(({ zone, wording }) => wording?.includes(ANY) && !isAsked(zone));
  return uncopiedOf(described, zones.flatMap(keysOf), []);
}

function uncopiedOf(described: Described, all: readonly string[], told: readonly string[]): Uncopied[] {
  const { plan, book, record } = described;
  const isCopied = (key: string) =>
    listed(record, "marks/").some(({ value }) => !value.withdrawn && isCopyOf(wordingOf(plan, key), value));
  const keys = all.filter(
    (key) =>
      wordingOf(plan, key).length &&
      !isCopied(key) &&
      isExamined(described, key) &&
      !isMissing(described, key),
  );
  // A mark that was found on a part which has no zone for it is the one that is spoken of.
  const isMarkTold = seenFindings(record).some(
    ({ value }) => value.term === UNREAD && !wordingOf(plan, value.zone).length,
  );
  const isFoundOn = (key: string) =>
    isMarkTold || told.includes(key) || foundAround(described, key).some(({ value }) => value.zone !== WHOLE);
  // Where marks were looked for and none was found, there is none to copy but what a finding is of.
  const isNoneFound =
    Boolean(fieldValue(record, "marks_looked")?.trim()) && !isAnyMark(record) && !isMarkTold;
  const isFinding = (key: string) => seenFindings(record).some(({ value }) => value.zone === key);
  const uncopiedKeys = isNoneFound ? keys.filter(isFinding) : keys;
  const lightOn = (key: string) => fieldValue(record, `zones/${key}`)?.light ?? "";
  // Of what has one name together nobody is told in two sentences that it was not copied.
  const groupOf = (key: string) => zoneNameOf(book, zoneOf(key)).group?.group;
  const isToldWith = (key: string) =>
    keys.some((other) => isFoundOn(other) && groupOf(other) && groupOf(other) === groupOf(key));
  const byLight = groupedBy(uncopiedKeys, (key) =>
    isFoundOn(key) || isToldWith(key) ? FOUND_ON : lightOn(key),
  );
  return [...byLight].map(([light, lit]) => {
    const { words, many } = marksOn(described, lit);
    const how = light && light !== FOUND_ON ? ` ${howWords(lightOf(book, light))}` : "";
    const looked = light === FOUND_ON ? "" : `examined${how} and `;
    const said = sentence(
      `${words} ${many ? "were" : "was"} ${looked}not copied`,
      lit.flatMap((key) => restsOn(described, key)),
      lit.map((key) => `uncopied/${key}`),
    );
    // What is named together with another was looked at by itself all the same.
    return { ...said, about: light === FOUND_ON ? lit.filter(isFoundOn) : lit };
  });
}

/** What stands on them by its name: each of several things has a mark of its own. */
function marksOn(described: Described, keys: string[]): Place {
  const { plan, book } = described;
  const place = placesOf(plan, book, keys);
  const hasMembers = keys.some((key) => key.includes("/"));
  const isSeveral = itOrThem(described) === "them" || countAlike(described.record) > 1 || isOfMany(described);
  const names = keys.map((key) => zoneNameOf(book, zoneOf(key)));
  const isOfEach = isSeveral && names.every(({ plural, many }) => !plural && many) && !hasMembers;
  return isOfEach ? { words: listInWords(names.map(({ many }) => `the ${many}`)), many: true } : place;
}

/** Whether it holds many alike by its name: a portfolio of watercolours. */
export function isOfMany({ plan, record }: Described) {
  return Boolean(plan.of_many?.some(({ named }) => isCalled(record, named)));
}

/** Whether somebody looked at a zone, and something of what he said of it stands. */
export function isExamined(described: Described, key: string) {
  const { state, reason } = fieldValue(described.record, `zones/${key}`) ?? {};
  if (state !== "not-examined") return !isBlank(described, key) && !isOnlyDenied(described, key);
  const found = seenFindings(described.record);
  return reason === "not-applicable" && found.some(({ value }) => value.zone === key);
}

/** The state of a zone, or what was found on one that has none. */
export function restsOn({ record }: Described, key: string) {
  if (fieldValue(record, `zones/${key}`)) return [`zones/${key}`];
  return seenFindings(record).flatMap(({ id, value }) => (value.zone === key ? [`findings/${id}`] : []));
}

export function foundAround({ plan, record }: Described, key: string) {
  return seenFindings(record).filter(({ value }) => touch(plan, value.zone, key));
}
