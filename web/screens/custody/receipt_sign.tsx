/** The field to sign a receipt in. */

import { useState } from "preact/hooks";
import type { ReceiptLine } from "../../job/operations.ts";
import type { Receipt } from "../../job/receipt.ts";
import { Typed } from "../../parts/controls.tsx";
import { SignatureField } from "../../parts/signature.tsx";
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
  ownName,
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
  /** The owner's own, where the hall is not to read it; "" where it may. */
  ownName: string;
  /** What stays is signed for anew behind this: a piece of it went back as well. */
  anewBehind: boolean;
}) {
  const isBack = what === "taken-back";
  const [isShown, setShown] = useState(false);
  const name =
    ownName && ownName === entered.signed_by && !isShown ? (
      <p>
        {isBack ? "Taken back" : "Signed"} by the owner.{" "}
        <button type="button" onClick={() => setShown(true)}>
          Show the name, or write another
        </button>
      </p>
    ) : (
      <Typed
        label={toOwner ? "Your name" : isBack ? "Name of who takes it back" : "Name of who signs"}
        hint={hasLeft && !toOwner ? "The visit has ended: ask who it is" : undefined}
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
