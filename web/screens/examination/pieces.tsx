/** How many pieces a thing has, asked where it is begun. */

import { useEffect, useRef, useState } from "preact/hooks";
import { isInParts } from "../../job/number_parts.ts";
import { backUnheard, onMoreWords } from "../../job/on_more.ts";
import { countAlike } from "../../job/piece_open.ts";
import { backInPart, mostCounted, piecesCounted } from "../../job/pieces.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { pieceCount, tagsHere } from "../../job/with_owner.ts";
import { countWords, firstUpper, isOrAre } from "../../job/words.ts";
import { recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Choice, type Option } from "../../parts/choices.tsx";
import { Counted } from "../../parts/controls.tsx";
import { piecesAsked } from "../../parts/gaps.ts";
import { useSelected } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { oneGoing } from "../tagging/tag_one_goes.tsx";
import { ListOfPieces } from "./listed.tsx";

const USUAL: Option<string>[] = [
  ["1", "1"],
  ["2", "A pair"],
];
const MORE = "more";
export const MOST_PIECES = 9999;

/**
 * One tap for one, or for a pair; any other number is typed. Whoever counts while some are back with their owner counts
 * what is here; those that went are added, since the count on record is of all of them.
 */
export function HowManyPieces({ item_id }: { item_id: string }) {
  const back = useSelected(() => {
    const item = recordOf("item", item_id);
    return item ? backInPart(item) : 0;
  }, [item_id]);
  const said = useSelected(() => {
    const item = recordOf("item", item_id);
    // Of a count that may lack what went nothing is chosen: the same number can be the answer.
    const all = item && !backUnheard(item) ? (fieldValue(item, "pieces") ?? 0) : 0;
    return all && Math.max(1, all - back);
  }, [item_id, back]);
  const counts = useSelected(() => countsApart(recordOf("item", item_id)), [item_id]);
  // That more was said is held until it is said how many: whoever goes on to the class finds the question again.
  const { isOld, set, drop } = useHeld(piecesAsked(item_id), { more: false });
  const [typing, setTyping] = useState(isOld);
  const [pressed, setPressed] = useState(false);
  const isMore = typing || said > 2;
  const typed = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (pressed) typed.current?.querySelector("input")?.focus(); // it was opened to type a number
  }, [pressed]);
  const save = async (pieces: number) => {
    if (!(pieces >= 1 && pieces + back <= MOST_PIECES)) return;
    await keep("count_pieces", { item_id, pieces: pieces + back, back });
    drop();
  };
  return (
    <section class="how-many-pieces">
      <h2 class="unseen">Pieces</h2>
      <div class="pair" ref={typed}>
        <Choice
          label={back ? "How many pieces are here" : "How many pieces"}
          options={[...USUAL, [MORE, "More"]]}
          value={isMore ? MORE : String(said)}
          choose={async (chosen) => {
            setTyping(chosen === MORE);
            setPressed(chosen === MORE);
            if (chosen !== MORE && Number(chosen) !== said) await save(Number(chosen));
            else if (said <= 2) await set("more")(true);
          }}
        />
        {isMore && (
          <Counted
            label="Number of pieces"
            hint="A cover or a stopper goes with its piece"
            value={said || null}
            save={save}
          />
        )}
      </div>
      {back > 0 && (
        <p class="lead">
          Count what is here: {countWords(back, "piece")} more {isOrAre(back)} back with the owner.
        </p>
      )}
      {counts && <p class="bar">{counts}</p>}
      <ListOfPieces item_id={item_id} />
    </section>
  );
}

/** The pieces as they were counted, beside the numbers that are tied to them. */
export function PiecesCounted({ item }: { item: ItemRecord }) {
  return (
    <>
      <OneWaits item={item} />
      <Counts item={item} />
    </>
  );
}

/** One of them is to go back, and none has a number yet: what stays is tied first. */
function OneWaits({ item }: { item: ItemRecord }) {
  const { form, drop } = useHeld(oneGoing(item), { mark: "", typed: "" });
  if (!form.mark || tagsHere(item).length) return null;
  const stays = () => {
    drop();
    location.hash = `#/item/${item.record_id}`; // back to the list on which it was said
  };
  return (
    <div class="bar">
      <p>
        {firstUpper(form.mark)} goes back to its owner. Tie a tag to the others first: then the one that goes
        gets its own, and is signed for under that.
      </p>
      <button type="button" onClick={stays}>
        It stays
      </button>
    </div>
  );
}

function Counts({ item }: { item: ItemRecord }) {
  const { said } = piecesCounted(item);
  const apart = countsApart(item);
  if (apart) return <p class="bar">{apart}</p>;
  const back = backInPart(item);
  if (back) {
    const [of, here] = [mostCounted(item), mostCounted(item) - back];
    const words = `${here} of its ${countWords(of, "piece")} ${isOrAre(here)} here`;
    return <p class="lead">{`${words}, and ${back} ${isOrAre(back)} back with the owner.`}</p>;
  }
  const [all, of] = [countAlike(item), pieceCount(item)];
  if (isInParts(item))
    return (
      <p class="lead">
        {countWords(all, "piece")} {all === 1 ? "was" : "were"} counted, and {of} numbers are on parts of it.
      </p>
    );
  return said > 1 ? <p class="lead">{countWords(said, "piece")} were counted.</p> : null;
}

/** Where two counts of the same do not agree, or what was found is on more pieces than were counted. */
function countsApart(item: ItemRecord | null | undefined) {
  if (!item) return "";
  const onMore = onMoreWords(item).map((words) => `${firstUpper(words)}. `);
  const again = backUnheard(item) ? "Count again" : "Count again, or say at its zone on how many it is now";
  const ask = onMore.length ? `${onMore.join("")}${again}.` : "";
  return [countsOtherwise(item), ask].filter(Boolean).join(" ");
}

/** How many numbers it has counts no pieces: one may be on all of it, or on a cover. */
function countsOtherwise(item: ItemRecord) {
  const back = backInPart(item);
  const { said, ...counted } = piecesCounted(item);
  const walked = back && counted.walked === said - back ? said : counted.walked; // of what is here
  if (said < 2 || !walked || said === walked) return "";
  const all = back ? ", with what went back" : "";
  return `Its pieces were counted otherwise${all}: ${said} when it was begun, ${walked} on the walk. Count again.`;
}
