/** Whoever takes the load counts by hand; where that differs from what was scanned, or from what left, it is named. */

import { useRef } from "preact/hooks";
import { thingName, thingWith, whereIs } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import { bothCounts, differenceOfCounts } from "../../job/load_again.ts";
import { packedIn } from "../../job/packed.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { loadOf } from "../../local/owed_count.ts";
import { AskedOnce } from "../../parts/asked_once.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import type { Aim } from "./porter_aim.tsx";
import { type Outcome, outcome } from "./porter_recorded.tsx";

/** What whoever takes the load says of it: their own count, and who drives it. */
type ByHand = { crates: number | null; pieces: number | null; driver: string };

/**
 * `day_id` is the day on which it left, or that of its things. `counted` are the numbers that were scanned and taken;
 * `recorded` is told what came of it. `before` is the difference that the count before this one of the same load has
 * raised, and `drove` who drives it by that; "" if there is none.
 */
type TakersCountOf = {
  day_id: string;
  items: ItemRecord[];
  containers: ContainerRecord[];
  aim: Aim;
  me: string;
  counted: string[];
  before: string;
  drove: string;
  recorded: (outcome: Outcome) => void;
};

export function TakersCount(of: TakersCountOf) {
  const { day_id, items, containers, aim, me, counted, before, drove, recorded } = of;
  const { form, set, drop } = useHeld<ByHand>(`load to ${aim.to}`, {
    crates: null,
    pieces: null,
    driver: drove,
  });
  const { crates, pieces, driver } = form;
  const isLeaving = aim.to === "van";
  const isUnderWay = useRef(false);
  const record = () =>
    attempt(async () => {
      if (crates === null || pieces === null || isUnderWay.current) return; // pressed twice, it is one load
      isUnderWay.current = true;
      await recordOnce(crates, pieces).finally(() => {
        isUnderWay.current = false;
      });
    });
  const scanned_crates = counted.filter((tag) => containers.some(({ number }) => number === tag)).length;
  const scanned_pieces = counted.length - scanned_crates;
  const agrees = crates === scanned_crates && pieces === scanned_pieces;
  const recordOnce = async (crates: number, pieces: number) => {
    const counts = {
      ...{ to_place: aim.to, at: aim.at, taken_by: me },
      ...{ crates, pieces, scanned_crates, scanned_pieces },
    };
    const load_id = newId();
    await keep("count_load", {
      day_id,
      load_id,
      ...counts,
      given_by: aim.given,
      numbers: counted,
      packed: isLeaving ? packedIn(counted, items, containers) : null,
      driver: isLeaving ? driver.trim() : "",
      of_load: loadOf(aim),
    });
    const words = bothCounts(counts);
    if (before) await endCount(day_id, before, aim, words);
    if (!agrees) await raiseCount(day_id, differenceOfCounts(counts));
    drop();
    const came = aim.to === "store" ? whatCame(counted, items, containers) : [];
    recorded({ ...outcome(day_id, aim, agrees, words), load_id: isLeaving ? load_id : "", came });
  };
  const ready = crates !== null && pieces !== null;
  const unsealed = isLeaving ? unsealedOf(counted, containers) : [];
  const asks = [
    unsealed.length && `No seal is on record of ${unsealed.map(thingName).join(", ")}.`,
    isLeaving && !driver.trim() && "Nobody is named who drives it.",
  ].filter(Boolean);
  const fields = useRef<HTMLDivElement>(null);
  const countAgain = () =>
    attempt(async () => {
      await Promise.all([set("crates")(null), set("pieces")(null)]);
      fields.current?.querySelector("input")?.focus();
    });
  return (
    <section>
      <h2>Counted by hand</h2>
      <p class="hint">
        {me}, who takes it, counts what stands there by itself: what lies in a crate, box or bag counts with
        that.
      </p>
      <div class="pair" ref={fields}>
        <Counted label="Crates, boxes and bags" value={crates} save={set("crates")} />
        <Counted label="Loose pieces" value={pieces} save={set("pieces")} />
        {isLeaving && <Typed label="Who drives" value={driver} save={set("driver")} />}
      </div>
      {ready && !agrees ? (
        <div class="bar wrong" role="alert">
          <p>
            The counts differ, and nothing is recorded yet: counted by hand {countWords(crates, "crate")} and{" "}
            {countWords(pieces, "loose piece")}, scanned {scanned_crates} and {scanned_pieces}. Count again,
            or go back and scan what is missing. {asks.join(" ")}
          </p>
          <p class="finish-keys">
            <button type="button" class="main" onClick={countAgain}>
              Count again
            </button>
            <button type="button" class="quiet" onClick={record}>
              {isLeaving ? "It leaves so, with both counts" : "It is so: keep both counts"}
            </button>
          </p>
        </div>
      ) : (
        <InDock>
          {ready && asks.length ? (
            <AskedOnce words="Record the count" asks={asks.join(" ")} act={record} isNext />
          ) : (
            <button type="button" class="main" disabled={!ready} onClick={record}>
              {ready ? "Record the count" : "Count crates and pieces first"}
            </button>
          )}
        </InDock>
      )}
    </section>
  );
}

/** What is compared at the store next: containers, and what came in none. */
function whatCame(counted: readonly string[], items: ItemRecord[], containers: ContainerRecord[]) {
  const came = new Set(counted.flatMap((tag) => thingWith(tag, items, containers) ?? []));
  const byId = new Map([...items, ...containers].map((thing) => [thing.record_id, thing] as const));
  return [...came].filter((thing) => thing.kind === "container" || !whereIs(thing, byId).inside.length);
}

/** Containers that leave with no seal on record, or with one that was opened. */
export function unsealedOf(tags: readonly string[], containers: ContainerRecord[]) {
  return containers.filter(
    (container) =>
      tags.includes(container.number) &&
      !["sealed", "intact"].includes(fieldValue(container, "seal")?.state ?? ""),
  );
}

/** The count before this one is put right: what it differed by is not asked again at the closing. */
function endCount(day_id: string, difference_id: string, aim: Aim, words: string) {
  const said = { ended: "corrected", words: `Counted again: ${words}`, second_by: aim.given } as const;
  return keep("settle_difference", { day_id, difference_id, ...said });
}

function raiseCount(day_id: string, words: string) {
  return keep("raise_difference", {
    day_id,
    difference_id: newId(),
    difference: "load-count",
    thing_id: null,
    words,
    owner_told: false,
    told: "",
  });
}
