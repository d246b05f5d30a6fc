/** What was said at this desk and gave way: the office is asked, since a desk keeps only the entries opened last. */

import { signal } from "@preact/signals-core";
import { useEffect, useMemo } from "preact/hooks";
import { gathering } from "../../job/gathered.ts";
import { overruledOn } from "../../job/overruled.ts";
import type { RecordCopy } from "../../job/types.ts";
import { seenOverruled } from "../../local/overruled.ts";
import { GaveWay, gaveWay } from "../../parts/overruled.tsx";
import { useDevice } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";

/** The records that the office told of. */
const told = signal<RecordCopy[]>([]);

/** Asked when the desk opens; the function asks again, since whatever was kept may have been a settlement. */
export function useOverruled(): () => void {
  const want = useMemo(() => gathering<"overruled">(askOverruled), []);
  const ask = () => want(["overruled"]);
  useEffect(ask, []);
  return ask;
}

async function askOverruled(): Promise<[]> {
  try {
    const { records } = await get<{ records: RecordCopy[] }>("/settlements");
    told.value = records;
  } catch {
    // Asked again with the next news: what was told before still holds.
  }
  return [];
}

/** Those that no copy on this device tells of, which stand above every screen. */
export function ToldOverruled() {
  const device_id = useDevice()?.device_id;
  const seen = seenOverruled();
  if (!device_id || !seen) return null;
  const above = new Set([...seen, ...gaveWay(device_id).map(({ between }) => between.disagreement_id)]);
  return overruledOn(told.value, device_id, above).map((one) => (
    <GaveWay key={one.between.disagreement_id} {...one} />
  ));
}
