/** Tells the screens, in this tab and in others, that something on this device has changed. */

const listeners: Set<() => void> = new Set();
const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("intake");
// A channel must not keep a test's process alive.
if (channel && "unref" in channel) (channel as { unref: () => void }).unref();
if (channel) channel.onmessage = () => tellHere();

function tellHere() {
  for (const listener of listeners) listener();
}

/** Something has changed. */
export function tell() {
  tellHere();
  channel?.postMessage("changed");
}

/** call it to stop listening */
export function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
