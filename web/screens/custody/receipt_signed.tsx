/** The field to sign a receipt in, and what was signed. */

import { useEffect, useState } from "preact/hooks";
import type { ReceiptLine } from "../../job/operations.ts";
import type { Receipt } from "../../job/receipt.ts";
import type { Change } from "../../job/receipt_changes.ts";
import { countWords } from "../../job/words.ts";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { SignatureDrawn, SignatureField } from "../../parts/signature.tsx";
import { get } from "../../sync/office.ts";
import { Lines } from "./receipt_since.tsx";

/** What is entered before it is signed. */
export type Entered = { house_by: string; signed_by: string; on_paper: string; strokes: string };

export function Sign({
  what,
  lines,
  count,
  replaces,
  entered,
  set,
  toOwner,
}: {
  what: Receipt["what"];
  lines: ReceiptLine[];
  count: string;
  replaces: Receipt | undefined;
  entered: Entered;
  set: (name: keyof Entered) => (value: string) => Promise<void>;
  /** The owner has it in front of them: what the staff fills in is not asked there. */
  toOwner: boolean;
}) {
  return (
    <section class="on-screen">
      <h2>
        To sign for: {count}, {what === "left" ? "left with the house" : "taken back"}
      </h2>
      {replaces && (
        <p class="bar">
          The list has changed since receipt {replaces.number}. A receipt is never edited: this one takes its
          place.
        </p>
      )}
      {what === "taken-back" && <Lines lines={lines} back={true} />}
      <SignatureField
        label={
          what === "left" ? "I have left these things and the list is right" : "I have these things back"
        }
        strokes={entered.strokes}
        draw={set("strokes")}
      />
      {!toOwner && (
        <Typed
          label="Signed on paper instead: pad and number"
          value={entered.on_paper}
          save={set("on_paper")}
          max={100}
        />
      )}
      <div class="pair">
        <Typed
          label={toOwner ? "Your name" : "Name of who signs"}
          value={entered.signed_by}
          save={set("signed_by")}
          max={200}
        />
        {!toOwner && (
          <Typed label="For the house" value={entered.house_by} save={set("house_by")} max={200} />
        )}
      </div>
    </section>
  );
}

type Signature = { signed_by: string; strokes: string };

/** A signature is on no list: it is asked of the office when its receipt is read back. Null if it cannot be had now. */
function useSignature(visit_id: string, receipt: Receipt): Signature | null | undefined {
  const [asked, setAsked] = useState<Signature | null>();
  useEffect(() => {
    if (receipt.is_here) return;
    const address = `/visits/${visit_id}/receipts/${receipt.id}/signature`;
    get<Signature>(address).then(setAsked, () => setAsked(null));
  }, [visit_id, receipt.id, receipt.is_here]);
  return receipt.is_here ? receipt : asked;
}

function Signature({ receipt, signature }: { receipt: Receipt; signature: Signature | null | undefined }) {
  if (signature === undefined) return <p class="none">Asking for the signature …</p>;
  if (signature === null)
    return <p class="none">The signature is at the office; it is shown here when the office is reached.</p>;
  if (signature.strokes)
    return <SignatureDrawn strokes={signature.strokes} words={`Signature on receipt ${receipt.number}`} />;
  return receipt.on_paper ? null : <p class="none">The signature was erased.</p>;
}

type SignedOf = {
  visit_id: string;
  receipt: Receipt;
  later: Receipt | undefined;
  changes: readonly Change[];
};

/** A receipt as it was signed. One that another has taken the place of is folded away. */
export function Signed({ visit_id, receipt, later, changes }: SignedOf) {
  const signature = useSignature(visit_id, receipt);
  return (
    <article class="finding">
      <h3>
        {receipt.number}: {countWords(receipt.lines.length, "thing")}{" "}
        {receipt.what === "left" ? "left" : "taken back"}
      </h3>
      <p>
        {momentWords(receipt.made_at)}, for the house {receipt.house_by}
        {signature?.signed_by ? `, signed by ${signature.signed_by}` : ""}
        {receipt.on_paper ? `, on paper: ${receipt.on_paper}` : ""}.
        {later ? ` Receipt ${later.number} has taken its place.` : ""}
      </p>
      <Signature receipt={receipt} signature={signature} />
      {later ? (
        <details class="on-paper">
          <summary>What was signed</summary>
          <Lines lines={receipt.lines} back={receipt.what === "taken-back"} />
        </details>
      ) : (
        <Lines lines={receipt.lines} changes={changes} back={receipt.what === "taken-back"} />
      )}
    </article>
  );
}
