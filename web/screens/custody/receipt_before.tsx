/** What stands on a receipt before what is to be signed: whose it is, what was signed already; and what comes after. */

import { useState } from "preact/hooks";
import { foundByHouse } from "../../job/found_by_house.ts";
import { mayMake } from "../../job/kinds_read.ts";
import type { ReceiptHead } from "../../job/operations.ts";
import { type Later, lineOfReturned, type Receipt } from "../../job/receipt.ts";
import type { Beside, Change } from "../../job/receipt_changes.ts";
import { headWords, isRenamed, ticketSigned } from "../../job/receipt_head.ts";
import { ticketWords } from "../../job/tickets.ts";
import type { DayRecord, ItemRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue, isPrivate } from "../../job/values.ts";
import { countWords, isOrAre } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { closedSince } from "../../parts/with_words.ts";
import { SharedTicket } from "../arrival/tickets_shared.tsx";
import { Signed } from "./receipt_signed.tsx";
import { Lines } from "./receipt_since.tsx";

type PartiesOf = {
  visit: VisitRecord;
  head: ReceiptHead | null;
  /** The one receipt that the head is of, if it is signed: it hangs under nothing that was not. */
  signed: Receipt | null;
  device: ThisDevice | null;
};

/**
 * Whose receipts these are. The `head` is that of a single one; where there are several, each has its own. While
 * something is to be signed, the `device` is told that another owner holds the ticket. The screen lies open to the
 * hall: a private owner is named on the paper, and on the screen once somebody asks for it.
 */
export function Parties({ visit, head, signed, device }: PartiesOf) {
  const [isOpen, setOpen] = useState(false);
  const owner = signed && isRenamed(signed, visit) ? "" : fieldValue(visit, "consignor/name");
  const ticket = (signed && ticketSigned(signed)) || ticketWords(visit);
  const acting_for = fieldValue(visit, "consignor/acting_for");
  const names = [owner, acting_for && `acting for ${acting_for}`].filter(Boolean);
  const isHidden = names.length > 0 && isPrivate(visit) && !isOpen;
  return (
    <>
      <p class="lead">
        {head && `${headWords(head)}. `}Ticket {ticket}
        <span class={isHidden ? "print-inline" : ""}>{names.map((name) => `, ${name}`).join("")}</span>.
      </p>
      {isHidden && (
        <button type="button" onClick={() => setOpen(true)}>
          Show the owner’s name
        </button>
      )}
      {device && <SharedTicket visit_id={visit.record_id} device={device} />}
    </>
  );
}

const LEAVES = "The owner leaves";

type LeavesOf = {
  visit: VisitRecord;
  day: DayRecord;
  device: ThisDevice | null | undefined;
  /** How many things changed since they were signed for: that is put right before the owner leaves. */
  changed: number;
  make: () => void;
};

/**
 * Nothing is left to sign: the owner leaves, and the table is free. The closing asks of visits that nobody ended.
 * Whoever signed for what is otherwise since leaves once they were asked whether they want a new receipt.
 */
export function Leaves({ visit, day, device, changed, make }: LeavesOf) {
  const stage = fieldValue(visit, "stage");
  const [isAsked, setAsked] = useState(false);
  const say = (value: string) => keep("set_visit", { visit_id: visit.record_id, field: "stage", value });
  const leave = async () => {
    await say("left");
    sayDone(`Visit ${ticketWords(visit)}: left.`, () => say(stage ?? "at-table"));
    location.hash = "#/today";
  };
  if (stage === "left" || !device || !mayMake(device.role, "set_visit")) return null;
  if (fieldValue(day, "closed"))
    return (
      <TieOn href={`#/visit/${visit.record_id}`} left="which a manager allows: the day is closed">
        {LEAVES}
      </TieOn>
    );
  if (changed)
    return (
      <>
        <button type="button" onClick={() => (isAsked ? attempt(leave) : setAsked(true))}>
          {isAsked ? "They leave without one" : LEAVES}
        </button>
        <TieOn press={make} left={`${countWords(changed, "thing")} changed since`}>
          Make a new receipt
        </TieOn>
      </>
    );
  return (
    <TieOn press={leave} left="then on to Today">
      {LEAVES}
    </TieOn>
  );
}

/** What an owner reads who has signed: only the staff's key goes on from here. */
export function ThankYou({ receipt }: { receipt: Receipt | undefined }) {
  return (
    <>
      <h1>Thank you</h1>
      <p class="lead">Receipt {receipt?.number} is signed. Please hand this back.</p>
    </>
  );
}

export function BackWithOwner({ items, day }: { items: readonly ItemRecord[]; day: DayRecord }) {
  if (!items.length) return null;
  return (
    <section>
      <h2>
        Back with the owner <span class="count">{items.length}</span>
      </h2>
      <Lines
        lines={items.map((item) => lineOfReturned(item, undefined, foundByHouse(item, day)))}
        back={true}
      />
    </section>
  );
}

export function DayClosed({ visit_id }: { visit_id: string }) {
  const ClosedSince = closedSince.value;
  return ClosedSince && <ClosedSince kind="visit" id={visit_id} />;
}

type Before = {
  visit_id: string;
  day: DayRecord;
  /** Whether what was signed above the lines stands at the top of the screen. */
  isHeaded: boolean;
  receipts: Receipt[];
  laterOf: (receipt: Receipt) => Later | undefined;
  changes: readonly Change[];
  beside: readonly Beside[];
  /** How many things stand beside the receipts once all that can be on one is signed for; null until then. */
  allSigned: number | null;
  toOwner: boolean;
};

export function SignedBefore(before: Before) {
  const { visit_id, day, isHeaded, receipts, laterOf, changes, beside, allSigned, toOwner } = before;
  if (!receipts.length) return null;
  return (
    <section>
      <h2>Signed</h2>
      {allSigned !== null && !changes.length && (
        <p class="lead">
          ✓ {allSigned ? "What is left with the house" : "Everything"} is signed for.
          {allSigned > 0 && ` ${countWords(allSigned, "thing")} of the visit ${isOrAre(allSigned)} not.`}
        </p>
      )}
      {receipts.map((receipt) => (
        <Signed
          visit_id={visit_id}
          key={receipt.id}
          day={day}
          isHeaded={isHeaded}
          changes={changes.filter(({ receipt_id }) => receipt_id === receipt.id)}
          beside={beside.filter(({ receipt_id }) => receipt_id === receipt.id)}
          receipt={receipt}
          later={laterOf(receipt)}
          toOwner={toOwner}
        />
      ))}
    </section>
  );
}
