/** The porter: scan one thing after the other, to a place or into a container, with a large count and no network. */

import { useState } from "preact/hooks";
import { thingName } from "../../job/custody.ts";
import { othersHere, peopleHere } from "../../job/day_facts.ts";
import { tagInQr } from "../../job/tag.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "../../job/types.ts";
import type { ThisDevice } from "../../local/device.ts";
import { AskedOnce } from "../../parts/asked_once.tsx";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { Frame } from "../../parts/frame.tsx";
import { keepsPack } from "../../parts/packs.ts";
import { Scanner } from "../../parts/scanner.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDay, useDevice, useRecords } from "../../parts/use.ts";
import { arrivals } from "./arrivals.ts";
import {
  type Aim,
  AimFields,
  aimWords,
  GivenBy,
  isArrival,
  LeftWith,
  loadOf,
  whatIsMissing,
  whyNoLoads,
  withGiver,
} from "./porter_aim.tsx";
import { useCount } from "./porter_count.ts";
import { KeyedIn } from "./porter_keyed.tsx";
import { type Outcome, Recorded, TakersCount } from "./porter_load.tsx";
import { LastScanned } from "./porter_rows.tsx";
import type { Scanned } from "./porter_scan.ts";

export default function Porter() {
  const device = useDevice();
  const day = useDay();
  const items = useRecords("item");
  const containers = useRecords("container");
  if (!day || !device || !items || !containers)
    return (
      <Frame title="Porter" place="#/porter">
        <ChooseDayFirst day={day} on="Today" />
      </Frame>
    );
  return <Counting device={device} day={day} items={items} containers={containers} />;
}

const ANOTHER = "Another count";

type Known = { device: ThisDevice; day: DayRecord; items: ItemRecord[]; containers: ContainerRecord[] };

function Counting({ device, day, items, containers }: Known) {
  const people = peopleHere(day);
  const me = people.find(({ person_id }) => person_id === device.person_id)?.name ?? "";
  const counting = useCount({ day_id: day.record_id, items, containers, me });
  const { scanned, begin } = counting;
  const others = othersHere(day, device.person_id);
  const loads = arrivals.value;
  const said = withGiver(counting.aim, others);
  const aim = isArrival(said)
    ? { ...said, of_load: said.of_load || loads?.onlyOne(day.record_id) || "" }
    : said;
  const [scanning, setScanning] = useState(false);
  const [recorded, setRecorded] = useState<Outcome | null>(null);
  const of = { day_id: day.record_id, of_load: aim.of_load };
  const missing = whatIsMissing(aim, me);
  const good = scanned.filter(({ done }) => done);
  const isOwed = good.length > 0 && aim.work === "move" && (aim.to === "van" || loadOf(aim) !== null);
  const [byHand, setByHand] = useState(false);
  const isByHand = byHand && good.length > 0 && aim.work === "move" && !missing;
  const count = (tag: string) => {
    if (aim.of_load) counting.setAim({ of_load: aim.of_load }); // once it has come it is no more the one on its way
    return counting.count(tag);
  };
  const another = () => {
    setRecorded(null);
    setByHand(false);
    begin({ container: "" }); // of two crates packed one after the other, the second is scanned first
  };
  const change = (patch: Parameters<typeof begin>[0]) => {
    setRecorded(null);
    begin(patch);
  };
  return (
    <Frame
      title="Porter"
      place="#/porter"
      action={
        !scanning &&
        !missing &&
        (isByHand ? (
          <button type="button" onClick={() => setByHand(false)}>
            Back to scanning
          </button>
        ) : (
          <>
            {aim.work === "move" && good.length > 0 && (
              <button type="button" onClick={() => setByHand(true)}>
                Count by hand
              </button>
            )}
            <Next {...{ aim, containers, good, change }} scan={() => setScanning(true)} />
          </>
        ))
      }
    >
      {scanning || scanned.length ? (
        <>
          <p class="lead">
            {aimWords(aim, containers)}{" "}
            {!scanning && !isOwed && (
              <button type="button" class="quiet" onClick={another}>
                {ANOTHER}
              </button>
            )}
          </p>
          {!scanning && isOwed && (
            <AskedOnce
              words={ANOTHER}
              asks="This count is not recorded yet: count by hand, and record it."
              act={another}
            />
          )}
          {me && missing && <GivenBy {...{ aim, others }} choose={(given) => counting.setAim({ given })} />}
          {isArrival(aim) && loads && !scanning && !isByHand && (
            <LeftWith {...of} choose={(of_load) => counting.setAim({ of_load })} />
          )}
        </>
      ) : (
        <AimFields {...{ aim, change, others, me, containers, of }} setAim={counting.setAim} />
      )}
      {scanning && <Scanner found={(text) => count(tagInQr(text))} close={() => setScanning(false)} />}
      {missing ? (
        <p class="bar">{missing}.</p>
      ) : isByHand ? null : (
        <p class="counted" role="status">
          <span class={good.length || scanning ? "huge" : "figure"}>{good.length}</span> <span>counted</span>
        </p>
      )}
      {recorded && <Recorded {...recorded} />}
      {!isByHand && <LastScanned {...{ scanned, items, containers }} out={missing ? null : counting.out} />}
      {isArrival(aim) &&
        !recorded &&
        !isByHand && // what came of it says what has come
        (loads ? (
          <loads.Coming {...of} scanned={good} />
        ) : (
          (scanning || scanned.length > 0) && <p class="hint">{whyNoLoads()}</p> // else it stands with the aim
        ))}
      {!missing && !isByHand && <KeyedIn day_id={day.record_id} count={count} />}
      {isByHand && !scanning && (
        <TakersCount
          key={aim.to}
          {...{ day, items, containers, aim, me }}
          counted={good.map(({ tag }) => tag)}
          recorded={(outcome) => {
            setRecorded(outcome);
            setByHand(false);
            begin();
          }}
        />
      )}
      {keepsPack("custody") && (
        <p class="lines on-screen">
          <a href="#/places">What is where, place by place</a>
        </p>
      )}
    </Frame>
  );
}

type NextOf = {
  aim: Aim;
  containers: ContainerRecord[];
  good: readonly Scanned[];
  change: (patch: Partial<Aim>) => void;
  scan: () => void;
};

/** Scan; of a container that was opened just now, on to what goes into it. */
function Next({ aim, containers, good, change, scan }: NextOf) {
  const opened = aim.work === "open" && containers.find(({ number }) => number === good[0]?.tag);
  if (!opened)
    return (
      <TieOn press={scan}>{aim.work === "inside" && !aim.container ? "Scan the container" : "Scan"}</TieOn>
    );
  return (
    <>
      <button type="button" onClick={scan}>
        Another {aim.kind_of}
      </button>
      <TieOn press={() => change({ work: "inside", container: opened.record_id })} left="scan what goes in">
        {`Into ${thingName(opened)}`}
      </TieOn>
    </>
  );
}
