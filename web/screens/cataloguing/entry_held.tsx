/** An entry that is held apart, as somebody is about to call it described: what for, and where it is cleared. */

import { holdingCautions } from "../../job/cautions.ts";
import { heldOn } from "../../job/described.ts";
import type { ItemRecord } from "../../job/types.ts";

export function HeldApart({ item }: { item: ItemRecord }) {
  const held = heldOn(item);
  if (!held) return null;
  return (
    <p class="bar wrong" role="alert">
      It is {held}. Say in your own words why it is described before that.
    </p>
  );
}

/** What is better done before it is described at all. */
export function DoFirst({ first }: { first: readonly string[] }) {
  return first.map((words) => (
    <p key={words} class="bar wrong" role="alert">
      {words}
    </p>
  ));
}

/** Where whoever was called is put on record with what they said; nothing where no caution holds it. */
export function WhoCleared({ item }: { item: ItemRecord }) {
  if (!holdingCautions(item).length) return null;
  return (
    <p>
      <a href={`#/item/${item.record_id}/stop`}>Record who cleared it</a>
    </p>
  );
}
