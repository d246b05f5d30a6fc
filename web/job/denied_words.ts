/** What was looked for and not seen, in words; which of it may be said stands in `denials.ts`. */
import { listInWords } from "./english.ts";
import { type Described, saysOf, termOf, WHOLE } from "./families.ts";
import type { Families } from "./fields.ts";
import { howNoticed, lightOf, noticed } from "./lights.ts";
import { placesOf, zoneOf } from "./places.ts";
import type { PlanBook, Term } from "./types.ts";
import { spaced } from "./words.ts";

/** The terms denied of the zones in one light. */
export type Denied = { terms: string[]; light: string; zones: string[] };

/** What a term is denied as: "no chip seen", "no sign seen of it being replaced"; what is smelled stands by itself. */
export function wayOf(book: PlanBook, { term: name, zone }: Families["denials"]) {
  const term = termOf(book, name);
  if (term?.absent) return `absent ${name}`;
  const says = saysOf(term, zone);
  const isThing =
    !says || (term?.noun_first && says === term.says) || (zone === WHOLE && Boolean(term?.noun));
  return `${isThing ? "thing" : "being"} ${term?.sense ?? ""}`;
}

/** What was looked for in one light and is not on any of the zones. */
export function deniedInWords({ plan, book }: Described, { terms: names, light: name, zones }: Denied) {
  const terms = names.map((name) => termOf(book, name));
  const light = lightOf(book, name);
  const absent = terms[0]?.absent;
  if (absent) {
    const { words, many } = placesOf(plan, book, zones);
    return `${words} ${many ? "are" : "is"} ${absent}, ${noticed(terms[0], light)} ${howNoticed(terms[0], light)}`;
  }
  const seen = noticed(terms[0], light);
  const shown = howNoticed(terms[0], light);
  const how = shown && ` ${shown}`;
  const places = placesOf(plan, book, zones, "none").words;
  if (
    wayOf(book, { term: names[0] ?? "", zone: zones[0] ?? "", light: name, withdrawn: false }).startsWith(
      "being",
    )
  )
    return `no sign of ${places} being ${listInWords(
      terms.flatMap((term) => soughtOn(term, zones[0] ?? "") ?? []),
      "or",
    )} ${seen}${how}`;
  const nouns = terms.map((term, at) => nounOf(term, names[at] ?? ""));
  const preps = new Set(terms.map((term) => term?.prep));
  const prep = preps.size === 1 && preps.has("in") ? "in" : "on";
  const [zone = ""] = zones;
  const isNamed = zones.length === 1 && nouns.length === 1 && isOfItself(nouns[0] ?? "", zoneOf(zone));
  const where = zones.includes(WHOLE) || isNamed ? "" : ` ${prep} ${places}`;
  return `no ${listInWords(nouns, "or")} ${seen}${where}${how}`;
}

/** Whether a noun says of which zone it is: "separation of the lens cement". */
function isOfItself(noun: string, zone: string) {
  const [, of = ""] = noun.split(" of the ");
  return of.split(" ").includes(zone);
}

/** What a zone was looked at for being. */
export function soughtOn(term: Term | undefined, zone: string) {
  return term?.says_on[zoneOf(zone)] ?? term?.sought ?? term?.says ?? null;
}

function nounOf(term: Term | undefined, name: string) {
  return (term?.says ? null : term?.sought) ?? term?.noun ?? spaced(name);
}
