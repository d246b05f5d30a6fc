/** The seal of a container: two people put it on, or look at it where it came, before they open. */

import { useState } from "preact/hooks";
import { thingName } from "../../job/custody.ts";
import { SEALS } from "../../job/entered_words.ts";
import type { SealContainer } from "../../job/operations.ts";
import { rollWith } from "../../job/roll_with.ts";
import { isReadOtherwise, keptUnder } from "../../job/sealed.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecord } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { countAsMoved } from "./porter_count.ts";
import { SealOfARoll } from "./seal_of_a_roll.tsx";
import { SecondPerson, useSecond } from "./second_person.tsx";

const SEAL = "seal";

/** Whether nobody has said that it was opened, or found it otherwise. */
const isHolding = (state: SealContainer["state"]) => state === "sealed" || state === "intact";

/** When a seal was put on record, and by whom. */
function madeWords(container: ContainerRecord) {
  const made = container.fields.seal;
  const by = fieldValue(recordOf("day", container.day_id), `people/${made?.made_by}`)?.name;
  return made ? `, ${momentWords(made.made_at)}${by ? ` by ${by}` : ""}` : "";
}

/** To the number of its seal, wherever that stands. */
export function goToSeal() {
  const seal = document.getElementById(SEAL);
  seal?.scrollIntoView({ block: "start" });
  seal?.querySelector("input")?.focus({ preventScroll: true });
}

const NOTHING_READ = { seal: "", second_by: "", state: null };

type SealAsked = { seal: string; second_by: string; state: SealContainer["state"] | null };

type SealOf = {
  container: ContainerRecord;
  /** All that this device knows: what lies in it is kept with the seal that is put on it. */
  things: { items: ItemRecord[]; containers: ContainerRecord[] };
  /** Whether something is in it that a seal would keep. */
  isPacked: boolean;
  /** Whether it has come to the store, and nobody has looked at its seal there. */
  isToLook: boolean;
  /** Whether what is in it is being compared: then its seal was looked at, and asks for no second person besides. */
  isFolded: boolean;
  unfold: () => void;
  /** What in it is held apart and lies among other things, in words: it comes out before it is sealed; "" if none. */
  mixed: string;
  /** The sealed one that it lies in: nothing is done with it before that is opened. */
  shutIn: ThingRecord | undefined;
  /** To what is compared next of what came in it; null if nothing is. */
  checkIn: (() => void) | null;
};

/** Its seal as it is on record, and as two people see it now. The gold key leads here, and then records it. */
export function Seal(of: SealOf) {
  const { container, things, isPacked, isToLook, isFolded, unfold, mixed, shutIn, checkIn } = of;
  const seal = fieldValue(container, "seal");
  // Never filled in from the record: a number that stands there already is read by nobody.
  const { form, set, drop } = useHeld<SealAsked>(`seal ${container.record_id}`, NOTHING_READ);
  const { state } = form;
  const second_by = useSecond(form.second_by);
  const isReady = form.seal.trim() && second_by && state;
  const isBegun = state !== null || form.seal.trim() !== "";
  const stateWords = SEALS.find(([key]) => key === seal?.state)?.[1].toLowerCase();
  const atTheTime = seal?.state === "sealed" ? "put on" : stateWords; // it was sealed then, and not now
  const ofRoll = rollWith(useRecord("day", container.day_id), form.seal);
  const [isOwn, setOwn] = useState(false);
  const isOtherwise = state !== null && isReadOtherwise(container, form.seal, state);
  const isAgainst = mixed !== "" && state === "sealed";
  const next = shutIn ? (
    <TieOn href={`#/container/${shutIn.record_id}`} left="it lies in there, under a seal">
      On to {thingName(shutIn)}
    </TieOn>
  ) : isToLook ? (
    <TieOn press={goToSeal}>Look at its seal</TieOn>
  ) : checkIn && !isBegun ? (
    <TieOn press={checkIn}>Check in what is in it</TieOn>
  ) : mixed ? null : isPacked && !seal ? (
    <TieOn press={goToSeal}>Seal it</TieOn>
  ) : seal?.state === "sealed" && !isBegun ? (
    <TieOn press={() => attempt(toMove)} left="say where it goes, and scan it">
      {`Move ${thingName(container)}`}
    </TieOn>
  ) : null;
  const toMove = async () => {
    await countAsMoved(container.day_id);
    location.hash = "#/porter";
  };
  const record = () =>
    attempt(async () => {
      if (state)
        await keep("seal_container", {
          container_id: container.record_id,
          ...{ ...form, second_by, state: isOtherwise && state === "intact" ? "differs" : state },
          ...keptUnder(container, { ...form, state }, things.items, things.containers),
        });
      drop();
      setOwn(true);
      sayDone("The seal is on record.");
    });
  // Who is to read a number off the seal does not have it before their eyes.
  const isHidden =
    Boolean(seal && isHolding(seal.state)) && !isOwn && !isFolded && !(state && form.seal.trim());
  const words = !seal
    ? "No seal is on record."
    : isHidden
      ? `A seal is on record: ${atTheTime}${madeWords(container)}. Its number shows once the one on it is keyed.`
      : `${seal.seal}: ${stateWords}, second person ${seal.second_by}.`;
  if (isFolded)
    return (
      <section id={SEAL}>
        <h2>Seal</h2>
        <p>
          {words}{" "}
          <button type="button" class="quiet" onClick={unfold}>
            Say otherwise
          </button>
        </p>
      </section>
    );
  return (
    <section id={SEAL}>
      <h2>Seal</h2>
      <p>{words}</p>
      <div class="pair">
        <Typed
          label="Seal number"
          hint="One reads it aloud, the other keys it"
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
      {isOtherwise && seal && (
        <p class="bar wrong" role="alert">
          {seal.seal} is on record, {form.seal.trim()} was read. Read it again; if it is that, record it: both
          numbers then stand on Closing, until somebody says what is known of it.
        </p>
      )}
      {isAgainst && (
        <p class="bar wrong" role="alert">
          {firstUpper(mixed)}
        </p>
      )}
      {ofRoll && <SealOfARoll seal={form.seal.trim()} given_to={ofRoll.given_to} />}
      {isBegun && (
        <p class="bar" role="status">
          Not recorded yet{seal && ": the seal above is what is on record"}.
        </p>
      )}
      {!isReady && (
        <button type="button" disabled={true} onClick={record}>
          Number, second person and state first
        </button>
      )}
      <InDock>
        {isReady && (
          <TieOn press={record}>
            {ofRoll
              ? "The seal does bear it: record it"
              : isAgainst
                ? "Record it all the same"
                : isOtherwise && state === "intact"
                  ? "Record that the number differs"
                  : "Record the seal"}
          </TieOn>
        )}
        {!isReady && next}
      </InDock>
    </section>
  );
}
