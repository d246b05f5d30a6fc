/** What a porter does next: scan, go on to what was opened, seal what was filled, count what is to leave or came. */

import { thingName } from "../../job/custody.ts";
import { isSealedAsPacked } from "../../job/packed.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { keepsPack } from "../../parts/packs.ts";
import { TieOn } from "../../parts/tie_on.tsx";
import type { Aim } from "./porter_aim.tsx";
import type { Scanned } from "./porter_scan.ts";

const SCAN = "Scan";
const BY_HAND = "Count by hand";

const containerOf = ({ container }: Aim, containers: ContainerRecord[]) =>
  containers.find(({ record_id }) => record_id === container);

/** Before the van leaves nothing keeps anybody from sealing what stands in it. */
export function Unsealed({ containers }: { containers: ContainerRecord[] }) {
  if (!containers.length || !keepsPack("custody")) return null;
  return (
    <div class="bar">
      {containers.map((container) => (
        <p key={container.record_id}>
          No seal is on record of {thingName(container)}:{" "}
          <a href={`#/container/${container.record_id}`}>seal it before it leaves</a>.
        </p>
      ))}
    </div>
  );
}

type NextOf = {
  aim: Aim;
  items: ItemRecord[];
  containers: ContainerRecord[];
  good: readonly Scanned[];
  change: (patch: Partial<Aim>) => void;
  /** Whether what was scanned is still to be counted by hand. */
  isOwed: boolean;
  byHand: () => void;
  scan: () => void;
};

/** Scan; of a container that was opened just now, on to what goes into it, and of one that is
 * sealed, on to where it goes; of what was scanned, to what comes next. */
export function Next({ aim, items, containers, good, change, isOwed, byHand, scan }: NextOf) {
  const opened = aim.work === "open" && containers.find(({ number }) => number === good[0]?.tag);
  const filled = aim.work === "inside" && good.length > 0 && containerOf(aim, containers);
  const byHandKey = aim.work === "move" && good.length > 0;
  if (filled && isSealedAsPacked(filled, items))
    return (
      <>
        <button type="button" onClick={scan}>
          {SCAN}
        </button>
        <TieOn press={() => change({ work: "move", container: "" })} left="say where it goes, and scan it">
          {`Move ${thingName(filled)}`}
        </TieOn>
      </>
    );
  const toSeal = keepsPack("custody") && filled;
  if (toSeal || isOwed)
    return (
      <>
        <button type="button" onClick={scan}>
          {SCAN}
        </button>
        {toSeal ? (
          <TieOn href={`#/container/${toSeal.record_id}`} left="and print its list">
            {`Seal ${thingName(toSeal)}`}
          </TieOn>
        ) : (
          <TieOn press={byHand}>{BY_HAND}</TieOn>
        )}
      </>
    );
  if (!opened)
    return (
      <>
        {byHandKey && (
          <button type="button" onClick={byHand}>
            {BY_HAND}
          </button>
        )}
        <TieOn press={scan}>{aim.work === "inside" && !aim.container ? "Scan the container" : SCAN}</TieOn>
      </>
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
