/** The numbers that are or were on an item. */

import { useState } from "preact/hooks";
import { cautionMark } from "../../job/cautions.ts";
import type { TagValue } from "../../job/fields.ts";
import { isInParts, partName, partWords } from "../../job/number_parts.ts";
import { oneThing, recordWith } from "../../job/one_thing.ts";
import type { RemoveTag } from "../../job/operations.ts";
import { mayStill } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { countBack, pieceCount, tagsHere } from "../../job/with_owner.ts";
import { isOrAre, spaced } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { OwnLabel } from "../../parts/own_label.tsx";
import { PartSaid, tieAnew } from "./tag_part.tsx";

/** The numbers of an item, those that are gone too. */
export function Numbers({ item }: { item: ItemRecord }) {
  const numbers = listed(oneThing(item), "tags/").map(({ value }) => value);
  const tied = numbers.filter(({ gone }) => !gone);
  const of = pieceCount(item);
  const without = of - countBack(item) - tagsHere(item).length;
  const mark = cautionMark([item]);
  const [first] = tied;
  const count = async (of: number) => {
    if (first && of >= 1) await tieAnew(item, first, { of });
  };
  if (!numbers.length) return null;
  return (
    <section>
      <h2>Numbers of this item</h2>
      {numbers.map((number) => (
        <OneNumber key={number.tag} number={number} item={item} />
      ))}
      {mark && tied.length > 0 && mayStill(item, "tag") && (
        <p class="bar">Its tag has to say “{mark}”: print it anew, or write it on.</p>
      )}
      <Counted
        label="How many numbers it takes"
        hint="One for all of it, one for each piece, or one more for a part that is packed apart"
        value={of}
        save={count}
      />
      {without > 0 ? (
        <p class="bar">
          {isInParts(item)
            ? `${without} of its ${of} numbers ${isOrAre(without)} not tied yet.`
            : `${without} of its ${of} pieces ${without === 1 ? "has" : "have"} no tag yet.`}
        </p>
      ) : (
        first && (
          <button
            type="button"
            class="quiet"
            onClick={() => attempt(() => tieAnew(item, first, { of: of + 1, parts: true }))}
          >
            One more: a part of it is packed apart
          </button>
        )
      )}
    </section>
  );
}

function OneNumber({ number, item }: { number: TagValue; item: ItemRecord }) {
  const { tag, of, mark, gone, replaced_by } = number;
  const isSeveral = pieceCount(item) > 1;
  return (
    <div class="row">
      <span class="what">
        <strong class="whole">{shown(tag)}</strong>
        {isSeveral ? ` ${partWords(item, number)}` : ""}
        {mark && !isInParts(item) && of === 1 ? <small>Told apart by: {mark}</small> : null}
        {gone && (
          <small>
            {spaced(gone)}
            {replaced_by && `, now ${shown(replaced_by)}`}
          </small>
        )}
      </span>
      {!gone && <OfNumber number={number} item={item} />}
      {!gone && isSeveral && <PartSaid number={number} item={item} />}
    </div>
  );
}

const WAYS_TO_GO: readonly (readonly [RemoveTag["why"], string])[] = [
  ["fallen-off", "Fell off"],
  ["lost", "Lost"],
  ["damaged", "Damaged"],
];

/** What can be done with a number that is on it: print it anew, or note how it went. */
function OfNumber({ number: { tag, piece, of }, item }: { number: TagValue; item: ItemRecord }) {
  const [asking, setAsking] = useState(false);
  const gone = (why: RemoveTag["why"]) =>
    attempt(async () => {
      await keep("remove_tag", { item_id: recordWith(item, tag).record_id, tag, why, replaced_by: null });
      setAsking(false);
      sayDone(`${shown(tag)} is noted as ${spaced(why)}. Tie a fresh one.`);
    });
  if (!asking)
    return (
      <>
        <OwnLabel
          {...{ tag, kind: "tag", items: [item], piece, words: "Print it" }}
          pieces={isInParts(item) ? 1 : (of ?? 1)}
          part={partName(item, tag)}
        />
        <button type="button" class="quiet" onClick={() => setAsking(true)}>
          It is gone
        </button>
      </>
    );
  return (
    <span class="chips">
      {WAYS_TO_GO.map(([why, words]) => (
        <button type="button" key={why} class="chip" onClick={() => gone(why)}>
          {words}
        </button>
      ))}
    </span>
  );
}
