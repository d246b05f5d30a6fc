/** Which devices take part: a code for a new one, and taking one off. Needs the office. */
import { useEffect, useState } from "preact/hooks";
import { failingOf, type Hall, type KeptCheck } from "../../job/preflight_office.ts";
import { Choice } from "../../parts/choices.tsx";
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { Frame } from "../../parts/frame.tsx";
import { HallCard } from "../../parts/hall_card.tsx";
import { Mark } from "../../parts/mark.tsx";
import { clockWords, momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { SvgPicture } from "../../parts/svg_picture.tsx";
import { get, post } from "../../sync/office.ts";
import { whyNoOffice } from "../../sync/out_of_reach.ts";
import { Readings } from "./readings.tsx";
import { type Hearing, StillToCome } from "./still_to_come.tsx";

const ROLES: [string, string][] = [
  ["table", "Table"],
  ["door", "Door"],
  ["porter", "Porter"],
  ["desk", "Cataloguing desk"],
  ["manager", "Manager"],
];
/**
 * A code that pairs one device, once; `warning` says what keeps a phone from its address, empty if nothing is known.
 */
type NewCode = { code: string; expires_at: string; address: string; qr_svg: string; warning: string };
export type Device = {
  device_id: string;
  name: string;
  role: string;
  paired_at: string;
  last_seen_at: string | null;
  revoked_at: string | null;
  check: KeptCheck | null;
};

/** A device that asked to come back under an id that this office cannot know it by. */
type Returning = Pick<Device, "device_id" | "name" | "role"> & { asked_at: string };

/** A visit that is not at the office: its owner's words are erased as soon as it comes. */
type OwedErasure = { visit_id: string; made_at: string };

export default function Devices() {
  const [devices, setDevices] = useState<Device[] | null>(null);
  const [returning, setReturning] = useState<Returning[]>([]);
  const [role, setRole] = useState("table");
  const [name, setName] = useState("");
  const [code, setCode] = useState<NewCode | null>(null);
  const [codeFor, setCodeFor] = useState("");
  const [untidy, setUntidy] = useState(0);
  const [owed, setOwed] = useState<OwedErasure[]>([]);
  const [tablesFault, setTablesFault] = useState("");
  const [hearing, setHearing] = useState<Hearing | null>(null);
  const [hall, setHall] = useState<Hall | null>(null);
  const read = () =>
    attempt(async () => {
      const found = await get<{
        devices: Device[];
        hearing: Hearing | null;
        returning: Returning[];
        untidy: number;
        tables_fault: string;
        erasures_owed: OwedErasure[];
      }>("/devices");
      setDevices(found.devices);
      setReturning(found.returning);
      setHearing(found.hearing);
      setUntidy(found.untidy);
      setTablesFault(found.tables_fault);
      setOwed(found.erasures_owed);
      setHall((await get<{ hall: Hall | null }>("/hall")).hall);
    });
  useEffect(() => void read(), []);
  const make = () =>
    attempt(async () => {
      setCode(await post("/pairing/codes", { role, name: name.trim() }));
      setCodeFor("");
      setName("");
    });
  const pairAgain = ({ device_id, role, name }: Returning | Device) =>
    attempt(async () => {
      setCode(await post("/pairing/codes", { role, name, device_id }));
      setCodeFor(name);
    });
  const noMoreToCome = ({ since, loss }: Hearing) =>
    attempt(async () => {
      try {
        await post("/devices/heard", { since, loss });
      } finally {
        await read();
      }
    });
  const revoke = (device: Device) =>
    attempt(async () => {
      await post(`/devices/${device.device_id}/revoke`, {});
      await read();
    });
  return (
    <Frame title="Devices" place="#/devices">
      <CopiesBar />
      {code ? (
        <PairingCode
          code={code}
          again={codeFor}
          done={() => {
            setCode(null);
            read();
          }}
        />
      ) : (
        <section>
          <h2>A new device</h2>
          <Choice label="What is it for?" options={ROLES} value={role} choose={setRole} />
          <div class="field">
            <label for="device-name">Its name</label>
            <input
              id="device-name"
              value={name}
              onInput={(event) => setName(event.currentTarget.value)}
              placeholder="Table 2"
              autocomplete="off"
              maxLength={80}
            />
          </div>
          <button type="button" class="main" disabled={!name.trim()} onClick={make}>
            Make a pairing code
          </button>
        </section>
      )}
      {hearing && <StillToCome hearing={hearing} end={() => noMoreToCome(hearing)} />}
      {tablesFault && (
        <p class="bar wrong" role="status">
          Words came back from a phone, and the office could not put them in their place: {tablesFault} Start
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
      {owed.length > 0 && <ToErase visits={owed} />}
      {returning.length > 0 && <AskToComeBack devices={returning} makeCode={pairAgain} />}
      <HallCard hall={hall} />
      <section>
        <h2>
          Paired devices <span class="count">{devices?.length ?? ""}</span>
        </h2>
        {devices === null && <p class="none">The list needs the office; {whyNoOffice()}.</p>}
        <ul class="rows">
          {devices?.map((device) => (
            <li key={device.device_id} class="row">
              <span class="what">
                {device.name}{" "}
                <small>
                  {ROLES.find(([key]) => key === device.role)?.[1]},{" "}
                  {device.last_seen_at
                    ? `last seen ${momentWords(device.last_seen_at)}`
                    : "not heard of since it was paired"}
                </small>
                {!device.revoked_at && <Checked check={device.check} />}
              </span>
              {device.revoked_at && <span class="left">Taken off {clockWords(device.revoked_at)}</span>}
              <span class="actions">
                <button type="button" class="quiet" onClick={() => pairAgain(device)}>
                  Pair again
                </button>
                {!device.revoked_at && (
                  <button type="button" class="quiet" onClick={() => revoke(device)}>
                    Take off
                  </button>
                )}
              </span>
            </li>
          ))}
        </ul>
        <p class="hint">On each device “On this device”, then “Check this device” says what it is fit for.</p>
        <p class="hint">
          A device that was taken off can neither read nor write. What it still holds is not lost: “Pair
          again” makes a code for that device alone, and it sends.
        </p>
      </section>
      <Readings />
    </Frame>
  );
}

/** How the device found itself, and when. */
function Checked({ check }: { check: KeptCheck | null }) {
  if (!check) return <small>not checked yet</small>;
  const failing = failingOf(check);
  return (
    <small class={failing.length ? "check-words wrong" : "check-words"}>
      <Mark state={failing.length ? "not-good" : "good"} />{" "}
      {failing.length ? failing.join(", ") : "passed its check"}, {momentWords(check.checked_at)}
    </small>
  );
}

function ToErase({ visits }: { visits: OwedErasure[] }) {
  return (
    <section>
      <h2>
        To be erased as it comes <span class="count">{visits.length}</span>
      </h2>
      <p>
        An owner's words were to be erased, and the visit is not at the office. They are erased as soon as a
        device or a copy brings it.
      </p>
      <ul class="rows">
        {visits.map(({ visit_id, made_at }) => (
          <li key={visit_id} class="row">
            <span class="what">
              Visit {visit_id} <small>asked for {momentWords(made_at)}</small>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Devices that say that they were here before, which an office that was begun anew has to be told. */
function AskToComeBack(props: { devices: Returning[]; makeCode: (device: Returning) => void }) {
  return (
    <section>
      <h2>
        Ask to come back <span class="count">{props.devices.length}</span>
      </h2>
      <p class="hint">
        Each holds what it made under its number, and this office cannot see that it is the one. Look at the
        device in your hand: its pairing page shows its number.
      </p>
      <ul class="rows">
        {props.devices.map((device) => (
          <li key={device.device_id} class="row">
            <span class="what">
              {device.name}{" "}
              <small>
                number <code>{device.device_id}</code>, asked {momentWords(device.asked_at)}
              </small>
            </span>
            <span class="actions">
              <button type="button" class="quiet" onClick={() => props.makeCode(device)}>
                Make its code
              </button>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function PairingCode({ code, again, done }: { code: NewCode; again: string; done: () => void }) {
  return (
    <section class="pairing-code">
      <h2>{again ? `Only ${again} can use this code` : "Scan this on the new device, or type the code"}</h2>
      <SvgPicture svg={code.qr_svg} words={`QR code with the address ${code.address}`} />
      <p class="big-tag">{code.code}</p>
      <p>
        It works once, until {clockWords(code.expires_at)}. Address:{" "}
        <span class="address">{code.address}</span>
      </p>
      {code.warning && <p class="bar">{code.warning}</p>}
      <button type="button" class="main" onClick={done}>
        Done with this code
      </button>
    </section>
  );
}
