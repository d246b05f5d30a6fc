/** Start here: which screen an address means, and what runs while the app is open. */
import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import { closeDatabase } from "./local/database.js";
import { html } from "./parts/html.js";
import { keepShell } from "./parts/update.js";
import { sayWrong } from "./parts/notices.js";
import { useDevice } from "./parts/use.js";
import Today from "./screens/arrival/today.js";
import Visit from "./screens/arrival/visit.js";
import Queue from "./screens/cataloguing/queue.js";
import Closing from "./screens/custody/closing.js";
import Container from "./screens/custody/container.js";
import Porter from "./screens/custody/porter.js";
import ReceiptScreen from "./screens/custody/receipt.js";
import Item from "./screens/examination/item.js";
import Marks from "./screens/examination/marks.js";
import Measures from "./screens/examination/measures.js";
import Photos from "./screens/examination/photos.js";
import Stop from "./screens/examination/stop.js";
import Words from "./screens/examination/words.js";
import Works from "./screens/examination/works.js";
import Zone from "./screens/examination/zone.js";
import Zones from "./screens/examination/zones.js";
import Day from "./screens/office/day.js";
import Devices from "./screens/office/devices.js";
import Pair from "./screens/pairing/pair.js";
import Outbox from "./screens/sync/outbox.js";
import FindByTag from "./screens/tagging/find.js";
import Rolls from "./screens/tagging/rolls.js";
import Tag from "./screens/tagging/tag.js";
import { startSync } from "./sync/sync.js";

/** @typedef {import("./local/device.js").ThisDevice} ThisDevice */

/** The screen for an address such as `#/item/<id>/zone/<key>`. @param {string} hash @param {ThisDevice|null} device */
function screenFor(hash, device) {
  const [place, id = "", part, key = ""] = hash.replace(/^#\//, "").split("/").map(decodeURIComponent);
  if (!device || place === "pair") return html`<${Pair} key=${id} code=${place === "pair" ? id : ""} />`;
  switch (place) {
    case "visit": return part === "receipt" ? html`<${ReceiptScreen} key=${id} visit_id=${id} />` : html`<${Visit} key=${id} visit_id=${id} />`;
    case "item":
      switch (part) {
        case "zones": return html`<${Zones} key=${id} item_id=${id} />`;
        case "zone": return html`<${Zone} key=${id + key} item_id=${id} zone_key=${key} />`;
        case "photos": return html`<${Photos} key=${id} item_id=${id} />`;
        case "tag": return html`<${Tag} key=${id} item_id=${id} />`;
        case "marks": return html`<${Marks} key=${id} item_id=${id} />`;
        case "works": return html`<${Works} key=${id} item_id=${id} />`;
        case "measures": return html`<${Measures} key=${id} item_id=${id} />`;
        case "words": return html`<${Words} key=${id} item_id=${id} />`;
        case "stop": return html`<${Stop} key=${id} item_id=${id} />`;
        default: return html`<${Item} key=${id} item_id=${id} />`;
      }
    case "tag": return html`<${FindByTag} key=${id} tag=${id} role=${device.role} />`;
    case "outbox": return html`<${Outbox} />`;
    case "queue": return html`<${Queue} />`;
    case "entry": return html`<${Queue} item_id=${id} />`;
    case "rolls": return html`<${Rolls} />`;
    case "porter": return html`<${Porter} />`;
    case "container": return html`<${Container} key=${id} container_id=${id} />`;
    case "closing": return html`<${Closing} />`;
    case "day": return html`<${Day} />`;
    case "devices": return html`<${Devices} />`;
    case "today": return html`<${Today} />`;
    default: return device.role === "desk" ? html`<${Queue} />` : html`<${Today} />`;
  }
}

function App() {
  const device = useDevice();
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const go = () => {
      setHash(location.hash);
      scrollTo(0, 0);
      localStorage.setItem("place", location.hash);
    };
    addEventListener("hashchange", go);
    setHash(location.hash); // it may have changed since the first drawing
    return () => removeEventListener("hashchange", go);
  }, []);
  if (device === undefined) return html`<p class="opening">Opening …</p>`;
  return screenFor(hash, device);
}

/** A phone may close the app while its camera is open: it opens again where it was. A scanned tag goes to its item. */
function goToPlace() {
  const tag = /^\/t\/([0-9A-Za-z-]+)$/i.exec(location.pathname)?.[1];
  if (tag) history.replaceState(null, "", `/#/tag/${tag}`);
  else if (!location.hash) history.replaceState(null, "", `/${localStorage.getItem("place") ?? ""}`);
}

addEventListener("unhandledrejection", (event) => sayWrong(event.reason));
// A phone may stop the storage of a hidden page, and a request under way would never end: let go of it first.
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "hidden") closeDatabase();
});

goToPlace();
render(html`<${App} />`, /** @type {HTMLElement} */ (document.getElementById("app")));
startSync();
keepShell().catch(() => {}); // without it the app works while there is a network; the screen for pairing asks for https
