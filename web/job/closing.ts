/** The closing of a day: what does not agree, read off the records, so that it can be read with no network. */

import { unsettled } from "./between.ts";
import { type Found, isNobodyOf, knownBy, someOf, type Things } from "./closing_found.ts";
import {
  differsBy,
  type NamedElsewhere,
  notedAtCheckIn,
  OF_CHECK_IN,
  ofItem,
  ofStopped,
  ofWaiting,
} from "./closing_items.ts";
import { DIFFERENCES, inOrder, keyOf, OF_NO_OWNER } from "./closing_kinds.ts";
import { numbersWithLoads, ofContainers } from "./closing_places.ts";
import { cameWords, ofTickets, ofVisit } from "./closing_visits.ts";
import { type RollCount, rollCounts } from "./custody.ts";
import { ofOneName, tablesOfOneName } from "./day_facts.ts";
import type { ValueAt } from "./fields.ts";
import { type Incident, incidentWords, standingIncidents } from "./incidents.ts";
import { type Load, lackingWords, loadsThatLeft, notCome, takenOut } from "./loads.ts";
import type { Person } from "./operations.ts";
import { shown } from "./tag.ts";
import { ticketWords } from "./tickets.ts";
import { doubledTickets } from "./tickets_shared.ts";
import type { ContainerRecord, DayRecord, ItemRecord, Plan, VisitRecord } from "./types.ts";
import { fieldWords } from "./value_words.ts";
import { fieldValue, groupedBy, listed } from "./values.ts";
import { firstUpper } from "./words.ts";

/** All that a day's closing is read off. */
export type DayOnRecord = {
  day: DayRecord;
  visits: VisitRecord[];
  items: ItemRecord[];
  containers: ContainerRecord[];
  plan: (item: ItemRecord) => Plan | null;
  /** What the row of a hazard is called; "" if this device does not have it. */
  rowName?: (hazard: string) => string;
  /** What a class is called; the same. */
  className?: (class_id: string) => string;
};

/** A day's records, and what is asked of all of them together by more than one part: read once. */
export type GatheredDay = DayOnRecord & {
  byId: Things;
  loads: Load[];
  elsewhere: NamedElsewhere;
  ticket: (item: ItemRecord) => string;
  itemsOf: ReadonlyMap<string, ItemRecord[]>;
  /** When the owner of a doubled ticket came; "" of a ticket that one alone has. */
  came: (visit: VisitRecord) => string;
};

export function gathered(on: DayOnRecord): GatheredDay {
  const { day, visits, items, containers } = on;
  const byId = new Map([...items, ...containers].map((thing) => [thing.record_id, thing]));
  const tickets = new Map(visits.map((visit) => [visit.record_id, ticketWords(visit)]));
  const loads = loadsThatLeft({ day, items, containers });
  const gone = new Set(visits.flatMap((one) => (fieldValue(one, "stage") === "left" ? one.record_id : [])));
  const elsewhere = { noted: notedAtCheckIn(day), withLoads: numbersWithLoads(loads), gone };
  const doubled = new Set([...doubledTickets(visits).values()].flat());
  return {
    ...{ ...on, byId, loads, elsewhere },
    ticket: ({ visit_id }) => tickets.get(visit_id) ?? "no visit",
    itemsOf: groupedBy(items, ({ visit_id }) => visit_id),
    came: (visit) => (doubled.has(visit) ? cameWords(visit, day) : ""),
  };
}

type Find = (on: GatheredDay) => Found[];

/** Of a day's items and of its visits: a slow phone halts on hundreds at once. */
const SHARES = 8;

/**
 * What the closing of a day has to name, every line one difference. Each part is found by itself.
 * Items stand before what holds them: differences of one kind stay in the order in which they are found.
 */
export const PARTS: readonly Find[] = [
  ...Array.from(
    { length: SHARES },
    (_, share): Find =>
      (on) =>
        foundOnItems(on, share),
  ),
  ({ items, elsewhere, ...on }) => ofWaiting(items, { ...on, gone: elsewhere.gone }),
  foundOnTickets,
  ...Array.from(
    { length: SHARES },
    (_, share): Find =>
      (on) =>
        foundOnVisits(on, share),
  ),
  foundOnDay,
];

/** All of them in the order of their kinds; how a part is found is the caller's, who may have kept it. */
export function differencesOf(part: (find: Find, index: number) => Found[]): Found[] {
  return inOrder(PARTS.flatMap(part));
}

function shareOf<Member>(all: readonly Member[], share: number): Member[] {
  const till = (shares: number) => Math.ceil((all.length * shares) / SHARES);
  return all.slice(till(share), till(share + 1));
}

function foundOnItems({ day, items, plan, byId, elsewhere, ticket }: GatheredDay, share: number): Found[] {
  return shareOf(items, share).flatMap((item) => [
    ...ofStopped(item, ticket(item), day, byId),
    ...ofItem(item, ticket(item), plan(item), byId, elsewhere),
  ]);
}

function foundOnTickets({ visits, itemsOf, came }: GatheredDay): Found[] {
  return ofTickets(visits, itemsOf, came);
}

function foundOnVisits(
  { visits, itemsOf, byId, came, className = () => "" }: GatheredDay,
  share: number,
): Found[] {
  return shareOf(visits, share).flatMap((visit) =>
    ofVisit(visit, itemsOf.get(visit.record_id) ?? [], byId, { came: came(visit), className }),
  );
}

/** On the day itself: what happened, what holds its things and brings them away, its numbers, what people noted. */
function foundOnDay({ day, items, containers, rowName, byId, loads, elsewhere }: GatheredDay): Found[] {
  return [
    ...standingIncidents(day).map((incident) => ofIncident(incident, day, rowName?.(incident.value.hazard))),
    ...ofContainers(containers, byId, { day, items, ...elsewhere }),
    ...loads.flatMap(ofLoad),
    ...ofOneName(day).map(ofPeople),
    ...tablesOfOneName(day).map(ofTables),
    ...ofContested(day),
    ...rollCounts(day, items, containers).flatMap(ofRoll),
    ...raised(day, byId),
  ];
}

function ofIncident(incident: Incident, day: DayRecord, row?: string): Found {
  const set = day.fields[`incidents/${incident.id}`];
  const by = set && isNobodyOf(day, set) ? ", by somebody who is not on the day's list" : "";
  const words = `${incidentWords(incident, row)}${by}`;
  return { kind: "incident", words, at: "#/stop", key: keyOf("incident", incident.id) };
}

function ofLoad(load: Load): Found[] {
  const words = firstUpper(lackingWords(load));
  if (!words) return [];
  const of = [notCome(load), takenOut(load)].map((things) => things.map(({ number }) => number).sort());
  const known = knownBy("load-short", load.id, words, of.join("; "));
  return [{ kind: "load-short", words, at: `#/load/${load.id}`, ...known }];
}

/**
 * What tables of one name are known by: what was said of two of them was not said of a third, nor under another name.
 */
function keyOfSame(those: (readonly [id: string, name: string])[]): [first: string, said: string] {
  return [those[0]?.[0] ?? "", those.flat().join(" ")];
}

/** Several on the day's list under one name: whose records are whose can then be told by nobody. */
function ofPeople(people: Person[]): Found {
  const how = people.map(({ roles }) => roles.join(", ")).join("; ");
  const have = `${people.length} on the day's list have this name (${how})`;
  const words = `${people[0]?.name}: ${have}; say whether they are one`;
  return { kind: "one-name", words, at: "#/day", key: keyOf("one-name", people[0]?.person_id ?? "") };
}

/** Several tables under one name, also those that were taken away: at which one a thing was is told by nobody. */
function ofTables(tables: ReturnType<typeof tablesOfOneName>[number]): Found {
  const words = `${tables.length} tables are called ${tables[0]?.name}; give each a name of its own`;
  const which = keyOfSame(tables.map(({ table_id, name }) => [table_id, name]));
  return { kind: "one-table", words, at: "#/day", key: keyOf("one-table", ...which) };
}

/** What two managers set otherwise of the day: it is closed and printed under a house and a date. */
function ofContested(day: DayRecord): Found[] {
  const open = unsettled(day).filter(({ field }) => SET_UP.has(field.replace(/\/.*/, "/")));
  return open.map(({ disagreement_id, field, kept, other }) => {
    const named = field === "held_on" ? "" : `, ${setUpWords(kept.value)} or ${setUpWords(other.value)}`;
    const words = `the day: two people set ${fieldWords(field)} otherwise${named}`;
    return { kind: "disagreement", words, at: "#/day", key: keyOf("disagreement", disagreement_id, words) };
  });
}

/** What a day was set up with. Two closings, and what two tell otherwise of an incident, have lines of their own. */
const SET_UP: ReadonlySet<string> = new Set(["house", "place", "held_on", "tables/"]);

/** A house or a place as it was typed, a table by its name. */
function setUpWords(value: unknown) {
  if (typeof value === "string") return `“${value}”`;
  const { name, gone } = value as ValueAt<"tables/">;
  return `“${name}${gone ? ", taken away" : ""}”`;
}

function ofRoll({ roll_id, given_to, passed }: RollCount): Found[] {
  if (!passed.length) return [];
  const named = someOf(passed, shown);
  const words = `${given_to}: ${named} passed over and not struck through`;
  return [
    { kind: "passed-over", words, at: "#/rolls", ...knownBy("passed-over", roll_id, words, `${passed}`) },
  ];
}

/** What somebody has noted, and nobody has settled; of what was noted at a check-in with what was written there. */
function raised(day: DayRecord, byId: Things): Found[] {
  return listed(day, "differences/")
    .filter(({ id }) => !fieldValue(day, `difference-ends/${id}`))
    .map(({ id, value }) => {
      const kind = DIFFERENCES.find(([key]) => key === value.difference)?.[1] ?? value.difference;
      const owner = value.owner_told || OF_NO_OWNER.has(value.difference) ? "" : ", the owner is not told";
      const thing = OF_CHECK_IN.has(value.difference) ? byId.get(value.thing_id ?? "") : undefined;
      const written = thing?.kind === "item" ? differsBy(thing)?.words : "";
      const words = [value.words, written].filter(Boolean).join(": ") || "nothing written";
      return {
        kind: value.difference,
        words: `${kind}: ${words}${owner}`,
        at: "#/closing",
        key: keyOf(value.difference, id),
        ...(value.owner_told && ({ holds: "told" } as const)),
      };
    });
}
