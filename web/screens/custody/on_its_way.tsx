/** Said of what is packed or leaves: what nobody has signed for yet, and what may not go along with the rest. */

import { apartAmong } from "../../job/kept_apart.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { Unsigned } from "./unsigned.tsx";

/** `numbers` are those that go: of things, and of what holds things. */
type NumbersOf = { numbers: readonly string[]; items: ItemRecord[]; containers: ContainerRecord[] };

export function OnItsWay({ day_id, ...of }: NumbersOf & { day_id: string }) {
  return (
    <>
      <Unsigned day_id={day_id} {...of} />
      <ApartAmong {...of} />
    </>
  );
}

/** By name what is held apart and lies in what goes, or came, all the same. */
export function ApartAmong({ numbers, items, containers }: NumbersOf) {
  const lines = apartAmong(numbers, items, containers);
  if (!lines.length) return null;
  return (
    <div class="bar wrong" role="alert">
      {lines.map((line) => (
        <p key={line}>{firstUpper(line)}</p>
      ))}
    </div>
  );
}
