/** A container: what is in it, at any depth, its seal, where it is. Its list is printed for its lid. */

import { cautionMark } from "../../job/cautions.ts";
import { contentsOfEach, itemsWithin, placedWords, thingName, whereIs } from "../../job/custody.ts";
import type { SealContainer } from "../../job/operations.ts";
import { rollWith } from "../../job/roll_with.ts";
import { isLeftAlone, stillWords, stopsOn } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { OwnLabel } from "../../parts/own_label.tsx";
import { PicturesAhead } from "../../parts/pictures_ahead.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecord, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { CheckIn } from "./container_check_in.tsx";
import { Contents } from "./container_contents.tsx";
import { SecondPerson, useSecond } from "./second_person.tsx";

const SEALS: readonly (readonly [SealContainer["state"], string])[] = [
  ["sealed", "Sealed now"],
  ["intact", "Intact at the check"],
  ["differs", "Number differs"],
  ["broken", "Broken"],
  ["opened", "Opened by two"],
];

export default function Container({ container_id }: { container_id: string }) {
  const container = useRecord("container", container_id);
  const items = useRecords("item");
  const containers = useRecords("container");
  if (!container || !items || !containers)
    return (
      <Frame title="Container" back="#/porter">
        <p>{container === null ? "This container is not on this device yet." : "Reading …"}</p>
      </Frame>
    );
  const things = [...items, ...containers];
  const contents = contentsOfEach(things);
  const held = itemsWithin(container, contents);
  const stopped = held.filter(isLeftAlone);
  const toSeal = held.length > 0 && !stopped.length && !fieldValue(container, "seal");
  const print_list = (
    <>
      <button type="button" onClick={() => print()}>
        Print its list
      </button>
      {toSeal && <TieOn press={goToSeal}>Seal it</TieOn>}
    </>
  );
  return (
    <Frame title={firstUpper(thingName(container))} back="#/porter" action={print_list}>
      <p class="big-tag">{shown(container.number)}</p>
      <Whereabouts container={container} things={things} held={held} />
      {stopped.map((item) => (
        <StoppedWithin key={item.record_id} item={item} />
      ))}
      {cautionMark(held) && !stopped.length && (
        <p class="bar wrong">Something in it is {cautionMark(held)}. Its label has to say so.</p>
      )}
      <p>
        <OwnLabel tag={container.number} kind={container.kind_of} items={held} words="Print its label" />
      </p>
      {held.length > 0 && !stopped.length && <CheckIn items={held} container={container} things={things} />}
      <section>
        <h2>In it</h2>
        <Contents container_id={container_id} contents={contents} />
      </section>
      {!stopped.length && <Seal container={container} />}
      <PicturesAhead items={held} />
    </Frame>
  );
}

/** Whoever opens, moves or seals a container handles what is in it. */
function StoppedWithin({ item }: { item: ItemRecord }) {
  return (
    <div class="bar caution-bar red" role="alert">
      <p>
        <strong>{firstUpper(thingName(item))} in it is stopped.</strong> Nobody opens, moves, seals or checks
        this container. {stillWords(stopsOn(item))}
      </p>
      <p>
        <a href={`#/item/${item.record_id}/stop`}>Who was called, what was decided</a>
      </p>
    </div>
  );
}

type WhereaboutsOf = { container: ContainerRecord; things: ThingRecord[]; held: ItemRecord[] };

function Whereabouts({ container, things, held }: WhereaboutsOf) {
  const { place, at, inside } = whereIs(container, new Map(things.map((thing) => [thing.record_id, thing])));
  return (
    <p class="lead">
      {placedWords(place, at)}
      {inside.map((outer) => `, inside ${thingName(outer)}`).join("")}. {countWords(held.length, "item")}.
    </p>
  );
}

const SEAL = "seal";

/** To the number of its seal, which stands below all that is in it. */
function goToSeal() {
  const seal = document.getElementById(SEAL);
  seal?.scrollIntoView({ block: "start" });
  seal?.querySelector("input")?.focus({ preventScroll: true });
}

type SealAsked = { seal: string; second_by: string; state: SealContainer["state"] | null };

function Seal({ container }: { container: ContainerRecord }) {
  const seal = fieldValue(container, "seal");
  const { form, set, drop } = useHeld<SealAsked>(`seal ${container.record_id}`, {
    seal: seal?.seal ?? "",
    second_by: "",
    state: null,
  });
  const { state } = form;
  const second_by = useSecond(form.second_by);
  const ready = form.seal.trim() && second_by && state;
  const isBegun = state !== null || form.seal.trim() !== (seal?.seal ?? "");
  const stateWords = SEALS.find(([key]) => key === seal?.state)?.[1].toLowerCase();
  const ofRoll = rollWith(useRecord("day", container.day_id), form.seal);
  const record = () =>
    attempt(async () => {
      if (state)
        await keep("seal_container", { container_id: container.record_id, ...form, second_by, state });
      drop();
      sayDone("The seal is on record.");
    });
  return (
    <section id={SEAL}>
      <h2>Seal</h2>
      <p>
        {seal ? `${seal.seal}: ${stateWords}, second person ${seal.second_by}.` : "No seal is on record."}
      </p>
      <div class="pair">
        <Typed
          label="Seal number"
          hint="Read aloud, keyed, photographed on the crate"
          value={form.seal}
          save={set("seal")}
        />
        <SecondPerson name={second_by} choose={set("second_by")} />
      </div>
      <Choice label="It is" options={SEALS} value={state} choose={set("state")} />
      {state && state !== "sealed" && !seal && (
        <p class="bar wrong">
          No seal of it is on record, so nothing shows whether it was opened before. Key the number that is on
          it, or “none”; if it left with a seal, note a difference on Closing.
        </p>
      )}
      {ofRoll && (
        <p class="bar wrong" role="alert">
          {form.seal.trim()} is a number for tags, of the roll{" "}
          {ofRoll.given_to ? `of ${ofRoll.given_to}` : "that nobody has"}, and none of a seal. Read the seal
          again; if it does bear that number, record it all the same.
        </p>
      )}
      {isBegun && (
        <p class="bar" role="status">
          Not recorded yet{seal && ": the seal above is what is on record"}.
        </p>
      )}
      <button type="button" disabled={!ready} onClick={record}>
        {!ready
          ? "Number, second person and state first"
          : ofRoll
            ? "The seal does bear it: record it"
            : "Record the seal"}
      </button>
    </section>
  );
}
