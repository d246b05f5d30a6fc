/** Tells the screens, in this tab and in others, that something on this device has changed. */

/** @type {Set<() => void>} */
const listeners = new Set();
const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("intake");
// A channel must not keep a test's process alive.
if (channel && "unref" in channel) /** @type {any} */ (channel).unref();
if (channel) channel.onmessage = () => tellHere();

function tellHere() {
  for (const listener of listeners) listener();
}

/** Something has changed. */
export function tell() {
  tellHere();
  channel?.postMessage("changed");
}

/** @param {() => void} listener @returns {() => void} call it to stop listening */
export function subscribe(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
