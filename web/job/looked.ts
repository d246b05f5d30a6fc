/** What was not examined and why, what nobody spoke of, what it never had, and how the rest was examined. */

import { AS_UNPACKED } from "./as_unpacked.ts";
import { standingDenials } from "./denials.ts";
import { listInWords, verbOfThem } from "./english.ts";
import { type Described, seenFindings } from "./families.ts";
import { reasonInWords } from "./in_lists.ts";
import { inOrderOfLights, lightOf, toolWords } from "./lights.ts";
import { isMarkNoted } from "./mark_on.ts";
import { originSentences } from "./origins.ts";
import { nounOf, zoneNameOf } from "./places.ts";
import { isOfOtherKind, keysOf } from "./progress.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isInName, isOfPictures } from "./there.ts";
import { looksMade } from "./trials.ts";
import { isOfThem } from "./typed_names.ts";
import type { PlanBook, RecordCopy } from "./types.ts";
import { placesUnseen } from "./unseen_words.ts";
import { fieldValue, findingsOn, groupedBy, listed } from "./values.ts";

/** What the sentence on how it was examined speaks of. */
const LIGHTS = ["lights"];
export const SEEN_IN_PICTURES = "seen in photographs only";

/** Of `keys`, or of the whole plan: each reason with its zones, then the zones of which nothing is on record. */
export function unseenSentences(described: Described, keys = allKeys(described)): Sentence[] {
  const { plan, book, record } = described;
  const states = keys.map((key) => ({ key, state: fieldValue(record, `zones/${key}`) }));
  const skipped = states.filter(
    ({ state }) => state?.state === "not-examined" && state.reason !== "not-applicable",
  );
  const spokenOf = new Set([
    ...seenFindings(record).map(({ value }) => value.zone),
    ...originSentences(described).flatMap(({ about }) => about),
  ]);
  const howFar = (key: string) => (spokenOf.has(key) ? "not examined further" : "not examined");
  const groups = [
    ...groupedBy(
      skipped,
      ({ key, state }) => `${howFar(key)} ${state?.reason ?? ""} ${described.apart?.(unseenKey(key))}`,
    ).values(),
  ];
  const apartOf = (key: string) => described.apart?.(unseenKey(key)) ?? "";
  const isMarked = (key: string) => isMarkNoted(plan, record, key);
  const all = allKeys(described);
  const left = states.filter(({ state }) => state?.reason !== "not-applicable");
  const silent = keys.filter((key) => isBlank(described, key) && all.includes(key));
  const blank = silent.filter((key) => !isMarked(key));
  const denied = keys.filter(
    (key) => isOnlyDenied(described, key) || (silent.includes(key) && isMarked(key)),
  );
  const nothing = (some: string[], what: string) =>
    [...groupedBy(some, apartOf).values()].map((group) => nothingRecorded(described, group, what));
  return [
    ...groups.map((group) => {
      const zones = group.map(({ key }) => key);
      const reason = reasonInWords(book, group[0]?.state?.reason ?? "");
      const isNothingSeen =
        groups.length === 1 && keys.length === all.length && skipped.length === left.length;
      const named = isNothingSeen ? "" : `${placesUnseen(described, zones, "all")}; `;
      return sentence(
        `${howFar(zones[0] ?? "")}: ${named}${reason}`,
        zones.map((zone) => `zones/${zone}`),
        zones.map(unseenKey),
      );
    }),
    ...(denied.length && blank.length + denied.length === all.length
      ? nothing([...denied, ...blank], "nothing else is recorded")
      : [...nothing(denied, "nothing else is recorded"), ...nothing(blank, "nothing is recorded")]),
  ];
}

/**
 * Whether nothing is on record of a zone: nobody has spoken of it, or what was found there was withdrawn or only told;
 * unless a fault was looked for there, and not found.
 */
export function isBlank(described: Described, key: string): boolean {
  const { record } = described;
  const state = fieldValue(record, `zones/${key}`)?.state;
  if (state && state !== "finding") return false;
  const onRecord = [...seenFindings(record), ...standingDenials(described)];
  return onRecord.every(({ value }) => value.zone !== key);
}

/** Whether all that is on record of a zone is that a fault was looked for there: no state, and nothing found. */
export function isOnlyDenied(described: Described, key: string): boolean {
  const { record } = described;
  if (fieldValue(record, `zones/${key}`)?.state || isBlank(described, key)) return false;
  return seenFindings(record).every(({ value }) => value.zone !== key);
}

/** Said in place of every zone by its name, where nobody has spoken of one; else null. */
export function nothingAtAll(described: Described): Sentence[] | null {
  const { record } = described;
  const isNothing = allKeys(described).every(
    (key) =>
      !fieldValue(record, `zones/${key}`) && !findingsOn(record, key).length && !isOnlyDenied(described, key),
  );
  if (!isNothing) return null;
  if (isOfPictures(record)) return [sentence(`not offered: ${SEEN_IN_PICTURES}`, ["short_description"])];
  return [sentence(`nothing is recorded of any part of ${itOrThem(described)}${beyond(described)}`, [])];
}

/** `nothing` is "nothing is recorded", or "nothing else". */
function nothingRecorded(described: Described, keys: string[], nothing: string): Sentence {
  if (keys.length < allKeys(described).length)
    return sentence(`${nothing} of ${placesUnseen(described, keys, "none")}`, [], keys.map(unseenKey));
  const isDenied = keys.some((key) => isOnlyDenied(described, key));
  if (!isDenied && isOfPictures(described.record))
    return sentence("not examined", ["short_description"], keys.map(unseenKey));
  const begins = isDenied ? "" : "not examined: ";
  const words = `${begins}${nothing} of any part of ${itOrThem(described)}${beyond(described)}`;
  return sentence(words, [], keys.map(unseenKey));
}

/** What somebody called it may name a fault, "cello, broken neck", and what was tried tells of it. */
function beyond({ record }: Described) {
  const isNamed = Boolean(fieldValue(record, "short_description")?.trim());
  const isTried = listed(record, "tests/").some(({ value }) => value.result && value.result !== "not-done");
  const known = [...(isNamed ? ["the description"] : []), ...(isTried ? ["what was tried"] : [])];
  return known.length ? ` beyond ${listInWords(known)}` : "";
}

export function unseenKey(zone: string) {
  return `unseen/${zone}`;
}

/** Nobody is told that nothing is recorded of the paper of a note where it is a group of medals. */
function allKeys(described: Described) {
  const { plan, record } = described;
  return plan.zones.flatMap((row) =>
    keysOf(row).filter((key) => !isOfOtherKind(record, row) || !isBlank(described, key)),
  );
}

/** The names of zones that there are none of: "strap, buckle or papers". */
export function bareNames(book: PlanBook, zones: string[]) {
  const all = zones.map((zone) => zoneNameOf(book, zone));
  const uncounted = all.filter(({ tally }) => !tally);
  const names = uncounted.length ? uncounted : all;
  const named = names.filter(({ lacking }) => !lacking || !names.some(({ one }) => one === lacking));
  const nouns = named.map((name) => name.lacking ?? nounOf(name, name.plural || name.of_each ? 2 : 1));
  return listInWords([...new Set(nouns.flatMap((noun) => noun.split(" or ")))], "or");
}

/** What stands for the thing in a sentence. */
export function itOrThem({ book, record }: Described): "it" | "them" {
  return isOfThem(fieldValue(record, "short_description") ?? "", book.print.english) ? "them" : "it";
}

/** "They were weighed": what is said of several things, but for what was typed of a finding or as a statement. */
export function saidOfThem<One extends Sentence>(described: Described, said: One[]): One[] {
  if (itOrThem(described) === "it") return said;
  return said.map((one) =>
    one.keys.some((key) => /^(findings|statements)\//.test(key)) ? one : { ...one, words: ofThem(one.words) },
  );
}

function ofThem(words: string) {
  const [begin = ""] = words.split(":");
  const verbOf = (_: string, before: string, verb: string) => `${before} ${verbOfThem(verb)}`;
  const begun = begin
    .replace(/^(It) (\w+)/, (_, it: string, verb: string) => verbOf(it, "They", verb))
    .replace(/^(Whether|When|Before) it (\w+)/, (_, when: string, verb: string) =>
      verbOf("", `${when} they`, verb),
    )
    .replace(/, it differed from its pictures/, ", they differed from their pictures")
    .replace(/\b(with|of|to|on) it(?= (?:is|was|were)\b|[.,;]|$)/g, "$1 them")
    .replace(/ on its parts /, " on their parts ")
    .replace(/\bout of (?:the|its) frame\b/, "out of their frames");
  return begun + words.slice(begin.length);
}

/** What a buyer looks for with an item of its kind, and this one never had. */
export function withoutSentences(described: Described): Sentence[] {
  const { plan, book, record, apart } = described;
  const none = plan.zones.filter((zone) =>
    keysOf(zone).every((key) => fieldValue(record, `zones/${key}`)?.reason === "not-applicable"),
  );
  const isThere = (zone: string) => none.every((row) => row.zone !== zone);
  const without = none.filter(
    (row) => row.missed_with?.some(isThere) && !isInName(described, row.zone) && !isOfOtherKind(record, row),
  );
  const groups = groupedBy(without, ({ zone }) => apart?.(`without/${zone}`) ?? "");
  return [...groups.values()].map((group) => {
    const zones = group.map(({ zone }) => zone);
    return sentence(
      `without ${bareNames(book, zones)}`,
      group.flatMap((zone) => keysOf(zone).map((key) => `zones/${key}`)),
      zones.map((zone) => `without/${zone}`),
    );
  });
}

/** Whether all that was examined was so in one light: the paragraph ends with it, and nothing else was used. */
export function isOneLight(described: Described): boolean {
  const isLit = zonesExamined(described.record).every(
    ({ value: { light } }) => light && light !== AS_UNPACKED,
  );
  const tools = litIn(described).map(({ light, zone }) => toolWords(lightOf(described.book, light, zone)));
  return isLit && new Set(tools).size === 1;
}

function zonesExamined(record: RecordCopy) {
  return listed(record, "zones/").filter(({ value }) => value.state !== "not-examined");
}

/** What was examined, looked for, found and looked through in some light, and in which. */
function litIn(described: Described) {
  const { record } = described;
  return [
    ...zonesExamined(record).map(({ id, value }) => ({ light: value.light, zone: id, field: `zones/${id}` })),
    ...standingDenials(described).map(({ id, value }) => ({ ...value, field: `denials/${id}` })),
    ...seenFindings(record).map(({ id, value }) => ({ ...value, field: `findings/${id}` })),
    ...looksMade(described).map((look) => ({ ...look, zone: "" })),
  ].flatMap(({ light, zone, field }) => (light && light !== AS_UNPACKED ? [{ light, zone, field }] : []));
}

/** Every light and tool on record, once, in the order of the house's list. */
export function howExamined(described: Described): Sentence[] {
  const { book, record } = described;
  const zones = zonesExamined(record);
  const lit = litIn(described);
  if (!lit.length)
    return zones.length
      ? [
          sentence(
            "by what light it was examined is not recorded",
            zones.map(({ id }) => `zones/${id}`),
            LIGHTS,
          ),
        ]
      : [];
  const names = inOrderOfLights(
    book,
    lit.map(({ light }) => light),
  );
  const toolsOf = (name: string) =>
    lit.filter(({ light }) => light === name).map(({ zone }) => toolWords(lightOf(book, name, zone)));
  const tools = [...new Set(names.flatMap((name) => toolsOf(name).sort()))];
  const ways = tools.filter((words) => words.startsWith("by "));
  const places = tools.filter((words) => words.startsWith("in the "));
  const withTools = tools.filter((words) => !ways.includes(words) && !places.includes(words));
  const how = [...places, ...(withTools.length ? [`with ${listInWords(withTools)}`] : [])].join(", ");
  const all = [...(how ? [how] : []), ...(ways.length ? [listInWords(ways)] : [])];
  return [
    sentence(
      `examined ${all.join(", and ")}`,
      lit.map(({ field }) => field),
      LIGHTS,
    ),
  ];
}
