/** The cautions that stand on an item, on every screen that shows it. */

import { isStopped, standingCautions } from "../job/cautions.ts";
import { takenAway } from "../job/referred.ts";
import { stillWords, stopsOn } from "../job/stopped.ts";
import type { RecordCopy } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { firstUpper } from "../job/words.ts";
import { recordOf } from "../local/memory.ts";
import { usePlanBook, useSelected } from "./use.ts";

export const LEVEL_WORDS: Record<string, string> = {
  red: "Red: stopped",
  amber: "Amber: set apart",
  note: "Note",
};

/**
 * That nobody goes on with it, in the head of its screens: there it is read whole however far somebody has scrolled,
 * and leads to who was called. That screen says it in large letters itself.
 */
export function StoppedLine({ item_id }: { item_id: string }) {
  const isRed = useSelected(() => Boolean(stillOf(item_id)), [item_id]);
  const address = stopAddress(item_id);
  if (!isRed || location.hash === address) return null;
  return (
    <a class="stopped-line" href={address}>
      <strong>{LEVEL_WORDS.red}.</strong> The call and the decision
    </a>
  );
}

/** `headed`: it stands under the line that says so in the head of a screen. */
export function CautionBar({ item_id, headed = false }: { item_id: string; headed?: boolean }) {
  const book = usePlanBook();
  const standing = useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? standingCautions(item) : [];
  }, [item_id]);
  const went = useSelected(() => takenAwayTo(item_id), [item_id]);
  const still = useSelected(() => stillOf(item_id), [item_id]);
  if (!standing.length) return null;
  const level = standing[0]?.value.level;
  const address = stopAddress(item_id);
  if (went) return <TakenAway went={went} address={address} />;
  // On that screen what the first minute says below is not said here as well: the number to call is to be in sight.
  const isSaidBelow = (id: string, on: RecordCopy) =>
    location.hash === address && on.record_id === item_id && !fieldValue(on, `caution-decisions/${id}`);
  const below = standing.filter(({ id, on }) => isSaidBelow(id, on));
  const lines = [...new Set(below.map(({ value }) => LEVEL_WORDS[value.level]))];
  return (
    <div class={`bar caution-bar ${level}`} role={level === "red" ? "alert" : undefined}>
      {lines.map((words) => (
        <p key={words}>
          <strong>{words}.</strong>
        </p>
      ))}
      {standing.map(
        ({ id, on, value }) =>
          !isSaidBelow(id, on) && (
            <p key={id}>
              <strong class={headed && value.level === "red" ? "unseen" : ""}>
                {LEVEL_WORDS[value.level]}.
              </strong>{" "}
              {book?.cautions?.cautions.find(({ hazard }) => hazard === value.hazard)?.caution ?? value.sign}
            </p>
          ),
      )}
      {still && <p>{still}</p>}
      {location.hash !== address && !(headed && level === "red") && (
        <p>
          <a href={address}>
            {level === "red"
              ? "Nobody goes on with it. Who was called, what was decided"
              : "What was seen, who decides"}
          </a>
        </p>
      )}
    </div>
  );
}

/** Nobody can touch it, and nobody calls anyone: it is gone, and nothing of it is anybody's next step here. */
function TakenAway({ went, address }: { went: string; address: string }) {
  return (
    <div class="bar caution-bar note">
      <p>
        <strong>It is not here any more.</strong> {firstUpper(went)}, as was decided.{" "}
        {location.hash !== address && <a href={address}>What was seen, who decided</a>}
      </p>
    </div>
  );
}

function takenAwayTo(item_id: string) {
  const item = recordOf("item", item_id);
  return item ? takenAway(item) : "";
}

/** What an item that is stopped may still have; "" if nothing stops it, or it was taken away. */
function stillOf(item_id: string) {
  const item = recordOf("item", item_id);
  return item && isStopped(item) && !takenAway(item) ? stillWords(stopsOn(item)) : "";
}

function stopAddress(item_id: string) {
  return `#/item/${item_id}/stop`;
}
