/** What was only looked at goes home without a number; and what is not given back now says where that is decided. */

import { peopleHere } from "../../job/day_facts.ts";
import type { Place } from "../../job/fields.ts";
import { isGivenBack } from "../../job/goes_home.ts";
import { newId } from "../../job/ids.ts";
import { recordWith } from "../../job/one_thing.ts";
import { OWNER } from "../../job/operation.ts";
import { countAlike } from "../../job/piece_open.ts";
import { isLeftAlone } from "../../job/stopped.ts";
import type { ItemRecord } from "../../job/types.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDay, useDevice, usePlanBook } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { oneGoing } from "./tag_one_goes.tsx";
import { whoIs } from "./tag_tied.ts";

/** Who is named at this device; "" if nobody. */
export function useMyName() {
  const day = useDay();
  const person_id = useDevice()?.person_id;
  return (day && peopleHere(day).find((person) => person.person_id === person_id)?.name) ?? "";
}

type Move = { from: Place; to: Place; given_by: string; taken_by: string; tag?: string };

export function move(item: ItemRecord, count: number, { from, to, given_by, taken_by, tag }: Move) {
  return keep("record_move", {
    move_id: newId(),
    thing_id: tag ? recordWith(item, tag).record_id : item.record_id,
    from_place: from,
    to_place: to,
    at: "",
    given_by,
    taken_by,
    count,
    signed: false,
    ...(tag && { tag }),
  });
}

/** What was only looked at goes home without a number; nobody signs for what never left its owner's hand. */
export function GoesHome({ item }: { item: ItemRecord }) {
  const device = useDevice();
  const day = useDay();
  const pack = usePlanBook()?.cautions;
  const { form } = useHeld(oneGoing(item), { mark: "", typed: "" });
  if (form.mark) return null; // one of them goes, not all
  if (isBackWithOwner(item)) return <p class="bar">It went home with its owner, without a number.</p>;
  if (!isGivenBack(item, pack)) return <Stays item={item} />;
  const go = () =>
    attempt(async () => {
      const house = whoIs(day ?? null, device);
      await move(item, 1, { from: "table", to: "returned", given_by: house, taken_by: OWNER });
      sayDone("It went home with its owner.", () =>
        move(item, 1, { from: "returned", to: "table", given_by: OWNER, taken_by: house }),
      );
    });
  return (
    <p>
      <button type="button" onClick={go}>
        {countAlike(item) > 1 ? "All of it" : "It"} goes home with its owner, without a tag
      </button>
    </p>
  );
}

/** What is not given back now, and where it is decided; nothing of it while nobody handles the thing at all. */
export function Stays({ item }: { item: ItemRecord }) {
  if (isLeftAlone(item)) return null;
  return (
    <p class="hint">
      It does not go back to its owner now: a caution stands on it.{" "}
      <a href={`#/item/${item.record_id}/stop`}>Who decides, what was decided</a>
    </p>
  );
}
