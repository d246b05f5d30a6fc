/** Lights and tools in print: what was seen with them, felt, heard or smelled. */
import { AS_UNPACKED, UNPACKED } from "./as_unpacked.ts";
import { type Described, seenFindings } from "./families.ts";
import { zoneOf } from "./places.ts";
import type { FunctionTest, Light, PlanBook, RecordCopy, Sense, Term } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

const SENSES: Record<Sense, string> = {
  sight: "seen",
  touch: "felt",
  hearing: "heard",
  smell: "smelled",
  trial: "found",
};

/** A light by its name; on a `zone` that one looks through it is used otherwise. */
export function lightOf(book: PlanBook, name: string, zone: string = ""): Light {
  const words = name.replaceAll("-", " ");
  const light = book.words.lights.find((light) => light.light === name);
  const { zones = [], how, tool } = light?.through ?? {};
  if (light && how && tool && zones.includes(zoneOf(zone))) return { ...light, how, tool };
  if (name === AS_UNPACKED) return UNPACKED;
  return light ?? { light: name, words, sense: "sight", how: `with ${words}`, tool: words, named: "never" };
}

/** Lights that a test says were not used, unless a zone was examined or something found with them after all. */
export function lightsLeftOut({ plan, record }: Pick<Described, "plan" | "record">): Set<string> {
  const left = plan.tests.filter(({ test }) => fieldValue(record, `tests/${test}`)?.result === "not-done");
  const used = lightsSeenWith(record);
  return new Set(left.map(lightOfTest).filter((light) => !used.has(light)));
}

/** The lights by which zones were examined and findings made. */
export function lightsSeenWith(record: RecordCopy): Set<string> {
  const zones = listed(record, "zones/").filter(({ value }) => value.state !== "not-examined");
  const lights = [...zones, ...seenFindings(record)].flatMap(({ value }) => value.light ?? []);
  return new Set(lights);
}

/** The light that a test consists in: a look with it, or one that bears its name. */
export function lightOfTest({ test, looks }: FunctionTest): string {
  return looks ?? test;
}

/** How something was noticed: what is smelled is not seen, whatever light there was. */
export function noticed(term: Term | undefined, light: Light | null) {
  return SENSES[term?.sense ?? light?.sense ?? "sight"];
}

/** The same, unless no light or tool could have shown it: an odour is smelled, whatever the lamp was on. */
export function howNoticed(term: Term | undefined, light: Light): string {
  const isBeside = term?.sense === "smell" && light.sense !== "smell";
  return isBeside ? "" : howWords(light);
}

/** "under ultraviolet", "with a fingertip" */
export function howWords({ how, words }: Light) {
  return how ?? `with ${words}`;
}

/** "a lamp", "ultraviolet" */
export function toolWords({ tool, words }: Light) {
  return tool ?? words;
}

/** The order of the house's list. */
export function inOrderOfLights(book: PlanBook, names: Iterable<string>): string[] {
  const order = book.words.lights.map(({ light }) => light);
  const at = (name: string) => (order.includes(name) ? order.indexOf(name) : order.length);
  return [...new Set(names)].sort((a, b) => at(a) - at(b) || a.localeCompare(b));
}
