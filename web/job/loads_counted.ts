/** Loads as they are counted: which came first, and who may have given what comes. */

import { peopleHere } from "./day_facts.ts";
import type { LoadValue } from "./fields.ts";
import { asOneName } from "./one_name.ts";
import type { Person } from "./operations.ts";
import type { DayRecord } from "./types.ts";
import { instant, type Listed, listed } from "./values.ts";

/**
 * Loads in the order in which they were counted: by the clocks, and of one device's by its own order, since its clock
 * may have been set back between them.
 */
export function loadsInOrder(loads: readonly Listed<LoadValue>[]): Listed<LoadValue>[] {
  const latest = new Map<string, string>();
  const place = ({ set }: Listed<LoadValue>) => set.device_seq ?? 0;
  return [...loads]
    .sort((a, b) => place(a) - place(b) || inTurn(instant(a.set.made_at), instant(b.set.made_at)))
    .map((load) => {
      const { device_id, made_at } = load.set;
      const [at = ""] = [latest.get(device_id) ?? "", instant(made_at)].sort().reverse();
      latest.set(device_id, at);
      return { load, at };
    })
    .sort((a, b) => inTurn(a.at, b.at))
    .map(({ load }) => load);
}

const inTurn = (one: string, other: string) => (one < other ? -1 : one > other ? 1 : 0);

/**
 * Who may have given what comes: the `others` of the day's list, and whoever drove and is not on it, since a carrier's
 * driver stands at the store's door.
 */
export function giversOf(day: DayRecord, others: readonly Person[]): Person[] {
  const known = new Set([...others, ...peopleHere(day)].map(({ name }) => asOneName(name)));
  const strangers = listed(day, "loads/").flatMap(({ value }) => {
    const name = value.driver?.trim() ?? "";
    if (!name || known.has(asOneName(name))) return [];
    known.add(asOneName(name));
    return [{ person_id: "", name, roles: [] }];
  });
  return [...others, ...strangers];
}
