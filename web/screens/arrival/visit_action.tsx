/** The foot of a visit: the next thing on the table; its receipt, once all is there or the visit is over. */

import { useState } from "preact/hooks";
import { newId } from "../../job/ids.ts";
import type { SetVisit } from "../../job/operations.ts";
import { fieldValue } from "../../job/values.ts";
import type { ThisDevice } from "../../local/device.ts";
import { itemsOfVisit, recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { AfterClosing } from "../../parts/after_closing.tsx";
import { attempt } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useField, useRecord } from "../../parts/use.ts";
import { ToReceipt } from "./to_receipt.tsx";

const PUT = "Put an item on the table";

type ActionOf = { visit_id: string; day_id: string; device: ThisDevice; isAllHere: boolean };

/** The door goes on to the next person, a table takes the next item; the porter does neither. */
export function Action({ visit_id, day_id, device, isAllHere }: ActionOf) {
  const stage = useField(visit_id, "stage");
  const allowed = useField(visit_id, "allowed_by");
  const day = useRecord("day", day_id);
  const [asking, setAsking] = useState(false);
  const open = async (allowed_by: string) => {
    const item_id = newId();
    if (stage === "waiting") await toTable(visit_id, device);
    await keep("open_item", { item_id, visit_id, day_id, allowed_by });
    location.hash = `#/item/${item_id}`;
  };
  if (device.role === "porter") return null;
  if (device.role === "door") return <TieOn href="#/today">Done: back to Today</TieOn>;
  if (asking && day) return <AfterClosing day={day} what="item" open={open} leave={() => setAsking(false)} />;
  const put = async () => (day && fieldValue(day, "closed") && !allowed ? setAsking(true) : open(""));
  const isOver = stage === "left" || Boolean(day && fieldValue(day, "closed"));
  if (!isAllHere && !isOver) return <TieOn press={put}>{PUT}</TieOn>;
  return (
    <>
      <button type="button" onClick={() => attempt(async () => put())}>
        {isAllHere ? "Another item" : PUT}
      </button>
      <ToReceipt visit_id={visit_id} leads />
    </>
  );
}

/** Whether all that was counted at unpacking has been put on the table: what comes next is to sign for it. */
export function useAllHere(visit_id: string) {
  const counted = Number(useField(visit_id, "item_count"));
  return counted > 0 && (itemsOfVisit(visit_id)?.length ?? 0) >= counted;
}

/** They sit down at the table of this device: one that has no name takes them from where they sat. */
export async function toTable(visit_id: string, { role, table_id }: ThisDevice) {
  const sat = role === "table" && fieldValue(recordOf("visit", visit_id), "table_id");
  if (table_id || sat) await setVisit(visit_id, "table_id", table_id);
  await setVisit(visit_id, "stage", "at-table");
}

export function setVisit(visit_id: string, field: SetVisit["field"], value: string | number) {
  return keep("set_visit", { visit_id, field, value });
}
