/** Pairing: this device and the office get to know each other, once, while there is a network. */
import { useState } from "preact/hooks";
import { newId } from "../../job/ids.js";
import { rememberDevice } from "../../local/device.js";
import { ask, post } from "../../sync/office.js";
import { syncNow } from "../../sync/sync.js";
import { Frame } from "../../parts/frame.js";
import { html } from "../../parts/html.js";
import { attempt } from "../../parts/notices.js";
import { Scanner } from "../../parts/scanner.js";
import { useDevice } from "../../parts/use.js";

/** Whether the app runs as installed, not as a tab. */
function installed() {
  return matchMedia("(display-mode: standalone)").matches || Boolean(/** @type {any} */ (navigator).standalone);
}

/** A phone or tablet, by its pointer and its size. */
function handheld() {
  return matchMedia("(pointer: coarse)").matches && Math.min(screen.width, screen.height) < 900;
}

/** @param {{code?: string}} given */
export default function Pair({ code = "" }) {
  const [askedFirst, setAskedFirst] = useState(!handheld() || installed());
  return askedFirst ? html`<${Code} code=${code} />` : html`<${InstallFirst} goOn=${() => setAskedFirst(true)} />`;
}

/** @param {{goOn: () => void}} given */
function InstallFirst({ goOn }) {
  const apple = /iPhone|iPad/.test(navigator.userAgent);
  return html`<${Frame} title="Install the app first">
    <p class="lead">On a phone this app keeps what you record in its own storage. A tab in the browser may lose that storage, so install it now, while there is a network.</p>
    <ol class="steps">
      ${apple
        ? html`<li>Tap the share button of the browser.</li><li>Choose “Add to Home Screen”.</li>`
        : html`<li>Open the browser's menu.</li><li>Choose “Install app” or “Add to Home screen”.</li>`}
      <li>Open “Intake desk” from the home screen.</li>
      <li>Then pair it there with the code that the manager shows.</li>
    </ol>
    <p><button type="button" class="quiet" onClick=${goOn}>Go on in this tab all the same</button></p>
  <//>`;
}

/** @param {{code: string}} given */
function Code({ code }) {
  const device = useDevice();
  const [typed, setTyped] = useState(code);
  const [busy, setBusy] = useState(false);
  const [scanning, setScanning] = useState(false);
  const pair = async (/** @type {string} */ shown) => {
    setBusy(true);
    await attempt(async () => {
      const paired = await post("/pairing", { code: shown, device_id: device?.device_id ?? newId() });
      await rememberDevice({ ...paired, revoked: false });
      navigator.storage?.persist?.();
      await ask("/pairing/me");
      await syncNow();
      location.hash = paired.role === "desk" ? "#/queue" : paired.role === "manager" ? "#/day" : "#/today";
    });
    setBusy(false);
  };
  const scanned = (/** @type {string} */ text) => {
    const found = /#\/pair\/([0-9A-Za-z-]+)$/.exec(text);
    if (!found) throw new Error("This QR code is not a pairing code. Scan the one on the manager's screen.");
    setScanning(false);
    const shown = /** @type {string} */ (found[1]);
    setTyped(shown);
    pair(shown);
  };
  return html`<${Frame} title=${device ? "Pair this device again" : "Pair this device"}
    action=${html`<button type="submit" form="pairing" class="main" disabled=${busy || typed.replace(/\W/g, "").length < 8}>${busy ? "Pairing …" : "Pair"}</button>`}>
    <p class="lead">The manager makes a code on the Devices screen, or with <code>intake pair</code>. It works once, for ten minutes.</p>
    ${device && html`<p class="bar">This device is known as ${device.name}. What it still holds is kept and sent after pairing.</p>`}
    <form id="pairing" onSubmit=${(/** @type {Event} */ event) => { event.preventDefault(); pair(typed); }}>
      <div class="field">
        <label for="code">Code</label>
        <input id="code" class="code" value=${typed} onInput=${(/** @type {any} */ event) => setTyped(event.target.value)} autocomplete="one-time-code" autocapitalize="characters" spellcheck=${false} placeholder="XXXX-XXXX" />
      </div>
    </form>
    ${scanning
      ? html`<${Scanner} found=${scanned} close=${() => setScanning(false)} />`
      : html`<p><button type="button" onClick=${() => setScanning(true)}>Scan the code</button></p>`}
  <//>`;
}
