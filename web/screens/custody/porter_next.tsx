/** What a porter does next: scan, go on to what was opened, seal what was filled, count what is to leave or came. */

import { thingName } from "../../job/custody.ts";
import type { ContainerRecord } from "../../job/types.ts";
import { keepsPack } from "../../parts/packs.ts";
import { TieOn } from "../../parts/tie_on.tsx";
import type { Aim } from "./porter_aim.tsx";
import type { Scanned } from "./porter_scan.ts";

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
  containers: ContainerRecord[];
  good: readonly Scanned[];
  change: (patch: Partial<Aim>) => void;
  /** Whether what was scanned is still to be counted by hand. */
  isOwed: boolean;
  byHand: () => void;
  scan: () => void;
};

/** Scan; of a container that was opened just now, on to what goes into it; of what was scanned, to what comes next. */
export function Next({ aim, containers, good, change, isOwed, byHand, scan }: NextOf) {
  const opened = aim.work === "open" && containers.find(({ number }) => number === good[0]?.tag);
  const scanMore = (
    <button type="button" onClick={scan}>
      Scan
    </button>
  );
  const filled =
    aim.work === "inside" &&
    good.length > 0 &&
    containers.find(({ record_id }) => record_id === aim.container);
  if (filled && keepsPack("custody"))
    return (
      <>
        {scanMore}
        <TieOn href={`#/container/${filled.record_id}`} left="and its list">
          {`Seal ${thingName(filled)}`}
        </TieOn>
      </>
    );
  if (isOwed)
    return (
      <>
        {scanMore}
        <TieOn press={byHand}>Count by hand</TieOn>
      </>
    );
  if (aim.work === "move" && good.length)
    return (
      <>
        <button type="button" onClick={byHand}>
          Count by hand
        </button>
        <TieOn press={scan}>Scan</TieOn>
      </>
    );
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
