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

/** Keep one under its name, in place of what had the name before; the list as it is then. */
export function saveFilter(filter: SavedFilter): Promise<SavedFilter[]> {
  return changed((filters) => [...filters.filter(({ name }) => name !== filter.name), filter]);
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
