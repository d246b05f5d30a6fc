/**
 * The worker that is served when the app is withdrawn (`intake serve --withdraw-app`): should a version ever keep
 * phones from a repaired one, this makes them forget the copy they keep and fetch what the office has. Records,
 * photos and the outbox are in the page's database and stay.
 */
/// <reference lib="webworker" />
export {}; // a module, so that its names are its own

declare const self: ServiceWorkerGlobalScope;

self.addEventListener("install", () => {
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(forget());
});

/** No page is reloaded: it would ask for this worker again, and somebody may be typing. */
async function forget() {
  for (const name of await caches.keys()) {
    if (name === "packs" || name.startsWith("shell ")) await caches.delete(name);
  }
  await self.registration.unregister();
}
