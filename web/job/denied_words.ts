/** What was looked for and not seen, in words; which of it may be said stands in `denials.ts`. */
import { listInWords } from "./english.ts";
import { type Described, related, saysOf, seenFindings, termOf, WHOLE, wholeOfZones } from "./families.ts";
import type { Families } from "./fields.ts";
import { howNoticed, lightOf, noticed } from "./lights.ts";
import { placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { keysOf } from "./progress.ts";
import { endedSeen, placesSeen } from "./seen_in_part.ts";
import type { Light, PlanBook, Term } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { spaced } from "./words.ts";

const NEVER = "not-applicable";

/** The terms denied of the zones in one light. */
export type Denied = { terms: string[]; light: string; zones: string[] };

/**
 * What a term is denied as: a thing that is not there, "no chip seen"; what was not done to a zone, "no sign of
 * re-sewing to the back"; what a zone is not, "no sign that the lid is loose". What is smelled stands by itself.
 */
export function wayOf(book: PlanBook, { term: name, zone }: Families["denials"]) {
  const term = termOf(book, name);
  if (term?.absent) return `absent ${term.absent_on?.[zoneOf(zone)] ?? term.absent} ${name}`;
  if (term?.held && term.part) return `held ${name}`;
  const says = saysOf(term, zone);
  const isThing =
    !says ||
    (term?.noun_first && says === term.says) ||
    (zone === WHOLE && Boolean(term?.noun) && !term?.sign_on?.[WHOLE]);
  const way = isThing ? "thing" : signOn(term, zone) ? `sign ${term?.sign_prep ?? "of"}` : "that";
  return `${way} ${term?.sense ?? ""}`;
}

/** What was looked for in one light and is not on any of the zones. */
export function deniedInWords(described: Described, { terms: names, light: name, zones }: Denied) {
  const { plan, book } = described;
  const terms = names.map((name) => termOf(book, name));
  const light = lightOf(book, name, zones[0]);
  const [first] = terms;
  const absent = first && absentOn(first, zones[0] ?? "");
  if (absent) {
    if (first.unproved && !isProved(described, first.unproved.test)) {
      const other = isElsewhere(described, names[0] ?? "") ? "other " : "";
      const from = placesOf(plan, book, zones, "none").words;
      // Nobody counts leaves by a light.
      return `no ${other}${first.unproved.words} from ${from}`;
    }
    const { words, many } = placesOf(plan, book, zones);
    return `${words} ${many ? "are" : "is"} ${absent}, ${noticed(first, light)} ${howNoticed(first, light)}`;
  }
  if (first?.held && first.part) return heldInWords(described, first, zones, light);
  const seen = noticed(terms[0], light);
  const shown = howNoticed(terms[0], light);
  const how = shown && ` ${shown}`;
  const [one, many] = wholeOfZones(first, zones) ?? [];
  const isMany = !zones.includes(WHOLE) && placesOf(plan, book, zones.slice(-1), "none").many;
  const places = one && many ? `the ${isMany ? many : one}` : placesSeen(described, zones, "none").words;
  const [zone = ""] = zones;
  const way = wayOf(book, { term: names[0] ?? "", zone, light: name, withdrawn: false });
  const isOfWhole = zones.includes(WHOLE);
  const near = zones.filter((key) => isOnAdjoining(described, key, names));
  const rest = zones.filter((key) => !near.includes(key));
  const other = near.length ? "other " : "";
  const isInPart = isOfWhole && terms[0]?.sense !== "smell" && isSeenInPart(described);
  const within = isInPart ? " on what was examined" : "";
  if (way.startsWith("sign")) {
    const signs = listInWords(
      terms.flatMap((term) => signOn(term, zone) ?? []),
      "or",
    );
    const isNamed = zones.length === 1 && signs.includes(zoneNameOf(book, zoneOf(zone)).one);
    const of = isOfWhole || isNamed ? "" : ` ${terms[0]?.sign_prep ?? "of"} ${places}`;
    if (near.length && rest.length) {
      const [prep, places] = [terms[0]?.sign_prep ?? "of", placesSeen(described, rest, "none").words];
      const first = `no other sign of ${signs} ${prep} ${placesSeen(described, near, "none").words} ${seen}`;
      return `${first}, and none ${prep} ${places}${how && `,${how}`}`;
    }
    return `no ${other}sign of ${signs}${of} ${seen}${within}${how}`;
  }
  if (way.startsWith("that")) {
    const said = listInWords(
      terms.flatMap((term) => soughtOn(term, zone) ?? []),
      "or",
    );
    return `no ${other}sign ${seen}${within}${how} that ${isOfWhole ? "it" : places} ${isMany ? "are" : "is"} ${said}`;
  }
  const nouns = terms.map((term, at) => nounOf(term, names[at] ?? ""));
  const preps = new Set(terms.map((term) => term?.prep));
  const prep = preps.size === 1 && preps.has("in") ? "in" : "on";
  const isNamed = zones.length === 1 && nouns.length === 1 && isOfItself(nouns[0] ?? "", zoneOf(zone));
  const on = (some: string[]) =>
    prep === "in" ? `in ${placesSeen(described, some, "none").words}` : onOrIn(described, some);
  const what = listInWords(nouns, "or");
  if (near.length && rest.length)
    return `no other ${what} ${seen} ${on(near)}, and none ${on(rest)}${how && `,${how}`}`;
  const where = isOfWhole || isNamed ? within : ` ${on(zones)}`;
  const ended = how ? endedSeen(where) : where;
  return `no ${other}${what} ${seen}${ended}${how}`;
}

/** "The catch of the brooch pin held when tried once by hand": that it did what it should says more than no fault. */
function heldInWords({ plan, book }: Described, term: Term, zones: string[], light: Light) {
  const { words, many } = placesOf(plan, book, zones);
  const [one, several] = term.part ?? [];
  const how = howNoticed(term, light);
  return `the ${many ? several : one}${zones.includes(WHOLE) ? "" : ` of ${words}`} ${term.held} ${how}`.trim();
}

/** What a zone is of which a term is denied. */
function absentOn(term: Term, zone: string) {
  return term.absent_on?.[zoneOf(zone)] ?? term.absent;
}

/** Whether a test was made by which alone somebody can say that nothing is missing. */
function isProved({ record }: Described, test: string) {
  return fieldValue(record, `tests/${test}`)?.result === "works";
}

/** Whether it was found on another zone: a denial beside it is of the others. */
function isElsewhere({ record }: Described, term: string) {
  return seenFindings(record).some(({ value }) => value.term === term);
}

/** Whether one of the faults, or of their families, was found where a zone goes on: rim and lip are one edge. */
function isOnAdjoining({ plan, book, record }: Described, key: string, terms: readonly string[]) {
  const adjoins = plan.zones.find(({ zone }) => zone === zoneOf(key))?.adjoins ?? [];
  return seenFindings(record).some(
    ({ value }) =>
      value.severity > 0 &&
      adjoins.includes(zoneOf(value.zone)) &&
      terms.some((term) => related(book, term, value.term)),
  );
}

/** Whether a zone was not examined, or nobody spoke of it: what is so of the whole is not known to be so there. */
function isSeenInPart({ plan, record }: Described) {
  const spokenOf = new Set([
    ...seenFindings(record).map(({ value }) => value.zone),
    ...listed(record, "denials/").flatMap(({ value }) => (value.withdrawn ? [] : value.zone)),
  ]);
  return plan.zones.flatMap(keysOf).some((key) => {
    const state = fieldValue(record, `zones/${key}`);
    return state ? state.state === "not-examined" && state.reason !== NEVER : !spokenOf.has(key);
  });
}

/** "on the cover or in the filling" */
function onOrIn(described: Described, zones: string[]) {
  const isWithin = (zone: string) => Boolean(zoneNameOf(described.book, zoneOf(zone)).within);
  const some = [
    { prep: "on", of: zones.filter((zone) => !isWithin(zone)) },
    { prep: "in", of: zones.filter(isWithin) },
  ];
  const places = some.filter(({ of }) => of.length);
  return places.map(({ prep, of }) => `${prep} ${placesSeen(described, of, "none").words}`).join(" or ");
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

/** What would have been done to a zone. */
export function signOn(term: Term | undefined, zone: string) {
  return term?.sign_on?.[zoneOf(zone)] ?? term?.sign ?? null;
}

function nounOf(term: Term | undefined, name: string) {
  return (term?.says ? null : term?.sought) ?? term?.noun ?? spaced(name);
}
