/** Where a container is, and how much is in it. */
import { placedWords, thingName, whereIs } from "../../job/custody.ts";
import { isNotCome } from "../../job/not_come.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";

type WhereaboutsOf = { container: ContainerRecord; things: ThingRecord[]; held: ItemRecord[] };

export function Whereabouts({ container, things, held }: WhereaboutsOf) {
  const { place, at, inside } = whereIs(container, new Map(things.map((thing) => [thing.record_id, thing])));
  const missed = held.filter(isNotCome).length;
  return (
    <p class="lead">
      {placedWords(place, at)}
      {inside.map((outer) => `, inside ${thingName(outer)}`).join("")}.{" "}
      {countWords(held.length - missed, "item")}
      {missed > 0 && `, ${missed} not there as it was unpacked`}.
    </p>
  );
}
