/** What was said at this desk and gave way: the office tells of it, since a desk keeps only the entries opened last. */

import { overruledOn } from "../../job/overruled.ts";
import type { RecordCopy } from "../../job/types.ts";
import { seenOverruled } from "../../local/overruled.ts";
import { GaveWay, gaveWay } from "../../parts/overruled.tsx";
import { useDevice } from "../../parts/use.ts";

/** Those that no copy on this device tells of, which stand above every screen. */
export function ToldOverruled({ records }: { records: readonly RecordCopy[] }) {
  const device_id = useDevice()?.device_id;
  const seen = seenOverruled();
  if (!device_id || !seen) return null;
  const above = new Set([...seen, ...gaveWay(device_id).map(({ between }) => between.disagreement_id)]);
  return overruledOn(records, device_id, above).map((overruled) => (
    <GaveWay key={overruled.between.disagreement_id} {...overruled} />
  ));
}
