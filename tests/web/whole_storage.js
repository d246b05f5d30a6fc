/** All that a device has stored, as one text: what is looked for in it is on the device, or is not. */
import { openDatabase } from "../../web/local/database.ts";

/** Every store of its database, the web storages and all kept answers. */
export async function wholeStorage() {
  const db = await openDatabase();
  const texts = [];
  for (const name of db.objectStoreNames) {
    const [keys, values] = [await db.getAllKeys(name), await db.getAll(name)];
    texts.push(name, JSON.stringify(keys), JSON.stringify(values, inFull));
  }
  for (const items of [globalThis.localStorage, globalThis.sessionStorage])
    texts.push(JSON.stringify(Object.entries(items ?? {})));
  for (const name of (await globalThis.caches?.keys()) ?? []) {
    const cache = await caches.open(name);
    texts.push(name);
    for (const address of await cache.keys())
      texts.push(address.url, await (await cache.match(address)).text());
  }
  return texts.join("\n");
}

/** Bytes as the text that they are, so that words are found in them as well. */
function inFull(_name, value) {
  return value instanceof ArrayBuffer ? new TextDecoder().decode(value) : value;
}

/** Which of these stand anywhere on the device, by their order here. */
export async function found(markers) {
  const all = await wholeStorage();
  return markers.filter((marker) => all.includes(marker));
}
