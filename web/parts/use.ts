/** What screens look at: things on this device that are read again whenever something changes. */

import { useEffect, useRef, useState } from "preact/hooks";
import { wholePlan } from "../job/plan.ts";
import type { Plan, RecordCopy, RecordKind, RecordOf } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { thisDevice } from "../local/device.ts";
import { subscribe } from "../local/news.ts";
import { planBook, planFor, storeOlderPlan } from "../local/plans.ts";
import { currentRecord, listRecords } from "../local/records.ts";
import { ask } from "../sync/office.ts";
import { sayWrong } from "./notices.tsx";

/**
 * Read something now and after every change; undefined until the first reading is there.
 * what the reading depends on
 */
export function useKept<T>(read: () => Promise<T>, inputs: unknown[]): T | undefined {
  const [value, setValue] = useState<T | undefined>(undefined);
  useEffect(() => {
    let live = true;
    let busy = false;
    let again = false;
    const look = async () => {
      again = true;
      if (busy) return; // one reading at a time; what changed meanwhile is read after it
      busy = true;
      while (again && live) {
        again = false;
        try {
          const found = await read();
          if (live) setValue(() => found);
        } catch (error) {
          sayWrong(error);
        }
      }
      busy = false;
    };
    look();
    const stop = subscribe(look);
    return () => {
      live = false;
      stop();
    };
  }, inputs);
  return value;
}

/** A record of a kind; null if this device has none with that id. */
export function useRecord<Kind extends RecordKind>(
  kind: Kind,
  id: string,
): RecordOf<Kind> | null | undefined {
  const record = useKept(() => currentRecord(id), [id]);
  return record && record.kind !== kind ? null : (record as RecordOf<Kind> | null | undefined);
}

export function useRecords<Kind extends RecordKind>(kind: Kind, day_id?: string) {
  return useKept(() => listRecords(kind, day_id), [kind, day_id]);
}

/**
 * What is being entered and is no operation yet, such as a difference half described: it outlives the page, and is
 * let go of with `drop` when it has become one. `held`: something of it was entered before this page was opened.
 * which form, and of what
 */
export function useHeld<T extends object>(
  name: string,
  blank: T,
): {
  said: T;
  set: <Name extends keyof T & string>(name: Name) => (value: T[Name]) => Promise<void>;
  drop: () => void;
  held: boolean;
} {
  const key = `held ${name}`;
  const [before] = useState(() => localStorage.getItem(key));
  const [said, setSaid] = useState(() => ({ ...blank, ...JSON.parse(before ?? "{}") }) as T);
  const newest = useRef(said);
  const put = (next: T) => {
    newest.current = next;
    setSaid(next);
  };
  return {
    said,
    held: before !== null,
    set: (field) => async (value) => {
      const next = { ...newest.current, [field]: value };
      localStorage.setItem(key, JSON.stringify(next)); // written before the key's event ends
      put(next);
    },
    drop: () => {
      localStorage.removeItem(key);
      put(blank);
    },
  };
}

export function useDevice() {
  return useKept(thisDevice, []);
}

/** The day that this device works on, or the only one there is; null if a person has to choose. */
export function useDay() {
  const device = useDevice();
  const days = useRecords("day");
  if (!device || !days) return undefined;
  return (
    days.find((one) => one.record_id === device.day_id) ?? (days.length === 1 ? (days[0] ?? null) : null)
  );
}

export function usePlanBook() {
  return useKept(planBook, []);
}

const ASK_MS = 3000;

/** The plan that a record was made with, asked of the office if this device never had it; else the nearest there is. */
async function planOf(record: RecordCopy): Promise<Plan | null> {
  const here = await planFor(record);
  const [class_id, version] = [fieldValue(record, "class_id"), fieldValue(record, "plan_version")];
  if (!class_id || !version || here?.version === version) return here;
  const found = await ask(`/plans/${class_id}/${version}`, { limitMs: ASK_MS }).catch(() => null); // no network, or a plan nobody kept
  const plan = found ? await found.json() : null;
  if (plan) await storeOlderPlan(plan);
  return plan ? wholePlan(plan) : here;
}

/** The plan that a record is walked with. */
export function usePlan(record: RecordCopy | null | undefined) {
  const class_id = fieldValue(record, "class_id");
  const version = fieldValue(record, "plan_version");
  const found = useKept(
    async () => ({ class_id, plan: record ? await planOf(record) : null }),
    [class_id, version],
  );
  return found && found.class_id === class_id ? found.plan : undefined; // the plan of another class would be worse than none yet
}

/** The latest of a function, for listeners that are set once. */
export function useLatest<T>(value: T) {
  const latest = useRef(value);
  latest.current = value;
  return latest;
}

/**
 * Single keys that do something while nobody types in a field.
 * what each key does, by its name in a key event; false leaves the key to the browser
 */
export function useShortcuts(keys: Record<string, () => unknown>) {
  const latest = useLatest(keys);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const typing =
        event.target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
      const work = latest.current[event.key];
      if (!work || typing || event.ctrlKey || event.metaKey || event.altKey) return;
      if (work() !== false) event.preventDefault();
    };
    addEventListener("keydown", press);
    return () => removeEventListener("keydown", press);
  }, []);
}

/** Hear from the office whenever something was kept. */
export function useOfficeNews(hear: () => void) {
  const latest = useLatest(hear);
  useEffect(() => {
    const events = new EventSource("/sync/events");
    events.onmessage = () => latest.current();
    return () => events.close();
  }, []);
}
