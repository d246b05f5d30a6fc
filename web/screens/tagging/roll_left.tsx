/** What is left of the roll that the next number comes from, and its labels. */

import { isRollOf } from "../../job/custody.ts";
import { shown } from "../../job/tag.ts";
import { keep } from "../../local/outbox.ts";
import { MadeLabels, MakeLabels } from "../../parts/kept_labels.tsx";
import { attempt } from "../../parts/notices.tsx";
import type { RollLeftOf } from "../../parts/with_words.ts";

/** What a device at a table prints: string tags, one a page. */
const ONE_A_PAGE = "tag-85x45";

type OfAnotherOf = { tag: string; whose: string; next: string | null | undefined };

/** Whoever has the roll may tie the same number, and not every device hears of it in time. */
function OfAnother({ tag, whose, next }: OfAnotherOf) {
  return (
    <p class="bar wrong" role="alert">
      {shown(tag)} is of the roll of {whose}, not of this device's. Read it off the tag in your hand once
      more. If it hangs there, tell {whose} before you tie it
      {next ? `; else tie one of your own: the next is ${shown(next)}.` : "."}
    </p>
  );
}

/** What is left of this device's roll; a spare can be taken with no network. */
export function RollLeft({ rolls, day, device, tag }: RollLeftOf) {
  const day_id = day.record_id;
  const mine = rolls.filter((roll) => isRollOf(roll, device));
  const spare = rolls.filter((roll) => roll.given_to.toLowerCase() === "spare" && roll.unused);
  const [first] = spare;
  const next = mine.find((roll) => roll.next)?.next;
  const left = mine.reduce((sum, roll) => sum + roll.unused, 0);
  const low = mine.length > 0 && mine.every((roll) => roll.low);
  const whose = rolls.find((roll) => roll.left.includes(tag) && !isRollOf(roll, device))?.given_to;
  const another = whose ? <OfAnother {...{ tag, whose, next }} /> : null;
  if (!mine.length && !spare.length) return another;
  const nextWords = next ? `; the next is ${shown(next)}` : "";
  return (
    <div class={low ? "bar" : "roll-left"}>
      {another}
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
