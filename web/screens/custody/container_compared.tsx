/** What an item is compared with as it is unpacked: its photographs, else what was found on it. */

import type { Comparison } from "../../job/check_in.ts";
import { findingWords, zoneWords } from "../../job/list_words.ts";
import { countAlike, isPieceOpen } from "../../job/piece_open.ts";
import { putOff } from "../../job/put_off.ts";
import type { ItemRecord } from "../../job/types.ts";
import { photoWords } from "../../job/value_words.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { listsOf } from "../../local/plan_book.ts";
import { Thumb } from "../../parts/thumb.tsx";

/** `shows` is told of each picture whether it is there to be looked at. */
type OfItem = {
  item: ItemRecord;
  photos: Comparison["photos"];
  shows?: (id: string, isHere: boolean) => void;
};

export function Pictures({ item, photos, shows }: OfItem) {
  return (
    <div class="pictures">
      {photos.map(({ id, value }) => (
        <figure key={id}>
          <Thumb sha256={value.thumb_sha256} words="" shows={(isHere) => shows?.(id, isHere)} />
          <figcaption>{photoWords(value, listsOf(item))}</figcaption>
        </figure>
      ))}
    </div>
  );
}

/** Pictures that are on record and cannot be looked at here: with none of them there is nothing to compare with. */
export function Lacking({ count, of }: { count: number; of: number }) {
  if (!count) return null;
  const which =
    count === of ? "None of its pictures can be" : `${countWords(count, "picture")} of it cannot be`;
  return (
    <p class="bar">
      {which} shown: neither on this device nor to be had from the office now. Compare it once they are here.
    </p>
  );
}

/** What was found on it then, with how grave and where, so that old damage is told from new beside its pictures. */
export function FoundThen({ item, on: { found, looked } }: { item: ItemRecord; on: Comparison }) {
  const lists = listsOf(item);
  return (
    <div class="bar">
      <p>
        {found.length
          ? "On record of it before it was packed:"
          : looked
            ? `Nothing was found on it before it was packed: ${countWords(looked, "zone")} looked at.`
            : "Nobody noted what was on it before it was packed: only its pictures tell."}
      </p>
      {found.length > 0 && <ListOfFound {...{ item, found, lists }} />}
    </div>
  );
}

/** What nobody had time for at the table: whoever has it in hand now looks. */
export function PutOff({ item }: { item: ItemRecord }) {
  const zones = putOff(item).map((key) => zoneWords(listsOf(item), key));
  if (!zones.length) return null;
  return (
    <p class="bar">
      <strong>Put off to the store:</strong> {zones.join(", ")}.{" "}
      <a href={`#/item/${item.record_id}`}>Look now</a>, once it is compared.
    </p>
  );
}

type ListOfFoundOf = { item: ItemRecord; found: Comparison["found"]; lists: ReturnType<typeof listsOf> };

function ListOfFound({ item, found, lists }: ListOfFoundOf) {
  return (
    <>
      <ul>
        {found.map((finding) => (
          <li key={`${finding.zone} ${finding.term}`}>{firstUpper(findingWords(lists, finding))}</li>
        ))}
      </ul>
      {countAlike(item) > 1 && found.some((one) => isPieceOpen(item, one)) && (
        <p>On which of the pieces was not noted of each.</p>
      )}
    </>
  );
}

/** What to look at instead, and that a photograph taken now is the only one there will be. */
export function NoPhotograph({ item, on: { found, looked, fresh } }: { item: ItemRecord; on: Comparison }) {
  const lists = listsOf(item);
  return (
    <div class="bar">
      <p>
        No photograph was taken of it before it was packed.{" "}
        {found.length
          ? "Look at what was found on it then:"
          : looked
            ? `Nothing was found on it then: ${countWords(looked, "zone")} looked at.`
            : "Nothing of how it was is on record, so it cannot be compared."}
      </p>
      {found.length > 0 && <ListOfFound {...{ item, found, lists }} />}
      {!fresh.length && <p>Photograph it as it is now, all of it and each fault.</p>}
    </div>
  );
}
