/** One item as it is unpacked, beside its photographs of the table: what is pressed of it is on record. */

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { comparisonOf, isComparable, piecesToCount } from "../../job/check_in.ts";
import { type checkedThere, numbersInWords } from "../../job/compared.ts";
import { thingName } from "../../job/custody.ts";
import { numbersShown } from "../../job/number_parts.ts";
import type { CheckIn } from "../../job/operations.ts";
import { tagsOf } from "../../job/progress.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { NO_NAME } from "../../parts/no_name.ts";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { FoundThen, Lacking, NoPhotograph, Pictures, PutOff } from "./container_compared.tsx";
import { PiecesListed, PiecesThere } from "./container_counted.tsx";
import {
  amendChecks,
  keepChecks,
  missedOf,
  raiseDiffers,
  raiseFound,
  raiseMissed,
} from "./container_raised.ts";

type State = CheckIn["state"];
type States = readonly (readonly [State, string])[];
const OTHERWISE: States = [
  ["differs", "Differs"],
  ["not-here", "Not here"],
];
const STATES: States = [["as-recorded", "As recorded"], ...OTHERWISE];
/** Of what nothing is on record. */
const AS_IT_CAME: States = [["as-recorded", "Photographed as it came"], ...OTHERWISE];
/** What a check-in without photographs keeps as its words. */
const NO_PHOTOGRAPH = "no photograph to compare with, only what was found on it";
const NOTHING = "nothing on record to compare with, photographed as it came";

type ComparedOf = {
  item: ItemRecord;
  container: ContainerRecord | null;
  away: string[];
  /** The numbers that lie here where others lie elsewhere, each compared by itself; and what came of it. */
  here: { tags: string[]; done: ReturnType<typeof checkedThere> };
  second_by: string;
  /** One of them is open: the first that was not compared yet, or the one that was pressed. */
  isOpen: boolean;
  toggle: (isOpen: boolean) => void;
  /** What was pressed is on record; what differs is still to be told. */
  kept: (isTold: boolean) => void;
};

/** What differs from its photographs is a difference of the day at once. */
export function Compared({
  item,
  container,
  away,
  here: { tags, done },
  second_by,
  isOpen,
  toggle,
  kept,
}: ComparedOf) {
  const item_id = item.record_id;
  const on = comparisonOf(item);
  const { photos, fresh } = on;
  const take = (blob: Blob) => keepPhoto(blob, { item_id, view: null, zone: null, finding_id: null });
  const [lacking, setLacking] = useState<ReadonlySet<string>>(new Set());
  const shows = (id: string, isHere: boolean) =>
    setLacking((before) => new Set([...before].filter((other) => other !== id).concat(isHere ? [] : id)));
  const isInSight = !photos.length || photos.some(({ id }) => !lacking.has(id));
  const states = isComparable(on) ? STATES : AS_IT_CAME;
  // One that is not all here, or of which nothing shows how it was or how it came, is not as recorded.
  const isOpenToBoth = !away.length && isInSight && (isComparable(on) || fresh.length > 0);
  const of = piecesToCount(item, tags);
  const [counting, setCounting] = useState<State | null>(null); // a set is compared once all of it was counted
  const compare = async (state: State, here: number | null = null) => {
    if (!second_by) return;
    // Whoever chose otherwise meanwhile counts no more.
    if (state === "not-here") setCounting(null);
    // Whoever says that a set differs counts it, too; of what is away by its numbers that is known.
    const isCounted = of > 1 && (tags.length > 0 || !away.length);
    if (state !== "not-here" && isCounted && here === null) return setCounting(state);
    const short = here === null || here === of ? "" : `${here} of ${countWords(of, "piece")} are there`;
    const against = photos.length ? "" : isComparable(on) ? NO_PHOTOGRAPH : NOTHING;
    const counted = of > 1 ? `${of} of ${of} pieces counted` : "";
    const words = state === "as-recorded" ? [against, counted].filter(Boolean).join("; ") : short;
    const missed = missedOf(item, tags);
    const pieces = here && { pieces: here, of };
    await keepChecks(item, tags, { state, words, second_by, ...pieces });
    setCounting(null);
    if (state !== "not-here") await raiseFound(item, missed, second_by);
    else if (!missed.length) await raiseMissed(item, tags, container);
    if (state === "differs") await raiseDiffers(item, tags, short ? [...away, short] : away);
    kept(state !== "differs");
  };
  // The next one opens where the one before it was: that it is another is seen by its name, so the name is in sight.
  const name = useRef<HTMLHeadingElement>(null);
  const wasOpen = useRef(isOpen);
  useLayoutEffect(() => {
    if (isOpen && !wasOpen.current) name.current?.scrollIntoView({ block: "start" });
    wasOpen.current = isOpen;
  }, [isOpen]);
  const called = `${firstUpper(thingName(item))} ${numbersShown(item, tags.length ? tags : tagsOf(item))}`;
  const words = states.find(([state]) => state === done?.state)?.[1];
  if (!isOpen)
    return (
      <button type="button" class="row" aria-expanded={false} onClick={() => toggle(true)}>
        <Thumb sha256={photos[0]?.value.thumb_sha256} words="its first photo" />
        <span class="what">
          {called}
          {away.length > 0 && <small>not all of it is here</small>}
          {!photos.length && <small>no photograph of it</small>}
        </span>
        <span class="left">
          <Sign of={words ? (done?.state === "as-recorded" ? "check" : "differs") : "clock"} />{" "}
          {words ?? "to compare"}
        </span>
      </button>
    );
  return (
    <article class="finding">
      <h3 ref={name}>{called}</h3>
      {tags.length > 0 && (
        <p class="bar">
          Of it only this lies here, and only this is compared: {numbersInWords(item, tags)}. The rest asks
          again where it lies.
        </p>
      )}
      {photos.length ? <Pictures {...{ item, photos, shows }} /> : <NoPhotograph item={item} on={on} />}
      {photos.length > 0 && <FoundThen item={item} on={on} />}
      <PutOff item={item} />
      <Lacking count={photos.filter(({ id }) => lacking.has(id)).length} of={photos.length} />
      {fresh.length > 0 && (
        <>
          <h4>Taken since it was packed</h4>
          <Pictures item={item} photos={fresh} />
        </>
      )}
      <PictureButtons take={take} />
      {away.length > 0 && (
        <p class="bar">
          Not all of it is here: {away.join("; ")}. Until that is found, it is not as recorded; say Differs if
          it is lost, and Not here if none of it is here.
        </p>
      )}
      <Choice
        label={photos.length ? "Beside its photographs" : "Without a photograph"}
        options={isOpenToBoth ? states : states.filter(([state]) => state !== "as-recorded")}
        value={done?.state}
        choose={compare}
      />
      <PiecesListed item={item} />
      {counting && <PiecesThere {...{ item_id, of, state: counting }} compare={compare} />}
      {!second_by && <p class="hint">Name the second person first.</p>}
      {done && done.state !== "as-recorded" && (
        <Typed
          of={item_id}
          label={done.state === "differs" ? "What differs" : "What is known of it"}
          hint={NO_NAME}
          into="check_in.words"
          value={done.words}
          save={(words) => amendChecks(item, tags, words)}
        />
      )}
    </article>
  );
}
