/** Said where things are packed: what nobody has signed for yet, while its owner may still be here. */

import { thingName } from "../../job/custody.ts";
import { tagsOf } from "../../job/progress.ts";
import { ticketWords } from "../../job/tickets.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { unsignedAmong } from "../../job/unsigned.ts";
import { Tags } from "../../parts/tag.tsx";
import { useRecords } from "../../parts/use.ts";

type UnsignedOf = {
  day_id: string;
  /** The numbers that go: of things, and of what holds things. */
  numbers: readonly string[];
  items: ItemRecord[];
  containers: ContainerRecord[];
};

export function Unsigned({ day_id, numbers, items, containers }: UnsignedOf) {
  const visits = useRecords("visit", day_id);
  const unsigned = visits && numbers.length ? unsignedAmong(numbers, { visits, items, containers }) : [];
  if (!unsigned.length) return null;
  return (
    <div class="bar wrong on-screen">
      {unsigned.map(({ item, visit }) => (
        <p key={item.record_id}>
          Nobody has signed for {thingName(item)} <Tags tags={tagsOf(item)} of={item} />, ticket{" "}
          {ticketWords(visit)}. Ask its table for the receipt.
        </p>
      ))}
    </div>
  );
}
