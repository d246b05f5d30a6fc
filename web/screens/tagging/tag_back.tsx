/** A thing that had numbers goes back to its owner, whole or one piece of it: its tags are voided. */

import { useLayoutEffect, useState } from "preact/hooks";
import { thingName } from "../../job/custody.ts";
import {
  type Inside,
  liesIn,
  outOf,
  type PieceToGive,
  piecesToGive,
  pieceWithoutNumber,
} from "../../job/goes_back.ts";
import { isGivenBack } from "../../job/goes_home.ts";
import { isInParts, partWords } from "../../job/number_parts.ts";
import { oneThing } from "../../job/one_thing.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord, Operation } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { wentBackUnsent } from "../../job/went_back.ts";
import { firstUpper } from "../../job/words.ts";
import { enteredIn } from "../../local/held.ts";
import { record, waiting } from "../../local/memory.ts";
import { keep, takeAllBack } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt, sayDone, sayUntilRead } from "../../parts/notices.tsx";
import { usePlanBook } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { giveBack } from "./tag_given.ts";
import { Stays, useMyName } from "./tag_home.tsx";
import { LiesNow, Shut, useWhyShut } from "./tag_lies.tsx";
import { OneGoes, OneOfThem, oneGoing } from "./tag_one_goes.tsx";
import { FoundOfIt, useShort } from "./tag_short.tsx";

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
  const wasIn = made.some(({ kind }) => kind === "put_inside") ? ", and is where it was taken out of" : "";
  return (
    <p>
      <button type="button" onClick={() => attempt(() => staysAfterAll(item, made, []))}>
        It stays after all{wasIn}: nothing was sent
      </button>
    </p>
  );
}

/** Where two records of one thing have a number each for the same piece. */
const BOTH =
  " Two records have a number for this piece. If one of them is on another piece, it stays for now: " +
  "the desk says first that the records are two things.";

/** Until somebody has typed a name, or emptied the field. */
const NOBODY: string | null = null;

/** "Piece 2, a cleaver,": which one it is, as it was said when its number was tied; of a part its name. */
function calledBy(item: ItemRecord, { piece, tags }: PieceToGive, mark = markOf(item, tags)) {
  const [tag = ""] = tags;
  const number = fieldValue(oneThing(item), `tags/${tag}`);
  if (number && isInParts(item)) return partWords(item, number);
  return `piece ${piece}${mark && `, ${mark},`}`;
}

function markOf(item: ItemRecord, tags: readonly string[]): string {
  return tags.map((tag) => fieldValue(oneThing(item), `tags/${tag}`)?.mark.trim()).find(Boolean) ?? "";
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
  // Whoever holds the device gives it back, unless somebody else is named: the owner is never asked.
  const given = useMyName();
  const {
    form: typed,
    set,
    drop,
    isOld,
  } = useHeld(`take back ${item.record_id}`, { given: NOBODY, tag: "" });
  const form = { ...typed, given: typed.given ?? given };
  const [isOpened, setOpen] = useState(isOld);
  const pieces = piecesToGive(item);
  const piece = pieces.find((one) => one.tags.includes(form.tag));
  const short = useShort(item);
  const open = isOpened && Boolean(piece) === Boolean(form.tag); // never all of it in place of a piece that is gone
  const whyShut = useWhyShut(item);
  const shut = (piece ? piece.tags : [undefined, ...tags]).map(whyShut).find(Boolean);
  const isAsked = open && tags.length > 0 && !shut;
  const [oneAsked, setOneAsked] = useState(() => enteredIn(oneGoing(item)) !== undefined);
  const isOneAsked = oneAsked && pieceWithoutNumber(item) !== null && !shut;
  useLayoutEffect(() => {
    onOpen(isAsked || isOneAsked);
    if (isAsked || isOneAsked) scrollTo(0, 0);
    return () => onOpen(false);
  }, [isAsked, isOneAsked]);
  const going = piece?.tags ?? tags;
  const pack = usePlanBook()?.cautions;
  if (!isGivenBack(item, pack)) return <Stays item={item} />;
  const mayGo = pieces.filter((one) => !one.tags.some((tag) => whyShut(tag) || short.lacks(tag)));
  const isByPiece = short.isByNumber && mayGo.length > 0;
  if (short.isNotHere && !piece) return <FoundOfIt short={short} />;
  if (shut && (open || !mayGo.length)) return <Shut why={shut} />;
  const take = () =>
    attempt(async () => {
      const out = outOf(item, tags, piece);
      const made = await giveBack(item, { going, piece, out, given_by: form.given.trim() });
      drop();
      const said = piece
        ? `${firstUpper(calledBy(item, piece, ""))} is back with the owner.`
        : "It is back with the owner.";
      const its = going.length === 1 ? "Its tag is" : "Its tags are";
      sayDone(`${said} ${its} void: now the owner signs for it.`, () => staysAfterAll(item, made, out));
      location.hash = `#/visit/${item.visit_id}/receipt`;
    });
  const begin = (tag: string) =>
    attempt(async () => {
      await set("tag")(tag);
      setOneAsked(false);
      setOpen(true);
    });
  if (!open)
    return isOneAsked ? (
      <OneGoes item={item} goes={begin} stays={() => setOneAsked(false)} />
    ) : (
      <>
        <FoundOfIt short={short} />
        {shut ? (
          <Shut before="Not all of it goes back: it" why={shut} />
        ) : isByPiece ? null : (
          <p>
            <button type="button" onClick={() => begin("")}>
              The owner takes it back
            </button>
          </p>
        )}
        {mayGo.map((one) => (
          <p key={one.piece}>
            <button type="button" onClick={() => begin(one.tags[0] ?? "")}>
              {firstUpper(calledBy(item, one))} goes back: {one.tags.map(shown).join(", ")}
            </button>
          </p>
        ))}
        {!shut && <OneOfThem item={item} begin={() => setOneAsked(true)} />}
      </>
    );
  return (
    <section>
      <h2>{piece ? `${firstUpper(calledBy(item, piece))} back to the owner` : "Back to the owner"}</h2>
      <FoundOfIt short={short} />
      <LiesNow item={item} tag={piece?.tags[0]} />
      <p class="hint">
        {going.length === 1
          ? "Its tag is void from now on. Take the tag off and keep it."
          : "Its tags are void from now on. Take the tags off and keep them."}
        {piece && going.length > 1 && BOTH}
      </p>
      <Typed label="Given back by" hint="For the house" value={form.given} save={set("given")} />
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
