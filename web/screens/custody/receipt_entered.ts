/** What is entered for a signature, and what classes are called. */

import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import type { ThisDevice } from "../../local/device.ts";
import { shortName } from "../../parts/class_drawing.tsx";
import { usePlanBook } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import type { Entered } from "./receipt_signed.tsx";

/** What classes are called, by the plans on this device; "" of one that is not in them, or while they are read. */
export function useClassNames() {
  const book = usePlanBook();
  return (class_id: string) => {
    const plan = book?.plans[class_id];
    return plan ? shortName(plan) : "";
  };
}

/** What is entered for the signature; until somebody types, the names that are known. */
export function useEntered(visit: VisitRecord, day: DayRecord, device: ThisDevice | null | undefined) {
  const { form, set, drop } = useHeld<Partial<Entered>>(`receipt ${visit.record_id}`, {});
  const entered: Entered = {
    house_by: listed(day, "people/").find(({ id }) => id === device?.person_id)?.value.name ?? "",
    signed_by: fieldValue(visit, "consignor/name") ?? "",
    on_paper: "",
    strokes: "",
    ...form,
  };
  return { entered, set, drop };
}
