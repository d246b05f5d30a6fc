/** What was looked for and not seen, each with its light: said only where nothing on record speaks against it. */
import { listInWords } from "./english.ts";
import { type Described, isSpokenAgainst, saysOf, termOf, WHOLE } from "./families.ts";
import type { Families } from "./fields.ts";
import { howWords, lightOf, lightsLeftOut, noticed } from "./lights.ts";
import { placesOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { type Sentence, sentence } from "./sentences.ts";
import type { PlanBook, Term } from "./types.ts";
import { fieldValue, type Listed, listed } from "./values.ts";
import { spaced } from "./words.ts";

type Denial = Families["denials"];
/** `about` are the denials that it says. */
export type DenialSentence = Sentence & { about: Denial[] };

/**
 * A denial holds only where the zone was examined, neither the fault nor its family was found after all, and no test
 * says that its light was not used.
 */
export function standingDenials(described: Described): Listed<Denial>[] {
  const { record } = described;
  const left_out = lightsLeftOut(described);
  return listed(record, "denials/").filter(({ value }) => {
    const state = fieldValue(record, `zones/${value.zone}`)?.state;
    const examined = state === "clear" || state === "finding";
    if (value.withdrawn || left_out.has(value.light)) return false;
    return examined && !isSpokenAgainst(described, value.zone, value.term);
  });
}

type Group = {
  terms: string[];
  light: string;
  zones: string[];
  from: string[];
  keys: string[];
  about: Denial[];
};

/** Zone by zone the terms denied there in one light; then the zones of which the same is denied. */
export function denialSentences(described: Described): DenialSentence[] {
  const { plan, book } = described;
  const order = plan.zones.flatMap(keysOf);
  const vocabulary = book.vocabulary.terms.map(({ term }) => term);
  const standing = standingDenials(described).sort(
    (a, b) =>
      order.indexOf(a.value.zone) - order.indexOf(b.value.zone) ||
      vocabulary.indexOf(a.value.term) - vocabulary.indexOf(b.value.term) ||
      a.id.localeCompare(b.id),
  );
  const byZone = new Map<string, Group>();
  for (const { id, value } of standing) {
    const key = JSON.stringify([value.zone, value.light, wayOf(book, value)]);
    const from = [`denials/${id}`, `zones/${value.zone}`];
    const group = byZone.get(key) ?? {
      terms: [],
      light: value.light,
      zones: [value.zone],
      from: [],
      keys: [],
      about: [],
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
    const words = group.terms.map((term) => soughtOn(termOf(book, term), zone));
    const key = JSON.stringify([group.terms, group.light, zone === WHOLE, words]);
    const same = byTerms.get(key);
    if (!same) byTerms.set(key, group);
    else {
      same.zones.push(...group.zones);
      same.from.push(...group.from);
      same.keys.push(...group.keys);
      same.about.push(...group.about);
    }
  }
  return [...byTerms.values()].map((group) => ({
    ...sentence(deniedInWords(described, group), group.from, group.keys),
    about: group.about,
  }));
}

/** What a term is denied as: "no chip seen", "no sign seen of it being replaced"; what is smelled stands by itself. */
function wayOf(book: PlanBook, { term: name, zone }: Denial) {
  const term = termOf(book, name);
  if (term?.absent) return `absent ${name}`;
  const says = saysOf(term, zone);
  const isThing =
    !says || (term?.noun_first && says === term.says) || (zone === WHOLE && Boolean(term?.noun));
  return `${isThing ? "thing" : "being"} ${term?.sense ?? ""}`;
}

/** What was looked for in one light and is not on any of the zones. */
export function deniedInWords(
  { plan, book }: Described,
  { terms: names, light: name, zones }: Pick<Group, "terms" | "light" | "zones">,
) {
  const terms = names.map((name) => termOf(book, name));
  const light = lightOf(book, name);
  const absent = terms[0]?.absent;
  if (absent) {
    const { words, many } = placesOf(plan, book, zones);
    return `${words} ${many ? "are" : "is"} ${absent}, ${noticed(terms[0], light)} ${howWords(light)}`;
  }
  const seen = noticed(terms[0], light);
  const places = placesOf(plan, book, zones, "none").words;
  if (
    wayOf(book, { term: names[0] ?? "", zone: zones[0] ?? "", light: name, withdrawn: false }).startsWith(
      "being",
    )
  )
    return `no sign of ${places} being ${listInWords(
      terms.flatMap((term) => soughtOn(term, zones[0] ?? "") ?? []),
      "or",
    )} ${seen} ${howWords(light)}`;
  const nouns = terms.map((term, at) => nounOf(term, names[at] ?? ""));
  const preps = new Set(terms.map((term) => term?.prep));
  const prep = preps.size === 1 && preps.has("in") ? "in" : "on";
  const where = zones.includes(WHOLE) ? "" : ` ${prep} ${places}`;
  return `no ${listInWords(nouns, "or")} ${seen}${where} ${howWords(light)}`;
}

/** What a zone was looked at for being. */
function soughtOn(term: Term | undefined, zone: string) {
  return term?.says_on[zoneOf(zone)] ?? term?.sought ?? term?.says ?? null;
}

function nounOf(term: Term | undefined, name: string) {
  return (term?.says ? null : term?.sought) ?? term?.noun ?? spaced(name);
}
