/**
 * Marks: each as it stands, line by line, with its place; the reading apart. None found says where it was looked for.
 */

import { useEffect, useRef, useState } from "preact/hooks";
import type { MarkValue } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { isInReach } from "../../job/mark_places.ts";
import { asked } from "../../job/progress.ts";
import type { PlanBook } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { MarksLooked } from "./marks_looked.tsx";

const COMPLETENESS: readonly (readonly [NonNullable<MarkValue["completeness"]>, string])[] = [
  ["complete", "Complete"],
  ["worn", "Worn"],
  ["partial", "Partial"],
  ["illegible", "Illegible"],
];

const STANDINGS: readonly (readonly [NonNullable<MarkValue["standing"]>, string])[] = [
  ["makers-own", "The maker's own, in our opinion"],
  ["borne", "Borne: nobody says who put it there"],
  ["not-relied-on", "Borne, and not relied on"],
];

const NOTHING_SAID = {
  technique: null,
  colour: "",
  completeness: null,
  text: "",
  reading: "",
  withdrawn: false,
};
const NOT_SAID = ["", "Not said"] as const; // takes back what was pressed by a slip
export default function Marks({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [added, setAdded] = useState("");
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book)
    return (
      <Frame title="Marks" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  const marks = listed(item, "marks/").filter(({ value }) => !value.withdrawn);
  const add = (place: string) =>
    attempt(() => {
      const mark_id = newId();
      setAdded(mark_id);
      return keep("record_mark", { item_id, mark_id, place, ...NOTHING_SAID });
    });
  const rows = plan?.marks.map((place) => ({ place, of: plan.marks_of?.[place] ?? [] })) ?? [];
  const there = plan ? asked(plan, item, rows) : [];
  const places = there.map(({ place }) => place);
  const inReach = there.filter(({ of }) => plan && isInReach(plan, item, of)).map(({ place }) => place);
  return (
    <Frame
      title={marks.length ? `Marks: ${marks.length}` : "Marks"}
      back={back}
      item_id={item.record_id}
      action={<NextStep item={item} here="/marks" />}
    >
      {marks.map(({ id, value }) => (
        <Mark
          key={id}
          id={id}
          value={value}
          item_id={item_id}
          book={book}
          places={plan?.marks ?? []}
          isNew={id === added}
        />
      ))}
      <section>
        <h2>{marks.length ? "Another mark" : "Where is a mark?"}</h2>
        {plan?.marks_hint && <p class="hint">{plan.marks_hint}</p>}
        <div class="chips">
          {places.map((place) => (
            <button type="button" key={place} class="chip" onClick={() => add(place)}>
              {place}
            </button>
          ))}
          <button type="button" class="chip" onClick={() => add("")}>
            Elsewhere
          </button>
        </div>
      </section>
      {marks.length === 0 && (
        <MarksLooked item={item} plan={plan} inReach={inReach} isAll={inReach.length === places.length} />
      )}
    </Frame>
  );
}

type MarkOf = {
  id: string;
  value: MarkValue;
  item_id: string;
  book: PlanBook;
  places: string[];
  /** Its place was pressed just now: what stands there is typed next. */
  isNew: boolean;
};

function Mark({ id, value, item_id, book, places, isNew }: MarkOf) {
  const article = useRef<HTMLElement>(null);
  useEffect(() => {
    if (isNew) article.current?.querySelector<HTMLElement>("textarea")?.focus();
  }, [isNew]);
  const change = (patch: Partial<MarkValue>) => amend("record_mark", { item_id, mark_id: id, ...patch });
  const set = (name: "place" | "colour" | "text" | "reading") => (text: string) => change({ [name]: text });
  const withdraw = () =>
    attempt(async () => {
      await change({ withdrawn: true });
      sayDone("The mark is withdrawn.", () => change({ withdrawn: false }));
    });
  return (
    <article class="finding" ref={article}>
      <h3>{value.place || "A mark"}</h3>
      <Typed
        of={id}
        label="As it stands"
        into="record_mark.text"
        hint="Line by line, mistakes and all"
        value={value.text}
        save={set("text")}
        lines={3}
      />
      {!places.includes(value.place) && (
        <Typed of={id} label="Place" value={value.place} save={set("place")} />
      )}
      <Choice
        label="How it is there"
        options={[
          ...book.words.techniques.map(({ technique, words }) => [technique, words] as const),
          ...(value.technique ? [NOT_SAID] : []),
        ]}
        value={value.technique}
        choose={(technique) => change({ technique: technique || null })}
      />
      <Typed of={id} label="Colour" value={value.colour} save={set("colour")} />
      <Choice
        label="How much is left"
        options={COMPLETENESS}
        value={value.completeness}
        choose={(completeness) => change({ completeness })}
      />
      <Choice
        label="What we hold of it"
        options={STANDINGS}
        value={value.standing ?? null}
        choose={(standing) => change({ standing })}
      />
      <Typed
        of={id}
        label="Our reading"
        hint="What we think it says; kept apart from what stands there"
        value={value.reading}
        save={set("reading")}
      />
      <button type="button" class="quiet" onClick={withdraw}>
        Withdraw this mark
      </button>
    </article>
  );
}
