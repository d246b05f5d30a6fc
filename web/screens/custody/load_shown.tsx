/** A load: what left by name and who drove it, what has come and what has not. Its paper travels with the van. */

import type { ComponentChildren } from "preact";
import { type ContentsOfEach, contentsOfEach } from "../../job/contents.ts";
import { thingName } from "../../job/custody.ts";
import {
  comeWords,
  handsWords,
  isOnTheWay,
  type LoadedThing,
  type Load as LoadThatLeft,
  loadName,
} from "../../job/loads.ts";
import { contradicted, sealingOf } from "../../job/sealed.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { printWhole } from "../../parts/print.ts";
import { Sign } from "../../parts/sign.tsx";
import { Tag } from "../../parts/tag.tsx";
import { InsideNow, Signed } from "./load_paper.tsx";
import { ApartAmong } from "./on_its_way.tsx";

type LoadOf = SealsOf & { back: string; action?: ComponentChildren };

export function LoadShown({ load, day, items, containers, back, action }: LoadOf) {
  const contents = contentsOfEach([...items, ...containers]);
  const actions = (
    <>
      <button type="button" onClick={printWhole}>
        Print its list
      </button>
      {action}
    </>
  );
  const missingFirst = [...load.things].sort((a, b) => Number(a.came) - Number(b.came));
  return (
    <Frame title={firstUpper(loadName(load))} back={back} action={actions}>
      <WhoAndWhen load={load} />
      <p class="bar on-screen">{firstUpper(comeWords(load))}.</p>
      <ApartAmong numbers={load.things.map(({ number }) => number)} {...{ items, containers }} />
      <SealsContradicted {...{ load, day, items, containers }} />
      <section>
        <h2>
          What left <span class="count">{load.things.length}</span>
        </h2>
        <Things
          loaded={missingFirst}
          contents={contents}
          notCome={isOnTheWay(load) ? "on the way" : "not come"}
        />
      </section>
      {load.over.length > 0 && (
        <section>
          <h2>Came, and had not left with it</h2>
          <Things loaded={load.over} contents={contents} />
        </section>
      )}
      <Signed />
    </Frame>
  );
}

type SealsOf = { load: LoadThatLeft; day: DayRecord; items: ItemRecord[]; containers: ContainerRecord[] };

/** What is on record to have gone through a seal of what left, by its container: also on the paper. */
function SealsContradicted({ load, day, items, containers }: SealsOf) {
  const sealing = sealingOf(items, containers);
  const left = new Set(numbersOf(load.things));
  const lines = containers.flatMap((container) => {
    const against = left.has(container.number) && contradicted(container, day, sealing);
    return against ? [{ container, words: against.words }] : [];
  });
  if (!lines.length) return null;
  return (
    <div class="bar wrong" role="alert">
      {lines.map(({ container, words }) => (
        <p key={container.record_id}>
          <a href={`#/container/${container.record_id}`}>{firstUpper(thingName(container))}</a>: {words}.
        </p>
      ))}
    </div>
  );
}

function numbersOf(loaded: readonly LoadedThing[]): string[] {
  return loaded.flatMap(({ number, packed }) => [number, ...numbersOf(packed ?? [])]);
}

function WhoAndWhen({ load: { value, set, arrivals } }: { load: LoadThatLeft }) {
  return (
    <>
      <p>
        Left {momentWords(set.made_at)}: {handsWords(value, null)}
        {value.driver ? `, driven by ${value.driver}` : ", no driver noted"}. Counted by hand: crates{" "}
        {value.crates}, loose pieces {value.pieces}.
      </p>
      {arrivals.map((arrival) => (
        <p key={arrival.numbers?.join()}>
          Arrived: {handsWords(arrival, value.driver)}. Counted by hand: crates {arrival.crates}, loose pieces{" "}
          {arrival.pieces}.
        </p>
      ))}
    </>
  );
}

/** `notCome` says what is so of a thing that is not here. */
type ThingsOf = { loaded: LoadedThing[]; contents: ContentsOfEach; notCome?: string };

/** Each number with what it is on, and what lay in it when it left. */
function Things({ loaded, contents, notCome = "" }: ThingsOf) {
  return (
    <ul class="rows">
      {loaded.map((one) => (
        <li key={one.number} class="row">
          <span class="what">
            <strong>{firstUpper(one.words)}</strong>
            <Within loaded={one} contents={contents} notCome={notCome} />
          </span>
          <span class="left">
            <Sign of={one.came ? "check" : "clock"} /> {one.came ? "came" : one.now || notCome}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** Of a load from before that was noted, what lies in a container now is all that can be said. */
function Within({ loaded, contents, notCome }: Omit<ThingsOf, "loaded"> & { loaded: LoadedThing }) {
  const { thing, packed, came } = loaded;
  if (thing?.kind !== "container") return null;
  return packed ? (
    <Packed packed={packed} notCome={came ? notCome : ""} />
  ) : (
    <InsideNow container={thing} contents={contents} />
  );
}

/**
 * What left in it, each container in it with its own; what became of one alone stands behind it. `notCome` says what is
 * so of one that is not here although what it left in is.
 */
function Packed({ packed, notCome = "" }: { packed: LoadedThing[]; notCome?: string | undefined }) {
  if (!packed.length) return <small>nothing was scanned into it</small>;
  return (
    <ul class="loaded">
      {packed.map((one) => (
        <li key={one.number}>
          {one.thing?.kind === "item" ? (
            <>
              <Tag tag={one.number} /> {one.words.replace(` ${shown(one.number)}`, "")}
            </>
          ) : (
            one.words
          )}
          {becameOf(one, notCome) && <strong>{`, ${becameOf(one, notCome)}`}</strong>}
          {one.packed && one.packed.length > 0 && (
            <Packed packed={one.packed} notCome={one.came ? notCome : ""} />
          )}
        </li>
      ))}
    </ul>
  );
}

function becameOf({ came, again, now }: LoadedThing, notCome: string) {
  return now || (came || again ? "" : notCome);
}
