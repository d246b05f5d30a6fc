/** A container opened by two: each item beside its photographs of the table. */

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { comparisonOf, isComparable, piecesAway, piecesToCount } from "../../job/check_in.ts";
import { thingName } from "../../job/custody.ts";
import { numbersShown } from "../../job/number_parts.ts";
import type { CheckIn as CheckInKind } from "../../job/operations.ts";
import { tagsOf } from "../../job/progress.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { NO_NAME } from "../../parts/no_name.ts";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { FoundThen, Lacking, NoPhotograph, Pictures, PutOff } from "./container_compared.tsx";
import { PiecesThere } from "./container_counted.tsx";
import { missedOf, raiseDiffers, raiseFound, raiseMissed } from "./container_raised.ts";
import { SecondPerson, useSecond } from "./second_person.tsx";

type State = CheckInKind["state"];
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

type CheckInOf = {
  items: ItemRecord[];
  container: ContainerRecord | null; // null of what came loose
  things: ThingRecord[];
  isOpen: boolean;
  open: () => void;
};

export function CheckIn({ items, container, things, isOpen, open }: CheckInOf) {
  const day_id = container?.day_id ?? items[0]?.day_id;
  const { form, set } = useHeld(`check-in ${day_id}`, { second: "" });
  // Whoever looked at its seal opens it.
  const second = useSecond(form.second || ((container && fieldValue(container, "seal")?.second_by) ?? ""));
  const [chosen, setChosen] = useState("");
  const undone = items.filter((item) => !fieldValue(item, "check-in"));
  const left = undone.length;
  const inHand = chosen || undone[0]?.record_id;
  if (!isOpen)
    return (
      <p>
        <button type="button" onClick={open}>
          {container ? "Check in what is in it" : "Check it in"}
          {container && left ? `: ${left} to compare` : ""}
        </button>
      </p>
    );
  return (
    <section>
      <h2>
        Check in <span class="count">{left} left</span>
      </h2>
      <p class="hint">Whoever packed does not open alone.</p>
      <SecondPerson name={second} choose={set("second")} />
      {items.map((item) => (
        <Compared
          key={item.record_id}
          item={item}
          container={container}
          away={piecesAway(item, container, things)}
          second_by={second}
          isOpen={item.record_id === inHand}
          toggle={(isOpen) => setChosen(isOpen ? item.record_id : NONE)}
          kept={(isTold) =>
            // Whoever opened another meanwhile is at that.
            setChosen((now) => (now && now !== item.record_id ? now : isTold ? "" : item.record_id))
          }
        />
      ))}
    </section>
  );
}

/** Every item is folded. */
const NONE = "none";

type ComparedOf = {
  item: ItemRecord;
  container: ContainerRecord | null;
  away: string[];
  second_by: string;
  /** One of them is open: the first that was not compared yet, or the one that was pressed. */
  isOpen: boolean;
  toggle: (isOpen: boolean) => void;
  /** What was pressed is on record; what differs is still to be told. */
  kept: (isTold: boolean) => void;
};

/** One item and its photographs; what differs from them is a difference of the day at once. */
function Compared({ item, container, away, second_by, isOpen, toggle, kept }: ComparedOf) {
  const item_id = item.record_id;
  const done = fieldValue(item, "check-in");
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
  const of = piecesToCount(item);
  const [counting, setCounting] = useState(false); // a set is as recorded once all of it was counted
  const compare = async (state: State, here: number | null = null) => {
    if (!second_by) return;
    if (state === "as-recorded" && of > 1 && here !== of) return setCounting(true);
    const short = here === null || here === of ? "" : `${here} of ${countWords(of, "piece")} are there`;
    const against = photos.length ? "" : isComparable(on) ? NO_PHOTOGRAPH : NOTHING;
    const counted = of > 1 ? `${of} of ${of} pieces counted` : "";
    const words = state === "as-recorded" ? [against, counted].filter(Boolean).join("; ") : short;
    const missed = missedOf(item);
    await keep("check_in", { item_id, state, words, second_by });
    setCounting(false);
    if (state !== "not-here") await raiseFound(item, missed, second_by);
    else if (!missed.length) await raiseMissed(item, container);
    if (state === "differs") await raiseDiffers(item, short ? [short] : away);
    kept(state !== "differs");
  };
  // The next one opens where the one before it was: that it is another is seen by its name, so the name is in sight.
  const name = useRef<HTMLHeadingElement>(null);
  const wasOpen = useRef(isOpen);
  useLayoutEffect(() => {
    if (isOpen && !wasOpen.current) name.current?.scrollIntoView({ block: "start" });
    wasOpen.current = isOpen;
  }, [isOpen]);
  const words = states.find(([state]) => state === done?.state)?.[1];
  if (!isOpen)
    return (
      <button type="button" class="row" aria-expanded={false} onClick={() => toggle(true)}>
        <Thumb sha256={photos[0]?.value.thumb_sha256} words="its first photo" />
        <span class="what">
          {`${firstUpper(thingName(item))} ${numbersShown(item, tagsOf(item))}`}
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
      <h3 ref={name}>{`${firstUpper(thingName(item))} ${numbersShown(item, tagsOf(item))}`}</h3>
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
      {counting && <PiecesThere {...{ item_id, of }} compare={compare} />}
      {!second_by && <p class="hint">Name the second person first.</p>}
      {done && done.state !== "as-recorded" && (
        <Typed
          of={item_id}
          label={done.state === "differs" ? "What differs" : "What is known of it"}
          hint={NO_NAME}
          into="check_in.words"
          value={done.words}
          save={(words) => amend("check_in", { item_id, words })}
        />
      )}
    </article>
  );
}
