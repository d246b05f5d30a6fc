/** Tying a tag: scan it or key it in; a wrong character is caught at once, a number is never used twice. */

import { useRef, useState } from "preact/hooks";
import { claimsOf, lookalikeOf } from "../../job/custody.ts";
import { oneThing } from "../../job/one_thing.ts";
import { photosOf } from "../../job/progress.ts";
import { isLeftAlone } from "../../job/stopped.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { countBack, isBackWithOwner, pieceCount, tagsHere } from "../../job/with_owner.ts";
import { rollsLeft } from "../../local/rolls_left.ts";
import { Below } from "../../parts/below.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { KeysOfPart } from "../../parts/in_dock.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Sign } from "../../parts/sign.tsx";
import { Tags } from "../../parts/tag.tsx";
import { TagEntry } from "../../parts/tag_entry.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDevice, useRecord, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { goingBack, inPieces, rollLeft } from "../../parts/with_words.ts";
import { Read } from "./tag_read.tsx";
import { allTied, isLost, leftWords, nextFor, type TagGiven, tieTag, whoIs, whyNotTied } from "./tag_tied.ts";

export default function TagScreen({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const day = useRecord("day", item?.day_id ?? "");
  const items = useRecords("item");
  const containers = useRecords("container");
  if (!item || !items || !containers)
    return (
      <Frame title="Tag" back={`#/item/${item_id}`}>
        <p>Reading …</p>
      </Frame>
    );
  return <TagOf item={item} day={day ?? null} items={items} containers={containers} />;
}

function TagOf({ item, day, items, containers }: TagGiven) {
  const item_id = item.record_id;
  const device = useDevice();
  const RollLeft = rollLeft.value;
  const going = goingBack.value;
  const Several = inPieces.value;
  const [tag, setTag] = useState("");
  const [scanning, setScanning] = useState(false);
  const [isGiven, setGiven] = useState(false);
  const { form, set, drop } = useHeld(`mark ${item_id}`, { mark: "" });
  const numbers = listed(oneThing(item), "tags/").map(({ value }) => value);
  const tied = numbers.filter(({ gone }) => !gone).map((number) => number.tag);
  const lost = listed(item, "tags/").find(({ value }) => isLost(value))?.value;
  const twin = lookalikeOf(item, items);
  const of = pieceCount(item);
  const isTied = tied.length > 0 && isWholeTied(item) && !isBackWithOwner(item);
  const [more, setMore] = useState(false); // one more all the same
  const mark = form.mark.trim() || lost?.mark || ""; // what takes the place of a lost number is on the same
  const { whose, isToName } = nextFor(item, lost, mark);
  const isTying = useRef(false); // by its end the number is on the item, which speaks against tying it
  const against = tag && !isTying.current ? whyNotTied(tag, { item, items, containers, lost }) : "";
  const ready = !against && !isToName && (!twin || Boolean(mark));
  const tie = () =>
    attempt(async () => {
      isTying.current = true;
      await tieTag(tag, { item, items, containers, lost, mark, taken_by: whoIs(day, device) }).finally(() => {
        isTying.current = false;
      });
      setTag("");
      drop();
      sayDone(`${shown(tag)} is tied to ${whose}.`);
    });
  const read = (tag: string) => {
    setScanning(false);
    setTag(tag);
  };
  const back = `#/item/${item_id}`;
  const action = isGiven ? (
    <KeysOfPart />
  ) : tag ? (
    <>
      <button type="button" onClick={() => setTag("")}>
        Another
      </button>
      <button type="button" class="main" disabled={!ready} onClick={tie}>
        {ready
          ? `Tie ${shown(tag)} to ${whose}`
          : against
            ? "Take a fresh tag"
            : isToName
              ? "Say what it is on"
              : "Say what tells it apart"}
      </button>
    </>
  ) : scanning ? null : (
    <NextTag item={item} scan={() => setScanning(true)} />
  );
  return (
    <Frame title="Tag" back={back} item_id={item.record_id} stoppedToo={["tag"]} action={action}>
      <ThisOne item={item} tied={tied} />
      {Several && !isGiven && <Several.PiecesCounted item={item} />}
      {twin && !isGiven && (
        <div class="bar">
          <p>Another item of this visit is called the same. What tells this one from it?</p>
          <Typed label="A mark that only this one has" value={form.mark} save={set("mark")} />
        </div>
      )}
      {numbers.length > 0 && isBackWithOwner(item) && (
        <p class="bar">It is back with its owner. If it comes again, tie a fresh tag: then it is here.</p>
      )}
      <Claims item={item} />
      {isGiven ? null : tag ? (
        <>
          <Read {...{ tag, lost, against }} whose={of > 1 ? whose : "this one"} />
          {of > 1 && !twin && Several && (
            <Several.WhichPart item={item} value={form.mark} save={set("mark")} />
          )}
        </>
      ) : isTied && !scanning && !more ? (
        <p class="bar">
          <Sign of="check" /> {allTied(item)}{" "}
          <button type="button" class="quiet" onClick={() => setMore(true)}>
            Tie another number
          </button>
        </p>
      ) : (
        <TagEntry found={read} scanning={scanning} setScanning={setScanning} />
      )}
      <Below>
        {day && device && RollLeft && !isGiven && (tag || !isTied || more) && (
          <RollLeft rolls={rollsLeft(day.record_id)} {...{ day, device, tag }} />
        )}
        {going && (
          <>
            {!isGiven && <going.Numbers item={item} />}
            <going.NotSentYet item={item} />
            {!isLeftAlone(item) && tied.length > 0 && (
              <going.TakeBack item={item} tags={tied} onOpen={setGiven} />
            )}
            {!isLeftAlone(item) && !numbers.length && <going.GoesHome item={item} />}
          </>
        )}
      </Below>
    </Frame>
  );
}

/** How many pieces that are here have no number. */
const withoutNumber = (item: ItemRecord) => pieceCount(item) - countBack(item) - tagsHere(item).length;
const isWholeTied = (item: ItemRecord) => withoutNumber(item) <= 0;

/** A tag for each piece that has none; then on to what else is missing. */
function NextTag({ item, scan }: { item: ItemRecord; scan: () => void }) {
  const of = pieceCount(item);
  const without = withoutNumber(item);
  if (isWholeTied(item) || isBackWithOwner(item)) return <NextStep item={item} here="/tag" />;
  return (
    <>
      <a class="button" href={`#/item/${item.record_id}`} aria-label="Back to the item">
        Item
      </a>
      <TieOn press={scan} left={of > 1 ? leftWords(item, without) : "none is tied to it yet"}>
        Scan the tag
      </TieOn>
    </>
  );
}

function ThisOne({ item, tied }: { item: ItemRecord; tied: string[] }) {
  return (
    <section class="this-one">
      <Thumb sha256={photosOf(item)[0]?.value.thumb_sha256} words="the item's first photo" />
      <p>
        <strong>{fieldValue(item, "short_description") || "Not named yet"}</strong>
        <br />
        <Tags tags={tied} of={item} />
      </p>
    </section>
  );
}

function Claims({ item }: { item: ItemRecord }) {
  return claimsOf(item).map(({ tag }) => (
    <p class="bar" key={tag}>
      {shown(tag)} was tied to another item as well, by a device that had not heard of this one. The desk sees
      both and settles it; a fresh tag on this item does no harm.
    </p>
  ));
}
