/** Lights and tools in print: what was seen with them, felt, heard or smelled. */
import type { Light, PlanBook, Sense, Term } from "./types.ts";

const SENSES: Record<Sense, string> = {
  sight: "seen",
  touch: "felt",
  hearing: "heard",
  smell: "smelled",
  trial: "found",
};

export function lightOf(book: PlanBook, name: string): Light {
  const words = name.replaceAll("-", " ");
  const light = book.words.lights.find((one) => one.light === name);
  return light ?? { light: name, words, sense: "sight", how: `with ${words}`, tool: words, named: "never" };
}

/** How something was noticed: what is smelled is not seen, whatever light there was. */
export function noticed(term: Term | undefined, light: Light | null) {
  return SENSES[term?.sense ?? light?.sense ?? "sight"];
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
  return [...new Set(names)].sort((one, other) => at(one) - at(other) || one.localeCompare(other));
}
