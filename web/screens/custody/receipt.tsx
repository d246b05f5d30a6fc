/** The receipt of a visit: what is left with the house, what went back, and the owner's signature under it. */

import { useState } from "preact/hooks";
import { newId } from "../../job/ids.ts";
import { type Receipt, receiptLine, receiptState } from "../../job/receipt.ts";
import { besideSince, changesOnAll, countChanged, isPieceBack } from "../../job/receipt_changes.ts";
import { headNow, headOnTop, headWords } from "../../job/receipt_head.ts";
import { nextReceiptNumber } from "../../job/receipt_number.ts";
import { lackingToSign } from "../../job/to_sign_first.ts";
import type { ContainerRecord, DayRecord, ItemRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue, isPrivate } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { itemsOfVisit, records } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Below } from "../../parts/below.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { OwnerSide } from "../../parts/owner_side.tsx";
import { printWhole } from "../../parts/print.ts";
import { Sign as SignOf } from "../../parts/sign.tsx";
import { useDevice, useRecord, useRecords } from "../../parts/use.ts";
import { BackWithOwner, DayClosed, Leaves, Parties, SignedBefore, ThankYou } from "./receipt_before.tsx";
import { NotOnIt, OwnTerms, PiecesUntied, SaidBehind, SlightFaults, ToTie } from "./receipt_beside.tsx";
import { listMark, useClassNames, useEntered } from "./receipt_entered.ts";
import { Sign } from "./receipt_sign.tsx";
import { LeftWithHouse, OfferBeside, OfferNew } from "./receipt_since.tsx";

export default function ReceiptScreen({ visit_id }: { visit_id: string }) {
  const visit = useRecord("visit", visit_id);
  const day = useRecord("day", visit?.day_id ?? "");
  const items = itemsOfVisit(visit_id);
  const containers = useRecords("container", visit?.day_id ?? "");
  if (!visit || !day || !items || !containers)
    return (
      <Frame title="Receipt" back={`#/visit/${visit_id}`}>
        <p>Reading …</p>
      </Frame>
    );
  return <ReceiptOf visit={visit} day={day} items={items} containers={containers} />;
}

type ReceiptGiven = {
  visit: VisitRecord;
  day: DayRecord;
  items: readonly ItemRecord[];
  containers: ContainerRecord[];
};

function ReceiptOf({ visit, day, items, containers }: ReceiptGiven) {
  const visit_id = visit.record_id;
  const title = `Receipt ${fieldValue(visit, "ticket")}`;
  const [anew, setAnew] = useState(false);
  const [side, setSide] = useState<"staff" | "owner" | "thanked">("staff");
  const turned = side !== "staff";
  const turnBack = () => setSide("staff");
  const className = useClassNames();
  const byId = new Map(containers.map((container) => [container.record_id, container]));
  const state = receiptState(visit, items, byId);
  const changes = changesOnAll(state.standing, items, className);
  const beside = state.standing.flatMap((receipt) => besideSince(receipt, items, day));
  const what: Receipt["what"] | null = state.backUnsigned.length
    ? "taken-back"
    : state.hereUnsigned.length || anew || isPieceBack(changes)
      ? "left"
      : null;
  const changed = state.staying.length && countChanged(changes); // what an authority has is on no new one
  const here = state.staying.map((item) => receiptLine(item));
  const lines = what === "left" ? here : state.backUnsigned.map(state.lineOfBack(day));
  const count = countWords(lines.length, "thing");
  const makeNew = () => setAnew(true);
  const device = useDevice();
  const head = headNow(day);
  const isFirst = !state.receipts.length;
  const top = headOnTop(state.receipts, what, day);
  const signed = (!what && top && state.receipts[0]) || null;
  const list = listMark(what, lines, head);
  const { entered, isOfAnother, padOfAnother, set, drop } = useEntered(visit, day, device, list);
  const untied = what === "left" ? state.toTie.length : 0;
  const hasLeft = fieldValue(visit, "stage") === "left";
  const of = { lines: lines.length, untied, entered, isOfAnother, toOwner: turned, hasLeft };
  const lacking = what && lackingToSign({ what, ...of });
  const sign = async () => {
    if (!what || !device) return;
    const replaces = (what === "left" && state.last?.id) || null;
    const number = nextReceiptNumber(visit, records("visit", visit.day_id) ?? [], device);
    const signed = { receipt_id: newId(), number, what, lines, replaces, head };
    await keep("sign_receipt", { visit_id, ...signed, ...entered });
    drop();
    setAnew(false);
    if (turned) setSide("thanked");
    const by = what === "taken-back" ? `signed by ${entered.signed_by.trim()}` : "signed";
    sayDone(`Receipt ${number} is ${by} and on this device.`);
  };
  const print = (
    <button type="button" onClick={printWhole}>
      Print the receipt
    </button>
  );
  const action = what ? (
    <button type="button" class="main" disabled={Boolean(lacking)} onClick={() => attempt(sign)}>
      {lacking || `Sign for ${count}`}
    </button>
  ) : (
    <>
      {!changes.length && print}
      <Leaves visit={visit} day={day} device={device} changed={changed} make={makeNew} />
    </>
  );
  // What went back is signed for before what was signed is read again: the owner stands there with it in hand.
  const toSign = what && (
    <>
      {what === "taken-back" && !isFirst && <p class="lead">{headWords(head)}</p>}
      <Sign
        key={what}
        list={list}
        what={what}
        lines={lines}
        count={count}
        replaces={what === "left" ? state.standing.map(({ number }) => number) : []}
        padOfAnother={turned ? "" : padOfAnother}
        {...{ entered, isOfAnother, set }}
        toOwner={turned}
        hasLeft={hasLeft}
        ownName={isPrivate(visit) ? (fieldValue(visit, "consignor/name") ?? "") : ""}
        anewBehind={isPieceBack(changes)}
      />
    </>
  );
  const receipt = (
    <>
      {!turned && <DayClosed visit_id={visit_id} />}
      <Parties visit={visit} head={top} signed={signed} device={(what && !turned && device) || null} />
      {what === "taken-back" && toSign}
      <SignedBefore
        visit_id={visit_id}
        day={day}
        isHeaded={top !== null}
        receipts={state.receipts}
        laterOf={state.laterOf}
        changes={changes}
        beside={beside}
        allSigned={what ? null : state.untagged.length + state.stopped.length}
        toOwner={turned}
      />
      {beside.length > 0 && !changes.length && !what && !turned && (
        <OfferBeside count={beside.length} make={makeNew} />
      )}
      {changes.length > 0 && !what && (
        <>
          {!turned && <p class="on-screen">{print}</p>}
          <OfferNew {...{ changes, visit }} isAllGone={!changed} receipts={state.standing} make={makeNew} />
        </>
      )}
      {(what === "left" || !state.last) && (
        <LeftWithHouse lines={here} isAnother={state.last !== null} head={isFirst ? "" : headWords(head)} />
      )}
      {(what === "left" || !state.last) && <SlightFaults items={state.staying} />}
      <ToTie items={state.toTie} toOwner={turned} />
      {!turned && <SaidBehind items={state.here} />}
      {!turned && <PiecesUntied items={state.here.filter((item) => !state.toTie.includes(item))} />}
      <NotOnIt {...state} isAnew={what === "left"} toOwner={turned} />
      <Below>
        <BackWithOwner items={[...state.back, ...state.backInPart]} day={day} />
        {what === "left" && toSign}
        <OwnTerms />
      </Below>
    </>
  );
  if (side === "thanked")
    return (
      <OwnerSide staff="The owner has signed" turnBack={turnBack}>
        <ThankYou receipt={state.receipts.at(-1)} />
      </OwnerSide>
    );
  if (turned)
    return (
      <OwnerSide staff="The owner reads and signs" turnBack={turnBack} action={action}>
        <h1>{title}</h1>
        {receipt}
      </OwnerSide>
    );
  return (
    <Frame
      title={title}
      back={`#/visit/${visit_id}`}
      action={
        <>
          {what && (
            <button type="button" onClick={() => setSide("owner")}>
              <SignOf of="turn" /> To the owner
            </button>
          )}
          {action}
        </>
      }
    >
      {receipt}
    </Frame>
  );
}
