/** The cautions that stand on an item, on every screen that shows it. */

import { standingCautions } from "../job/cautions.ts";
import { recordOf } from "../local/memory.ts";
import { usePlanBook, useSelected } from "./use.ts";

export const LEVEL_WORDS: Record<string, string> = {
  red: "Red: stopped",
  amber: "Amber: set apart",
  note: "Note",
};

export function CautionBar({ item_id }: { item_id: string }) {
  const book = usePlanBook();
  const standing = useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? standingCautions(item) : [];
  }, [item_id]);
  if (!standing.length) return null;
  const level = standing[0]?.value.level;
  return (
    <div class={`bar caution-bar ${level}`} role={level === "red" ? "alert" : undefined}>
      {standing.map(({ id, value }) => (
        <p key={id}>
          <strong>{LEVEL_WORDS[value.level]}.</strong>{" "}
          {book?.cautions?.cautions.find(({ hazard }) => hazard === value.hazard)?.caution ?? value.sign}
        </p>
      ))}
      <p>
        <a href={`#/item/${item_id}/stop`}>
          {level === "red"
            ? "Nobody goes on with it. Who was called, what was decided"
            : "What was seen, who decides"}
        </a>
      </p>
    </div>
  );
}
