/** What is entered for a signature, and what classes are called. */

import { fnv1a } from "../../job/closing_code.ts";
import type { ReceiptHead, ReceiptLine } from "../../job/operations.ts";
import { headWords } from "../../job/receipt_head.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import type { ThisDevice } from "../../local/device.ts";
import { className } from "../../local/plan_book.ts";
import { usePlanBook } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import type { Entered } from "./receipt_sign.tsx";

/** What classes are called, by the plans on this device; "" of one that is not in them, or while they are read. */
export function useClassNames() {
  usePlanBook(); // drawn anew once they are read
  return className;
}

/**
 * What is entered for the signature; until somebody types, the names that are known. A signature, and the number of a
 * paper pad, is for the list that was shown when the pen was lifted: under another one it is none. A
 * drawn one then `isOfAnother`; `padOfAnother` is the pad's number, which waits for its own list.
 */
export function useEntered(
  visit: VisitRecord,
  day: DayRecord,
  device: ThisDevice | null | undefined,
  list: string,
) {
  const { form, set, drop } = useHeld<Partial<Entered> & { list?: string }>(`receipt ${visit.record_id}`, {});
  const { list: signed, ...typed } = form;
  const isOfAnother = signed !== list && Boolean(typed.strokes);
  const padOfAnother = signed === list ? "" : (typed.on_paper?.trim() ?? "");
  const entered: Entered = {
    house_by: listed(day, "people/").find(({ id }) => id === device?.person_id)?.value.name ?? "",
    signed_by: fieldValue(visit, "consignor/name") ?? "",
    on_paper: "",
    strokes: "",
    ...typed,
    ...(signed === list ? {} : { on_paper: "", strokes: "" }),
  };
  // All of it is in the journal before the event that brought it ends.
  const enter = (name: keyof Entered) => (value: string) => {
    if (name !== "strokes" && name !== "on_paper") return set(name)(value);
    const other = name === "strokes" ? "on_paper" : "strokes"; // of the list of before, perhaps
    const kept = [set(other)(entered[other]), set(name)(value), set("list")(list)];
    return Promise.all(kept).then(() => undefined);
  };
  return { entered, isOfAnother, padOfAnother, set: enter, drop };
}

/** By which a list is told from another: what is signed for, what stands above it, and each line as it is read. */
export function listMark(what: string | null, lines: readonly ReceiptLine[], head: ReceiptHead): string {
  const text = JSON.stringify([what, lines, headWords(head)]);
  return `${fnv1a(text)} ${text.length}`;
}
