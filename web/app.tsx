/** Start here: what is drawn, and what runs while the app is open. */

import "@preact/signals"; // components that read a signal are drawn again with it
import { render } from "preact";
import { useEffect, useLayoutEffect, useState } from "preact/hooks";
import {
  type About,
  comesWithTheApp,
  fetchScreen,
  type ScreenName,
  screenFor,
  screenHere,
  screensKept,
  wholeOf,
} from "./addresses.ts";
import { readAgainWhenShown } from "./local/changes.ts";
import { closeDatabase } from "./local/database.ts";
import { leaving } from "./local/day.ts";
import { isDayOver, lookAtClock } from "./local/day_over.ts";
import type { Role } from "./local/device.ts";
import { emptyJournal } from "./local/held.ts";
import { erasedHere, record, device as thisDevice, whyNotLoaded } from "./local/memory.ts";
import { Boundary } from "./parts/boundary.tsx";
import { Frame } from "./parts/frame.tsx";
import { findGapsAhead } from "./parts/gaps.ts";
import { whenIdle } from "./parts/idle.ts";
import { sayDone, sayWrong } from "./parts/notices.tsx";
import { screenPacksOf } from "./parts/packs.ts";
import { keepShell } from "./parts/update.tsx";
import { useDevice, useSelected } from "./parts/use.ts";
import { keepTagsWhole } from "./parts/whole.ts";
import Pair from "./screens/pairing/pair.tsx";
import { startSync } from "./sync/sync.ts";

const REST_MS = 500;
/** How long a screen may be on its way before that is said: a line that died in the middle ends nothing by itself. */
const LATE_MS = 8000;

function Screen({ name, about }: { name: ScreenName; about: About }) {
  const [, setHere] = useState("");
  const [missing, setMissing] = useState("");
  useLayoutEffect(() => {
    // A screen that is here was drawn just now: setting anything would draw all of it once more.
    if (screenHere(name)) return fetchTheRest();
    const late = setTimeout(() => setMissing(name), LATE_MS);
    fetchScreen(name)
      .then(() => setHere(name))
      .then(fetchTheRest, () => setMissing(name));
    return () => clearTimeout(late);
  }, [name]);
  const Drawn = screenHere(name);
  if (Drawn) return <Drawn {...about} />;
  if (missing !== name) return <p class="opening">Opening …</p>;
  return <NotKept />;
}

/** The app opens somewhere else the next time. */
function NotKept() {
  useEffect(() => localStorage.removeItem("place"), []);
  return (
    <Frame title="Not on this device" place={location.hash}>
      <p class="lead">
        This screen is not kept on this device, and the office is not reached. Come into its network and open
        it again.
      </p>
      <p class="inline">
        <button type="button" onClick={() => location.reload()}>
          Open it again
        </button>
        <a class="button" href="#/today">
          Today
        </a>
      </p>
    </Frame>
  );
}

/**
 * The screen that will be shown is fetched while the database is read; where no address is remembered, that is pairing.
 */
function fetchAhead() {
  const { name } = screenFor(location.hash, location.hash ? "table" : null);
  fetchScreen(name).catch(() => {}); // told when it is to be shown
}

/** In the place of every screen that could show an owner's words. What waits here is sent all the same. */
function DayOver() {
  return (
    <Frame title="The day here is over">
      <p class="lead">
        By this device’s clock its day is over. What it holds of owners is shown once the office has answered.
        What is to be sent is kept, and goes by itself.
      </p>
      <p>Come into the office’s network. If the clock is wrong, set it right.</p>
    </Frame>
  );
}

/** Whose screens were fetched ahead; null before any were, and after one did not come. */
let fetchedFor: Role | "nobody" | null = null;

/**
 * What the next tap may need is read before it is tapped, one screen each time that nothing else is to do. A device
 * that has just been paired has more of them, and what did not come is asked for once more when the next screen stands.
 */
function fetchTheRest() {
  const role = thisDevice.peek()?.role;
  if (fetchedFor === (role ?? "nobody")) return;
  fetchedFor = role ?? "nobody";
  const left = screensKept(screenPacksOf(role));
  const next = () => {
    let name = left.shift();
    while (name && screenHere(name)) name = left.shift(); // it came with its piece
    if (!name) findGapsAhead();
    if (name)
      fetchScreen(name)
        .catch(() => {
          fetchedFor = null; // it is told when it is opened
        })
        .then(() => whenIdle(next));
  };
  setTimeout(next, REST_MS);
}

function useHash() {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const go = () => {
      setHash(location.hash);
      scrollTo(0, 0);
    };
    addEventListener("hashchange", go);
    setHash(location.hash); // it may have changed since the first drawing
    return () => removeEventListener("hashchange", go);
  }, []);
  return hash;
}

function App() {
  const device = useDevice();
  const hash = useHash();
  const { name, about, isKnown } = screenFor(hash, device?.role ?? null);
  useEffect(() => {
    if (erasedHere.value)
      sayDone("An owner's words were erased, as they asked. What was begun with them is blank.");
  }, [erasedHere.value]);
  useEffect(() => {
    if (isKnown) localStorage.setItem("place", hash);
  }, [hash, isKnown]);
  const isHere = useSelected(() => record(about.item_id) !== null, [about.item_id]);
  if (device === undefined) return <p class="opening">{whyNotLoaded.value || "Opening …"}</p>;
  if (isDayOver.value && name !== "pair") return <DayOver />;
  const named = isHere ? name : wholeOf(name);
  const shown = named + JSON.stringify(about);
  const key = named === "queue" ? named : shown; // the list stays while its entries are opened
  // Fields and pads hold what they were given, also under somebody's fingers, and a screen what the office told it: it
  // is made anew for erased words to leave it, and once this device is signed off, given other work or another's.
  const whose = named === "pair" ? "" : `${device?.device_id} ${device?.role} ${device?.revoked}`;
  return (
    <Boundary key={`${key} ${erasedHere.value} ${whose}`} shown={shown}>
      <Screen name={named} about={about} />
    </Boundary>
  );
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
  else lookAtClock();
});
setInterval(lookAtClock, 60_000);

comesWithTheApp("pair", Pair);
keepTagsWhole();
goToPlace();
emptyJournal().catch(sayWrong);
fetchAhead();
readAgainWhenShown();
render(<App />, document.getElementById("app") as HTMLElement);
// Nothing waits for a line that died: then what would be noted is not.
const late = () => new Promise((on) => setTimeout(on, LATE_MS));
leaving.fetched = () => Promise.race([fetchScreen("visit/receipt"), late()]);
whenIdle(() => {
  startSync();
  // Without it the app works while there is a network; the screen for pairing asks for https.
  keepShell().catch(() => {});
});
