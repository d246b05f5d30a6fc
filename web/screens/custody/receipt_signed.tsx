/** What was signed, and what is so of it since. */

import { useEffect, useState } from "preact/hooks";
import type { Later, Receipt, Signature } from "../../job/receipt.ts";
import type { Beside, Change } from "../../job/receipt_changes.ts";
import { headChanges, headOf, headWords } from "../../job/receipt_head.ts";
import type { DayRecord } from "../../job/types.ts";
import { isPrivate } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { recordOf } from "../../local/memory.ts";
import { momentWords } from "../../parts/moments.ts";
import { SignatureDrawn } from "../../parts/signature.tsx";
import { useDevice } from "../../parts/use.ts";
import { get, OfficeSays } from "../../sync/office.ts";
import { status } from "../../sync/status.ts";
import { Lines } from "./receipt_since.tsx";

/** Why a signature is not shown: the office was not reached, or it answered and does not show it to this device. */
type NotShown = "not reached" | "not shown";

/**
 * A signature is on no list: the office is asked for it where its receipt is read back, until it has answered, and
 * anew when it may answer otherwise: as the visit or this device goes to another table.
 */
function useSignature(visit_id: string, receipt: Receipt): Signature | NotShown | undefined {
  const [asked, setAsked] = useState<{ of: string; answer: Signature | NotShown }>();
  const table_id = useDevice()?.table_id;
  const visit = recordOf("visit", visit_id); // without an owner's words once they are not read here
  const stands = `${table_id} ${visit?.office_seq} ${Object.keys(visit?.fields ?? {})}`;
  const answer = asked?.of === stands ? asked.answer : undefined;
  const reached = status.value.lastContactAt;
  const isOwed = !receipt.is_here && (answer === undefined || answer === "not reached");
  useEffect(() => {
    if (!isOwed) return;
    const take = (answer: Signature | NotShown) => setAsked({ of: stands, answer });
    const address = `/visits/${visit_id}/receipts/${receipt.id}/signature`;
    get<Signature>(address).then(take, (error) =>
      take(error instanceof OfficeSays && error.status === NOT_FOUND ? "not shown" : "not reached"),
    );
  }, [visit_id, receipt.id, stands, isOwed, reached]);
  return receipt.is_here ? receipt : answer;
}

const NOT_FOUND = 404; // to who does not read the owner of a visit there is no signature

type SignatureShown = { receipt: Receipt; signature: ReturnType<typeof useSignature>; toOwner: boolean };

/** Why it is not seen here is for the staff: neither the owner's side nor the paper tells it. */
function SignatureOf({ receipt, signature, toOwner }: SignatureShown) {
  const what = receipt.is_on_paper ? "On which pad it is signed" : "The signature";
  if (signature === undefined) return <p class="none">Asking for the signature …</p>;
  if (signature === "not reached")
    return <p class="none">{what} is kept; it is shown here when the office is reached.</p>;
  if (signature === "not shown")
    return (
      <p class="none">
        {what} is kept at the office.
        {!toOwner && (
          <span class="on-screen">
            {" "}
            This device does not see it, since the owner has left or is not at its table: the desk or a
            manager can show it.
          </span>
        )}
      </p>
    );
  if (signature.strokes)
    return <SignatureDrawn strokes={signature.strokes} words={`Signature on receipt ${receipt.number}`} />;
  return signature.on_paper ? null : <p class="none">The signature was erased.</p>;
}

function laterWords({ receipt: { number }, tookItsPlace, isApart }: Later) {
  if (isApart)
    return `Receipt ${number} is for the same things, and holds. Where each was signed nobody had heard of the other.`;
  return tookItsPlace
    ? `Receipt ${number} has taken its place.`
    : `What it names was recorded twice and stands on receipt ${number} as well: both were signed.`;
}

type SignedOf = {
  visit_id: string;
  day: DayRecord;
  /** Its head stands at the top of the screen, as it was signed. */
  isHeaded: boolean;
  receipt: Receipt;
  later: Later | undefined;
  changes: readonly Change[];
  beside: readonly Beside[];
  toOwner: boolean;
};

/** A receipt as it was signed. One that another has taken the place of is folded away. */
export function Signed({ visit_id, day, isHeaded, receipt, later, changes, beside, toOwner }: SignedOf) {
  const otherwise = later ? [] : headChanges(receipt, day, recordOf("visit", visit_id));
  const signature = useSignature(visit_id, receipt);
  const { house_by, signed_by, on_paper } = typeof signature === "object" ? signature : receipt;
  const isPrivately = isPrivate(recordOf("visit", visit_id)); // whoever signed may be the owner
  const paper = on_paper ? `, on paper: ${on_paper}` : receipt.is_on_paper ? ", on paper" : "";
  return (
    <article class="finding">
      <h3>
        {receipt.number}: {countWords(receipt.lines.length, "thing")}{" "}
        {receipt.what === "left" ? "left" : "taken back"}
      </h3>
      {!isHeaded && <p class="read">{headWords(headOf(receipt, day))}</p>}
      <p>
        {momentWords(receipt.made_at)}
        {house_by ? `, for the house ${house_by}` : ""}
        {signed_by && <span class={isPrivately ? "print-inline" : ""}>, signed by {signed_by}</span>}
        {paper}.{later ? ` ${laterWords(later)}` : ""}
      </p>
      {!(later && signature === "not shown") && (
        <SignatureOf receipt={receipt} signature={signature} toOwner={toOwner} />
      )}
      {later ? (
        <details class="on-paper">
          <summary>What was signed</summary>
          <Lines lines={receipt.lines} back={receipt.what === "taken-back"} />
        </details>
      ) : (
        <Lines {...{ changes, beside }} lines={receipt.lines} back={receipt.what === "taken-back"} />
      )}
      {otherwise.length > 0 && <p class="bar">Changed since: {otherwise.join("; ")}.</p>}
    </article>
  );
}
