/** Start here: which screen an address means, and what runs while the app is open. */
import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import { closeDatabase } from "./local/database.js";
import { html } from "./parts/html.js";
import { keepShell } from "./parts/update.js";
import { sayWrong } from "./parts/notices.js";
import { useDevice } from "./parts/use.js";
import { startSync } from "./sync/sync.js";

/** @typedef {import("./local/device.js").ThisDevice} ThisDevice */

/** Each screen's module, fetched when it is first shown, so that the first one stands the sooner. @type {Record<string, () => Promise<{default: any}>>} */
const SCREENS = {
  closing: () => import("./screens/custody/closing.js"),
  container: () => import("./screens/custody/container.js"),
  day: () => import("./screens/office/day.js"),
  devices: () => import("./screens/office/devices.js"),
  item: () => import("./screens/examination/item.js"),
  "item/marks": () => import("./screens/examination/marks.js"),
  "item/measures": () => import("./screens/examination/measures.js"),
  "item/photos": () => import("./screens/examination/photos.js"),
  "item/stop": () => import("./screens/examination/stop.js"),
  "item/tag": () => import("./screens/tagging/tag.js"),
  "item/words": () => import("./screens/examination/words.js"),
  "item/works": () => import("./screens/examination/works.js"),
  "item/zone": () => import("./screens/examination/zone.js"),
  "item/zones": () => import("./screens/examination/zones.js"),
  outbox: () => import("./screens/sync/outbox.js"),
  pair: () => import("./screens/pairing/pair.js"),
  porter: () => import("./screens/custody/porter.js"),
  queue: () => import("./screens/cataloguing/queue.js"),
  rolls: () => import("./screens/tagging/rolls.js"),
  tag: () => import("./screens/tagging/find.js"),
  today: () => import("./screens/arrival/today.js"),
  visit: () => import("./screens/arrival/visit.js"),
  "visit/receipt": () => import("./screens/custody/receipt.js"),
};

const REST_MS = 500;

/** Fetched modules by their screen. @type {Map<string, any>} */
const fetched = new Map();

/** @param {string} screen */
async function fetchScreen(screen) {
  if (!fetched.has(screen)) fetched.set(screen, (await /** @type {() => Promise<{default: any}>} */ (SCREENS[screen])()).default);
}

/** The screen for an address such as `#/item/<id>/zone/<key>`, and what it is about. @param {string} hash @param {ThisDevice|null} device @returns {[string, object]} */
function screenFor(hash, device) {
  const [place = "", id = "", part = "", key = ""] = hash.replace(/^#\//, "").split("/").map(decodeURIComponent);
  if (!device || place === "pair") return ["pair", { code: place === "pair" ? id : "" }];
  const about = { item_id: id, visit_id: id, container_id: id, tag: id, zone_key: key, role: device.role };
  if (place === "entry") return ["queue", about];
  if (place === "queue") return ["queue", {}];
  const screen = [`${place}/${part}`, place].find((one) => one in SCREENS);
  return [screen ?? (device.role === "desk" ? "queue" : "today"), screen ? about : {}];
}

/** @param {{screen: string, about: object}} given */
function Screen({ screen, about }) {
  const [, setThere] = useState("");
  useEffect(() => {
    fetchScreen(screen).then(() => {
      setThere(screen);
      if (fetched.size === 1) setTimeout(fetchTheRest, REST_MS);
    }, sayWrong);
  }, [screen]);
  const Drawn = fetched.get(screen);
  return Drawn ? html`<${Drawn} ...${about} />` : html`<p class="opening">Opening …</p>`;
}

/** What the next tap may need is read before it is tapped, once the first screen stands. */
async function fetchTheRest() {
  for (const screen of Object.keys(SCREENS)) await fetchScreen(screen).catch(() => {}); // told when it is opened
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
  const [screen, about] = screenFor(hash, device);
  const key = screen === "queue" ? screen : screen + JSON.stringify(about); // the list stays as it is while its entries are opened
  return html`<${Screen} key=${key} screen=${screen} about=${about} />`;
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
