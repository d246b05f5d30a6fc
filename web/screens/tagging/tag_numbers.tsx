/** The numbers that are or were on an item. */

import { useState } from "preact/hooks";
import { cautionMark } from "../../job/cautions.ts";
import type { TagValue } from "../../job/fields.ts";
import { oneThing, recordWith } from "../../job/one_thing.ts";
import type { RemoveTag } from "../../job/operations.ts";
import { mayStill } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { countBack, pieceCount, tagsHere } from "../../job/with_owner.ts";
import { spaced } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { OwnLabel } from "../../parts/own_label.tsx";

/** The numbers of an item, those that are gone too. */
export function Numbers({ item }: { item: ItemRecord }) {
  const numbers = listed(oneThing(item), "tags/").map(({ value }) => value);
  const tied = numbers.filter(({ gone }) => !gone);
  const of = pieceCount(item);
  const without = of - countBack(item) - tagsHere(item).length;
  const mark = cautionMark([item]);
  const [first] = tied;
  const count = async (pieces: number) => {
    if (!first || pieces < 1) return;
    const { tag, piece } = first;
    const { record_id: item_id } = recordWith(item, tag);
    await keep("tie_tag", { item_id, tag, piece, of: pieces, mark: first.mark ?? "" });
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
        hint="One for all of it, or one for each piece"
        value={of}
        save={count}
      />
      {without > 0 && (
        <p class="bar">
          {without} of its {of} pieces {without === 1 ? "has" : "have"} no tag yet.
        </p>
      )}
    </section>
  );
}

function OneNumber({ number, item }: { number: TagValue; item: ItemRecord }) {
  const { tag, piece, of, mark, gone, replaced_by } = number;
  return (
    <div class="row">
      <span class="what">
        <strong class="whole">{shown(tag)}</strong>
        {of > 1 ? ` piece ${piece} of ${of}` : ""}
        {mark ? <small>Told apart by: {mark}</small> : null}
        {gone && (
          <small>
            {spaced(gone)}
            {replaced_by && `, now ${shown(replaced_by)}`}
          </small>
        )}
      </span>
      {!gone && <OfNumber number={number} item={item} />}
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
        <OwnLabel tag={tag} kind="tag" items={[item]} piece={piece} pieces={of ?? 1} words="Print it" />
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
