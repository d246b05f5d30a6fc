/**
 * Keeps the app's own files so that it opens with no network; nothing else. Records and photos live in the
 * page's database, and answers of the office are never kept here.
 *
 * A new version is taken whole or not at all, and then waits until the page says that nobody is half-way through
 * something. The version before it is kept, for a page that is still open with it.
 */
/// <reference lib="webworker" />
export {}; // a module, so that its names are its own

const worker = self as unknown as ServiceWorkerGlobalScope;

/** Written before this file by the office; `scanner` is for browsers that read no codes themselves. */
declare const SHELL: { version: string; files: string[]; scanner: string[] };
const CACHE = `shell ${SHELL.version}`;

worker.addEventListener("install", (event) => {
  event.waitUntil(takeAll());
});

async function takeAll() {
  // A device that has needed the scanner gets the new version's along with the rest.
  const scanner = (await caches.match(SHELL.scanner[0] ?? "")) ? SHELL.scanner : [];
  await take([...SHELL.files, ...scanner]);
}

async function take(files: string[]) {
  const cache = await caches.open(CACHE);
  await Promise.all(files.map((file) => takeOne(cache, file)));
}

/** A name with a hash means the same bytes for ever: what a version before has is not fetched again. */
async function takeOne(cache: Cache, file: string) {
  const before = isHashed(file) ? await caches.match(file) : undefined;
  // "no-cache" asks the office whether the file that the page has just loaded is still good: it is sent once only.
  await (before
    ? cache.put(file, before)
    : cache.add(new Request(file, isHashed(file) ? {} : { cache: "no-cache" })));
}

function isHashed(path: string) {
  return /-[A-Z0-9]{8}\.\w+$/.test(path);
}

async function takeScanner() {
  const cache = await caches.open(CACHE);
  if (!(await cache.match(SHELL.scanner[0] ?? ""))) await take(SHELL.scanner);
}

worker.addEventListener("activate", (event) => {
  event.waitUntil(dropOlder().then(() => worker.clients.claim()));
});

/** Drop every version but this one and the one before it. */
async function dropOlder() {
  const names = (await caches.keys()).filter((name) => name.startsWith("shell ") && name !== CACHE);
  for (const name of names.slice(0, -1)) await caches.delete(name);
}

worker.addEventListener("message", (event) => {
  if (event.data === "take over") worker.skipWaiting();
  if (event.data === "take the scanner") event.waitUntil(takeScanner());
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== worker.location.origin) return;
  if (request.mode === "navigate") {
    if (isPage(address.pathname)) event.respondWith(kept("/", request));
    return;
  }
  if (isHashed(address.pathname)) event.respondWith(keptOfAny(request));
  else if (SHELL.files.includes(address.pathname)) event.respondWith(kept(address.pathname, request));
});

/** The app's own addresses; anything else that is opened, such as a picture, comes from the office. */
function isPage(path: string) {
  return path === "/" || /^\/t\//i.test(path);
}

async function kept(path: string, request: Request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}

/** A page that was open before this version took over asks for the files of its own version. */
async function keptOfAny(request: Request) {
  return (await caches.match(request)) ?? fetch(request);
}
