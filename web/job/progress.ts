/** How far an item is: the walk through its zones, and what is still missing. */

import { bothWays } from "./both_ways.ts";
import { isStopped } from "./cautions.ts";
import type { PhotoValue } from "./fields.ts";
import { withdrawnBy } from "./stopped.ts";
import type { Plan, RecordCopy, Zone } from "./types.ts";
import {
  fieldValue,
  findingsOn,
  type Listed,
  listed,
  onceEachState,
  onceEachStateWith,
  zoneSaid,
} from "./values.ts";
import { firstUpper, spaced } from "./words.ts";

/** The keys under which a zone's states are recorded. */
export function keysOf(zone: Pick<Zone, "zone" | "members">): readonly string[] {
  const known = keysOfZones.get(zone);
  if (known) return known;
  const keys =
    Array.isArray(zone.members) && zone.members.length
      ? zone.members.map((member) => `${zone.zone}/${member}`)
      : [zone.zone];
  keysOfZones.set(zone, keys);
  return keys;
}

/** A plan is never changed. */
const keysOfZones = new WeakMap<Pick<Zone, "zone" | "members">, readonly string[]>();

/** Every zone state of the plan in walk order. */
export function walk(plan: Plan, record: RecordCopy) {
  const photos = photosOf(record);
  return plan.zones.flatMap((zone) =>
    keysOf(zone).map((key) => ({
      key,
      zone,
      member: key.split("/")[1] ?? null,
      state: zoneSaid(record, key),
      findings: findingsOn(record, key),
      photos: photos.filter(({ value }) => value.zone === key),
    })),
  );
}

/** One zone, or one member of it, on the walk. */
export type Step = ReturnType<typeof walk>[number];

/** The lights in which something was looked for on a zone and not found, beside the one by which it was looked at. */
export function lightsBeside(record: RecordCopy, { key }: Pick<Step, "key">, light: string): string[] {
  const denied = listed(record, "denials/").filter(({ value }) => value.zone === key && !value.withdrawn);
  return [...new Set(denied.map(({ value }) => value.light))].filter((other) => other && other !== light);
}

/**
 * Zones that nobody can have seen, each with the one round it that was not examined: what lies on that or inside it is
 * called clear by nobody who did not say so of it alone. `isShut` says which are not seen: those not examined.
 */
export function shutIn(
  steps: readonly Step[],
  isShut = ({ state }: Step) => state?.state === "not-examined",
): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const shut = (outer: Zone, by = outer.zone) => {
    for (const { zone } of steps) {
      const isWithin = zone.inside?.includes(outer.zone) || outer.holds.includes(zone.zone);
      if (!isWithin || found.has(zone.zone)) continue;
      found.set(zone.zone, by);
      shut(zone, by);
    }
  };
  for (const step of steps) if (isShut(step)) shut(step.zone);
  return found;
}

/** How many zones nobody spoke of, or are to be looked at again. */
export const zonesLeft = onceEachStateWith(
  (plan: Plan, record): number => plan.zones.flatMap(keysOf).filter((key) => !zoneSaid(record, key)).length,
);

type OfKinds = { named?: readonly string[]; not_named?: readonly string[] };

/**
 * Whether a row of a plan is none of such things, by what this one is called: a view of a pair is of what has that in
 * its name, and nobody tries the catch of what is a ring by the word that its name is built round.
 */
export function isOfOtherKind(record: RecordCopy, { named = [], not_named = [] }: OfKinds) {
  const name = (fieldValue(record, "short_description") ?? "").toLowerCase();
  const one = name.replace(/^.*\b(?:pair|set)s? of /, ""); // what they are, not how many
  const built = /[\p{L}-]+$/u.exec(one.split(/ ?[,;:(]| (?:with|in|of|on|set) /)[0]?.trim() ?? "")?.[0] ?? "";
  const words: string[] = name.match(/[\p{L}-]+/gu) ?? [];
  return not_named.includes(built) || (named.length > 0 && !named.some((word) => words.includes(word)));
}

/** What is asked of a thing: nothing that is of zones alone which it never had, or of other kinds of things. */
export function asked<Row extends OfKinds & { of?: readonly string[] }>(
  plan: Plan,
  record: RecordCopy,
  rows: readonly Row[],
): Row[] {
  const isNone = (zone: Zone) =>
    keysOf(zone).every((key) => neverHadIt(zoneSaid(record, key)) && !findingsOn(record, key).length);
  const none = plan.zones.filter(isNone).map(({ zone }) => zone);
  return rows.filter(
    (row) => !(row.of?.length && row.of.every((zone) => none.includes(zone))) && !isOfOtherKind(record, row),
  );
}

export const NONE_SEEN = "none seen";

/** Whether a place of marks has none: that it never had one nobody can tell of a mark that may be worn away. */
export function isNoneSeen(
  zone: Pick<Zone, "wording"> | undefined,
  said: { reason?: string | null | undefined } | null | undefined,
) {
  return Boolean(zone?.wording?.length) && neverHadIt(said);
}

/** Whether the thing never had a zone of which this was said. */
export function neverHadIt(said: { reason?: string | null | undefined } | null | undefined) {
  return said?.reason === "not-applicable";
}

/** How many of the views that are always taken have no photo, and nobody said why not. */
export const viewsLeft = onceEachStateWith((plan: Plan, record): number => {
  const done = new Set<string | null | undefined>([
    ...photosOf(record).map(({ value }) => value.view),
    ...viewsSkipped(record).map(({ id }) => id),
  ]);
  return asked(plan, record, plan.views).filter((view) => isRequired(view) && !done.has(view.view)).length;
});

/** The views that are not taken, each with the reason, unless a picture shows one all the same. */
export function viewsSkipped(record: RecordCopy) {
  const taken = new Set(photosOf(record).map(({ value }) => value.view));
  return listed(record, "views/").filter(({ id, value }) => value.reason && !taken.has(id));
}

/** What the key of a zone does not say by itself. Source: the trade's own terms. */
const ZONE_NAMES: Readonly<Record<string, string>> = {
  "marks-body": "marks on the body",
  "marks-parts": "marks on the other parts",
  "tines-blades": "tines or blades",
  "set-count": "count of the set",
  "head-tail-caps": "caps at head and tail",
  "glass-mirror": "glass or mirror",
  "optics-other": "other optics",
  "motor-electric": "electric motor",
  "finish-metal": "finish of the metal",
  "tubes-liquid": "tubes and levels",
  "chain-key": "chain, fob or key",
  "bell-gong": "bell or gong",
};

/** A zone's name for people: "ears, proper right". */
export function zoneName(key: string) {
  const [zone = "", ...members] = key.split("/");
  const named = ZONE_NAMES[zone];
  return named ? zoneAsKept([named, ...members].join("/")) : zoneAsKept(key);
}

/** The same in the words of its key alone, as receipts were signed and the office names it. */
export function zoneAsKept(key: string) {
  return key.replace("viewers-", "viewer's-").replaceAll("-", " ").replace("/", ", ");
}

/** The photos that were not withdrawn, in the order taken. */
export const photosOf = onceEachState((record): readonly Listed<PhotoValue>[] =>
  listed(record, "photos/")
    .filter(({ value }) => !value.withdrawn)
    .sort((a, b) => a.value.taken_at.localeCompare(b.value.taken_at)),
);

/** The tags that are on it: those that fell off or were voided are not. */
export const tagsOf = onceEachState((record): readonly string[] =>
  listed(record, "tags/")
    .filter(({ value }) => !value.gone)
    .map(({ value }) => value.tag),
);

/** The views of a plan in the order in which they are taken: the thing beside its tag is the first frame. */
export function viewsInOrder<View extends { view: string }>(views: readonly View[]): View[] {
  const isFirst = ({ view }: View) => view === "with-scale-and-tag";
  return [...views.filter(isFirst), ...views.filter((view) => !isFirst(view))];
}

/** What a picture is called on a key; what its words ask for besides is read where it is taken. */
export function viewName(words: string) {
  return words.split(";")[0] ?? words;
}

/** A view whose words say "if" is taken where it applies; the others always. */
export function isRequired({ words }: { words: string }) {
  return !/\bif\b/.test(words);
}

/** A test that is never allowed is a rule of the class and has no result. */
export function isTest({ never_when }: { never_when: string }) {
  return never_when !== "always";
}

/** A test whose words say that it is not needed is missed by nobody who did not make it. */
export function isAwaited(test: { how?: string; never_when: string }) {
  return isTest(test) && !test.how?.startsWith("not needed");
}

/** Something that is still missing; `at` is the screen where it is done, within the item. */
export type Gap = { what: string; words: string; at: string };

/** What is still missing on an item, in the order of the work. Of one that is stopped nothing is asked. */
export function missing(plan: Plan | null, record: RecordCopy): Gap[] {
  if (isStopped(record)) return [];
  const found: Gap[] = [];
  const say = (what: string, words: string, at: string) => found.push({ what, words, at });
  if (!plan) say("class", "Choose what kind of thing it is", "");
  if (!fieldValue(record, "short_description")) say("name", "Say in a few words what it is", "");
  if (!fieldValue(record, "maker_certainty")) {
    const isSaid = Boolean(fieldValue(record, "maker"));
    say("maker", isSaid ? "Say how sure you are of the maker" : "Maker, or that it is not determined", "");
  }
  if (!fieldValue(record, "dates_certainty")) {
    const isSaid = Boolean(fieldValue(record, "dates"));
    say("dates", isSaid ? "Say how sure you are of the date" : "Date, or that it is not determined", "");
  }
  if (plan && !plan.refer_only) {
    const left = zonesLeft(plan, record);
    if (left) say("zones", left === 1 ? "1 zone is left" : `${left} zones are left`, "/zones");
    if (
      !listed(record, "marks/").some(({ value }) => !value.withdrawn) &&
      !fieldValue(record, "marks_looked")
    )
      say("marks", "No mark is noted, nor where one was looked for", "/marks");
    const tests = asked(plan, record, plan.tests).filter(
      (test) =>
        isAwaited(test) && !fieldValue(record, `tests/${test.test}`) && !withdrawnBy(test, record).length,
    ).length;
    if (tests) say("tests", tests === 1 ? "1 test has no result" : `${tests} tests have no result`, "/works");
    for (const { light } of bothWays({ plan, record }))
      say("both ways", `${firstUpper(spaced(light))}: said as used and as not used`, "/works");
    if (!listed(record, "measures/").some(({ value }) => value.value))
      say("measures", "Nothing is measured", "/measures");
    const views = viewsLeft(plan, record);
    if (views) say("views", views === 1 ? "1 view is missing" : `${views} views are missing`, "/photos");
  }
  if (!tagsOf(record).length) say("tag", "No tag is tied to it", "/tag");
  return found;
}
