/**
 * What screens look at: what this device knows, read from memory; a component is drawn again when what it reads
 * changes.
 */
import { computed } from "@preact/signals";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { News } from "../job/desk.ts";
import type { FieldName, ValueAt } from "../job/fields.ts";
import { planOfKind } from "../job/kind_of.ts";
import { isStanding } from "../job/next_day.ts";
import { type WrittenPlan, wholePlan } from "../job/plan.ts";
import type { DayRecord, Plan, RecordCopy, RecordKind, RecordOf } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { device, isLoaded, record, recordOf, records } from "../local/memory.ts";
import { type PlanName, planBook, planNamed, planNameOf } from "../local/plan_book.ts";
import { storeOlderPlan } from "../local/plans.ts";
import { ask } from "../sync/office.ts";

/** A record of a kind; null if this device has none with that id, undefined until it is known. */
export function useRecord<Kind extends RecordKind>(
  kind: Kind,
  id: string,
): RecordOf<Kind> | null | undefined {
  return recordOf(kind, id);
}

/** Every record of a kind, or of one day. */
export function useRecords<Kind extends RecordKind>(
  kind: Kind,
  day_id?: string,
): RecordOf<Kind>[] | undefined {
  return records(kind, day_id);
}

/**
 * Something made of what this device knows. The component is drawn again when it comes out otherwise, not whenever
 * what it is made of changes.
 */
export function useSelected<Value>(select: () => Value, inputs: unknown[]): Value {
  const selected = useMemo(() => {
    let last: { value: Value } | null = null;
    return computed(() => {
      const value = select();
      if (!last || !isSame(last.value, value)) last = { value };
      return last.value;
    });
  }, inputs);
  return selected.value;
}

/** The value of one field of a record. */
export function useField<Name extends FieldName>(record_id: string, name: Name): ValueAt<Name> | undefined {
  return useSelected(() => fieldValue(record(record_id), name), [record_id, name]);
}

function isSame(a: unknown, b: unknown) {
  return Object.is(a, b) || JSON.stringify(a) === JSON.stringify(b);
}

/** Who this device is; null if it is not paired, undefined until it is known. */
export function useDevice() {
  return isLoaded.value ? device.value : undefined;
}

/** The day that this device works on, or the only one there is; null if a person has to choose. */
export function useDay(): DayRecord | null | undefined {
  const days = useRecords("day");
  const known = useDevice();
  if (!known || !days) return undefined;
  const chosen = days.find(({ record_id }) => record_id === known.day_id);
  if (chosen || known.day_id) return chosen ?? null;
  const [only, ...others] = days.filter(isStanding);
  return others.length ? null : (only ?? null);
}

export function usePlanBook() {
  return planBook();
}

const ASK_MS = 3000;

/** The plan of this class and version from the office; null with no network, or if nobody kept it. */
async function askForPlan({ class_id, plan_version }: PlanName): Promise<Plan | null> {
  const response = await ask(`/plans/${class_id}/${plan_version}`, { limitMs: ASK_MS }).catch(() => null);
  if (!response) return null;
  const written: WrittenPlan = await response.json();
  const plan = wholePlan(written);
  await storeOlderPlan(plan);
  return plan;
}

/**
 * The plan that a record was made with, asked of the office if this device never had it; else the nearest there is.
 * Undefined while it is asked: the plan of another version would be worse than none yet.
 */
export function usePlan(record: RecordCopy | null | undefined): Plan | null | undefined {
  const plan = usePlanNamed(record && planNameOf(record));
  return plan && record ? planOfKind(plan, record) : plan;
}

/** The same for an item that this device has, without being drawn again at every change of it. */
export function usePlanOf(item_id: string): Plan | null | undefined {
  const name = useSelected(() => {
    const item = recordOf("item", item_id);
    return item && planNameOf(item);
  }, [item_id]);
  const plan = usePlanNamed(name);
  return useSelected(() => {
    const item = recordOf("item", item_id);
    return plan && item ? planOfKind(plan, item) : plan;
  }, [item_id, plan]);
}

const NO_PLAN: PlanName = { class_id: "", plan_version: "" };

function usePlanNamed(name: PlanName | null | undefined): Plan | null | undefined {
  const { class_id, plan_version } = name ?? NO_PLAN;
  const here = planNamed({ class_id, plan_version });
  const missing = Boolean(class_id && plan_version) && here?.version !== plan_version;
  const [asked, setAsked] = useState("");
  const key = `${class_id} ${plan_version}`;
  useEffect(() => {
    if (missing && asked !== key) askForPlan({ class_id, plan_version }).finally(() => setAsked(key));
  }, [key, missing]);
  if (name === undefined || (missing && asked !== key)) return undefined;
  return here;
}

/** The latest of a function, for listeners that are set once. */
export function useLatest<T>(value: T) {
  const latest = useRef(value);
  latest.current = value;
  return latest;
}

let stream: EventSource | null = null;
let listening = 0;

/**
 * Hear from the office whenever something was kept; at a desk or a manager's device, of which records. One stream
 * serves all of a page, since a browser holds few connections to one address.
 */
export function useOfficeNews(hear: (news: News) => void, kind = "message") {
  const latest = useLatest(hear);
  const isOff = Boolean(useDevice()?.revoked); // then it asks for nothing
  useEffect(() => {
    if (isOff) return;
    listening += 1;
    stream ??= new EventSource("/sync/events");
    const from = stream;
    const listener = ({ data }: MessageEvent) => latest.current(JSON.parse(data) as News);
    from.addEventListener(kind, listener);
    return () => {
      from.removeEventListener(kind, listener);
      listening -= 1;
      if (listening) return;
      from.close();
      stream = null;
    };
  }, [isOff]);
}
