/**
 * Ways to narrow the desk's list that somebody at this device wants again. They may hold an owner's name: not in
 * localStorage.
 */
import type { Asked } from "../job/desk.ts";
import { write } from "./changes.ts";
import { settingIn, transact } from "./database.ts";

export type SavedFilter = { name: string; asked: Asked };

export async function savedFilters(): Promise<SavedFilter[]> {
  return (await transact(["setting"], "readonly", (tx) => settingIn(tx, "saved filters"))) ?? [];
}

/**
 * Keep one under its name, in place of what had the name before; the list as it is then. One without a name replaces
 * none: a name is made for it that no other has.
 */
export function saveFilter({ name, asked }: SavedFilter): Promise<SavedFilter[]> {
  return changed((filters) => {
    const named = name.trim() || nameless(filters);
    return [...filters.filter((filter) => filter.name !== named), { name: named, asked }];
  });
}

/** "Saved", "Saved 2", ...: the first that no filter has. */
function nameless(filters: SavedFilter[]): string {
  const names = new Set(filters.map(({ name }) => name));
  let made = "Saved";
  for (let count = 2; names.has(made); count += 1) made = `Saved ${count}`;
  return made;
}

export function dropFilter(name: string): Promise<SavedFilter[]> {
  return changed((filters) => filters.filter((filter) => filter.name !== name));
}

function changed(change: (filters: SavedFilter[]) => SavedFilter[]): Promise<SavedFilter[]> {
  return write(["setting"], async (tx) => {
    const filters = change((await tx.setting("saved filters")) ?? []);
    await tx.remember("saved filters", filters);
    return filters;
  });
}
