/** A new version of the app waits until nobody is half-way through something, and then until a person says so. */
import { computed, effect } from "@preact/signals-core";
import { useEffect, useState } from "preact/hooks";
import { device } from "../local/memory.ts";
import { status } from "../sync/status.ts";
import { askForPacks, hasItsPacks } from "./packs.ts";
import { workerAddress } from "./trusted.ts";

const LOOK_EVERY_MS = 15 * 60 * 1000;
const TAKE_OVER_MS = 5000;

let waiting: ServiceWorker | null = null;
const watchers: Set<() => void> = new Set();

/** Keep the app's files on this device, so that it opens with no network. */
export async function keepShell() {
  if (!("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.register(workerAddress("/sw.js"), {
    updateViaCache: "none",
  });
  const look = () => {
    waiting = registration.waiting && navigator.serviceWorker.controller ? registration.waiting : null;
    for (const watcher of watchers) watcher();
  };
  look();
  registration.addEventListener("updatefound", () =>
    registration.installing?.addEventListener("statechange", look),
  );
  const role = computed(() => device.value?.role);
  const heard = computed(() => status.value.lastContactAt);
  effect(() => {
    role.value; // paired as something else, it may need more
    const stop = effect(() => {
      heard.value; // the line may have dropped while they came: until all are here they are asked for again
      askForPacks(registration)
        .then(hasItsPacks)
        .then((isWhole) => isWhole && stop());
    });
    return stop;
  });
  let last = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - last < LOOK_EVERY_MS) return;
    last = Date.now();
    registration.update().catch(() => {}); // no network: later
  });
}

/** `calm`: this screen has no form that somebody may be half-way through */
export function UpdateBar({ calm }: { calm: boolean }) {
  const [there, setThere] = useState(waiting !== null);
  useEffect(() => {
    const watcher = () => setThere(waiting !== null);
    watchers.add(watcher);
    return () => void watchers.delete(watcher);
  }, []);
  if (!there) return null;
  return (
    <p class="bar" role="status">
      {calm ? (
        <>
          A new version of this app is ready.{" "}
          <button type="button" class="quiet" onClick={takeOver}>
            Use it now
          </button>
        </>
      ) : (
        "A new version of this app is ready. Finish this first; it is offered on the Today screen."
      )}
    </p>
  );
}

function takeOver() {
  const reload = () => location.reload();
  navigator.serviceWorker.addEventListener("controllerchange", reload, { once: true });
  setTimeout(reload, TAKE_OVER_MS); // some phones never say so
  waiting?.postMessage("take over");
}
