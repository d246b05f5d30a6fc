/** What is said as a thing goes back to its owner. */

import type { MoveValue } from "../../job/fields.ts";
import type { Inside, PieceToGive } from "../../job/goes_back.ts";
import { oneThing, recordWith } from "../../job/one_thing.ts";
import { OWNER } from "../../job/operation.ts";
import type { ItemRecord, Operation } from "../../job/types.ts";
import { fieldOfPiece } from "../../job/with_owner.ts";
import { keep } from "../../local/outbox.ts";
import { move } from "./tag_home.tsx";

type Back = {
  going: readonly string[];
  piece: PieceToGive | undefined;
  out: readonly Inside[];
  given_by: string;
};

/** All that says that a thing went back, or a piece of it: under both its numbers, where two records have it. */
export async function giveBack(
  item: ItemRecord,
  { going, piece, out, given_by }: Back,
): Promise<Operation[]> {
  const made: Operation[] = [];
  for (const { thing_id, tag } of out)
    made.push(await keep("put_inside", { thing_id, container_id: null, tag }));
  for (const tag of going) {
    const given = { item_id: recordWith(item, tag).record_id, tag };
    made.push(await keep("remove_tag", { ...given, why: "taken-back", replaced_by: null }));
  }
  const thing = oneThing(item);
  for (const tag of piece?.tags ?? [undefined]) {
    // What came again after an earlier return began at a table.
    const last = (fieldOfPiece(thing, "whereabouts", tag)?.value as MoveValue | undefined)?.to_place;
    const from = last && last !== "returned" ? last : "table";
    const moved = { from, to: "returned", given_by, taken_by: OWNER } as const;
    made.push(await move(item, piece ? 1 : going.length, { ...moved, ...(tag && { tag }) }));
  }
  return made;
}
