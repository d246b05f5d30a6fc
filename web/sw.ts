/**
 * Keeps the app's own files so that it opens with no network; nothing else. Records and photos live in the
 * page's database, and answers of the office are never kept here.
 *
 * A new version is taken whole or not at all, and then waits until the page says that nobody is half-way through
 * something. The version before it is kept, for a page that is still open with it. What only some devices need comes in
 * packs, when the page asks for one; from then on it is part of the whole.
 */
/// <reference lib="webworker" />
export {}; // a module, so that its names are its own

declare const self: ServiceWorkerGlobalScope;

/** Written before this file by the office: what every device keeps, and by its name what only some do. */
declare const SHELL: { version: string; files: string[]; packs: Record<string, string[]> };
const CACHE = `shell ${SHELL.version}`;
/** Which packs are kept here, an entry each, written when all of the pack is there; it outlives the version. */
const PACKS_HERE = "packs";

self.addEventListener("install", (event) => {
  event.waitUntil(takeAll());
});

async function takeAll() {
  const here = await Promise.all(
    Object.keys(SHELL.packs).map(async (pack) => ((await isHere(pack)) ? pack : "")),
  );
  const files = new Set([...SHELL.files, ...here.flatMap((pack) => SHELL.packs[pack] ?? [])]);
  const cache = await caches.open(CACHE);
  await Promise.all([...files].map((file) => takeOne(cache, file)));
}

function markOf(pack: string) {
  return `/packs/${pack}`;
}

async function isHere(pack: string) {
  return (await caches.open(PACKS_HERE)).match(markOf(pack));
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

let packBefore: Promise<unknown> = Promise.resolve();

/** One after the other, so that what two packs share is fetched once; one that does not come holds up no other. */
function takeInTurn(pack: string) {
  const taken = packBefore.then(() => takePack(pack));
  packBefore = taken.catch(() => {}); // the page asks for it again
  return taken;
}

async function takePack(pack: string) {
  const cache = await caches.open(CACHE);
  for (const file of SHELL.packs[pack] ?? []) if (!(await cache.match(file))) await takeOne(cache, file);
  await (await caches.open(PACKS_HERE)).put(markOf(pack), new Response());
}

self.addEventListener("activate", (event) => {
  event.waitUntil(
    dropOlder()
      .then(unmarkWhatLacks)
      .then(() => self.clients.claim()),
  );
});

/** A pack that came to the version before while this one waited is not called kept: the page asks for it anew. */
async function unmarkWhatLacks() {
  const [cache, marks] = await Promise.all([caches.open(CACHE), caches.open(PACKS_HERE)]);
  for (const [pack, files] of Object.entries(SHELL.packs)) {
    const here = await Promise.all(files.map((file) => cache.match(file)));
    if (!here.every(Boolean)) await marks.delete(markOf(pack));
  }
}

/** Drop every version but this one and the one before it. */
async function dropOlder() {
  const names = (await caches.keys()).filter((name) => name.startsWith("shell ") && name !== CACHE);
  for (const name of names.slice(0, -1)) await caches.delete(name);
}

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
  if (event.data.pack) event.waitUntil(takeInTurn(event.data.pack));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
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
