/**
 * What two people said otherwise of an item, until somebody settles it: nobody's words go from a phone without a sign.
 */

import { SECOND, saidBehind } from "../../job/behind.ts";
import { sidesOf, unsettled } from "../../job/between.ts";
import { contestedWords } from "../../job/contested_words.ts";
import { claimIn } from "../../job/custody.ts";
import { namesOn } from "../../job/day_facts.ts";
import { valueWords } from "../../job/value_words.ts";
import { firstUpper } from "../../job/words.ts";
import { device, recordOf } from "../../local/memory.ts";
import { listsOf } from "../../local/plan_book.ts";
import { useSelected } from "../../parts/use.ts";

type Stands = { id: string; what: string; sides: { words: string; by: string; isInForce: boolean }[] };

/** Both values of each field that is contested; a number on two things is on the list of what was refused. */
function bothOf(item_id: string): Stands[] {
  const item = recordOf("item", item_id);
  if (!item) return [];
  const who = namesOn(recordOf("day", item.day_id));
  const here = device.value?.device_id;
  return unsettled(item)
    .filter((between) => !claimIn(between))
    .map((between) => ({
      id: between.disagreement_id,
      what: firstUpper(contestedWords(between, listsOf(item))),
      sides: sidesOf(item, between).map(({ set, isInForce }) => ({
        words: valueWords(set.value, between.field, listsOf(item)),
        by: set.device_id === here ? "said on this device" : who(set.made_by),
        isInForce,
      })),
    }));
}

export function TwoValuesStand({ item_id }: { item_id: string }) {
  const stands = useSelected(() => bothOf(item_id), [item_id]);
  const behind = useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? saidBehind(item) : [];
  }, [item_id]);
  const doubled = behind.length > 0 && (
    <p class="bar">
      {`${firstUpper(SECOND)} ${behind.join("; ")}.`} Look, and say it here: count, or speak of the zone.
    </p>
  );
  const two = stands.map(({ id, what, sides }) => (
    <section key={id} class="bar" aria-label={`${what}: two values`}>
      <p>
        <strong>{what}: two values stand</strong> until somebody settles it at the desk. Nothing is lost.
      </p>
      <ul>
        {sides.map(({ words, by, isInForce }) => (
          <li key={words}>
            <span class="said">“{words}”</span>{" "}
            <small>
              {by}
              {isInForce ? "; it holds until then" : ""}
            </small>
          </li>
        ))}
      </ul>
    </section>
  ));
  return (
    <>
      {two}
      {doubled}
    </>
  );
}
