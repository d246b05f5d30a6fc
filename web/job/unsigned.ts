/** What goes on its way although its owner has signed for none of it: said where it is packed. */

import { contentsOfEach, itemsWithin } from "./contents.ts";
import { thingWith } from "./custody.ts";
import { receiptState } from "./receipt.ts";
import type { ContainerRecord, ItemRecord, ThingRecord, VisitRecord } from "./types.ts";
import { groupedBy } from "./values.ts";

type OnRecord = { visits: readonly VisitRecord[]; items: ItemRecord[]; containers: ContainerRecord[] };

/** The things under these numbers, and what lies in the containers among them, for which no receipt is signed. */
export function unsignedAmong(
  numbers: readonly string[],
  { visits, items, containers }: OnRecord,
): { item: ItemRecord; visit: VisitRecord }[] {
  const things: ThingRecord[] = [...items, ...containers];
  const contents = contentsOfEach(things);
  const going = new Set(
    numbers.flatMap((number): ItemRecord[] => {
      const thing = thingWith(number, items, containers);
      if (!thing) return [];
      return thing.kind === "item" ? [thing] : itemsWithin(thing, contents);
    }),
  );
  const byId = new Map(things.map((thing) => [thing.record_id, thing]));
  const theirs = groupedBy(items, ({ visit_id }) => visit_id);
  return [...groupedBy([...going], ({ visit_id }) => visit_id)].flatMap(([visit_id, those]) => {
    const visit = visits.find(({ record_id }) => record_id === visit_id);
    if (!visit) return [];
    const { hereUnsigned } = receiptState(visit, theirs.get(visit_id) ?? [], byId);
    return those.filter((item) => hereUnsigned.includes(item)).map((item) => ({ item, visit }));
  });
}
