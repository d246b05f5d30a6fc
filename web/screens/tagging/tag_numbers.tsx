/** The numbers that are or were on an item, and what is left of the roll that the next one comes from. */

import { useState } from "preact/hooks";
import { cautionMark } from "../../job/cautions.ts";
import { isRollOf, type RollCount } from "../../job/custody.ts";
import type { TagValue } from "../../job/fields.ts";
import { oneThing, recordWith } from "../../job/one_thing.ts";
import type { RemoveTag } from "../../job/operations.ts";
import { mayStill } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { DayRecord, ItemRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { countBack, pieceCount, tagsHere } from "../../job/with_owner.ts";
import { spaced } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { Counted } from "../../parts/controls.tsx";
import { MadeLabels, MakeLabels } from "../../parts/kept_labels.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { OwnLabel } from "../../parts/own_label.tsx";

/** What a device at a table prints: string tags, one a page. */
const ONE_A_PAGE = "tag-85x45";

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

type RollsOf = { rolls: RollCount[]; day: DayRecord; device: ThisDevice };

/** What is left of this device's roll; a spare can be taken with no network. */
export function RollLeft({ rolls, day, device }: RollsOf) {
  const day_id = day.record_id;
  const mine = rolls.filter((roll) => isRollOf(roll, device));
  const spare = rolls.filter((roll) => roll.given_to.toLowerCase() === "spare" && roll.unused);
  const [first] = spare;
  const next = mine.find((roll) => roll.next)?.next;
  const left = mine.reduce((sum, roll) => sum + roll.unused, 0);
  const low = mine.length > 0 && mine.every((roll) => roll.low);
  if (!mine.length && !spare.length) return null;
  const nextWords = next ? `; the next is ${shown(next)}` : "";
  return (
    <div class={low ? "bar" : "roll-left"}>
      <p>
        {mine.length
          ? `${left} numbers are left on this device's roll${nextWords}.${low ? " Four fifths are gone." : ""}`
          : "This device has no roll of its own."}
      </p>
      {mine.map((roll) => (
        <div key={roll.roll_id}>
          <MakeLabels {...{ day, roll }} label="tag" count={roll.unused} />
          <MadeLabels {...{ day, roll }} how={{ sheet: ONE_A_PAGE }} />
        </div>
      ))}
      {(low || !mine.length) && first && (
        <button
          type="button"
          onClick={() =>
            attempt(() =>
              keep("give_roll", {
                day_id,
                roll_id: first.roll_id,
                given_to: device.name,
                for_device_id: device.device_id,
              }),
            )
          }
        >
          Take the spare roll from {shown(first.first_tag)}
        </button>
      )}
    </div>
  );
}
