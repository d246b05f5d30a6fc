/** Which devices take part: a code for a new one, and taking one off. Needs the office. */

import { useEffect, useState } from "preact/hooks";
import type { Hall } from "../../job/preflight_office.ts";
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { Frame } from "../../parts/frame.tsx";
import { HallCard } from "../../parts/hall_card.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useDeviceChanges } from "../../parts/office_changes.ts";
import { get, post } from "../../sync/office.ts";
import { syncNow } from "../../sync/sync.ts";
import { type NewCode, NewDevice, PairingCode } from "./devices_new.tsx";
import { AskToComeBack, type OwedErasure, type Returning, ToErase } from "./devices_owed.tsx";
import { type Device, PairedDevices } from "./devices_paired.tsx";
import { Readings } from "./readings.tsx";
import { type Hearing, StillToCome } from "./still_to_come.tsx";

/** What the office says of its devices. */
type Known = {
  devices: Device[];
  hearing: Hearing | null;
  returning: Returning[];
  untidy: number;
  tables_fault: string;
  erasures_owed: OwedErasure[];
};

export default function Devices() {
  const [known, setKnown] = useState<Known | null>(null);
  const [hall, setHall] = useState<Hall | null>(null);
  const [role, setRole] = useState("table");
  const [name, setName] = useState("");
  const [code, setCode] = useState<NewCode | null>(null);
  const [codeFor, setCodeFor] = useState("");
  const [madeFor, setMadeFor] = useState<{ name: string; before: Device[] }>({ name: "", before: [] });
  const isNew = (device: Device) => !madeFor.before.some((one) => isSamePairing(one, device));
  const usedBy = known?.devices.find((device) => device.name === madeFor.name && isNew(device))?.name;
  const read = () =>
    attempt(async () => {
      setKnown(await get<Known>("/devices"));
      setHall((await get<{ hall: Hall | null }>("/hall")).hall);
    });
  useEffect(() => {
    read();
    syncNow(); // this device is in hand: it is not to stand among those that are still to come
  }, []);
  useDeviceChanges(read);
  const make = () =>
    attempt(async () => {
      setMadeFor({ name: name.trim(), before: (await get<Known>("/devices")).devices });
      setCode(await post("/pairing/codes", { role, name: name.trim() }));
      setCodeFor("");
      setName("");
    });
  const pairAgain = ({ device_id, role, name }: Returning | Device) =>
    attempt(async () => {
      setMadeFor({ name, before: (await get<Known>("/devices")).devices });
      setCode(await post("/pairing/codes", { role, name, device_id }));
      setCodeFor(name);
    });
  const done = () => {
    setCode(null);
    read();
  };
  return (
    <Frame title="Devices" place="#/devices">
      <CopiesBar />
      {code ? (
        <PairingCode code={code} name={madeFor.name} again={codeFor} usedBy={usedBy} done={done} />
      ) : (
        <NewDevice {...{ role, setRole, name, setName, make }} />
      )}
      {known && <OfOffice known={known} read={read} pairAgain={pairAgain} />}
      <HallCard hall={hall} />
      <PairedDevices devices={known?.devices ?? null} read={read} pairAgain={pairAgain} />
      <Readings />
    </Frame>
  );
}

/** Whether a device is one of before: paired again it is another, as the code that it used is. */
function isSamePairing(before: Device, device: Device) {
  return before.device_id === device.device_id && before.paired_at === device.paired_at;
}

type OfOfficeOf = {
  known: Known;
  read: () => Promise<unknown>;
  pairAgain: (device: Returning) => void;
};

/** What the office has still to do with words and devices before all is as it was told. */
function OfOffice({ known: { hearing, tables_fault, untidy, ...owed }, read, pairAgain }: OfOfficeOf) {
  const noMoreToCome = ({ since, loss }: Hearing) =>
    attempt(async () => {
      try {
        await post("/devices/heard", { since, loss });
      } finally {
        await read();
        syncNow(); // what is said above every screen follows the manager's word
      }
    });
  return (
    <>
      {hearing && <StillToCome hearing={hearing} end={() => noMoreToCome(hearing)} />}
      {tables_fault && (
        <p class="bar wrong" role="status">
          Words came back from a phone, and the office could not put them in their place: {tables_fault} Start
          the office again when nobody is sending; if this is here still, give these lines to whoever looks
          after the program. Phones keep what they have meanwhile.
        </p>
      )}
      {untidy > 0 && (
        <p class="bar" role="status">
          Words of an owner were erased. The office has still to write its file anew, so that no byte of them
          is left in it: it does so by itself when nobody is sending, and needs room on its disk for that.
        </p>
      )}
      {owed.erasures_owed.length > 0 && <ToErase visits={owed.erasures_owed} />}
      {owed.returning.length > 0 && <AskToComeBack devices={owed.returning} makeCode={pairAgain} />}
    </>
  );
}
