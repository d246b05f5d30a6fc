/** A container opened by two: each item beside its photographs of the table. */

import { useState } from "preact/hooks";
import { piecesAway } from "../../job/check_in.ts";
import { checkedThere, leftToCompare, numbersToName } from "../../job/compared.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { useHeld } from "../../parts/use_held.ts";
import { Compared } from "./container_thing.tsx";
import { SecondPerson, useSecond } from "./second_person.tsx";

type CheckInOf = {
  items: ItemRecord[];
  container: ContainerRecord | null; // null of what came loose
  things: ThingRecord[];
  isOpen: boolean;
  open: () => void;
};

export function CheckIn({ items, container, things, isOpen, open }: CheckInOf) {
  const day_id = container?.day_id ?? items[0]?.day_id;
  const { form, set } = useHeld(`check-in ${day_id}`, { second: "" });
  // Whoever looked at its seal opens it.
  const second = useSecond(form.second || ((container && fieldValue(container, "seal")?.second_by) ?? ""));
  const [chosen, setChosen] = useState("");
  const byId = new Map(things.map((thing) => [thing.record_id, thing] as const));
  const undone = items.filter((item) => leftToCompare(item, container, byId).length);
  const left = undone.length;
  const inHand = chosen || undone[0]?.record_id;
  if (!isOpen)
    return (
      <p>
        <button type="button" onClick={open}>
          {container ? "Check in what is in it" : "Check it in"}
          {container && left ? `: ${left} to compare` : ""}
        </button>
      </p>
    );
  return (
    <section>
      <h2>
        Check in <span class="count">{left} left</span>
      </h2>
      <p class="hint">Whoever packed does not open alone.</p>
      <SecondPerson name={second} choose={set("second")} />
      {items.map((item) => (
        <Compared
          key={item.record_id}
          item={item}
          container={container}
          away={piecesAway(item, container, things)}
          here={{
            tags: numbersToName(item, container, byId),
            done: checkedThere(item, container, byId),
          }}
          second_by={second}
          isOpen={item.record_id === inHand}
          toggle={(isOpen) => setChosen(isOpen ? item.record_id : NONE)}
          kept={(isTold) =>
            // Whoever opened another meanwhile is at that.
            setChosen((now) => (now && now !== item.record_id ? now : isTold ? "" : item.record_id))
          }
        />
      ))}
    </section>
  );
}

/** Every item is folded. */
const NONE = "none";
