/** Two people said different things of one field, or two devices tied one number: what each said, and which holds. */

import { claimIn, claimsOf, thingName } from "../../job/custody.ts";
import type { Who } from "../../job/day_facts.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { Disagreement, ItemRecord } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { AskWhy, type Choose, Side, TwoValues, useSettling } from "../../parts/two_values.tsx";
import { useRecord, useRecords } from "../../parts/use.ts";

type BetweenOf = { between: Disagreement; item: ItemRecord; who: Who };

export function Between({ between, item, who }: BetweenOf) {
  const claim = claimIn(between);
  return claim ? (
    <NumberOnTwo tag={claim.tag} tied_to={claim.item_id} between={between} item={item} who={who} />
  ) : (
    <TwoValues between={between} record={item} who={who} />
  );
}

function NumberOnTwo({ tag, tied_to, between, item, who }: BetweenOf & { tag: string; tied_to: string }) {
  const { note, setNote, asked, press } = useSettling(item, between);
  const tied = useRecord("item", tied_to);
  const items = useRecords("item", item.day_id) ?? [];
  // Whichever item has the number by now: another question about it may have been settled meanwhile.
  const elsewhere = items.find((other) => tagsOf(other).includes(tag)) ?? tied;
  const comeHere = async () => {
    if (elsewhere && tagsOf(elsewhere).includes(tag)) {
      const item_id = elsewhere.record_id;
      await keep("remove_tag", { item_id, tag, why: "on-another-item", replaced_by: null });
    }
  };
  const settle = (choose: Choose, reason?: string) =>
    press(choose, choose === "other" ? comeHere : undefined, reason);
  const button = `${shown(tag)} is on this one`;
  return (
    <div class="between">
      <p>
        {shown(tag)} was tied to two items by two devices that had not heard of each other. Both items are
        kept. Look at the tag in the hand, say which item it is on, and tie a fresh tag to the other.
      </p>
      <div class="sides">
        <Side
          title="Tied first, as heard here"
          set={between.kept}
          who={who}
          button={button}
          isAsked={asked === "kept"}
          choose={() => settle("kept")}
        >
          {elsewhere && <Seen item={elsewhere} />}
        </Side>
        <Side
          title="This item"
          set={between.other}
          who={who}
          button={button}
          isAsked={asked === "other"}
          choose={() => settle("other")}
        >
          <Seen item={item} />
        </Side>
      </div>
      {asked && <AskWhy choose={(reason) => settle(asked, reason)} />}
      <Typed
        of={between.disagreement_id}
        label="How it was told (kept with the decision)"
        value={note}
        save={setNote}
      />
    </div>
  );
}

/** An item by its first picture and its name. */
function Seen({ item }: { item: ItemRecord }) {
  return (
    <div class="this-one">
      <Thumb sha256={photosOf(item)[0]?.value.thumb_sha256} words="its first photo" />
      <p class="said">{thingName(item)}</p>
    </div>
  );
}

/** That another item's record asks for a number of this one. */
export function ClaimedTag({ item }: { item: ItemRecord }) {
  const claims = claimsOn(item, useRecords("item", item.day_id) ?? []);
  return claims.map(({ tag, by }) => (
    <p class="bar" key={tag}>
      {shown(tag)} was tied to another item as well:{" "}
      <a href={`#/entry/${by.record_id}`}>{thingName(by)}. See both and settle it</a>.
    </p>
  ));
}

/** The numbers of an item that another item's record asks for, until somebody has settled it. */
function claimsOn(item: ItemRecord, items: ItemRecord[]): { tag: string; by: ItemRecord }[] {
  return items.flatMap((by) =>
    claimsOf(by)
      .filter(({ item_id }) => item_id === item.record_id)
      .map(({ tag }) => ({ tag, by })),
  );
}
