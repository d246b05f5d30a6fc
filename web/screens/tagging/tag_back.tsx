/** A thing that had numbers goes back to its owner, whole or one piece of it: its tags are voided. */

import { useLayoutEffect, useState } from "preact/hooks";
import { thingName } from "../../job/custody.ts";
import type { MoveValue } from "../../job/fields.ts";
import { type Inside, liesIn, outOf, piecesToGive } from "../../job/goes_back.ts";
import { oneThing, recordWith } from "../../job/one_thing.ts";
import { isGivenBack } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord, Operation } from "../../job/types.ts";
import { wentBackUnsent } from "../../job/went_back.ts";
import { fieldOfPiece } from "../../job/with_owner.ts";
import { firstUpper } from "../../job/words.ts";
import { record, waiting } from "../../local/memory.ts";
import { keep, takeAllBack } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt, sayDone, sayUntilRead } from "../../parts/notices.tsx";
import { usePlanBook } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { move, OWNER, Stays } from "./tag_home.tsx";

/**
 * The way back while nothing of it was sent: its tags hold, and it is in what it was taken out of. After that a void
 * number stays void, and what to do is said until it is read.
 */
async function staysAfterAll(item: ItemRecord, made: readonly Operation[], out: readonly Inside[]) {
  const item_id = item.record_id;
  location.hash = `#/item/${item_id}/tag`;
  if ((await takeAllBack(made, true)).length)
    return sayUntilRead(
      `${firstUpper(thingName(item))}: that it went back is sent already, and its numbers are used for nothing else. ` +
        "If it stays after all, tie a fresh tag to it: it comes again under that, and is signed for anew.",
    );
  for (const { thing_id, tag, container_id } of out)
    if (liesIn(record(thing_id), tag) !== container_id)
      await keep("put_inside", { thing_id, container_id, tag });
}

/** The way back from that, also after the page was opened anew, whichever of its records has the numbers. */
export function NotSentYet({ item }: { item: ItemRecord }) {
  const made = wentBackUnsent(item, waiting.value);
  if (!made.length) return null;
  return (
    <p>
      <button type="button" onClick={() => attempt(() => staysAfterAll(item, made, []))}>
        It stays after all: nothing was sent
      </button>
    </p>
  );
}

type TakeBackOf = {
  item: ItemRecord;
  tags: string[];
  /** While it is being given back the screen asks nothing else. */
  onOpen: (open: boolean) => void;
};

/**
 * The owner takes it back, or one piece of it: the numbers of what goes are voided, whichever of its records has them,
 * and the owner signs on the receipt, or the closing names it.
 */
export function TakeBack({ item, tags, onOpen }: TakeBackOf) {
  const { form, set, drop, isOld } = useHeld(`take back ${item.record_id}`, { given: "", tag: "" });
  const [isOpened, setOpen] = useState(isOld);
  const pieces = piecesToGive(item);
  const piece = pieces.find(({ tag }) => tag === form.tag);
  const open = isOpened && Boolean(piece) === Boolean(form.tag); // never all of it in place of a piece that is gone
  const isAsked = open && tags.length > 0;
  useLayoutEffect(() => {
    onOpen(isAsked);
    if (isAsked) scrollTo(0, 0);
    return () => onOpen(false);
  }, [isAsked]);
  const going = piece ? [piece.tag] : tags;
  const pack = usePlanBook()?.cautions;
  if (!isGivenBack(item, pack)) return <Stays item={item} />;
  const take = () =>
    attempt(async () => {
      const made: Operation[] = [];
      const out = outOf(item, tags, piece?.tag);
      for (const { thing_id, tag } of out)
        made.push(await keep("put_inside", { thing_id, container_id: null, tag }));
      for (const tag of going) {
        const given = { item_id: recordWith(item, tag).record_id, tag };
        made.push(await keep("remove_tag", { ...given, why: "taken-back", replaced_by: null }));
      }
      // What came again after an earlier return began at a table.
      const thing = oneThing(item);
      const last = (fieldOfPiece(thing, "whereabouts", piece?.tag)?.value as MoveValue | undefined)?.to_place;
      const from = last && last !== "returned" ? last : "table";
      made.push(
        await move(item, going.length, {
          ...{ from, to: "returned", given_by: form.given.trim(), taken_by: OWNER },
          ...(piece && { tag: piece.tag }),
        }),
      );
      drop();
      const said = piece
        ? `Piece ${piece.piece} is back with the owner. Its tag is`
        : `It is back with the owner. Its ${going.length === 1 ? "tag is" : "tags are"}`;
      sayDone(`${said} void: now the owner signs for it.`, () => staysAfterAll(item, made, out));
      location.hash = `#/visit/${item.visit_id}/receipt`;
    });
  const begin = (tag: string) =>
    attempt(async () => {
      await set("tag")(tag);
      setOpen(true);
    });
  if (!open)
    return (
      <>
        <p>
          <button type="button" onClick={() => begin("")}>
            The owner takes it back
          </button>
        </p>
        {pieces.map((one) => (
          <p key={one.tag}>
            <button type="button" onClick={() => begin(one.tag)}>
              Piece {one.piece} goes back: {shown(one.tag)}
            </button>
          </p>
        ))}
      </>
    );
  return (
    <section>
      <h2>{piece ? `Piece ${piece.piece} back to the owner` : "Back to the owner"}</h2>
      <p class="hint">
        Its {going.length === 1 ? "tag is" : "tags are"} void from now on. Take the tag off and keep it.
      </p>
      <Typed label="Given back by" value={form.given} save={set("given")} />
      <InDock>
        <button
          type="button"
          onClick={() => {
            drop();
            setOpen(false);
          }}
        >
          It stays
        </button>
        <button type="button" class="main" disabled={!form.given.trim()} onClick={take}>
          {form.given.trim() ? "Give it back, and sign for it" : "Say who gives it back"}
        </button>
      </InDock>
    </section>
  );
}
