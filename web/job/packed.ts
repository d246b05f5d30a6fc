/** What lies in containers, by its numbers: for the load with which they leave. */

import { contentsOfEach } from "./contents.ts";
import { containerIdOf } from "./custody.ts";
import type { Packed } from "./operations.ts";
import { tagsOf } from "./progress.ts";
import type { ContainerRecord, ItemRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isBackWithOwner, isSince, tagsHere } from "./with_owner.ts";

/** What lies in the containers among some numbers, at any depth: each with what lies in it directly. */
export function packedIn(
  numbers: readonly string[],
  items: ItemRecord[],
  containers: ContainerRecord[],
): Packed[] {
  const contents = contentsOfEach([...items, ...containers]);
  const byNumber = new Map(containers.map((one) => [one.number, one]));
  const found = new Map<string, string[]>();
  const queue = [...numbers];
  for (const number of queue) {
    const container = byNumber.get(number);
    if (!container || found.has(number)) continue;
    const within = (contents.get(container.record_id) ?? []).flatMap((thing) =>
      thing.kind === "container" ? thing.number : tagsIn(thing, container.record_id),
    );
    found.set(number, within);
    queue.push(...within);
  }
  return [...found].flatMap(([container, numbers]) => (numbers.length ? [{ container, numbers }] : []));
}

/** The numbers by which an item lies in a container; one whose last number came off has that still. */
function tagsIn(item: ItemRecord, container_id: string): string[] {
  const known = listed(item, "tags/").map(({ id }) => id);
  const [tied, here] = [tagsOf(item), tagsHere(item)];
  return (tied.length ? tied : known.slice(-1)).filter(
    (tag) =>
      containerIdOf(item, tag) === container_id &&
      (here.includes(tag) || (!tied.length && !isBackWithOwner(item))),
  );
}

/** Whether a container is sealed over all that lies in it: what was put in since is under no seal. */
export function isSealedAsPacked(container: ContainerRecord, items: ItemRecord[]): boolean {
  const seal = container.fields.seal;
  if (!seal || !["sealed", "intact"].includes(fieldValue(container, "seal")?.state ?? "")) return false;
  const within = contentsOfEach(items).get(container.record_id) ?? [];
  return !within.some((thing) =>
    Object.entries(thing.fields).some(
      ([name, set]) => name.split("/")[0] === "inside" && set !== undefined && isSince(set, seal),
    ),
  );
}
