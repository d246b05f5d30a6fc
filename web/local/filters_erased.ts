/** What an erasure takes of a desk's saved filters: of every device, so apart from the desk's own screens. */
import type { Asked } from "../job/desk.ts";
import type { Writing } from "./changes.ts";

export type SavedFilter = { name: string; asked: Asked };

/** How many filters went with erasures, and how many lost their given name, till somebody has seen it. */
export type FiltersErased = { went: number; unnamed: number };

const MADE_NAME = /^Saved( \d+)?$/;

/** "Saved", "Saved 2", ...: the first that is not taken. */
export function madeName(isTaken: (name: string) => unknown): string {
  let made = "Saved";
  for (let count = 2; isTaken(made); count += 1) made = `Saved ${count}`;
  return made;
}

/**
 * An owner's words were erased, and nobody can tell here whose words a filter was saved for: a search goes, and of any
 * other filter the name that was typed for it. What that one narrows the list to stays.
 */
export async function dropWordsOfFilters(tx: Writing) {
  const before = (await tx.setting("saved filters")) ?? [];
  const stay = before.filter(({ asked }) => !asked.words);
  const names = new Set(stay.map(({ name }) => name).filter((name) => MADE_NAME.test(name)));
  const [went, unnamed] = [before.length - stay.length, stay.length - names.size];
  if (!went && !unnamed) return;
  const filters = stay.map(({ name, asked }) => {
    const made = MADE_NAME.test(name) ? name : madeName((taken) => names.has(taken));
    names.add(made);
    return { name: made, asked };
  });
  await tx.remember("saved filters", filters);
  const told = await tx.setting("filters erased");
  await tx.remember("filters erased", {
    went: went + (told?.went ?? 0),
    unnamed: unnamed + (told?.unnamed ?? 0),
  });
}
