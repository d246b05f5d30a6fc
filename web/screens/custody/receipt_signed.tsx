/** The lists of a receipt, the field to sign in, and what was signed. */

import type { ReceiptLine } from "../../job/operations.ts";
import type { Receipt } from "../../job/receipt.ts";
import { shown } from "../../job/tag.ts";
import { countWords } from "../../job/words.ts";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { SignatureDrawn, SignatureField } from "../../parts/signature.tsx";

/** What is entered before it is signed. */
export type Entered = { house_by: string; signed_by: string; on_paper: string; strokes: string };

export function Lines({ lines, back = false }: { lines: ReceiptLine[]; back?: boolean }) {
  return (
    <ol class="steps">
      {lines.map((line) => (
        <li key={line.item_id}>
          <strong>{line.tags.map(shown).join(", ") || "never tagged"}</strong>
          {back && line.tags.length ? " (void)" : ""} {line.words}
        </li>
      ))}
    </ol>
  );
}

export function Sign({
  what,
  lines,
  things,
  replaces,
  entered,
  set,
}: {
  what: Receipt["what"];
  lines: ReceiptLine[];
  things: string;
  replaces: Receipt | undefined;
  entered: Entered;
  set: (name: keyof Entered) => (value: string) => Promise<void>;
}) {
  return (
    <section class="on-screen">
      <h2>{what === "left" ? `Sign for ${things} left` : `Sign for ${things} taken back`}</h2>
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
      <Typed
        label="or signed on paper: pad and number"
        value={entered.on_paper}
        save={set("on_paper")}
        max={100}
      />
      <div class="pair">
        <Typed label="Name of who signs" value={entered.signed_by} save={set("signed_by")} max={200} />
        <Typed label="For the house" value={entered.house_by} save={set("house_by")} max={200} />
      </div>
    </section>
  );
}

export function Signed({ receipt, later }: { receipt: Receipt; later: Receipt | undefined }) {
  return (
    <article class="finding">
      <h3>
        {receipt.number}: {countWords(receipt.lines.length, "thing")}{" "}
        {receipt.what === "left" ? "left" : "taken back"}
      </h3>
      <p>
        {momentWords(receipt.made_at)}, for the house {receipt.house_by}
        {receipt.signed_by ? `, signed by ${receipt.signed_by}` : ""}
        {receipt.on_paper ? `, on paper: ${receipt.on_paper}` : ""}.
        {later ? ` Receipt ${later.number} has taken its place.` : ""}
      </p>
      {receipt.strokes ? (
        <SignatureDrawn strokes={receipt.strokes} words={`Signature on receipt ${receipt.number}`} />
      ) : (
        !receipt.on_paper && <p class="none">The signature was erased.</p>
      )}
      <details class="on-paper">
        <summary>What was signed</summary>
        <Lines lines={receipt.lines} back={receipt.what === "taken-back"} />
      </details>
    </article>
  );
}
