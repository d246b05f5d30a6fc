/** The field to sign a receipt in, and what was signed. */

import { useEffect, useState } from "preact/hooks";
import type { ReceiptLine } from "../../job/operations.ts";
import type { Later, Receipt, Signature } from "../../job/receipt.ts";
import type { Change } from "../../job/receipt_changes.ts";
import { headChanges, headOf, headWords } from "../../job/receipt_head.ts";
import type { DayRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { SignatureDrawn, SignatureField } from "../../parts/signature.tsx";
import { get, OfficeSays } from "../../sync/office.ts";
import { status } from "../../sync/status.ts";
import { Lines } from "./receipt_since.tsx";

/** What is entered before it is signed. */
export type Entered = { house_by: string; signed_by: string; on_paper: string; strokes: string };

export function Sign({
  list,
  what,
  lines,
  count,
  replaces,
  entered,
  isOfAnother,
  padOfAnother,
  set,
  toOwner,
  hasLeft,
  anewBehind,
}: {
  /** By which the list is told from another: what is being drawn or typed ends with it. */
  list: string;
  what: Receipt["what"];
  lines: ReceiptLine[];
  count: string;
  /** The numbers of the receipts in whose place this one comes. */
  replaces: string[];
  entered: Entered;
  /** A signature was given for a list that is no more the one on the screen. */
  isOfAnother: boolean;
  /** What was typed as the pad's number for another list, and waits for that. */
  padOfAnother: string;
  set: (name: keyof Entered) => (value: string) => Promise<void>;
  /** The owner has it in front of them: what the staff fills in is not asked there. */
  toOwner: boolean;
  /** The visit has ended: this device may not know the owner's name any more. */
  hasLeft: boolean;
  /** What stays is signed for anew behind this: a piece of it went back as well. */
  anewBehind: boolean;
}) {
  const isBack = what === "taken-back";
  const name = (
    <Typed
      label={toOwner ? "Your name" : isBack ? "Name of who takes it back" : "Name of who signs"}
      hint={isBack && hasLeft && !toOwner ? "The visit has ended: ask who it is" : undefined}
      value={entered.signed_by}
      save={set("signed_by")}
      max={200}
    />
  );
  return (
    <section class="on-screen">
      <h2>
        To sign for: {count}, {what === "left" ? "left with the house" : "taken back"}
      </h2>
      {replaces.length > 0 && (
        <p class="bar">
          The list has changed since {replaces.length === 1 ? "receipt" : "receipts"} {replaces.join(" and ")}
          . A receipt is never edited: this one takes {replaces.length === 1 ? "its" : "their"} place.
        </p>
      )}
      {isBack && <Lines lines={lines} back={true} />}
      {isBack && anewBehind && (
        <p class="bar">
          A piece of what stays went back, too: behind this the owner signs anew for the rest.
        </p>
      )}
      {isOfAnother && <p class="bar wrong">The list has changed since you signed: read it again and sign.</p>}
      {padOfAnother && (
        <p class="bar">
          The list is another one than when “{padOfAnother}” was typed; that is kept for the other list. Type
          it again if the paper was signed for this one.
        </p>
      )}
      <SignatureField
        key={`pen ${list}`}
        label={
          what === "left" ? "I have left these things and the list is right" : "I have these things back"
        }
        strokes={entered.strokes}
        draw={set("strokes")}
      />
      {!toOwner && (
        <Typed
          key={`pad ${list}`}
          of={list}
          label="Signed on paper instead: pad and number"
          value={entered.on_paper}
          save={set("on_paper")}
          max={100}
        />
      )}
      <div class="pair">
        {name}
        {!toOwner && (
          <Typed label="For the house" value={entered.house_by} save={set("house_by")} max={200} />
        )}
      </div>
    </section>
  );
}

/** Why a signature is not shown: the office was not reached, or it answered and does not show it to this device. */
type NotShown = "not reached" | "not shown";

/** A signature is on no list: the office is asked for it where its receipt is read back, until it has answered. */
function useSignature(visit_id: string, receipt: Receipt): Signature | NotShown | undefined {
  const [asked, setAsked] = useState<Signature | NotShown>();
  const reached = status.value.lastContactAt;
  const isOwed = !receipt.is_here && (asked === undefined || asked === "not reached");
  useEffect(() => {
    if (!isOwed) return;
    const address = `/visits/${visit_id}/receipts/${receipt.id}/signature`;
    get<Signature>(address).then(setAsked, (error) =>
      setAsked(error instanceof OfficeSays && error.status === NOT_FOUND ? "not shown" : "not reached"),
    );
  }, [visit_id, receipt.id, isOwed, reached]);
  return receipt.is_here ? receipt : asked;
}

const NOT_FOUND = 404; // to who does not read the owner of a visit there is no signature

type SignatureShown = { receipt: Receipt; signature: ReturnType<typeof useSignature>; toOwner: boolean };

/** Why it is not seen here is for the staff: neither the owner's side nor the paper tells it. */
function SignatureOf({ receipt, signature, toOwner }: SignatureShown) {
  const what = receipt.is_on_paper ? "On which pad it is signed" : "The signature";
  if (signature === undefined) return <p class="none">Asking for the signature …</p>;
  if (signature === "not reached")
    return <p class="none">{what} is at the office; it is shown here when the office is reached.</p>;
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
  toOwner: boolean;
};

/** A receipt as it was signed. One that another has taken the place of is folded away. */
export function Signed({ visit_id, day, isHeaded, receipt, later, changes, toOwner }: SignedOf) {
  const otherwise = later ? [] : headChanges(receipt, day);
  const signature = useSignature(visit_id, receipt);
  const { house_by, signed_by, on_paper } = typeof signature === "object" ? signature : receipt;
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
        {signed_by ? `, signed by ${signed_by}` : ""}
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
        <Lines lines={receipt.lines} changes={changes} back={receipt.what === "taken-back"} />
      )}
      {otherwise.length > 0 && <p class="bar">Changed since: {otherwise.join("; ")}.</p>}
    </article>
  );
}
