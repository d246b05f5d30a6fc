/** One piece of a set goes back that has no number of its own: it gets one first, and is signed for under that. */

import { useState } from "preact/hooks";
import { pieceWithoutNumber } from "../../job/goes_back.ts";
import { piecesBack } from "../../job/number_parts.ts";
import { countAlike } from "../../job/piece_open.ts";
import { backInPart } from "../../job/pieces.ts";
import { parseTag, shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { tagsHere } from "../../job/with_owner.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt } from "../../parts/notices.tsx";
import { TagEntry } from "../../parts/tag_entry.tsx";
import { useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { whyNotTied } from "./tag_tied.ts";

/** Offered while more pieces were counted than have a number. */
export function OneOfThem({ item, begin }: { item: ItemRecord; begin: () => void }) {
  if (!pieceWithoutNumber(item)) return null;
  return (
    <p>
      <button type="button" onClick={begin}>
        One of the {countAlike(item) - piecesBack(item)} goes back: it gets a number first
      </button>
    </p>
  );
}

/** Where it is held what was entered of the one that goes. */
export const oneGoing = ({ record_id }: ItemRecord) => `one goes ${record_id}`;

/** A number that was typed whole; "" if it was not. */
function wholeTag(typed: string) {
  try {
    return parseTag(typed);
  } catch {
    return "";
  }
}

type OneGoesOf = {
  item: ItemRecord;
  /** It has its number now, and goes back under that. */
  goes: (tag: string) => Promise<unknown>;
  stays: () => void;
};

export function OneGoes({ item, goes, stays }: OneGoesOf) {
  const items = useRecords("item");
  const containers = useRecords("container");
  const [scanning, setScanning] = useState(false);
  const { form, set, drop } = useHeld(oneGoing(item), { mark: "", typed: "" });
  const [tag, setTag] = useState(() => wholeTag(form.typed));
  const place = pieceWithoutNumber(item);
  if (!items || !containers || !place) return null;
  const against = tag ? whyNotTied(tag, { item, items, containers, lost: undefined }, place.piece) : "";
  const tie = () =>
    attempt(async () => {
      const item_id = item.record_id;
      // The walk may have counted them alone: a receipt reads how many there are off the count.
      const [pieces, back] = [countAlike(item), backInPart(item)];
      if (!fieldValue(item, "pieces")) await keep("count_pieces", { item_id, pieces, back });
      await keep("tie_tag", { item_id, tag, ...place, mark: form.mark.trim() });
      drop();
      await goes(tag);
    });
  return (
    <section>
      <h2>One piece back to the owner</h2>
      <p class="hint">
        Tie a fresh tag to the one that goes: it is given back, and signed for, under that. The others stay
        under {tagsHere(item).map(shown).join(", ")}.
      </p>
      <TagEntry
        found={(found) => {
          setScanning(false);
          setTag(found);
        }}
        scanning={scanning}
        setScanning={setScanning}
        begun={form.typed}
        hold={set("typed")}
      />
      {against && <p class="bar wrong">{against}</p>}
      <Typed label="Which one it is" hint="Such as: the bent one" value={form.mark} save={set("mark")} />
      <InDock>
        <button
          type="button"
          onClick={() => {
            drop();
            stays();
          }}
        >
          It stays
        </button>
        {tag ? (
          <button type="button" class="main" disabled={Boolean(against)} onClick={tie}>
            {against ? "Take a fresh tag" : `${shown(tag)} is on it`}
          </button>
        ) : (
          <button type="button" class="main" onClick={() => setScanning(true)}>
            Scan its tag
          </button>
        )}
      </InDock>
    </section>
  );
}
