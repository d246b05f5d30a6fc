/** Two people said different things of one field, or two devices tied one number: what each said, and which holds. */

import type { ComponentChildren } from "preact";
import { sidesOf } from "../../job/between.ts";
import { claimIn, claimsOn, thingName } from "../../job/custody.ts";
import type { SettleDisagreement } from "../../job/operations.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { Disagreement, FieldValue, ItemRecord, RecordCopy } from "../../job/types.ts";
import { fieldWords, valueWords } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { useRecord, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { syncNow } from "../../sync/sync.ts";
import type { Who } from "./entry_history.tsx";

type Choose = SettleDisagreement["choose"];
type BetweenOf = { between: Disagreement; item: ItemRecord; who: Who };

export function Between({ between, item, who }: BetweenOf) {
  const claim = claimIn(between);
  return claim ? (
    <NumberOnTwo tag={claim.tag} tied_to={claim.item_id} between={between} item={item} who={who} />
  ) : (
    <TwoValues between={between} record={item} who={who} />
  );
}

/** Say which side holds, with how that is known. */
function useSettling(record: RecordCopy, { disagreement_id }: Disagreement) {
  const held = useHeld(`between ${disagreement_id}`, { note: "" });
  const settle = async (choose: Choose) => {
    await keep("settle_disagreement", {
      record_id: record.record_id,
      disagreement_id,
      choose,
      note: held.form.note,
    });
    held.drop();
    syncNow();
  };
  return { note: held.form.note, setNote: held.set("note"), settle };
}

type TwoValuesOf = { between: Disagreement; record: RecordCopy; who: Who; settled?: () => unknown };

/** Two values of a field of any record; `settled` hears that one of them was chosen. */
export function TwoValues({ between, record, who, settled }: TwoValuesOf) {
  const { note, setNote, settle } = useSettling(record, between);
  return (
    <div class="between">
      <p>
        Two people set {fieldWords(between.field)} without having seen each other's value. Nothing is lost;
        say which holds.
      </p>
      <div class="sides">
        {sidesOf(record, between).map(({ choose, set, isInForce }) => (
          <Side
            key={choose}
            title={isInForce ? "In force" : "Said as well"}
            set={set}
            who={who}
            button="This one holds"
            choose={async () => {
              await settle(choose);
              await settled?.();
            }}
          >
            <p class="said">{valueWords(set.value, between.field)}</p>
          </Side>
        ))}
      </div>
      <Typed of={between.disagreement_id} label="Why (kept with the decision)" value={note} save={setNote} />
    </div>
  );
}

function NumberOnTwo({ tag, tied_to, between, item, who }: BetweenOf & { tag: string; tied_to: string }) {
  const { note, setNote, settle } = useSettling(item, between);
  const tied = useRecord("item", tied_to);
  const items = useRecords("item", item.day_id) ?? [];
  // Whichever item has the number by now: another question about it may have been settled meanwhile.
  const elsewhere = items.find((other) => tagsOf(other).includes(tag)) ?? tied;
  const itIsHere = async () => {
    if (elsewhere && tagsOf(elsewhere).includes(tag)) {
      const item_id = elsewhere.record_id;
      await keep("remove_tag", { item_id, tag, why: "on-another-item", replaced_by: null });
    }
    await settle("other");
  };
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
          choose={() => settle("kept")}
        >
          {elsewhere && <Seen item={elsewhere} />}
        </Side>
        <Side title="This item" set={between.other} who={who} button={button} choose={itIsHere}>
          <Seen item={item} />
        </Side>
      </div>
      <Typed
        of={between.disagreement_id}
        label="How it was told (kept with the decision)"
        value={note}
        save={setNote}
      />
    </div>
  );
}

type SideOf = {
  title: string;
  set: FieldValue;
  who: Who;
  button: string;
  choose: () => Promise<void>;
  children: ComponentChildren;
};

/** One of the two: what was said, by whom, and the button that lets it hold. */
function Side({ title, set, who, button, choose, children }: SideOf) {
  return (
    <div class="side">
      <h4>{title}</h4>
      {children}
      <p class="hint">
        {who(set.made_by)}, {momentWords(set.made_at)}
      </p>
      <button type="button" onClick={() => attempt(choose)}>
        {button}
      </button>
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
