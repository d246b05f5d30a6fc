/** Whose value gave way when two differed: they are told on the device on which they said it, with the reason. */

import type { Disagreement, FieldValue, RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

export type Overruled = {
  record: RecordCopy;
  between: Disagreement;
  /** What was said here, and what holds in its place. */
  said: FieldValue;
  holds: FieldValue;
  settled_by: string;
  /** Why; empty if nobody wrote it, or this device does not read it. */
  note: string;
};

/**
 * The values of a device that gave way on these records, but for those that somebody there has seen: whoever gave up
 * their own knows.
 */
export function overruledOn(
  records: readonly RecordCopy[],
  device_id: string,
  seen: ReadonlySet<string>,
): Overruled[] {
  return records.flatMap((record) =>
    record.disagreements.flatMap((between) => {
      const { settled, disagreement_id } = between;
      if (!settled || seen.has(disagreement_id)) return [];
      const { choose, made_by: settled_by } = settled;
      const holds = choose === "standing" ? record.fields[between.field] : between[choose];
      const said = (["kept", "other"] as const)
        .filter((side) => side !== choose)
        .map((side) => between[side])
        .find((lost) => lost.device_id === device_id && !(lost.made_by && lost.made_by === settled_by));
      if (!said || !holds) return [];
      const note = fieldValue(record, `settlement-notes/${disagreement_id}`) ?? "";
      return [{ record, between, said, holds, settled_by, note }];
    }),
  );
}
