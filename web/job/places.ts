/** Zones, their members and the sides of a thing in print, with the number that the verb takes. */
import { countInWords, listInWords } from "./english.ts";
import type { MemberName, Plan, PlanBook, ZoneName } from "./types.ts";

/** "the handles are": words and whether they stand for several */
export type Place = { words: string; many: boolean };
/** How several members are spoken of: all have it, none has, of all there is nothing to tell, or nobody saw any. */
type Of = "all" | "none" | "nothing" | "unseen";

/** Books whose lists were read, so that a name is found at once. */
const known = new WeakMap<PlanBook, { zones: Map<string, ZoneName>; members: Map<string, MemberName> }>();

function namesOf(book: PlanBook) {
  const names = known.get(book) ?? {
    zones: new Map(book.print.zones.map((name) => [name.zone, name])),
    members: new Map(
      book.print.members.map((name) => [name.of ? `${name.of}/${name.member}` : name.member, name]),
    ),
  };
  known.set(book, names);
  return names;
}

function memberOf(book: PlanBook, zone: string, member: string): MemberName | undefined {
  const { members } = namesOf(book);
  return members.get(`${zone}/${member}`) ?? members.get(member);
}

/** The name of a zone; one that the house has not named is printed by its id. */
export function zoneNameOf(book: PlanBook, zone: string): ZoneName {
  const spaced = zone.replaceAll("-", " ");
  return (
    namesOf(book).zones.get(zone) ?? {
      zone,
      one: spaced,
      many: null,
      plural: false,
      counted: null,
      lacking: null,
      together: false,
      tally: false,
    }
  );
}

/** What one or several members or things of a zone are called. */
export function nounOf(name: ZoneName, count: number) {
  return count === 1 ? name.one : (name.many ?? name.one);
}

/** Zones with their members: "the head and both ears"; of what nobody saw, "either ear". */
export function placesOf(plan: Plan, book: PlanBook, keys: readonly string[], of: Of = "all"): Place {
  const zones = [...new Set(keys.map((key) => zoneOf(key)))];
  const membersOn = (zone: string) =>
    keys.filter((key) => zoneOf(key) === zone && key.includes("/")).map((key) => key.slice(zone.length + 1));
  const places = withGroups(plan, book, zones).map((name) =>
    placeOf(plan, book, name, membersOn(name.zone), of),
  );
  const words = listInWords(
    places.map(({ words }) => words),
    of === "none" || of === "nothing" ? "or" : "and",
  );
  return { words, many: places.length > 1 || places.some(({ many }) => many) };
}

/** The names of zones; those of a group of which none is left out are one, by what they are called together. */
function withGroups(plan: Plan, book: PlanBook, zones: string[]): ZoneName[] {
  const names = zones.map((zone) => zoneNameOf(book, zone));
  const ofGroup = (group: string, some: readonly ZoneName[]) =>
    some.filter((name) => name.group?.group === group).length;
  const all = plan.zones.map(({ zone }) => zoneNameOf(book, zone));
  const units = new Map<string, ZoneName>();
  for (const name of names) {
    const { group } = name;
    const count = group ? ofGroup(group.group, names) : 0;
    if (group && count > 1 && count === ofGroup(group.group, all))
      units.set(`group ${group.group}`, { ...name, one: group.one, many: group.many });
    else units.set(name.zone, name);
  }
  return [...units.values()];
}

/** The zone of a key: that of `ears/proper-left` is `ears`. */
export function zoneOf(key: string) {
  const end = key.indexOf("/");
  return end < 0 ? key : key.slice(0, end);
}

function placeOf(plan: Plan, book: PlanBook, name: ZoneName, members: string[], of: Of): Place {
  const { zone } = name;
  // One has a chip to its rim; where none has, it is the rims of all of them.
  const isSeveral = name.plural || Boolean(name.of_each && of !== "all");
  if (!members.length) return { words: `the ${nounOf(name, isSeveral ? 2 : 1)}`, many: isSeveral };
  const all = plan.zones.find((row) => row.zone === zone)?.members.length;
  if (members.length > 1 && members.length === all) return wholeSet(name, all, of);
  const words = membersOf(book, name, members, of);
  const isNumbered = members.every((member) => !memberOf(book, zone, member));
  return {
    words: isNumbered ? words : `the ${words}`,
    many: members.length > 1 || isOfAllPieces(name, of),
  };
}

/** Whether a zone is spoken of on each of several things: eleven volumes have lower joints. */
function isOfAllPieces(name: ZoneName, of: Of) {
  return of !== "all" && Boolean(name.of_each || name.of_some);
}

function wholeSet(name: ZoneName, count: number, of: Of): Place {
  const many = nounOf(name, 2);
  if (name.both === false || of === "nothing" || isOfAllPieces(name, of))
    return { words: `the ${many}`, many: true };
  if (of === "none")
    return {
      words: count === 2 ? `either ${name.one}` : `any of the ${countInWords(count)} ${many}`,
      many: false,
    };
  return { words: count === 2 ? `both ${many}` : `all ${countInWords(count)} ${many}`, many: true };
}

/** "proper left ear", "left and right margins as viewed", "lugs 1 and 2", "fore-edge" */
function membersOf(book: PlanBook, name: ZoneName, members: string[], of: Of) {
  const names = members.map(
    (member) => memberOf(book, name.zone, member) ?? { member, before: null, after: null, alone: null },
  );
  const last = of === "none" ? "or" : "and";
  const countOf = (some: readonly unknown[]) =>
    isOfAllPieces(name, of) ? 2 : of === "none" ? 1 : some.length;
  const noun = nounOf(name, countOf(members));
  const before = names.flatMap((member) => member.before ?? []);
  const after = [...new Set(names.filter((member) => member.before).flatMap((member) => member.after ?? []))];
  const numbered = names
    .filter((member) => !member.before && !member.alone)
    .map((member) => member.member.replaceAll("-", " "));
  return listInWords(
    [
      ...(before.length
        ? [[listInWords(before, last), nounOf(name, countOf(before)), ...after].join(" ")]
        : []),
      ...(numbered.length ? [`${noun} ${listInWords(numbered, last)}`] : []),
      ...names.flatMap((member) => member.alone ?? []),
    ],
    last,
  );
}

/** A member without its zone: "proper left", "4", "fore-edge". */
export function memberWords(book: PlanBook, key: string): string {
  const member = key.slice(zoneOf(key).length + 1);
  const known = memberOf(book, zoneOf(key), member);
  return known?.before ?? known?.alone ?? member.replaceAll("-", " ");
}

/** A side or a clock position: "on the proper left", "at 4 o'clock". */
export function sideInWords(book: PlanBook, side: string) {
  const hour = /^clock-(\d+)$/.exec(side)?.[1];
  if (hour) return `at ${hour} o'clock`;
  return book.print.sides.find((row) => row.side === side)?.words ?? side.replaceAll("-", " ");
}
