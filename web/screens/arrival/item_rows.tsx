/** The items of a visit, each with its picture, its name, its tag and its edge, and how much is left to do. */

import { isStopped } from "../../job/cautions.ts";
import { partName } from "../../job/number_parts.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import { takenAway } from "../../job/referred.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { InTurn } from "../../parts/below.tsx";
import { EdgeOf } from "../../parts/edge.tsx";
import { gapsOf } from "../../parts/gaps.ts";
import { Sign } from "../../parts/sign.tsx";
import { Tag } from "../../parts/tag.tsx";
import { Thumb } from "../../parts/thumb.tsx";

/** So many come in sight at first on the largest screen that is held in a hand. */
const FIRST_ROWS = 6;

export function ItemRows({ items }: { items: readonly ItemRecord[] }) {
  const row = (item: ItemRecord) => (
    <li key={item.record_id}>
      <ItemRow item={item} />
    </li>
  );
  return (
    <ul class="item-rows">
      <InTurn of={items} first={FIRST_ROWS} draw={row} />
    </ul>
  );
}

function ItemRow({ item }: { item: ItemRecord }) {
  const [first, ...more] = tagsOf(item);
  return (
    <a class="item-row" href={`#/item/${item.record_id}`}>
      <Thumb sha256={photosOf(item)[0]?.value.thumb_sha256} words="" inList={true} />
      <span class="what">
        <strong>{fieldValue(item, "short_description") || "Not named yet"}</strong>
        <ToDo item={item} />
        <span class="tags">
          <Tag tag={first} />
          {more.length > 0 && <small>and {onWhat(item, more)}</small>}
        </span>
        <EdgeOf item={item} />
      </span>
    </a>
  );
}

/** What its other numbers are on, where that is a part by its name: "the cover"; else how many they are. */
function onWhat(item: ItemRecord, tags: readonly string[]) {
  const named = tags.map((tag) => partName(item, tag));
  return tags.length < 3 && named.every(Boolean) ? named.join(", ") : `${tags.length} more`;
}

function ToDo({ item }: { item: ItemRecord }) {
  if (isBackWithOwner(item)) return <span class="to-do">with its owner</span>;
  if (takenAway(item)) return <span class="to-do">taken away</span>;
  if (isStopped(item))
    return (
      <span class="to-do stopped">
        <Sign of="stop" /> stopped
      </span>
    );
  const left = gapsOf(item).length;
  return left ? (
    <span class="to-do">
      <strong>{left}</strong> to do
    </span>
  ) : (
    <span class="to-do">
      <Sign of="check" /> complete
    </span>
  );
}
