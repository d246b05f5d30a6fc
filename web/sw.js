/**
 * Keeps the app's own files so that it opens with no network; nothing else. Records and photos live in the
 * page's database, and answers of the office are never kept here.
 *
 * A new version is taken whole or not at all, and then waits until the page says that nobody is half-way through
 * something. The version before it is kept, for a page that is still open with it.
 */
/// <reference lib="webworker" />
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** @type {{version: string, files: string[], scanner: string[]}} `scanner` is for browsers that read no codes themselves */
const SHELL = /*PRECACHE*/;
const CACHE = `shell ${SHELL.version}`;

worker.addEventListener("install", (event) => {
  event.waitUntil(takeAll());
});

async function takeAll() {
  // A device that has needed the scanner gets the new version's along with the rest.
  const scanner = (await caches.match(SHELL.scanner[0] ?? "")) ? SHELL.scanner : [];
  await take([...SHELL.files, ...scanner]);
}

/** @param {string[]} files */
async function take(files) {
  const cache = await caches.open(CACHE);
  // "no-cache" asks the office whether the file that the page has just loaded is still good: it is sent once only.
  await cache.addAll(files.map((file) => new Request(file, { cache: "no-cache" })));
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
  if (SHELL.files.includes(address.pathname) || SHELL.scanner.includes(address.pathname)) event.respondWith(kept(address.pathname, request));
});

/** The app's own addresses; anything else that is opened, such as a picture, comes from the office. @param {string} path */
function isPage(path) {
  return path === "/" || /^\/t\//i.test(path);
}

/** @param {string} path @param {Request} request */
async function kept(path, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}
