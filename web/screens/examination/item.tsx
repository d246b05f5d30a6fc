/** An item: what kind of thing, what was seen, concluded and told, and how sure; then the way to what is missing. */

import { useCallback, useRef } from "preact/hooks";
import { isStopped } from "../../job/cautions.ts";
import { type ZoneSaid, zonesOf } from "../../job/edge.ts";
import type { Gap } from "../../job/progress.ts";
import { mayBePictured } from "../../job/stopped.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { enteredIn } from "../../local/held.ts";
import { device, recordOf } from "../../local/memory.ts";
import { Below } from "../../parts/below.tsx";
import { shortName } from "../../parts/class_drawing.tsx";
import { Edge } from "../../parts/edge.tsx";
import { Frame } from "../../parts/frame.tsx";
import { gapsOf, piecesAsked } from "../../parts/gaps.ts";
import { useNext } from "../../parts/next_step.tsx";
import { Sign } from "../../parts/sign.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { usePlanBook, usePlanOf, useSelected } from "../../parts/use.ts";
import { inPieces, makerAndDate, saidOtherwise, whereAway } from "../../parts/with_words.ts";
import { ClassChoice, ReferOnly } from "./item_class.tsx";
import { Doors } from "./item_doors.tsx";
import { Packaging, WhatItIs } from "./item_facts.tsx";

export default function Item({ item_id }: { item_id: string }) {
  // Drawn anew when it comes or goes, not with every key: each field below reads its own value.
  const visit_id = useSelected(() => {
    const item = recordOf("item", item_id);
    return item === null ? null : item?.visit_id;
  }, [item_id]);
  const found = usePlanOf(item_id);
  const mayPicture = useOfItem(item_id, mayBePictured, true);
  const begun = useRef(false);
  begun.current ||= Boolean(visit_id) && found !== undefined;
  const book = usePlanBook();
  const Otherwise = saidOtherwise.value;
  const Several = inPieces.value;
  const MakerAndDate = makerAndDate.value;
  if (visit_id === null)
    return (
      <Frame title="Item" back="#/today">
        <p>
          This item is not on this device. One of the day worked on here comes with the next sync; of another
          day the manager's device or the desk opens it.
        </p>
        {device.peek()?.role === "manager" && (
          <p>
            <a class="button" href={`#/entry/${item_id}`}>
              Read it as the office has it
            </a>
          </p>
        )}
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
      title={() =>
        fieldValue(recordOf("item", item_id), "short_description") || (plan ? shortName(plan) : "What is it?")
      }
      back={back}
      item_id={item_id}
      action={
        plan || !mayPicture ? <Next item_id={item_id} done={back} /> : <BeforeItsClass item_id={item_id} />
      }
    >
      {plan && <ItsEdge item_id={item_id} plan={plan} />}
      <WhereItIs item_id={item_id} />
      {Otherwise && <Otherwise.TwoValuesStand item_id={item_id} />}
      {plan && <Doors item_id={item_id} plan={plan} />}
      {Several && <Several.HowManyPieces item_id={item_id} />}
      <ClassChoice item_id={item_id} plan={plan} book={book} />
      {!plan && <Doors item_id={item_id} plan={null} />}
      {plan?.refer_only && <ReferOnly item_id={item_id} plan={plan} />}
      <WhatItIs item_id={item_id} plan={plan} />
      <Below>
        {MakerAndDate && <MakerAndDate item_id={item_id} book={book} />}
        <Packaging item_id={item_id} />
        <StillMissing item_id={item_id} />
      </Below>
    </Frame>
  );
}

/** Something of the item, or what holds while it is not here; drawn anew when that is another. */
function useOfItem<Value>(item_id: string, read: (item: ItemRecord) => Value, without: Value): Value {
  return useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? read(item) : without;
  }, [item_id, read]);
}

const NONE: never[] = [];

/** What of a gap is on this screen: the maker and the date may be folded away, far below. */
function showGap({ what }: Gap) {
  const there = document.getElementById(what === "maker" || what === "dates" ? "made" : "what-it-is");
  there?.setAttribute("open", "");
  there?.scrollIntoView();
}

/** On to what is missing, also where that is on this screen; if nothing is, back to the visit. */
function Next({ item_id, done }: { item_id: string; done: string }) {
  const next = useNext(item_id, "");
  const stopped = useOfItem(item_id, isStopped, false);
  const isBack = useOfItem(item_id, isBackWithOwner, false);
  const [first, ...more] = useOfItem<Gap[]>(item_id, gapsOf, NONE);
  if (next) return <TieOn {...next} />;
  if (first && !stopped && !isBack)
    return (
      <>
        <a class="button" href={done}>
          Leave it so
        </a>
        <TieOn press={() => showGap(first)} left={[first, ...more].map(({ words }) => words).join("; ")}>
          {1 + more.length} still missing here
        </TieOn>
      </>
    );
  return (
    <TieOn href={done} left={isBack ? "it is with its owner" : "back to the visit"}>
      {stopped ? "Leave it" : isBack ? "Back to the visit" : "Done"}
    </TieOn>
  );
}

/** What can be done with a thing before anybody says what it is. */
function BeforeItsClass({ item_id }: { item_id: string }) {
  return (
    <a class="button" href={`#/item/${item_id}/photos`}>
      <Sign of="camera" /> Picture first
    </a>
  );
}

/** Its zones at a glance. */
function ItsEdge({ item_id, plan }: { item_id: string; plan: Plan }) {
  const read = useCallback((item: ItemRecord) => zonesOf(plan, item), [plan]);
  const zones = useOfItem<ZoneSaid[]>(item_id, read, NONE);
  return <Edge zones={zones} />;
}

/** Said once it is no longer at the table. */
function WhereItIs({ item_id }: { item_id: string }) {
  const words = useOfItem(item_id, whereNow, "");
  return words ? <p class="lead">{words}</p> : null;
}

function whereNow(item: ItemRecord) {
  return whereAway.value?.(item, { get: (id) => (id && recordOf("container", id)) || undefined }) ?? "";
}

function StillMissing({ item_id }: { item_id: string }) {
  const gaps = useOfItem<Gap[]>(item_id, gapsOf, NONE);
  const isUncounted = enteredIn(piecesAsked(item_id)) !== undefined;
  if (!gaps.length && !isUncounted) return null;
  return (
    <section>
      <h2>
        Still missing <span class="count">{gaps.length + Number(isUncounted)}</span>
      </h2>
      <ul class="gaps">
        {isUncounted && <li>How many pieces: more was said, and no number</li>}
        {gaps.map((gap) => (
          <li key={gap.what}>
            {gap.at ? (
              <a href={`#/item/${item_id}${gap.at}`}>{gap.words}</a>
            ) : (
              <button type="button" class="quiet" onClick={() => showGap(gap)}>
                {gap.words}
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
