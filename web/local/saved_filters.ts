/**
 * Ways to narrow the desk's list that somebody at this device wants again. They may hold an owner's name: not in
 * localStorage.
 */
import { asOneName } from "../job/one_name.ts";
import { write } from "./changes.ts";
import { settingIn, transact } from "./database.ts";
import { type FiltersErased, madeName, type SavedFilter } from "./filters_erased.ts";

export type { FiltersErased, SavedFilter };

export async function savedFilters(): Promise<SavedFilter[]> {
  return (await transact(["setting"], "readonly", (tx) => settingIn(tx, "saved filters"))) ?? [];
}

/**
 * Keep one under its name, in place of what had the name before; the list as it is then. One without a name replaces
 * none: a name is made for it that no other has.
 */
export function saveFilter({ name, asked }: SavedFilter): Promise<SavedFilter[]> {
  return changed((filters) => {
    const named = name.trim() || madeName((made) => namesake(filters, made));
    const before = namesake(filters, named);
    return [...filters.filter((filter) => filter !== before), { name: named, asked }];
  });
}

/** The one that has this name already, however it was typed; a blank one is no name. */
export function namesake(filters: readonly SavedFilter[], name: string): SavedFilter | undefined {
  return filters.find((filter) => name.trim() && asOneName(filter.name) === asOneName(name));
}

/** What erasures took of the filters, that nobody has seen yet. */
export function filtersErased(): Promise<FiltersErased | undefined> {
  return transact(["setting"], "readonly", (tx) => settingIn(tx, "filters erased"));
}

export function seeFiltersErased(): Promise<void> {
  return write(["setting"], (tx) => tx.delete("setting", "filters erased"));
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
