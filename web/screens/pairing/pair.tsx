/** Pairing: this device and the office get to know each other, once, while there is a network. */
import { useState } from "preact/hooks";
import { lettersOf } from "../../job/tickets.ts";
import { takeUpWork } from "../../local/day.ts";
import type { Paired, ThisDevice } from "../../local/device.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayNothing } from "../../parts/notices.tsx";
import { Scanner } from "../../parts/scanner.tsx";
import { isApple, isHandheld, isInstalled } from "../../parts/this_device.ts";
import { useDevice } from "../../parts/use.ts";
import { ask, post } from "../../sync/office.ts";
import { syncNow } from "../../sync/sync.ts";

const PAIR = "Pair this device";

export default function Pair({ code = "" }: { code?: string }) {
  const [askedFirst, setAskedFirst] = useState(!isHandheld() || isInstalled());
  const device = useDevice();
  if (device === undefined) return <Frame title={PAIR} />;
  // What was paired here has its records here: an app installed now may have a storage of its own, with nothing in it.
  if (askedFirst || device) return <Code code={code} />;
  return <InstallFirst goOn={() => setAskedFirst(true)} />;
}

function CheckIt() {
  return (
    <a class="button quiet" href="#/check">
      Check this device
    </a>
  );
}

function InstallFirst({ goOn }: { goOn: () => void }) {
  return (
    <Frame title="Install the app first">
      <p class="lead">
        On a phone this app keeps what you record in its own storage. A tab in the browser may lose that
        storage, so install it now, while there is a network.
      </p>
      <ol class="steps">
        {isApple() ? (
          <>
            <li>Tap the share button of the browser.</li>
            <li>Choose “Add to Home Screen”.</li>
          </>
        ) : (
          <>
            <li>Open the browser's menu.</li>
            <li>Choose “Install app” or “Add to Home screen”.</li>
          </>
        )}
        <li>Open “Intake desk” from the home screen.</li>
        <li>Then pair it there with the code that the manager shows.</li>
      </ol>
      <p class="inline">
        <button type="button" class="quiet" onClick={goOn}>
          Go on in this tab all the same
        </button>
        <CheckIt />
      </p>
    </Frame>
  );
}

function Code({ code }: { code: string }) {
  const device = useDevice();
  const [typed, setTyped] = useState(code);
  const [busy, setBusy] = useState(false);
  const [scanning, setScanning] = useState(false);
  const pair = async (shown: string) => {
    const here = location.hash;
    setBusy(true);
    await attempt(async () => {
      const known = device ? { device_id: device.device_id, letters: lettersOf(device) } : {};
      const paired = await post<Paired>("/pairing", { code: shown, ...known });
      await takeUpWork({ ...paired, revoked: false });
      sayNothing(); // what was wrong before it was paired is so no longer
      navigator.storage?.persist?.();
      await ask("/pairing/me");
      await syncNow();
      if (location.hash !== here) return; // its screens stand since it is paired: somebody went on while the rest came
      location.hash = paired.role === "desk" ? "#/queue" : paired.role === "manager" ? "#/day" : "#/today";
    });
    setBusy(false);
  };
  const scanned = (text: string) => {
    const found = /#\/pair\/([0-9A-Za-z-]+)$/.exec(text);
    if (!found) throw new Error("This QR code is not a pairing code. Scan the one on the manager's screen.");
    setScanning(false);
    const shown = found[1] as string;
    setTyped(shown);
    pair(shown);
  };
  return (
    <Frame
      title={device ? `${PAIR} again` : PAIR}
      action={
        <button
          type="submit"
          form="pairing"
          class="main"
          disabled={busy || typed.replace(/\W/g, "").length < 8}
        >
          {busy ? "Pairing …" : "Pair"}
        </button>
      }
    >
      {device && (
        <p class="bar">
          This device is known as {device.name}. Its number: <code>{device.device_id}</code>. What it still
          holds is kept and sent after pairing.
          {isHandheld() &&
            !isInstalled() &&
            " Pair it here, in this tab: the app on the home screen may have a storage of its own, in which none of " +
              "it is."}
        </p>
      )}
      <form
        id="pairing"
        onSubmit={(event: Event) => {
          event.preventDefault();
          pair(typed);
        }}
      >
        <div class="field">
          <label for="code">Code</label>
          <input
            id="code"
            class="code"
            value={typed}
            onInput={(event) => setTyped(event.currentTarget.value)}
            autocomplete="one-time-code"
            autocapitalize="characters"
            spellcheck={false}
            placeholder="XXXX-XXXX"
          />
        </div>
      </form>
      <p>{codeWords(device?.role)} It works once, for ten minutes.</p>
      {scanning ? (
        <Scanner found={scanned} close={() => setScanning(false)} />
      ) : (
        <p class="inline">
          <button type="button" onClick={() => setScanning(true)}>
            Scan the code
          </button>
          <CheckIt />
        </p>
      )}
    </Frame>
  );
}

/** Who makes the code: for the manager's own device nobody but the office's machine may be left to. */
function codeWords(role: ThisDevice["role"] | undefined) {
  const byHand = "on the office's own machine with intake pair --data and the office's folder";
  return role === "manager"
    ? `Another manager's device makes the code on its Devices screen; else make it ${byHand}.`
    : `The manager makes the code on the Devices screen, or ${byHand}.`;
}
