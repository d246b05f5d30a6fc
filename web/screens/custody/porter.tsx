/** The porter: scan one thing after the other, to a place or into a container, with a large count and no network. */

import { useState } from "preact/hooks";
import { thingWith } from "../../job/custody.ts";
import { peopleHere } from "../../job/day_facts.ts";
import { goesOnWith, type LoadToCount, loadToCountAgain, scannedOf } from "../../job/load_again.ts";
import { giversOf } from "../../job/loads_counted.ts";
import { othersHere } from "../../job/others_here.ts";
import { tagInQr } from "../../job/tag.ts";
import type { ContainerRecord, DayRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import type { ThisDevice } from "../../local/device.ts";
import { recordOf } from "../../local/memory.ts";
import { isOwedOf } from "../../local/owed_count.ts";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { DayClosed } from "../../parts/closed_since.tsx";
import { Frame } from "../../parts/frame.tsx";
import { KeysOfPart } from "../../parts/in_dock.tsx";
import { keepsPack } from "../../parts/packs.ts";
import { Scanner } from "../../parts/scanner.tsx";
import { useDay, useDevice, useRecords } from "../../parts/use.ts";
import { arrivals } from "./arrivals.ts";
import { OnItsWay } from "./on_its_way.tsx";
import { type Aim, AimFields, isArrival, whatIsMissing, whyNoLoads, withGiver } from "./porter_aim.tsx";
import { useCount } from "./porter_count.ts";
import { InHand } from "./porter_in_hand.tsx";
import { KeyedIn } from "./porter_keyed.tsx";
import { TakersCount, unsealedOf } from "./porter_load.tsx";
import { Next, Unsealed } from "./porter_next.tsx";
import { Recorded, stillDiffers, useOutcome } from "./porter_recorded.tsx";
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

type Known = { device: ThisDevice; day: DayRecord; items: ItemRecord[]; containers: ContainerRecord[] };

function Counting({ device, day, items, containers }: Known) {
  const people = peopleHere(day);
  const me = people.find(({ person_id }) => person_id === device.person_id)?.name ?? "";
  const counting = useCount({ day_id: day.record_id, items, containers, me });
  const { scanned, begin } = counting;
  const days = useRecords("day") ?? [];
  const others = days.reduce((named, one) => giversOf(one, named), othersHere(day, device.person_id));
  const loads = arrivals.value;
  const said = withGiver(counting.aim, others, me);
  const good = scanned.filter(({ done }) => done);
  const ofCount = counting.day_id; // what is still on its way of an earlier day is taken in on this one
  const aim = isArrival(said)
    ? { ...said, of_load: said.of_load || loads?.likely(ofCount || day.record_id, tagsIn(scanned)) || "" }
    : said;
  const [scanning, setScanning] = useState(false);
  const { recorded, setRecorded } = useOutcome();
  const of = { day_id: ofCount, of_load: aim.of_load };
  const countedOn = loads?.dayOf(aim.of_load) || ofCount || day.record_id;
  const dayOfCount = (ofCount && recordOf("day", ofCount)) || day;
  const missing = whatIsMissing(aim, me);
  const isOfVan = aim.work === "move" && aim.to === "van";
  const toCount = isOfVan ? loadToCountAgain(dayOfCount, device.device_id) : null;
  const came = recorded ?? (toCount && !scanned.length && !scanning ? stillDiffers(toCount.words) : null);
  const isOwed = isOwedOf(aim, good);
  const [byHand, setByHand] = useState(false);
  const isByHand = byHand && good.length > 0 && aim.work === "move" && !missing;
  const count = (tag: string) => {
    const of_day = ofCount || thingWith(tag, items, containers)?.day_id || day.record_id;
    const isOfIt = good.length > 0 || !loads || [of_day, ""].includes(loads.dayOf(said.of_load));
    const of_load = isArrival(said)
      ? (isOfIt && said.of_load) || loads?.likely(of_day, [...tagsIn(good), tag])
      : "";
    if (of_load || !isOfIt) counting.setAim({ of_load }); // once it has come it is no more the one on its way
    return counting.count(tag);
  };
  const ofDay = containers.filter(({ day_id }) => day_id === day.record_id);
  const countAgain = (of: LoadToCount) => {
    counting.setAim({ at: of.load.at, given: of.load.given_by, alone: "", again: of.load_id });
    counting.resume(scannedOf(of, items, containers));
    setRecorded(null);
  };
  const last = { scanned, items, containers, out: missing ? null : counting.out, itIs: counting.count };
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
          <>
            <button type="button" onClick={() => setByHand(false)}>
              Back to scanning
            </button>
            <KeysOfPart />
          </>
        ) : (
          <Next
            {...{ aim, items, containers, good, change, isOwed }}
            byHand={() => setByHand(true)}
            scan={() => setScanning(true)}
          />
        ))
      }
    >
      {fieldValue(day, "closed") && <DayClosed />}
      {came && <Recorded {...came} again={toCount && (() => countAgain(toCount))} />}
      {!isByHand && !scanning && loads && <loads.OfBefore />}
      {scanning || scanned.length ? (
        <InHand
          {...{ aim, containers, others, me, of, missing, isOwed, isByHand, scanning, another }}
          setAim={counting.setAim}
        />
      ) : (
        <AimFields {...{ aim, change, others, me, of }} containers={ofDay} setAim={counting.setAim} />
      )}
      {scanning && <Scanner found={(text) => count(tagInQr(text))} close={() => setScanning(false)} />}
      {missing ? (
        <p class="bar">{missing}.</p>
      ) : isByHand || (came && !scanned.length) ? null : (
        <p class="counted" role="status">
          <span class={good.length || scanning ? "huge" : "figure"}>{good.length}</span> <span>counted</span>
        </p>
      )}
      {isOfVan && !isByHand && <Unsealed containers={unsealedOf(tagsIn(good), containers)} />}
      {isOnItsWay(aim) && (
        <OnItsWay {...{ day_id: day.record_id, items, containers }} numbers={tagsIn(good)} />
      )}
      {!isByHand && <LastScanned {...last} />}
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
          {...{ items, containers, aim, me }}
          day_id={countedOn}
          counted={tagsIn(good)}
          {...goesOnWith(toCount, aim.again, tagsIn(good))}
          recorded={(outcome) => {
            setRecorded(outcome, countedOn);
            setByHand(false);
            begin();
            scrollTo(0, 0); // what came of it stands first
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

/** Into something that is carried away, or away with the van. */
const isOnItsWay = ({ work, to }: Aim) => work === "inside" || (work === "move" && to === "van");

const tagsIn = (scanned: readonly Scanned[]) => scanned.flatMap(({ tag, done }) => (done ? [tag] : []));
