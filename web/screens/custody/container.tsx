/** A container: what is in it, at any depth, its seal, where it is. Its list is printed for its lid. */

import { useState } from "preact/hooks";
import { cautionMark } from "../../job/cautions.ts";
import { leftToCompare } from "../../job/compared.ts";
import { contentsOfEach, itemsWithin } from "../../job/contents.ts";
import { thingName, whereIs } from "../../job/custody.ts";
import { apartWords, isOfIsolation } from "../../job/kept_apart.ts";
import { leftAloneIn } from "../../job/left_alone.ts";
import { contradicted, type Sealing, sealingOf } from "../../job/sealed.ts";
import { shutOver } from "../../job/shut.ts";
import { stillWords, stopsOn } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import type { Role } from "../../local/device.ts";
import { Frame } from "../../parts/frame.tsx";
import { KeysOfPart } from "../../parts/in_dock.tsx";
import { OwnLabel } from "../../parts/own_label.tsx";
import { PicturesAhead } from "../../parts/pictures_ahead.tsx";
import { useRecord, useRecords } from "../../parts/use.ts";
import { ContainerAsTold } from "./container_as_told.tsx";
import { SaidOtherwise } from "./container_between.tsx";
import { CheckIn } from "./container_check_in.tsx";
import { Contents } from "./container_contents.tsx";
import { Seal } from "./container_seal.tsx";
import { Whereabouts } from "./container_where.tsx";
import { Unsigned } from "./unsigned.tsx";

/** A desk keeps no copy of what is carried, a manager's device that of one day: they ask the office for the others. */
export default function Container({ container_id, role }: { container_id: string; role: Role }) {
  const isHere = useRecord("container", container_id) !== null;
  if (role === "desk" || (role === "manager" && !isHere))
    return <ContainerAsTold container_id={container_id} back={role === "desk" ? "#/queue" : "#/today"} />;
  return <ContainerHere container_id={container_id} />;
}

function ContainerHere({ container_id }: { container_id: string }) {
  const container = useRecord("container", container_id);
  const items = useRecords("item");
  const containers = useRecords("container");
  const [isComparing, setComparing] = useState(false);
  if (!container || !items || !containers)
    return (
      <Frame title="Container" back="#/porter">
        <p>{container === null ? "This container is not on this device yet." : "Reading …"}</p>
      </Frame>
    );
  const things = [...items, ...containers];
  const byId = new Map(things.map((thing) => [thing.record_id, thing] as const));
  const contents = contentsOfEach(things);
  const sealing = sealingOf(items, containers);
  const held = itemsWithin(container, contents);
  const stopped = leftAloneIn(container, things);
  // What is in it is packed before it is sealed; one that is sealed is looked at before what is in it.
  const isSealed = Boolean(fieldValue(container, "seal"));
  const { place, inside } = whereIs(container, byId);
  const isThere = place === "store";
  const isToLook = isThere && fieldValue(container, "seal")?.state === "sealed";
  const toCompare = held.some((item) => leftToCompare(item, container, byId).length);
  const apart = apartWords(container, things);
  const seal = !stopped.length && (
    <Seal
      key="seal" // the same form, wherever it stands: what is read of it stays in hand
      container={container}
      things={{ items, containers }}
      isPacked={held.length > 0}
      isToLook={isToLook}
      isFolded={isComparing && !isToLook && isThere}
      unfold={() => setComparing(false)}
      mixed={isOfIsolation(container, things) ? "" : apart}
      shutIn={inside.findLast((outer) => fieldValue(outer, "seal")?.state === "sealed")}
      checkIn={isThere && toCompare && !isComparing ? () => setComparing(true) : null}
    />
  );
  const print_list = (
    <>
      <button type="button" onClick={() => print()}>
        Print its list
      </button>
      <KeysOfPart />
    </>
  );
  return (
    <Frame title={firstUpper(thingName(container))} back="#/porter" action={print_list}>
      <p class="big-tag">{shown(container.number)}</p>
      <Whereabouts container={container} things={things} held={held} />
      <SaidOtherwise container={container} byId={byId} />
      <Contradicted container={container} sealing={sealing} />
      {stopped.map((item) => (
        <StoppedWithin key={item.record_id} item={item} isInside={held.includes(item)} />
      ))}
      {cautionMark(held) && !stopped.length && (
        <p class="bar wrong">
          {firstUpper(apart) || `Something in it is ${cautionMark(held)}. Its label has to say so.`}
        </p>
      )}
      <Unsigned day_id={container.day_id} numbers={[container.number]} {...{ items, containers }} />
      <p>
        <OwnLabel tag={container.number} kind={container.kind_of} items={held} words="Print its label" />
      </p>
      {isSealed && seal}
      {held.length > 0 && !stopped.length && isToLook && (
        <p class="hint">Its seal comes first: then {countWords(held.length, "item")} to compare.</p>
      )}
      {held.length > 0 && !stopped.length && !isToLook && (
        <CheckIn
          items={held}
          container={container}
          things={things}
          isOpen={isComparing}
          open={() => setComparing(true)}
        />
      )}
      <section>
        <h2>In it</h2>
        <Contents
          {...{ container_id, contents, sealing }}
          isLeftAlone={stopped.length > 0}
          shut={shutOver(container, sealing)}
        />
      </section>
      {!isSealed && seal}
      <PicturesAhead items={held} />
    </Frame>
  );
}

/** Whoever opens, moves or seals a container handles what is in it. */
function StoppedWithin({ item, isInside }: { item: ItemRecord; isInside: boolean }) {
  return (
    <div class="bar caution-bar red" role="alert">
      <p>
        <strong>
          {firstUpper(thingName(item))} {isInside ? "in it" : "beside it, in what it stands in,"} is stopped.
        </strong>{" "}
        Nobody opens, moves, seals or checks this container. {stillWords(stopsOn(item))}
      </p>
      <p>
        <a href={`#/item/${item.record_id}/stop`}>Who was called, what was decided</a>
      </p>
    </div>
  );
}

/** What is on record to have gone through a seal that says nothing did. */
function Contradicted({ container, sealing }: { container: ContainerRecord; sealing: Sealing }) {
  const day = useRecord("day", container.day_id);
  const against = day && contradicted(container, day, sealing);
  if (!against) return null;
  return (
    <p class="bar wrong" role="alert">
      The seal and the ledger do not agree: {against.words}. Look at the seal and at what is in it, and say
      under Seal what you see.
    </p>
  );
}
