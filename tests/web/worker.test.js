/** What the worker keeps: a version whole, and the packs that this device has asked for with each later one. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

const VERSIONS = {
  one: {
    files: ["/", "/web/app-AAAAAAA1.js", "/web/same-AAAAAAA0.js"],
    packs: {
      office: ["/web/office-AAAAAAA1.js", "/web/desk-AAAAAAA1.js"],
      words: ["/web/words-AAAAAAA1.js", "/web/both-AAAAAAA1.js"],
      closing: ["/web/closing-AAAAAAA1.js", "/web/both-AAAAAAA1.js"],
      scanner: ["/web/reader-AAAAAAA1.js"],
    },
  },
  two: {
    files: ["/", "/web/app-AAAAAAA2.js", "/web/same-AAAAAAA0.js"],
    packs: {
      office: ["/web/office-AAAAAAA2.js", "/web/desk-AAAAAAA1.js"],
      words: ["/web/words-AAAAAAA2.js", "/web/both-AAAAAAA2.js"],
      closing: ["/web/closing-AAAAAAA1.js", "/web/both-AAAAAAA2.js"],
      scanner: ["/web/reader-AAAAAAA2.js"],
    },
  },
};
const { Response: Answered, Request: Asked } = globalThis;

/**
 * The browser's store of files, as far as the worker uses it. Source: the Service Workers standard, Cache and
 * CacheStorage.
 */
class FileStore {
  caches = new Map();
  fetched = [];
  written = [];
  broken = "";

  async open(name) {
    if (!this.caches.has(name)) this.caches.set(name, new Map());
    const files = this.caches.get(name);
    return {
      match: async (file) => files.get(file),
      delete: async (file) => files.delete(file),
      put: async (file, answered) => {
        this.written.push(file);
        files.set(file, answered);
      },
      add: async ({ url }) => {
        const file = url.replace("http://office", "");
        if (file === this.broken) throw new TypeError("Failed to fetch");
        this.fetched.push(file);
        await undefined; // the line takes its time, and whoever looks meanwhile does not find the file here yet
        files.set(file, new Answered(file));
      },
    };
  }
  async match(file) {
    for (const files of this.caches.values()) if (files.has(file)) return files.get(file);
    return undefined;
  }
  async keys() {
    return [...this.caches.keys()];
  }
  async delete(name) {
    return this.caches.delete(name);
  }
  filesOf(version) {
    return [...(this.caches.get(`shell ${version}`)?.keys() ?? [])].sort();
  }
}

let store;

/** A worker of a version, whose events can be sent to it; each resolves when all that the worker waits for is done. */
async function workerOf(version) {
  const listeners = new Map();
  const self = {
    addEventListener: (name, listener) => listeners.set(name, listener),
    clients: { claim: async () => {} },
    location: new URL("http://office/sw.js"),
  };
  // A path stands for an address of the office, as it does in a browser.
  const Request = class extends Asked {
    constructor(file, options) {
      super(new URL(file, "http://office"), options);
    }
  };
  Object.assign(globalThis, { self, Request, caches: store, SHELL: { version, ...VERSIONS[version] } });
  await import(`../../web/sw.ts?${version}${Math.random()}`);
  return async (name, data) => {
    const waits = [];
    listeners.get(name)({ data, waitUntil: (work) => waits.push(work) });
    await Promise.all(waits);
  };
}

beforeEach(() => {
  store = new FileStore();
});

test("every device keeps the files, and a pack only once its page has asked for it", async () => {
  const worker = await workerOf("one");

  await worker("install");
  assert.deepEqual(store.filesOf("one"), [...VERSIONS.one.files].sort());

  await worker("message", { pack: "office" });
  assert.deepEqual(store.filesOf("one"), [...VERSIONS.one.files, ...VERSIONS.one.packs.office].sort());
  assert.ok(await store.match("/packs/office"), "the page reads there that all of it is kept");
});

test("a later version comes with the packs that this device has, and fetches what changed alone", async () => {
  const before = await workerOf("one");
  await before("install");
  await before("message", { pack: "office" });
  store.fetched = [];

  const after = await workerOf("two");
  await after("install");

  assert.deepEqual(store.filesOf("two"), [...VERSIONS.two.files, ...VERSIONS.two.packs.office].sort());
  assert.deepEqual(store.fetched.sort(), ["/", "/web/app-AAAAAAA2.js", "/web/office-AAAAAAA2.js"]);
});

test("a pack that is here and is asked for again at a later start is neither fetched nor copied again", async () => {
  const worker = await workerOf("one");
  await worker("install");
  await worker("message", { pack: "office" });
  Object.assign(store, { fetched: [], written: [] });

  await worker("message", { pack: "office" });

  assert.deepEqual(
    [store.fetched, store.written],
    [[], ["/packs/office"]],
    "no more than the note that it is here",
  );
});

test("a file that the version before has is copied from there, and asked for of nobody", async () => {
  await (await workerOf("one"))("install");
  Object.assign(store, { fetched: [], written: [] });

  await (await workerOf("two"))("install");

  assert.deepEqual(store.fetched.sort(), ["/", "/web/app-AAAAAAA2.js"]);
  assert.deepEqual(store.written, ["/web/same-AAAAAAA0.js"]);
});

test("a pack whose fetching was cut off is not called kept, and comes when it is asked for again", async () => {
  const worker = await workerOf("one");
  await worker("install");
  store.broken = "/web/desk-AAAAAAA1.js";

  await assert.rejects(worker("message", { pack: "office" }));
  assert.equal(await store.match("/packs/office"), undefined);

  store.broken = "";
  await worker("message", { pack: "office" });
  assert.ok(await store.match("/packs/office"));
  assert.equal(store.fetched.filter((file) => file === "/web/office-AAAAAAA1.js").length, 1);
});

test("a pack that was asked for while a later version was taken comes at the next start", async () => {
  const before = await workerOf("one");
  await before("install");
  const after = await workerOf("two");
  await after("install");
  await before("message", { pack: "office" }); // this worker is the active one still

  assert.ok(await store.match("/packs/office"));
  await after("activate");
  assert.equal(await store.match("/packs/office"), undefined, "a check of this device would call it kept");
  await after("message", { pack: "office" });

  assert.ok(store.filesOf("two").includes("/web/office-AAAAAAA2.js"));
  await after("activate");
  assert.ok(await store.match("/packs/office"), "what is here stays marked");
});

test("what two packs share is fetched once: asked for in one breath, and with a later version", async () => {
  const before = await workerOf("one");
  await before("install");
  store.fetched = [];
  await Promise.all([before("message", { pack: "words" }), before("message", { pack: "closing" })]);
  assert.deepEqual(store.fetched.sort(), [
    "/web/both-AAAAAAA1.js",
    "/web/closing-AAAAAAA1.js",
    "/web/words-AAAAAAA1.js",
  ]);
  store.fetched = [];

  const after = await workerOf("two");
  await after("install");

  assert.equal(store.fetched.filter((file) => file === "/web/both-AAAAAAA2.js").length, 1);
});

test("a pack that does not come holds up no other that was asked for with it", async () => {
  const worker = await workerOf("one");
  await worker("install");
  store.broken = "/web/desk-AAAAAAA1.js";

  const [office, words] = await Promise.allSettled([
    worker("message", { pack: "office" }),
    worker("message", { pack: "words" }),
  ]);

  assert.deepEqual([office.status, words.status], ["rejected", "fulfilled"]);
  assert.ok(await store.match("/packs/words"));
});
