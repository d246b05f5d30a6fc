/** An item: what kind of thing, what was seen, concluded and told, and how sure; then the way to what is missing. */

import { useRef } from "preact/hooks";
import { isStopped } from "../../job/cautions.ts";
import { isTest, photosOf, tagsOf, walk } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { recordOf } from "../../local/memory.ts";
import { Below } from "../../parts/below.tsx";
import { Frame } from "../../parts/frame.tsx";
import { gapsOf } from "../../parts/gaps.ts";
import { usePlanBook, usePlanOf, useSelected } from "../../parts/use.ts";
import { ClassChoice, ReferOnly } from "./item_class.tsx";
import { MakerAndDate, Packaging, WhatItIs } from "./item_facts.tsx";

export default function Item({ item_id }: { item_id: string }) {
  // Drawn anew when it comes or goes, not with every key: each field below reads its own value.
  const visit_id = useSelected(() => {
    const item = recordOf("item", item_id);
    return item === null ? null : item?.visit_id;
  }, [item_id]);
  const found = usePlanOf(item_id);
  const begun = useRef(false);
  begun.current ||= Boolean(visit_id) && found !== undefined;
  const book = usePlanBook();
  if (visit_id === null)
    return (
      <Frame title="Item" back="#/today">
        <p>This item is not on this device yet. It comes with the next sync.</p>
      </Frame>
    );
  if (visit_id === undefined || !begun.current || book === undefined)
    return (
      <Frame title="Item" back="#/today">
        <p>Reading …</p>
      </Frame>
    );
  const back = `#/visit/${visit_id}`;
  const plan = found ?? null; // while another class's plan is read, the fields stay where somebody may be typing
  return (
    <Frame
      title={() => fieldValue(recordOf("item", item_id), "short_description") || "New item"}
      back={back}
      item_id={item_id}
      action={<Next item_id={item_id} done={back} />}
    >
      <Doors item_id={item_id} plan={plan} />
      <ClassChoice item_id={item_id} plan={plan} book={book} />
      {plan?.refer_only && <ReferOnly item_id={item_id} plan={plan} />}
      <WhatItIs item_id={item_id} />
      <Below>
        <MakerAndDate item_id={item_id} book={book} />
        <Packaging item_id={item_id} />
        <StillMissing item_id={item_id} />
      </Below>
    </Frame>
  );
}

function isStoppedItem(item_id: string) {
  const item = recordOf("item", item_id);
  return Boolean(item && isStopped(item));
}

function useGaps(item_id: string) {
  return useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? gapsOf(item) : [];
  }, [item_id]);
}

/** On to what is missing; if nothing is, back to the visit. */
function Next({ item_id, done }: { item_id: string; done: string }) {
  const next = useGaps(item_id).find(({ at }) => at);
  const stopped = useSelected(() => isStoppedItem(item_id), [item_id]);
  return next ? (
    <a class="button main" href={`#/item/${item_id}${next.at}`}>
      Next: {next.words}
    </a>
  ) : (
    <a class="button main" href={done}>
      {stopped ? "Leave it, back to the visit" : "Done, back to the visit"}
    </a>
  );
}

/** The other screens of an item in the order of the walk, each with what is there. */
function Doors({ item_id, plan }: { item_id: string; plan: Plan | null }) {
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
): [part: string, words: string, there: string | number][] {
  const steps = plan ? walk(plan, item) : [];
  const examined = steps.filter(({ state }) => state).length;
  const tags = tagsOf(item);
  const tests = plan?.tests.filter(isTest) ?? [];
  const tried = tests.filter(({ test }) => fieldValue(item, `tests/${test}`)).length;
  const marks = listed(item, "marks/").filter(({ value }) => !value.withdrawn).length;
  const measured = listed(item, "measures/").filter(({ value }) => value.value).length;
  return [
    ["zones", "Zones", plan ? `${examined} of ${steps.length}` : "choose a class first"],
    ["marks", "Marks", marks || (fieldValue(item, "marks_looked") ? "none found" : "not said")],
    ["works", "What works", plan ? `${tried} of ${tests.length}` : ""],
    ["measures", "Measures", measured],
    ["photos", "Photos", photosOf(item).length],
    ["tag", "Tag", tags.length ? tags.map(shown).join(", ") : "none yet"],
    ["words", "In words", "read it back"],
  ];
}

function StillMissing({ item_id }: { item_id: string }) {
  const gaps = useGaps(item_id);
  if (!gaps.length) return null;
  return (
    <section>
      <h2>
        Still missing <span class="count">{gaps.length}</span>
      </h2>
      <ul class="gaps">
        {gaps.map(({ what, words, at }) => (
          <li key={what}>{at ? <a href={`#/item/${item_id}${at}`}>{words}</a> : words}</li>
        ))}
      </ul>
    </section>
  );
}
