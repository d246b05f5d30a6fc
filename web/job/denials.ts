/** What was looked for and not seen, each with its light: said only where nothing on record speaks against it. */
import { differedSince } from "./condition.ts";
import { type Denied, deniedInWords, signOn, soughtOn, wayOf } from "./denied_words.ts";
import { besideOf, type Described, termOf, touch, WHOLE } from "./families.ts";
import type { Families } from "./fields.ts";
import { isGone, isSpokenAgainst } from "./gone.ts";
import { lightsLeftOut } from "./lights.ts";
import { zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { shortCounts } from "./sizes.ts";
import { isFaultByTrial } from "./trials.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue, isContested, type Listed, listed, saidOf } from "./values.ts";

type Denial = Families["denials"];
/** That marks cannot all be read, and how such a mark is recorded. */
const MARK_FAULT = "mark-illegible";
const UNREAD = ["illegible"];
const BEFORE = "before it was checked in, ";
/** `about` are the denials that it says. */
export type DenialSentence = Sentence & { about: Denial[] };

/**
 * A denial holds unless its zone was not examined, the fault or its family was found after all or shown by a trial that
 * failed, or a test says that its light was not used. Whoever looked for a fault looked at the zone, though no state of
 * it is on record.
 */
export function standingDenials(described: Described): Listed<Denial>[] {
  const { record } = described;
  const left_out = lightsLeftOut(described);
  return listed(record, "denials/").filter(({ value }) => isStanding(described, value, left_out));
}

export function isStanding(described: Described, denial: Denial, left_out = lightsLeftOut(described)) {
  const isUnseen = fieldValue(described.record, `zones/${denial.zone}`)?.state === "not-examined";
  if (denial.withdrawn || left_out.has(denial.light)) return false;
  return !isUnseen && !isFaultOnRecord(described, denial);
}

/** Whether a finding, what became of a zone, a trial, a count or the reading of a mark speaks against a denial. */
export function isFaultOnRecord(described: Described, { zone, term }: Pick<Denial, "zone" | "term">) {
  return (
    isSpokenAgainst(described, zone, term) ||
    isFaultByTrial(described, zone, term) ||
    isFaultByCount(described, zone, term) ||
    (term === MARK_FAULT && listed(described.record, "marks/").some(({ value }) => isNotRead(value)))
  );
}

function isFaultByCount(described: Described, zone: string, term: string) {
  return shortCounts(described).some(
    ({ rules_out }) =>
      rules_out?.terms.includes(term) && rules_out.zones.some((of) => touch(described.plan, of, zone)),
  );
}

/** A place of a mark is typed, so that one which nobody can read may be on any zone. */
function isNotRead({ withdrawn, completeness }: Families["marks"]) {
  return !withdrawn && UNREAD.includes(completeness ?? "");
}

type Group = Denied & { from: string[]; keys: string[]; about: Denial[]; apart: string };

/** What is denied of the whole is not denied of its zones once more, in the same light. */
function withinWhole(groups: Group[]): Group[] {
  const wholes = groups.filter(({ zones }) => zones.includes(WHOLE));
  return groups.filter((group) => {
    const holding = wholes.find(
      (whole) =>
        whole !== group &&
        whole.light === group.light &&
        whole.apart === group.apart &&
        group.terms.every((term) => whole.terms.includes(term)),
    );
    holding?.from.push(...group.from);
    holding?.keys.push(...group.keys);
    holding?.about.push(...group.about);
    return !holding;
  });
}

/** Whether nothing is there that could be missing from a zone: a setting without stones is not called complete. */
function isOfNothing(described: Described, { zone, term }: Denial) {
  const beside = besideOf(described, zone, term);
  return beside.length > 0 && beside.every((other) => isGone(described, other));
}

/** What one has denied and another took back is no denial. */
function asSaid(record: RecordCopy, { keys }: Group, words: string) {
  return keys.some((key) => isTakenBack(record, key))
    ? `recorded and taken back, and not settled: ${words}`
    : words;
}

/** Whether somebody took a denial back, and nobody has settled whether it holds. */
export function isTakenBack(record: RecordCopy, name: string) {
  return isContested(record, name) && saidOf(record, name as "denials/").some(({ value }) => value.withdrawn);
}

/** Zone by zone the terms denied there in one light; then the zones of which the same is denied. */
export function denialSentences(described: Described): DenialSentence[] {
  const { plan, book } = described;
  const order = plan.zones.flatMap(keysOf);
  const vocabulary = book.vocabulary.terms.map(({ term }) => term);
  const said = standingDenials(described).filter(({ value }) => !isOfNothing(described, value));
  const standing = said.sort(
    (a, b) =>
      order.indexOf(a.value.zone) - order.indexOf(b.value.zone) ||
      vocabulary.indexOf(a.value.term) - vocabulary.indexOf(b.value.term) ||
      a.id.localeCompare(b.id),
  );
  const byZone = new Map<string, Group>();
  for (const { id, value } of standing) {
    const apart = described.apart?.(`denials/${id}`) ?? "";
    const key = JSON.stringify([value.zone, value.light, wayOf(book, value), apart]);
    const state = `zones/${value.zone}`;
    const from = [`denials/${id}`, ...(described.record.fields[state] ? [state] : [])];
    const group = byZone.get(key) ?? {
      terms: [],
      light: value.light,
      zones: [value.zone],
      from: [],
      keys: [],
      about: [],
      apart,
    };
    if (!group.terms.includes(value.term)) group.terms.push(value.term);
    group.from.push(...from);
    group.keys.push(`denials/${id}`);
    group.about.push(value);
    byZone.set(key, group);
  }
  const byTerms = new Map<string, Group>();
  for (const group of byZone.values()) {
    const [zone = ""] = group.zones;
    // A word that a term has for one zone is not said of another.
    const words = group.terms.map((term) => {
      const known = termOf(book, term);
      return [signOn(known, zone), soughtOn(known, zone), known?.absent_on?.[zoneOf(zone)]];
    });
    const key = JSON.stringify([group.terms, group.light, zone === WHOLE, words, group.apart]);
    const same = byTerms.get(key);
    if (!same) byTerms.set(key, group);
    else {
      same.zones.push(...group.zones);
      same.from.push(...group.from);
      same.keys.push(...group.keys);
      same.about.push(...group.about);
    }
  }
  // What differed when it was checked in may be what was looked for, until somebody records what is on it.
  const before = differedSince(described.record) ? BEFORE : "";
  return withinWhole([...byTerms.values()]).map((group) => ({
    ...sentence(
      before + asSaid(described.record, group, deniedInWords(described, group)),
      group.from,
      group.keys,
    ),
    about: group.about,
  }));
}
