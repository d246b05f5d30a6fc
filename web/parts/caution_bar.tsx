/** The cautions that stand on an item, on every screen that shows it. */

import { standingCautions } from "../job/cautions.ts";
import type { RecordCopy } from "../job/types.ts";
import { usePlanBook } from "./use.ts";

export const LEVEL_WORDS: Record<string, string> = {
  red: "Red: stopped",
  amber: "Amber: set apart",
  note: "Note",
};

export function CautionBar({ item }: { item: RecordCopy }) {
  const book = usePlanBook();
  const standing = standingCautions(item);
  if (!standing.length) return null;
  const level = standing[0]?.value.level;
  return (
    <div class={`bar caution-bar ${level}`} role={level === "red" ? "alert" : undefined}>
      {standing.map(({ id, value }) => (
        <p key={id}>
          <strong>{LEVEL_WORDS[value.level]}.</strong>{" "}
          {book?.cautions?.cautions.find((one) => one.hazard === value.hazard)?.caution ?? value.sign}
        </p>
      ))}
      <p>
        <a href={`#/item/${item.record_id}/stop`}>
          {level === "red"
            ? "Nobody goes on with it. Who was called, what was decided"
            : "What was seen, who decides"}
        </a>
      </p>
    </div>
  );
}
