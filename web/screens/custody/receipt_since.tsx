/** The lines of a receipt, each with what has changed on the thing since it was signed. */
import type { ReceiptLine } from "../../job/operations.ts";
import type { Change } from "../../job/receipt_changes.ts";
import { shown } from "../../job/tag.ts";
import { countWords } from "../../job/words.ts";
import { InTurn } from "../../parts/below.tsx";
import { useClassNames } from "./receipt_entered.ts";

type LinesOf = {
  lines: readonly ReceiptLine[];
  /** Of what was taken back: its numbers are void. */
  back?: boolean;
  changes?: readonly Change[];
};

/** So many lines fill the first screenful. */
const FIRST_LINES = 8;

export function Lines({ lines, back = false, changes = [] }: LinesOf) {
  const className = useClassNames();
  const oneLine = (line: ReceiptLine) => (
    <li key={line.item_id}>
      <strong>{line.tags.map(shown).join(", ") || (back ? "never tagged" : "no number")}</strong>
      {back && line.tags.length ? " (void)" : ""} {line.words}
      <small> {className(line.class_id ?? "")}</small>
      <Since change={changes.find((change) => change.line.item_id === line.item_id)} />
    </li>
  );
  return (
    <ol class="steps read">
      <InTurn of={lines} first={FIRST_LINES} draw={oneLine} />
    </ol>
  );
}

function Since({ change }: { change: Change | undefined }) {
  if (!change) return null;
  const { now, what } = change;
  return (
    <p class="bar">
      Changed since: {what.join(", ")}. It now reads: {now.tags.map(shown).join(", ") || "no number,"}{" "}
      {now.words}
    </p>
  );
}

/** What to do about it: the owner may sign anew, and what was signed stays as it is. */
export function OfferNew({ changes, number, make }: { changes: number; number: string; make: () => void }) {
  return (
    <div class="bar on-screen">
      <p>
        {countWords(changes, "thing")} changed since receipt {number} was signed. The receipt stays as it is;
        a new one takes its place once the owner has signed it.
      </p>
      <button type="button" onClick={make}>
        Make a new receipt
      </button>
    </div>
  );
}
