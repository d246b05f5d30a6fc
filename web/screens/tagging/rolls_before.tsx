/** Rolls of the days before with unused numbers: their labels are printed, and lie at whoever had them. */

import { useEffect, useState } from "preact/hooks";
import { dateWords } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import type { LabelKind } from "../../job/labels_asked.ts";
import { shown } from "../../job/tag.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { get } from "../../sync/office.ts";
import type { Holder } from "./roll_holder.tsx";

/** Numbers in a row, with what labels were made of them: "" if none were. */
type Row = { first_tag: string; last_tag: string; count: number; label: LabelKind | "" };
type RollLeft = Holder & { roll_id: string; held_on: string; unused: number; rows: Row[] };

export function RollsBefore({ day }: { day: DayRecord }) {
  const day_id = day.record_id;
  const [rolls, setRolls] = useState<RollLeft[]>([]);
  useEffect(() => {
    setRolls([]);
    get<{ rolls: RollLeft[] }>(`/rolls/left?${new URLSearchParams({ day_id })}`).then(
      (told) => setRolls(told.rolls),
      () => {}, // out of reach: why no labels are made is said above, and this comes with the office
    );
  }, [day_id]);
  const taken = new Set(listed(day, "rolls/").map(({ value }) => value.from_roll_id + value.first_tag));
  const offered = rolls.filter(
    ({ roll_id, rows }) => !rows.every((row) => taken.has(roll_id + row.first_tag)),
  );
  if (!offered.length) return null;
  return (
    <section>
      <h2>Unused, from the day before</h2>
      <p class="hint">
        Their labels lie where they lay. On this day they are used, and counted, only once they go on.
      </p>
      <ul class="rows">
        {offered.map((roll) => (
          <li key={roll.roll_id} class="row">
            <span class="what">
              <strong>{roll.unused} unused</strong>, from {shown(roll.rows[0]?.first_tag ?? "")}
              <small>
                {dateWords(roll.held_on)}, {roll.given_to}
              </small>
            </span>
            <button type="button" onClick={() => attempt(() => goOn(day_id, roll, taken))}>
              Goes on, at {roll.given_to}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Each run of it becomes a roll of this day, and what was printed of it is on record as printed. */
async function goOn(day_id: string, roll: RollLeft, taken: ReadonlySet<string>) {
  const { given_to, for_device_id, roll_id: from_roll_id } = roll;
  const rows = roll.rows.filter(({ first_tag }) => !taken.has(from_roll_id + first_tag));
  for (const { label, first_tag, last_tag, count } of rows) {
    const roll_id = newId();
    await keep("carry_roll", {
      ...{ day_id, roll_id, from_roll_id },
      ...{ first_tag, last_tag, count, given_to, for_device_id },
    });
    if (label)
      await keep("print_labels", {
        ...{ day_id, print_id: newId(), roll_id, label },
        rows: [{ first_tag, count }],
      });
  }
  sayDone(`${roll.unused} unused numbers go on today, at ${given_to}.`);
}
