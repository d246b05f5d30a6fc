/** A load by its name: of this device's day, or as the office tells it. */

import { peopleHere } from "../../job/day_facts.ts";
import { mayMake } from "../../job/kinds_read.ts";
import { isOnTheWay, loadsThatLeft, notCome } from "../../job/loads.ts";
import type { Role } from "../../local/device.ts";
import { loadHere } from "../../local/loads_of_day.ts";
import { Frame } from "../../parts/frame.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useDay, useDevice, useRecords } from "../../parts/use.ts";
import { useTold } from "./as_told.ts";
import { LoadNotHere } from "./load_not_here.tsx";
import { LoadShown } from "./load_shown.tsx";
import { countAsCome } from "./porter_count.ts";

/** A desk keeps no copy of what is carried, a manager's device that of one day: they ask the office for the others. */
export default function Load({ load_id, role }: { load_id: string; role: Role }) {
  const works_on = useDay();
  const device = useDevice();
  const items = useRecords("item");
  const containers = useRecords("container");
  const { load, day } = (items && containers && loadHere(load_id)) || {};
  if (role === "desk" || (role === "manager" && items && !load))
    return <LoadAsTold load_id={load_id} back={role === "desk" ? "#/queue" : "#/places"} />;
  if (!day || !load || !items || !containers)
    return works_on !== undefined && items && containers ? (
      <LoadNotHere load_id={load_id} />
    ) : (
      <p>Reading …</p>
    );
  const at = works_on ?? day;
  const me = peopleHere(at).find(({ person_id }) => person_id === device?.person_id)?.name ?? "";
  const come = async () => {
    await countAsCome(at.record_id, load, me);
    location.hash = "#/porter";
  };
  const mayCome = mayMake(role, "count_load") && (isOnTheWay(load) || notCome(load).some(({ now }) => !now));
  const itHasCome = mayCome && (
    <TieOn press={come} left="count it at the store">
      {isOnTheWay(load) ? "It has come" : "The rest has come"}
    </TieOn>
  );
  return <LoadShown {...{ load, day, items, containers }} back="#/porter" action={itHasCome} />;
}

function LoadAsTold({ load_id, back }: { load_id: string; back: string }) {
  const told = useTold(`/loads/${load_id}`);
  const [day] = typeof told === "object" ? told.days : [];
  const load =
    typeof told === "object" && day
      ? loadsThatLeft({ day, ...told }).find(({ id }) => id === load_id)
      : undefined;
  if (typeof told === "string" || !day || !load)
    return (
      <Frame title="Load" back={back}>
        <p class="none">{typeof told === "string" ? told : "The office does not know this load."}</p>
      </Frame>
    );
  return <LoadShown {...{ load, day, back }} items={told.items} containers={told.containers} />;
}
