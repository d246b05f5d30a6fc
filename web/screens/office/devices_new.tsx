/** A code for a new device, or for one that is paired again. */

import { Choice } from "../../parts/choices.tsx";
import { clockWords } from "../../parts/moments.ts";
import { SvgPicture } from "../../parts/svg_picture.tsx";

export const ROLES: [string, string][] = [
  ["table", "Table"],
  ["door", "Door"],
  ["porter", "Porter"],
  ["desk", "Cataloguing desk"],
  ["manager", "Manager"],
];

/**
 * A code that pairs one device, once; `warning` says what keeps a phone from its address, empty if nothing is known.
 */
export type NewCode = { code: string; expires_at: string; address: string; qr_svg: string; warning: string };

const A_NEW_DEVICE = "A new device";

type NewDeviceOf = {
  role: string;
  setRole: (role: string) => void;
  name: string;
  setName: (name: string) => void;
  make: () => void;
};

export function NewDevice({ role, setRole, name, setName, make }: NewDeviceOf) {
  return (
    <section>
      <h2>{A_NEW_DEVICE}</h2>
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
        {name.trim() ? "Make a pairing code" : "Say its name first"}
      </button>
    </section>
  );
}

type PairingCodeOf = {
  code: NewCode;
  /** What the device will be called, and as which one of before it comes back, if it does. */
  name: string;
  again: string;
  usedBy: string | undefined;
  done: () => void;
};

export function PairingCode({ code, name, again, usedBy, done }: PairingCodeOf) {
  if (usedBy !== undefined)
    return (
      <section class="pairing-code">
        <h2>This code is used</h2>
        <p class="lead" role="status">
          Used by <strong>{usedBy}</strong>. Nobody can use it again.
        </p>
        <button type="button" class="main" onClick={done}>
          {A_NEW_DEVICE}
        </button>
      </section>
    );
  return (
    <section class="pairing-code">
      <h2>{again ? `Only ${again} can use this code` : "Scan this on the new device, or type the code"}</h2>
      {!again && (
        <p class="lead">
          For <strong>{name}</strong>
        </p>
      )}
      <SvgPicture svg={code.qr_svg} words={`QR code with the address ${code.address}`} />
      <p class="big-tag">{code.code}</p>
      <p>
        It works once, until {clockWords(code.expires_at)}. Address:{" "}
        <span class="address">{code.address}</span>
      </p>
      {code.warning && <p class="bar">{code.warning}</p>}
      <button type="button" class="main" onClick={done}>
        {A_NEW_DEVICE}
      </button>
    </section>
  );
}
