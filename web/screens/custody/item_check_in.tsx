/** A thing that came to the store in nothing: beside its photographs of the table, by two. */

import { isLooseToCompare } from "../../job/check_in.ts";
import { checkedThere } from "../../job/compared.ts";
import { placedWords, thingName, whereIs } from "../../job/custody.ts";
import { tagsOf } from "../../job/progress.ts";
import { isLeftAlone, stillWords, stopsOn } from "../../job/stopped.ts";
import { firstUpper } from "../../job/words.ts";
import { Frame } from "../../parts/frame.tsx";
import { PicturesAhead } from "../../parts/pictures_ahead.tsx";
import { Tags } from "../../parts/tag.tsx";
import { useRecord, useRecords } from "../../parts/use.ts";
import { CheckIn } from "./container_check_in.tsx";

export default function ItemCheckIn({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const items = useRecords("item");
  const containers = useRecords("container");
  if (!item || !items || !containers)
    return (
      <Frame title="Check in" back="#/porter">
        <p>{item === null ? "This thing is not on this device yet." : "Reading …"}</p>
      </Frame>
    );
  const things = [...items, ...containers];
  const byId = new Map(things.map((thing) => [thing.record_id, thing] as const));
  const { place, at, inside } = whereIs(item, byId);
  const outer = inside.at(-1);
  const isHere = isLooseToCompare(item, byId) || (!outer && checkedThere(item, null, byId));
  return (
    <Frame title={firstUpper(thingName(item))} back="#/porter">
      <p>
        <Tags tags={tagsOf(item)} of={item} /> {firstUpper(placedWords(place, at))}
      </p>
      {isLeftAlone(item) ? (
        <p class="bar wrong" role="alert">
          It is stopped: nobody compares it. {stillWords(stopsOn(item))}
        </p>
      ) : isHere ? (
        <CheckIn items={[item]} container={null} things={things} isOpen={true} open={() => {}} />
      ) : outer ? (
        <p>
          It lies in <a href={`#/container/${outer.record_id}`}>{thingName(outer)}</a>, and is checked in with
          that.
        </p>
      ) : (
        <p class="bar">It has not come to the store. Count it there first.</p>
      )}
      <PicturesAhead items={[item]} />
    </Frame>
  );
}
