/** An item: what kind of thing, what was seen, concluded and told, and how sure; then the way to what is missing. */

import { useRef } from "preact/hooks";
import { isTest, missing, photosOf, tagsOf, walk } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { Frame } from "../../parts/frame.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { ClassChoice, ReferOnly } from "./item_class.tsx";
import { MakerAndDate, Packaging, WhatItIs } from "./item_facts.tsx";

export default function Item({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const found = usePlan(item);
  const begun = useRef(false);
  begun.current ||= Boolean(item) && found !== undefined;
  const book = usePlanBook();
  if (item === null)
    return (
      <Frame title="Item" back="#/today">
        <p>This item is not on this device yet. It comes with the next sync.</p>
      </Frame>
    );
  if (item === undefined || !begun.current || book === undefined)
    return (
      <Frame title="Item" back="#/today">
        <p>Reading …</p>
      </Frame>
    );
  // While another class's plan is read, the fields stay where somebody may be typing.
  return <ItemOf item={item} plan={found ?? null} book={book} />;
}

function ItemOf({ item, plan, book }: { item: ItemRecord; plan: Plan | null; book: PlanBook | null }) {
  const address = `#/item/${item.record_id}`;
  const next = missing(plan, item).find(({ at }) => at);
  const action = next ? (
    <a class="button main" href={address + next.at}>
      Next: {next.words}
    </a>
  ) : (
    <a class="button main" href={`#/visit/${item.visit_id}`}>
      Done, back to the visit
    </a>
  );
  return (
    <Frame
      title={fieldValue(item, "short_description") || "New item"}
      back={`#/visit/${item.visit_id}`}
      item={item}
      action={action}
    >
      <Doors item={item} plan={plan} address={address} />
      <ClassChoice item={item} plan={plan} book={book} />
      {plan?.refer_only && <ReferOnly plan={plan} />}
      <WhatItIs item={item} />
      <MakerAndDate item={item} book={book} />
      <Packaging item={item} />
      <StillMissing item={item} plan={plan} address={address} />
    </Frame>
  );
}

type Part = { item: ItemRecord; plan: Plan | null; address: string };

/** The other screens of an item in the order of the walk, each with what is there. */
function Doors({ item, plan, address }: Part) {
  return (
    <nav class="doors" aria-label="This item">
      {doorsOf(item, plan).map(([part, words, there]) => (
        <a key={part} href={`${address}/${part}`}>
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

function StillMissing({ item, plan, address }: Part) {
  const gaps = missing(plan, item);
  if (!gaps.length) return null;
  return (
    <section>
      <h2>
        Still missing <span class="count">{gaps.length}</span>
      </h2>
      <ul class="gaps">
        {gaps.map(({ what, words, at }) => (
          <li key={what}>{at ? <a href={address + at}>{words}</a> : words}</li>
        ))}
      </ul>
    </section>
  );
}
