/** The ways to the other screens of an item, each with what is there. */

import { numbersShown } from "../../job/number_parts.ts";
import { asked, isTest, photosOf, tagsOf, walk } from "../../job/progress.ts";
import { mayBePictured } from "../../job/stopped.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { recordOf } from "../../local/memory.ts";
import { useSelected } from "../../parts/use.ts";

/** The other screens of an item in the order of the walk, each with what is there. */
export function Doors({ item_id, plan }: { item_id: string; plan: Plan | null }) {
  const doors = useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? doorsOf(item, plan) : [];
  }, [item_id, plan]);
  return (
    <nav class="doors" aria-label="This item">
      {doors.map(([part, words, there]) => (
        <a key={part} href={`#/item/${item_id}/${part}`}>
          <strong>{words}</strong> <span>{there}</span>
        </a>
      ))}
    </nav>
  );
}

function doorsOf(
  item: ItemRecord,
  plan: Plan | null,
): (readonly [part: string, words: string, there: string | number])[] {
  const steps = plan ? walk(plan, item) : [];
  const examined = steps.filter(({ state }) => state).length;
  const tags = tagsOf(item);
  const photos = photosOf(item).length;
  const tests = plan ? asked(plan, item, plan.tests).filter(isTest) : [];
  const tried = tests.filter(({ test }) => fieldValue(item, `tests/${test}`)).length;
  const marks = listed(item, "marks/").filter(({ value }) => !value.withdrawn).length;
  const measured = listed(item, "measures/").filter(({ value }) => value.value).length;
  return [
    ["zones", "Zones", plan ? ofAll(examined, steps.length) : "choose a class first"],
    [
      "marks",
      "Marks",
      marks ||
        (fieldValue(item, "marks_looked") ? (plan?.marks_always ? "not copied" : "none found") : "not said"),
    ],
    ["works", "Tried", plan ? ofAll(tried, tests.length) : "choose a class first"],
    ["measures", "Measured", measured],
    // where a sign forbids a photograph nothing leads to one; those that were taken before are still looked at
    ...(photos || mayBePictured(item) ? ([["photos", "Photos", photos]] as const) : []),
    ["tag", "Tag", tags.length ? numbersShown(item, tags) : "none yet"],
    ["words", "In words", "read it back"],
  ];
}

/** A class that is only ever referred asks for none. */
const ofAll = (done: number, all: number) => (all ? `${done} of ${all}` : "none asked for");
