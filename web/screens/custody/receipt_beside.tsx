/**
 * What stands beside a receipt: things of the visit that are not on it, and what has to be done before it is signed.
 */

import { SECOND, saidBehind } from "../../job/behind.ts";
import { thingName } from "../../job/custody.ts";
import { decidedWords } from "../../job/decided.ts";
import { isInParts } from "../../job/number_parts.ts";
import { numbersHere, slightFaults } from "../../job/receipt.ts";
import type { ItemRecord } from "../../job/types.ts";
import { countBack, pieceCount } from "../../job/with_owner.ts";
import { countWords, firstUpper, isOrAre } from "../../job/words.ts";

/** A receipt that says three pieces and names two numbers is asked about when the third is gone. */
export function PiecesUntied({ items }: { items: readonly ItemRecord[] }) {
  return items
    .map((item) => ({
      item,
      pieces: pieceCount(item) - countBack(item),
      numbers: numbersHere(item).length,
    }))
    .filter(({ pieces, numbers }) => numbers < pieces)
    .map(({ item, pieces, numbers }) => (
      <p class="bar wrong on-screen" key={item.record_id}>
        {firstUpper(thingName(item))}:{" "}
        {isInParts(item)
          ? `of its ${countWords(pieces, "number")} ${numbers} ${isOrAre(numbers)} tied`
          : `${countWords(pieces, "piece")}, and ${countWords(numbers, "number")}`}
        .{" "}
        <a href={`#/item/${item.record_id}/tag`}>
          Tie {isInParts(item) ? "the others" : "one to each piece"}
        </a>{" "}
        before it is signed for.
      </p>
    ));
}

/** Faults of a second record are in the line of the one thing; what else it says, a count, is looked at first. */
export function SaidBehind({ items }: { items: readonly ItemRecord[] }) {
  return items
    .map((item) => ({ item, behind: saidBehind(item) }))
    .filter(({ behind }) => behind.length)
    .map(({ item, behind }) => (
      <p class="bar on-screen" key={item.record_id}>
        {firstUpper(thingName(item))}: {SECOND} {behind.join("; ")}.{" "}
        <a href={`#/item/${item.record_id}`}>Look, and say it there</a> before it is signed for.
      </p>
    ));
}

/** A receipt has the main faults: what else is on record is named here, so that nobody wonders where it went. */
export function SlightFaults({ items }: { items: readonly ItemRecord[] }) {
  const slight = items
    .map((item) => ({ item, faults: slightFaults(item) }))
    .filter(({ faults }) => faults.length);
  if (!slight.length) return null;
  return (
    <section class="bar on-screen">
      <p>On record, and not named on the receipt, since it is slight:</p>
      <ul class="by-name">
        {slight.map(({ item, faults }) => (
          <li key={item.record_id}>
            {firstUpper(thingName(item))}: {faults.join("; ")}
          </li>
        ))}
      </ul>
    </section>
  );
}

type ToTieOf = { items: readonly ItemRecord[]; toOwner: boolean };

/** What was signed for under a number that is gone stays here, and gets another before it is signed for anew. */
export function ToTie({ items, toOwner }: ToTieOf) {
  if (!items.length) return null;
  return (
    <section class="bar wrong on-screen">
      <p>Signed for and still here, and a number that was signed for is gone:</p>
      <Names items={items} to={toOwner ? null : "tag"} />
      <p>
        {toOwner
          ? "It stays here. It gets a new number before you sign, and you read that on the new receipt."
          : "It stays here. Tie a fresh tag to it before a new receipt is signed."}
      </p>
    </section>
  );
}

type NotOnItOf = {
  untagged: readonly ItemRecord[];
  stopped: readonly ItemRecord[];
  /** With what was signed for before, and an authority took away since: it is not on what is signed anew. */
  outOfHand: readonly ItemRecord[];
  isAnew: boolean;
  /** The owner reads it: no words for the staff, and nothing to press. */
  toOwner: boolean;
};

/** Each thing of the visit that is not on the receipt, by name, and what becomes of it. */
export function NotOnIt({ untagged, outOfHand, isAnew, toOwner, ...of }: NotOnItOf) {
  const stopped = isAnew ? outOfHand : of.stopped;
  const open = stopped.filter((item) => !decidedWords(item)).length;
  return (
    <>
      {untagged.length > 0 && (
        <section class="bar">
          <p>Not on the receipt, since {untagged.length === 1 ? "it has" : "they have"} no number:</p>
          <Names items={untagged} to={toOwner ? null : "tag"} />
          <p>
            {toOwner
              ? "You take home what has no number."
              : "Tie a tag to what stays; the rest goes home with its owner."}
          </p>
        </section>
      )}
      {stopped.length > 0 && (
        <section class="bar wrong">
          <p>
            {countWords(stopped.length, "thing")} of this visit {isOrAre(stopped.length)} stopped and not on
            the receipt:
          </p>
          <Names items={stopped} to={toOwner ? null : "stop"} />
          {open > 0 && (
            <p>
              Whoever was called decides. Until then nobody takes {open === 1 ? "it" : "them"} in or hands{" "}
              {open === 1 ? "it" : "them"} back, and what they decide is given to{" "}
              {toOwner ? "you" : "the owner"} on a paper of its own.
            </p>
          )}
        </section>
      )}
    </>
  );
}

function Names({ items, to }: { items: readonly ItemRecord[]; to: "tag" | "stop" | null }) {
  return (
    <ul class="by-name">
      {items.map((item) => {
        const decided = decidedWords(item);
        const name = firstUpper(thingName(item));
        return (
          <li key={item.record_id}>
            {to ? <a href={`#/item/${item.record_id}/${to}`}>{name}</a> : name}
            {decided && <small> {decided}</small>}
          </li>
        );
      })}
    </ul>
  );
}

/** What the receipt does not say is said by another paper. */
export function OwnTerms() {
  return (
    <p class="hint">
      What the house charges, who carries the risk and until when, and how personal words are kept stand on
      the house's own terms, which go with this receipt.
    </p>
  );
}
