/**
 * Said where things are packed: what nobody has signed for yet, while its owner may still be here. Several are one
 * line, which names their tickets: the count of what is scanned stays in sight below it.
 */

import { thingName } from "../../job/custody.ts";
import { tagsOf } from "../../job/progress.ts";
import { ticketWords } from "../../job/tickets.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { unsignedAmong } from "../../job/unsigned.ts";
import { countWords } from "../../job/words.ts";
import { Tags } from "../../parts/tag.tsx";
import { useRecords } from "../../parts/use.ts";

type UnsignedOf = {
  day_id: string;
  /** The numbers that go: of things, and of what holds things. */
  numbers: readonly string[];
  items: ItemRecord[];
  containers: ContainerRecord[];
};

const NOBODY_SIGNED = "Nobody has signed for";

export function Unsigned({ day_id, numbers, items, containers }: UnsignedOf) {
  const visits = useRecords("visit", day_id);
  const unsigned = visits && numbers.length ? unsignedAmong(numbers, { visits, items, containers }) : [];
  if (!unsigned.length) return null;
  const each = unsigned.map(({ item, visit }) => (
    <p key={item.record_id}>
      {NOBODY_SIGNED} {thingName(item)} <Tags tags={tagsOf(item)} of={item} />, ticket {ticketWords(visit)}.
      Ask its table for the receipt.
    </p>
  ));
  if (each.length === 1) return <div class="bar wrong on-screen">{each}</div>;
  const tickets = [...new Set(unsigned.map(({ visit }) => ticketWords(visit)))];
  return (
    <details class="bar wrong on-screen">
      <summary>
        {NOBODY_SIGNED} {countWords(unsigned.length, "thing")}: {tickets.join(", ")}
      </summary>
      {each}
    </details>
  );
}
