/** The lines of a receipt, each with what has changed on the thing since it was signed. */
import type { ReceiptLine } from "../../job/operations.ts";
import type { Receipt } from "../../job/receipt.ts";
import { type Beside, type Change, countChanged } from "../../job/receipt_changes.ts";
import { shown } from "../../job/tag.ts";
import type { VisitRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { InTurn } from "../../parts/below.tsx";
import { momentWords } from "../../parts/moments.ts";
import { useClassNames } from "./receipt_entered.ts";

type LinesOf = {
  lines: readonly ReceiptLine[];
  /** Of what was taken back: its tags are off, and their numbers are used for nothing else. */
  back?: boolean;
  changes?: readonly Change[];
  beside?: readonly Beside[];
};

/** So many lines fill the first screenful. */
const FIRST_LINES = 8;

export function Lines({ lines, back = false, changes = [], beside = [] }: LinesOf) {
  const className = useClassNames();
  const oneLine = (line: ReceiptLine) => (
    <li key={line.item_id}>
      <strong>{line.tags.map(shown).join(", ") || (back ? "never tagged" : "no number")}</strong>
      {back && line.tags.length ? ` (${line.tags.length > 1 ? "tags" : "tag"} taken off)` : ""} {line.words}
      <small> {className(line.class_id ?? "")}</small>
      <Since change={changes.find((change) => change.line.item_id === line.item_id)} />
      {beside
        .filter(({ item_id }) => item_id === line.item_id)
        .map(({ words }) => (
          <p key={words} class="bar">
            On record since: {words}
          </p>
        ))}
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
  const { now, what, taken_at } = change;
  return (
    <p class="bar">
      Changed since: {what.join(", ")}
      {taken_at === undefined
        ? `. It now reads: ${now.tags.map(shown).join(", ") || "no number,"} ${now.words}`
        : `, ${momentWords(taken_at)}. It is not here any more.`}
    </p>
  );
}

type OfferOf = {
  changes: readonly Change[];
  receipts: readonly Receipt[];
  make: () => void;
  visit: VisitRecord;
  /** Whether nothing is here that a new one could list. */
  isAllGone: boolean;
};

/** What to do about it: the owner may sign anew, and what was signed stays as it is. */
export function OfferNew({ changes, receipts, make, visit, isAllGone }: OfferOf) {
  const isLeft = fieldValue(visit, "stage") === "left"; // until then the foot of the screen leads on with it
  const numbers = receipts
    .filter((one) => changes.some(({ receipt_id }) => receipt_id === one.id))
    .map(({ number }) => number);
  const [receipt, was, stays] =
    numbers.length === 1
      ? ["receipt", "was", "The receipt stays as it is"]
      : ["receipts", "were", "The receipts stay as they are"];
  return (
    <div class="bar on-screen">
      <p>
        {countWords(countChanged(changes), "thing")} changed since {receipt} {numbers.join(" and ")} {was}{" "}
        signed.{" "}
        {isAllGone
          ? `${stays}: nothing of it is here, so that there is no new one.`
          : `${stays}; a new one takes ${numbers.length === 1 ? "its" : "their"} place once the owner has signed it.`}
      </p>
      {isLeft && !isAllGone && <MakeNew make={make} />}
    </div>
  );
}

type LeftOf = { lines: LinesOf["lines"]; isAnother: boolean; head: string };

/** What is here, as it is to be signed; `head` where that is another than stands on top. */
export function LeftWithHouse({ lines, isAnother, head }: LeftOf) {
  return (
    <section>
      <h2>
        Left with the house{isAnother ? ", to be signed" : ""} <span class="count">{lines.length}</span>
      </h2>
      {head && <p class="lead">{head}</p>}
      {lines.length ? <Lines lines={lines} /> : <p class="none">Nothing is left here.</p>}
    </section>
  );
}

type OfferBesideOf = { count: number; make: () => void };

/** Nothing of it stands on a receipt, so that none is owed: the owner may have one all the same. */
export function OfferBeside({ count, make }: OfferBesideOf) {
  return (
    <div class="bar on-screen">
      <p>
        Something that a receipt does not name is on record of {countWords(count, "thing")} since it was
        signed. It holds as it is; if the owner asks for a new one, make it.
      </p>
      <MakeNew make={make} />
    </div>
  );
}

function MakeNew({ make }: { make: () => void }) {
  return (
    <button type="button" onClick={make}>
      Make a new receipt
    </button>
  );
}
