/** What screens look at: things on this device that are read again whenever something changes. */
import { useEffect, useRef, useState } from "preact/hooks";
import { wholePlan } from "../job/plan.js";
import { thisDevice } from "../local/device.js";
import { subscribe } from "../local/news.js";
import { planBook, planFor, storeOlderPlan } from "../local/plans.js";
import { currentRecord, listRecords } from "../local/records.js";
import { ask } from "../sync/office.js";
import { sayWrong } from "./notices.js";

/**
 * Read something now and after every change; undefined until the first reading is there.
 * @template T @param {() => Promise<T>} read @param {any[]} inputs what the reading depends on
 * @returns {T|undefined}
 */
export function useKept(read, inputs) {
  const [value, setValue] = useState(/** @type {T|undefined} */ (undefined));
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

/** @param {string} id */
export function useRecord(id) {
  return useKept(() => currentRecord(id), [id]);
}

/** @param {import("../job/types.js").RecordCopy["kind"]} kind @param {string} [day_id] */
export function useRecords(kind, day_id) {
  return useKept(() => listRecords(kind, day_id), [kind, day_id]);
}

/**
 * What is being entered and is no operation yet, such as a difference half described: it outlives the page, and is
 * let go of with `drop` when it has become one. `held`: something of it was entered before this page was opened.
 * @template {Record<string, any>} T @param {string} name which form, and of what @param {T} blank
 * @returns {{said: T, set: (name: string) => (value: any) => Promise<void>, drop: () => void, held: boolean}}
 */
export function useHeld(name, blank) {
  const key = `held ${name}`;
  const [before] = useState(() => localStorage.getItem(key));
  const [said, setSaid] = useState(() => /** @type {T} */ ({ ...blank, ...JSON.parse(before ?? "{}") }));
  const newest = useRef(said);
  const put = (/** @type {T} */ next) => {
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
  return days.find((one) => one.record_id === device.day_id) ?? (days.length === 1 ? days[0] ?? null : null);
}

export function usePlanBook() {
  return useKept(planBook, []);
}

const ASK_MS = 3000;

/**
 * The plan that a record was made with, asked of the office if this device never had it; else the nearest there is.
 * @param {import("../job/types.js").RecordCopy} record @returns {Promise<import("../job/types.js").Plan|null>}
 */
async function planOf(record) {
  const here = await planFor(record);
  const [class_id, version] = ["class_id", "plan_version"].map((name) => record.fields[name]?.value);
  if (!class_id || !version || here?.version === version) return here;
  const found = await ask(`/plans/${class_id}/${version}`, { limitMs: ASK_MS }).catch(() => null); // no network, or a plan nobody kept
  const plan = found ? await found.json() : null;
  if (plan) await storeOlderPlan(plan);
  return plan ? wholePlan(plan) : here;
}

/** The plan that a record is walked with. @param {import("../job/types.js").RecordCopy|null|undefined} record */
export function usePlan(record) {
  const class_id = record?.fields["class_id"]?.value;
  const version = record?.fields["plan_version"]?.value;
  const found = useKept(async () => ({ class_id, plan: record ? await planOf(record) : null }), [class_id, version]);
  return found && found.class_id === class_id ? found.plan : undefined; // the plan of another class would be worse than none yet
}

/** The latest of a function, for listeners that are set once. @template T @param {T} value */
export function useLatest(value) {
  const latest = useRef(value);
  latest.current = value;
  return latest;
}

/**
 * Single keys that do something while nobody types in a field.
 * @param {Record<string, () => unknown>} keys what each key does, by its name in a key event; false leaves the key to the browser
 */
export function useShortcuts(keys) {
  const latest = useLatest(keys);
  useEffect(() => {
    const press = (/** @type {KeyboardEvent} */ event) => {
      const typing = event.target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
      const work = latest.current[event.key];
      if (!work || typing || event.ctrlKey || event.metaKey || event.altKey) return;
      if (work() !== false) event.preventDefault();
    };
    addEventListener("keydown", press);
    return () => removeEventListener("keydown", press);
  }, []);
}

/** Hear from the office whenever something was kept. @param {() => void} hear */
export function useOfficeNews(hear) {
  const latest = useLatest(hear);
  useEffect(() => {
    const events = new EventSource("/sync/events");
    events.onmessage = () => latest.current();
    return () => events.close();
  }, []);
}
