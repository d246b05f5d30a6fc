/** Where an owner is. Whoever has something here that nobody signed for does not leave by one tap. */

import { useState } from "preact/hooks";
import { receiptState } from "../../job/receipt.ts";
import type { ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, STAGES, type Stage } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { itemsOfVisit, recordOf, records } from "../../local/memory.ts";
import { AfterClosing } from "../../parts/after_closing.tsx";
import { Choice } from "../../parts/choices.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useField, useRecord, useSelected } from "../../parts/use.ts";
import { setVisit, toTable } from "./visit_action.tsx";

export function WhereTheyAre({ visit_id, device }: { visit_id: string; device: ThisDevice }) {
  const stage = useField(visit_id, "stage") as Stage | undefined;
  const [asking, setAsking] = useState(false);
  const [after, setAfter] = useState<Stage | null>(null);
  const day = useRecord("day", recordOf("visit", visit_id)?.day_id ?? "");
  const openedAfter = useField(visit_id, "allowed_by");
  const isOver = Boolean(day && fieldValue(day, "closed")) && !openedAfter;
  const allowed = useField(visit_id, "stage_allowed_by");
  const unsigned = useSelected(() => unsignedOf(visit_id), [visit_id]);
  const telephone = useField(visit_id, "consignor/telephone");
  const go = (to: Stage) => {
    setAsking(false);
    return to === "at-table" ? toTable(visit_id, device) : setVisit(visit_id, "stage", to);
  };
  const choose = (to: Stage) =>
    isOver && to !== stage ? setAfter(to) : to === "left" && unsigned ? setAsking(true) : go(to);
  const sayAfter = (to: Stage) => async (allowed_by: string) => {
    await setVisit(visit_id, "stage_allowed_by", allowed_by);
    await go(to);
    setAfter(null);
  };
  const isAsking = asking && unsigned > 0 && stage !== "left";
  return (
    <>
      <Choice label="Where they are" options={STAGES} value={stage} choose={choose} />
      {isOver && after && day && (
        <AfterClosing day={day} what="stage" open={sayAfter(after)} leave={() => setAfter(null)} />
      )}
      {allowed && <p class="bar">Said after the day was closed: {allowed} allowed it.</p>}
      {isAsking && (
        <div class="bar wrong" role="alert">
          <p>
            {countWords(unsigned, "thing")} of theirs nobody has signed for. Once they have gone, it can only
            be asked for{telephone ? " by telephone." : ", and no telephone number is known here."}
          </p>
          <p class="finish-keys">
            <a class="button main" href={`#/visit/${visit_id}/receipt`}>
              To the receipt
            </a>
            <button type="button" class="quiet" onClick={() => attempt(async () => go("left"))}>
              They have left all the same
            </button>
          </p>
        </div>
      )}
      {stage === "left" && unsigned > 0 && !telephone && (
        <p class="bar">They have left, something is not signed for, and no telephone number is known here.</p>
      )}
    </>
  );
}

/** How many of an owner's things are here, or back with them, and not signed for. */
function unsignedOf(visit_id: string): number {
  const visit = recordOf("visit", visit_id);
  if (!visit) return 0;
  const things: ThingRecord[] = [...(records("item") ?? []), ...(records("container") ?? [])];
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const { hereUnsigned, backUnsigned } = receiptState(visit, itemsOfVisit(visit_id) ?? [], byId);
  return hereUnsigned.length + backUnsigned.length;
}
